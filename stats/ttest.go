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

// OneSampleT tests whether xs comes from a population with the stated mean:
//
//	t = (x̄ - mean)/(s/√n) with n-1 degrees of freedom,   p = 2·P(T > |t|)
//
// and gives the interval x̄ - mean ± t(1-α/2)·s/√n, α = 1 - level. xs holds n ≥ 2
// finite values in any order and is not changed; mean and the result have its
// unit; level is a fraction in (0, 1). Where all values are equal nothing is
// tested: T is nil, Status is [NoVarianceEqual] or [NoVarianceDifferent].
//
// It assumes independent draws from a normal population. A p above 1 - level
// carries [WarnNotRejected].
//
// Errors are [*InputError] around [ErrTooFew], [ErrNotFinite], [ErrLevel] or
// [ErrOverflow].
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.2.
func OneSampleT(xs []float64, mean, level float64) (TTest, error) {
	const fn = "stats.OneSampleT"
	s, err := summarize(fn, "xs", xs)
	if err != nil {
		return TTest{}, err
	}
	c, err := compareOne(fn, s, mean)
	return newTTest(fn, c, err, level)
}

// OneSampleTOf is [OneSampleT] for a caller who holds only n, x̄ and s, or the n,
// mean and standard deviation of paired differences.
func OneSampleTOf(s Summary, mean, level float64) (TTest, error) {
	const fn = "stats.OneSampleTOf"
	c, err := compareOne(fn, s, mean)
	return newTTest(fn, c, err, level)
}

// PairedT tests whether the differences xs[i] - ys[i] come from a population with
// mean 0. It is [OneSampleT] of the differences and the test for two values of
// each thing measured, such as the halves of one core. Differences that agree to
// the rounding of their values count as equal. A caller who kept only n, mean and
// standard deviation of the differences uses [OneSampleTOf].
//
// Errors are those of OneSampleT and [ErrLength].
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 7.3.1.1.
func PairedT(xs, ys []float64, level float64) (TTest, error) {
	const fn = "stats.PairedT"
	c, err := comparePairs(fn, xs, ys)
	return newTTest(fn, c, err, level)
}

// PooledT tests whether two independent samples come from populations with one
// mean, given that these have one variance:
//
//	t = (x̄ - ȳ)/(s·√(1/n+1/m)),   s² = ((n-1)·s1² + (m-1)·s2²)/(n+m-2)
//
// with n+m-2 degrees of freedom, the two-sided p and the interval of the
// difference. Each sample holds at least 1 and both together at least 3 finite
// values of one unit, in any order and not changed; level is a fraction in (0, 1).
// Where nothing varies T is nil and Status says what was seen.
//
// It assumes independent draws from normal populations with one variance; without
// that, and with sizes that differ, the level is not kept: use [WelchT]. A p above
// 1 - level carries [WarnNotRejected].
//
// Errors are [*InputError] around [ErrTooFew], [ErrNotFinite], [ErrLevel] or
// [ErrOverflow].
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.3.
func PooledT(xs, ys []float64, level float64) (TTest, error) {
	const fn = "stats.PooledT"
	x, y, err := summarizeBoth(fn, xs, ys)
	if err != nil {
		return TTest{}, err
	}
	c, err := comparePooled(fn, x, y)
	return newTTest(fn, c, err, level)
}

// PooledTOf is [PooledT] for a caller who holds only n, mean and standard
// deviation of each sample; that of a single value is 0.
func PooledTOf(x, y Summary, level float64) (TTest, error) {
	const fn = "stats.PooledTOf"
	c, err := comparePooled(fn, x, y)
	return newTTest(fn, c, err, level)
}

// WelchT tests whether two independent samples come from populations with one
// mean, whatever their variances:
//
//	t = (x̄ - ȳ)/√(a+b),   a = s1²/n, b = s2²/m
//
// with the degrees of freedom of Satterthwaite, (a+b)²/(a²/(n-1) + b²/(m-1)),
// which are not rounded. Each sample holds at least 2 finite values of one unit, in
// any order and not changed; one of them may be constant. level is a fraction in
// (0, 1). Where neither varies T is nil and Status says what was seen.
//
// It assumes independent draws from normal populations. The level is approximate:
// see the package's coverage tests, which hold it within 2.5 percentage points of 95 %
// at n = m = 3 and standard deviations up to 4 to 1. A p above 1 - level carries
// [WarnNotRejected].
//
// Errors are [*InputError] around [ErrTooFew], [ErrNotFinite], [ErrLevel] or
// [ErrOverflow].
//
// Source: B. L. Welch, Biometrika 34 (1947) 28, and F. E. Satterthwaite,
// Biometrics Bulletin 2 (1946) 110 (from memory); NIST/SEMATECH e-Handbook of
// Statistical Methods, 1.3.5.3.
func WelchT(xs, ys []float64, level float64) (TTest, error) {
	const fn = "stats.WelchT"
	x, y, err := summarizeBoth(fn, xs, ys)
	if err != nil {
		return TTest{}, err
	}
	c, err := compareWelch(fn, x, y)
	return newTTest(fn, c, err, level)
}

// WelchTOf is [WelchT] for a caller who holds only n, mean and standard deviation
// of each sample.
func WelchTOf(x, y Summary, level float64) (TTest, error) {
	const fn = "stats.WelchTOf"
	c, err := compareWelch(fn, x, y)
	return newTTest(fn, c, err, level)
}
