package stats

import "math"

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
	x, y, err := summarizeBoth(fn, xs, ys, 1)
	if err != nil {
		return TTest{}, err
	}
	c, err := comparePooled(fn, "xs, ys", x, y)
	return newTTest(fn, c, err, level)
}

// PooledTOf is [PooledT] for a caller who holds only n, mean and standard
// deviation of each sample; that of a single value is 0.
//
// Errors are those of [PooledT], or around [ErrParameter] for a standard deviation below 0.
func PooledTOf(x, y Summary, level float64) (TTest, error) {
	const fn = "stats.PooledTOf"
	c, err := comparePooled(fn, "x, y", x, y)
	return newTTest(fn, c, err, level)
}

// comparePooled takes a sample of one value, which has a mean but adds nothing to
// the variance.
func comparePooled(fn, arg string, x, y Summary) (Comparison, error) {
	if err := checkSummaries(fn, x, y, 1); err != nil {
		return Comparison{}, err
	}
	n, m := float64(x.N), float64(y.N)
	c := Comparison{Design: DesignPooled, X: x, Y: y, Difference: x.Mean - y.Mean, DF: n - 1 + (m - 1)}
	if c.DF == 0 {
		return Comparison{}, tooFew(fn, arg, 2, 3)
	}
	c.StdDev = math.Hypot(x.StdDev*math.Sqrt((n-1)/c.DF), y.StdDev*math.Sqrt((m-1)/c.DF))
	c.StdErr = c.StdDev * math.Sqrt(1/n+1/m)
	return c, nil
}
