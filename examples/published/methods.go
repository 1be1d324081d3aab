package main

import (
	"errors"
	"math"

	"github.com/densilot/densilot/stats"
)

func theilSenLine(in *input) (map[string]float64, error) {
	f, err := stats.FitTheilSen(in.floats("x"), in.floats("y"), stats.TheilSenOptions{Level: in.float("level"), Method: stats.RankNormal})
	return map[string]float64{"slope": f.Slope, "intercept": f.Intercept, "slope lower": f.SlopeCI.Lo, "slope upper": f.SlopeCI.Hi}, err
}

func passingBablokLine(in *input) (map[string]float64, error) {
	f, err := stats.FitPassingBablok(in.floats("x"), in.floats("y"), stats.PassingBablokOptions{Level: in.float("level")})
	return map[string]float64{"slope": f.Slope, "intercept": f.Intercept, "slope lower": f.SlopeCI.Lo, "slope upper": f.SlopeCI.Hi,
		"intercept lower": f.InterceptCI.Lo, "intercept upper": f.InterceptCI.Hi}, err
}

// limitsOfAgreement takes them z standard deviations from the mean, with intervals as
// first published.
func limitsOfAgreement(in *input) (map[string]float64, error) {
	a, err := stats.LimitsOfAgreement(in.floats("a"), in.floats("b"),
		stats.AgreementOptions{Level: in.float("level"), Coverage: math.Erf(in.float("z") / math.Sqrt2), Method: stats.LimitApproximate})
	return map[string]float64{"mean": a.Mean, "s": a.StdDev, "s of mean": a.StdErr, "mean lower": a.CI.Lo, "mean upper": a.CI.Hi,
		"lower": a.Limits.Lo, "upper": a.Limits.Hi, "lower lower": a.LowerCI.Lo, "lower upper": a.LowerCI.Hi, "upper lower": a.UpperCI.Lo, "upper upper": a.UpperCI.Hi,
		"s of limit": a.StdErr * a.UpperCI.HalfWidth() / a.CI.HalfWidth()}, err
}

// replicatedLimits gives the scatter within either method, and limits for single values.
// Repeatability is what two values differ by at most in the part of cases that the
// coverage says.
func replicatedLimits(in *input) (map[string]float64, error) {
	coverage := in.float("coverage")
	a, err := stats.ReplicatedLimits(in.groups("a"), in.groups("b"), stats.ReplicatedAgreementOptions{Level: in.float("level"), Coverage: coverage})
	values := map[string]float64{"mean": a.Mean, "variance of means": a.StdDev * a.StdDev, "variance of singles": a.SingleStdDev * a.SingleStdDev,
		"s of singles": a.SingleStdDev, "lower": a.Limits.Lo, "upper": a.Limits.Hi}
	for name, s := range map[string]float64{"a": a.X.StdDev, "b": a.Y.StdDev} {
		values["variance within "+name] = s * s
		values["s of repeats "+name], values["twice s of repeats "+name] = math.Sqrt2*s, 2*math.Sqrt2*s
		values["repeatability "+name] = 2 * math.Erfinv(coverage) * s
	}
	return values, err
}

// nestedREML takes its input as varianceComponents does. The criterion is -2 times the
// likelihood.
func nestedREML(in *input) (map[string]float64, error) {
	xs, factors := in.nested()
	v, err := stats.NestedREML(xs, factors, 0.95)
	values := map[string]float64{"mean": v.Mean, "s of mean": v.MeanStdErr, "criterion": -2 * v.LogLikelihood}
	if in.has("component") && err == nil {
		c := v.Components[in.int("component")-1]
		values["variance"], values["standard deviation"] = c.Variance, c.StdDev
	}
	return values, err
}

func interlaboratoryStudy(in *input) (map[string]float64, error) {
	s, err := stats.Interlaboratory(in.groups("labs"), stats.InterlaboratoryOptions{Level: 0.95, Alpha: in.float("alpha")})
	return map[string]float64{"mean": s.Mean, "s of means": s.MeansStdDev, "repeatability": s.Repeatability, "reproducibility": s.Reproducibility,
		"repeatability limit": s.RepeatabilityLimit, "reproducibility limit": s.ReproducibilityLimit}, err
}

func consistencyOfLaboratories(in *input) (map[string]float64, error) {
	h, err1 := stats.ConsistencyHCritical(in.int("laboratories"), in.float("alpha"))
	k, err2 := stats.ConsistencyKCritical(in.int("laboratories"), in.int("replicates"), in.float("alpha"))
	return map[string]float64{"h": h, "k": k}, errors.Join(err1, err2)
}
