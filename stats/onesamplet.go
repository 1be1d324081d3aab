package stats

import "math"

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
//
// Errors are those of [OneSampleT], or around [ErrParameter] for a standard
// deviation below 0.
func OneSampleTOf(s Summary, mean, level float64) (TTest, error) {
	const fn = "stats.OneSampleTOf"
	c, err := compareOne(fn, s, mean)
	return newTTest(fn, c, err, level)
}

func compareOne(fn string, s Summary, mean float64) (Comparison, error) {
	if err := s.check(fn, "s", 2); err != nil {
		return Comparison{}, err
	}
	if !isFinite(mean) {
		return Comparison{}, Refuse(fn, "mean", text(mean), ErrNotFinite)
	}
	c := Comparison{Design: DesignOneSample, X: s, Y: Summary{Mean: mean}, Difference: s.Mean - mean}
	c.StdDev, c.DF = s.StdDev, float64(s.N-1)
	c.StdErr = s.StdDev / math.Sqrt(float64(s.N))
	return c, nil
}
