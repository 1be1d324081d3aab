package stats

import "fmt"

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
		return Refuse(fn, arg, "", ErrOverflow)
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
		return nil, Refuse(fn, "difference", text(c.Difference), ErrOverflow)
	}
	return &Statistic{Value: t, P: max(k*newStudentT(c.DF).survival(t), leastTail)}, nil
}

func checkSummaries(fn string, x, y Summary, atLeast int) error {
	if err := x.check(fn, "x", atLeast); err != nil {
		return err
	}
	return y.check(fn, "y", atLeast)
}

// summarizeBoth summarizes two samples of at least so many values each.
func summarizeBoth(fn string, xs, ys []float64, atLeast int) (x, y Summary, err error) {
	if x, err = summarizeFrom(fn, "xs", xs, atLeast); err != nil {
		return x, y, err
	}
	y, err = summarizeFrom(fn, "ys", ys, atLeast)
	return x, y, err
}

// summarizeFrom takes a single value too: its standard deviation, for which there
// is no estimate, is 0 and weighs nothing.
func summarizeFrom(fn, arg string, xs []float64, atLeast int) (Summary, error) {
	switch {
	case len(xs) < atLeast:
		return Summary{}, tooFew(fn, arg, len(xs), atLeast)
	case len(xs) == 1 && !isFinite(xs[0]):
		return Summary{}, checkFinite(fn, arg, xs)
	case len(xs) == 1:
		return Summary{N: 1, Mean: xs[0]}, nil
	}
	return summarize(fn, arg, xs)
}
