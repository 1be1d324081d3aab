package stats

import "math"

// TTest is the outcome of a two-sided t test of a difference of means. T is nil
// where nothing varies: Status then says whether there is a difference.
type TTest struct {
	Comparison
	T *Statistic // Difference/StdErr and its two-sided p
}

// newTTest tests a comparison for a difference of 0.
func newTTest(fn string, c Comparison, err error, level float64) (TTest, error) {
	if err != nil {
		return TTest{}, err
	}
	if err := checkFraction(fn, "level", level); err != nil {
		return TTest{}, err
	}
	if err := c.settle(fn, "level", 1-level); err != nil {
		return TTest{}, err
	}
	c.CI.Level = level
	r := TTest{Comparison: c}
	if c.Status != Tested {
		return r, nil
	}
	t := c.Difference / c.StdErr
	if r.T, err = c.statistic(fn, math.Abs(t), 2); err != nil {
		return TTest{}, err
	}
	r.T.Value = t
	if r.T.P > 1-level {
		r.warn(WarnNotRejected, "not rejected is not equal: the %g%% interval of the difference runs from %.4g to %.4g", 100*level, c.CI.Lo, c.CI.Hi)
	}
	return r, nil
}

// Detectable returns the smallest true difference that a test like this one, with
// its sample sizes and at significance 1 - CI.Level, rejects with the stated power
// if the standard deviations seen are the true ones: what "not rejected" could
// have missed. See [DetectableDifference] for the formula.
//
// Errors are [*InputError] around [ErrLevel] (power), [ErrParameter] (no variance,
// or a power not above the significance) or [ErrOverflow].
func (r TTest) Detectable(power float64) (float64, error) {
	const fn = "stats.TTest.Detectable"
	p := MeansPlan{Design: r.Design, N1: r.X.N, N2: r.Y.N, StdDev1: r.StdDev, StdDev2: r.StdDev, Alpha: 1 - r.CI.Level}
	if r.Design == DesignWelch {
		p.StdDev1, p.StdDev2 = r.X.StdDev, r.Y.StdDev
	}
	return detectable(fn, p, power)
}
