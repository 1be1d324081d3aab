package main

import (
	"math"
	"strings"

	"github.com/densilot/densilot/stats"
)

// methodChecks recompute the comparison of two methods of measuring.
var methodChecks = map[string]func(*input) (float64, error){
	"Theil-Sen slope":                   func(in *input) (float64, error) { f, err := theilSen(in); return f.Slope, err },
	"Theil-Sen intercept":               func(in *input) (float64, error) { f, err := theilSen(in); return f.Intercept, err },
	"Theil-Sen lower":                   func(in *input) (float64, error) { f, err := theilSen(in); return f.SlopeCI.Lo, err },
	"Theil-Sen upper":                   func(in *input) (float64, error) { f, err := theilSen(in); return f.SlopeCI.Hi, err },
	"Passing-Bablok slope":              func(in *input) (float64, error) { f, err := passingBablok(in); return f.Slope, err },
	"Passing-Bablok intercept":          func(in *input) (float64, error) { f, err := passingBablok(in); return f.Intercept, err },
	"Passing-Bablok lower":              func(in *input) (float64, error) { f, err := passingBablok(in); return f.SlopeCI.Lo, err },
	"Passing-Bablok upper":              func(in *input) (float64, error) { f, err := passingBablok(in); return f.SlopeCI.Hi, err },
	"Passing-Bablok intercept lower":    func(in *input) (float64, error) { f, err := passingBablok(in); return f.InterceptCI.Lo, err },
	"Passing-Bablok intercept upper":    func(in *input) (float64, error) { f, err := passingBablok(in); return f.InterceptCI.Hi, err },
	"agreement mean":                    func(in *input) (float64, error) { a, err := limits(in); return a.Mean, err },
	"agreement s":                       func(in *input) (float64, error) { a, err := limits(in); return a.StdDev, err },
	"standard error of mean difference": func(in *input) (float64, error) { a, err := limits(in); return a.StdErr, err },
	"mean difference from":              func(in *input) (float64, error) { a, err := limits(in); return a.CI.Lo, err },
	"mean difference to":                func(in *input) (float64, error) { a, err := limits(in); return a.CI.Hi, err },
	"lower limit":                       func(in *input) (float64, error) { a, err := limits(in); return a.Limits.Lo, err },
	"upper limit":                       func(in *input) (float64, error) { a, err := limits(in); return a.Limits.Hi, err },
	"lower limit from":                  func(in *input) (float64, error) { a, err := limits(in); return a.LowerCI.Lo, err },
	"lower limit to":                    func(in *input) (float64, error) { a, err := limits(in); return a.LowerCI.Hi, err },
	"upper limit from":                  func(in *input) (float64, error) { a, err := limits(in); return a.UpperCI.Lo, err },
	"upper limit to":                    func(in *input) (float64, error) { a, err := limits(in); return a.UpperCI.Hi, err },
	"standard error of a limit": func(in *input) (float64, error) {
		a, err := limits(in)
		return a.StdErr * a.UpperCI.HalfWidth() / a.CI.HalfWidth(), err
	},
	"s of repeats of a":            func(in *input) (float64, error) { a, err := replicates(in); return math.Sqrt2 * a.X.StdDev, err },
	"s of repeats of b":            func(in *input) (float64, error) { a, err := replicates(in); return math.Sqrt2 * a.Y.StdDev, err },
	"twice s of repeats of a":      func(in *input) (float64, error) { a, err := replicates(in); return 2 * math.Sqrt2 * a.X.StdDev, err },
	"twice s of repeats of b":      func(in *input) (float64, error) { a, err := replicates(in); return 2 * math.Sqrt2 * a.Y.StdDev, err },
	"variance within a":            func(in *input) (float64, error) { a, err := replicates(in); return a.X.StdDev * a.X.StdDev, err },
	"variance within b":            func(in *input) (float64, error) { a, err := replicates(in); return a.Y.StdDev * a.Y.StdDev, err },
	"repeatability of a":           func(in *input) (float64, error) { a, err := replicates(in); return in.mostOfTwo(a.X.StdDev), err },
	"repeatability of b":           func(in *input) (float64, error) { a, err := replicates(in); return in.mostOfTwo(a.Y.StdDev), err },
	"replicated mean":              func(in *input) (float64, error) { a, err := replicates(in); return a.Mean, err },
	"variance of mean differences": func(in *input) (float64, error) { a, err := replicates(in); return a.StdDev * a.StdDev, err },
	"variance of single differences": func(in *input) (float64, error) {
		a, err := replicates(in)
		return a.SingleStdDev * a.SingleStdDev, err
	},
	"single s of differences": func(in *input) (float64, error) { a, err := replicates(in); return a.SingleStdDev, err },
	"replicated lower limit":  func(in *input) (float64, error) { a, err := replicates(in); return a.Limits.Lo, err },
	"replicated upper limit":  func(in *input) (float64, error) { a, err := replicates(in); return a.Limits.Hi, err },
}

func theilSen(in *input) (stats.TheilSenFit, error) {
	return stats.FitTheilSen(in.floats("x"), in.floats("y"), stats.TheilSenOptions{Level: in.float("level"), Method: stats.RankNormal})
}

func passingBablok(in *input) (stats.PassingBablokFit, error) {
	return stats.FitPassingBablok(in.floats("x"), in.floats("y"), stats.PassingBablokOptions{Level: in.float("level")})
}

// limits takes them z standard deviations from the mean, with intervals as first
// published.
func limits(in *input) (stats.Agreement, error) {
	return stats.LimitsOfAgreement(in.floats("a"), in.floats("b"),
		stats.AgreementOptions{Level: in.float("level"), Coverage: math.Erf(in.float("z") / math.Sqrt2), Method: stats.LimitApproximate})
}

func replicates(in *input) (stats.ReplicatedAgreement, error) {
	return stats.ReplicatedLimits(in.groups("a"), in.groups("b"), stats.ReplicatedAgreementOptions{Level: in.float("level"), Coverage: in.float("coverage")})
}

// groups reads numbers that strokes part.
func (in *input) groups(name string) (gs [][]float64) {
	for _, text := range strings.Split(in.values[name], "/") {
		own := parseInput("x=" + text)
		gs = append(gs, own.floats("x"))
		if in.err == nil {
			in.err = own.err
		}
	}
	return gs
}

// mostOfTwo returns what two values with a standard deviation differ by at most in the
// part of cases that the coverage says.
func (in *input) mostOfTwo(s float64) float64 {
	return 2 * math.Erfinv(in.float("coverage")) * s
}
