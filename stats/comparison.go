package stats

import (
	"fmt"
	"math"
)

// Design says how the values of a comparison of means belong together. The zero
// value is no design and is refused, because the design moves decisions: halves
// of one core tested as if they were independent hide a difference between two
// laboratories.
type Design int

// The designs of a comparison of means.
const (
	DesignOneSample Design = iota + 1 // one sample against a stated mean
	DesignPaired                      // two values of each thing measured
	DesignPooled                      // two independent samples, one common variance
	DesignWelch                       // two independent samples, each its own variance
)

// String names the design and, for Welch, where the degrees of freedom are from.
func (d Design) String() string {
	switch d {
	case DesignOneSample:
		return "one sample"
	case DesignPaired:
		return "paired"
	case DesignPooled:
		return "two samples, pooled variance"
	case DesignWelch:
		return "two samples, separate variances (Welch, Satterthwaite degrees of freedom)"
	}
	return fmt.Sprintf("Design(%d)", int(d))
}

// Status says whether a test could be made at all.
type Status int

// What came of a test.
const (
	Tested              Status = iota + 1
	NoVarianceEqual            // nothing varies and nothing differs
	NoVarianceDifferent        // a difference, and no variance to judge it by
)

// String returns the status in words.
func (s Status) String() string {
	switch s {
	case Tested:
		return "tested"
	case NoVarianceEqual:
		return "no variance, equal"
	case NoVarianceDifferent:
		return "no variance, different"
	}
	return fmt.Sprintf("Status(%d)", int(s))
}

// Statistic is a test statistic and the probability of one at least as extreme
// where there is no difference. P comes from the survival function, so that it
// keeps its digits where it is small; one below the least float64 is given as
// that, 5e-324, and never as 0.
type Statistic struct{ Value, P float64 }

// Comparison is a difference of means with what decides how far to trust it.
type Comparison struct {
	Design     Design
	X, Y       Summary  // the samples; Y is the stated mean alone for one sample
	Difference float64  // mean of X less mean of Y
	StdDev     float64  // of X, of the differences, or pooled; 0 for Welch, which has two
	StdErr     float64  // of Difference
	DF         float64  // degrees of freedom of StdErr, fractional for Welch
	CI         Interval // of the difference; without width where Status is not Tested
	Status     Status
	Warnings   []Warning
}

// Codes of the warnings of comparisons.
const (
	WarnNotRejected WarningCode = "not-rejected" // no difference was shown, which does not show that there is none
	WarnNoVariance  WarningCode = "no-variance"  // there is no variance to judge a difference by
)

// settle sets what follows from Difference, StdErr and DF: the interval, with
// alpha outside it, and the status.
func (c *Comparison) settle(fn, arg string, alpha float64) error {
	c.Status = Tested
	half := 0.0
	switch {
	case c.StdErr > 0:
		half = newStudentT(c.DF).upperQuantile(alpha/2) * c.StdErr
	case c.Difference == 0:
		c.Status = NoVarianceEqual
	default:
		c.Status = NoVarianceDifferent
	}
	c.CI = Interval{Lo: c.Difference - half, Hi: c.Difference + half, Level: 1 - alpha}
	if !isFinite(c.StdDev) || !isFinite(c.StdErr) || !isFinite(c.CI.Lo) || !isFinite(c.CI.Hi) {
		return refuse(fn, arg, "", ErrOverflow)
	}
	if c.Status != Tested {
		c.warn(WarnNoVariance, "no value differs from its neighbours (%v), so nothing can be tested; check that they are separate measurements", c.Status)
	}
	return nil
}

func (c *Comparison) warn(code WarningCode, format string, values ...any) {
	c.Warnings = append(c.Warnings, Warning{Code: code, Text: fmt.Sprintf(format, values...)})
}

// statistic returns t and k times its upper tail probability.
func (c *Comparison) statistic(fn string, t, k float64) (*Statistic, error) {
	if !isFinite(t) {
		return nil, refuse(fn, "difference", text(c.Difference), ErrOverflow)
	}
	return &Statistic{Value: t, P: max(k*newStudentT(c.DF).survival(t), leastTail)}, nil
}

func compareOne(fn string, s Summary, mean float64) (Comparison, error) {
	if err := s.check(fn, "s", 2); err != nil {
		return Comparison{}, err
	}
	if !isFinite(mean) {
		return Comparison{}, refuse(fn, "mean", text(mean), ErrNotFinite)
	}
	c := Comparison{Design: DesignOneSample, X: s, Y: Summary{Mean: mean}, Difference: s.Mean - mean}
	c.StdDev, c.DF = s.StdDev, float64(s.N-1)
	c.StdErr = s.StdDev / math.Sqrt(float64(s.N))
	return c, nil
}

// comparePairs works on the differences. Where these agree to the rounding of the
// values themselves they are equal: 93.2 - 92.9 and 94.4 - 94.1 differ by 2e-14,
// which is no variance to test by.
func comparePairs(fn string, xs, ys []float64) (Comparison, error) {
	if len(xs) != len(ys) {
		return Comparison{}, refuse(fn, "ys", "", fmt.Errorf("%w (%d and %d)", ErrLength, len(xs), len(ys)))
	}
	x, err := summarize(fn, "xs", xs)
	if err != nil {
		return Comparison{}, err
	}
	y, err := summarize(fn, "ys", ys)
	if err != nil {
		return Comparison{}, err
	}
	differences, noise := make([]float64, len(xs)), 0.0
	for i, x := range xs {
		differences[i] = x - ys[i]
		largest := max(math.Abs(x), math.Abs(ys[i]))
		noise = max(noise, math.Nextafter(largest, math.Inf(1))-largest)
	}
	d, err := describe(fn, "xs-ys", differences)
	if err != nil {
		return Comparison{}, err
	}
	if d.Max-d.Min <= 2*noise {
		d.StdDev = 0
	}
	c := Comparison{Design: DesignPaired, X: x, Y: y, Difference: d.Mean, StdDev: d.StdDev, DF: float64(d.N - 1)}
	c.StdErr = d.StdDev / math.Sqrt(float64(d.N))
	return c, nil
}

// comparePooled takes a sample of one value, which has a mean but adds nothing to
// the variance.
func comparePooled(fn string, x, y Summary) (Comparison, error) {
	if err := checkSummaries(fn, x, y, 1); err != nil {
		return Comparison{}, err
	}
	n, m := float64(x.N), float64(y.N)
	c := Comparison{Design: DesignPooled, X: x, Y: y, Difference: x.Mean - y.Mean, DF: n - 1 + (m - 1)}
	if c.DF == 0 {
		return Comparison{}, tooFew(fn, "x.N+y.N", 2, 3)
	}
	c.StdDev = math.Hypot(x.StdDev*math.Sqrt((n-1)/c.DF), y.StdDev*math.Sqrt((m-1)/c.DF))
	c.StdErr = c.StdDev * math.Sqrt(1/n+1/m)
	return c, nil
}

func compareWelch(fn string, x, y Summary) (Comparison, error) {
	if err := checkSummaries(fn, x, y, 2); err != nil {
		return Comparison{}, err
	}
	c := Comparison{Design: DesignWelch, X: x, Y: y, Difference: x.Mean - y.Mean}
	c.StdErr, c.DF = satterthwaite(x.StdDev, y.StdDev, x.N, y.N)
	return c, nil
}

// satterthwaite returns the standard error of a difference of two means and its
// degrees of freedom
//
//	(a+b)²/(a²/(n-1) + b²/(m-1)),   a = s²/n, b = s²/m of the second
//
// or 0 and those of both samples where neither varies.
func satterthwaite(s1, s2 float64, n1, n2 int) (stdErr, df float64) {
	n, m := float64(n1), float64(n2)
	a, b := s1/math.Sqrt(n), s2/math.Sqrt(m)
	stdErr = math.Hypot(a, b)
	if stdErr == 0 {
		return 0, n - 1 + (m - 1)
	}
	a, b = a/stdErr, b/stdErr
	a, b = a*a, b*b
	return stdErr, 1 / (a*a/(n-1) + b*b/(m-1))
}

func checkSummaries(fn string, x, y Summary, atLeast int) error {
	if err := x.check(fn, "x", atLeast); err != nil {
		return err
	}
	return y.check(fn, "y", atLeast)
}

// summarizeBoth summarizes two samples of at least one value.
func summarizeBoth(fn string, xs, ys []float64) (x, y Summary, err error) {
	if x, err = summarizeFrom(fn, "xs", xs); err != nil {
		return x, y, err
	}
	y, err = summarizeFrom(fn, "ys", ys)
	return x, y, err
}

// summarizeFrom takes a single value too: its standard deviation, for which there
// is no estimate, is 0 and weighs nothing.
func summarizeFrom(fn, arg string, xs []float64) (Summary, error) {
	switch {
	case len(xs) == 0:
		return Summary{}, tooFew(fn, arg, 0, 1)
	case len(xs) == 1 && !isFinite(xs[0]):
		return Summary{}, checkFinite(fn, arg, xs)
	case len(xs) == 1:
		return Summary{N: 1, Mean: xs[0]}, nil
	}
	return summarize(fn, arg, xs)
}
