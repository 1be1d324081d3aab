package stats

import "math"

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
// intervals for 95 % cover between 93.3 and 96.5 % in samples of 3 and of 3 or 6,
// between 94.5 and 95.7 % in 5 and 5 or 10, and 94.8 to 95.3 % from 10 on, with
// standard deviations up to 4 to 1 either way (simulated, 200 000 samples each). A p
// above 1 - level carries [WarnNotRejected].
//
// Errors are [*InputError] around [ErrTooFew], [ErrNotFinite], [ErrLevel] or
// [ErrOverflow].
//
// Source: B. L. Welch, Biometrika 34 (1947) 28, and F. E. Satterthwaite,
// Biometrics Bulletin 2 (1946) 110 (from memory); NIST/SEMATECH e-Handbook of
// Statistical Methods, 1.3.5.3.
func WelchT(xs, ys []float64, level float64) (TTest, error) {
	const fn = "stats.WelchT"
	x, y, err := summarizeBoth(fn, xs, ys, 2)
	if err != nil {
		return TTest{}, err
	}
	c, err := compareWelch(fn, x, y)
	return newTTest(fn, c, err, level)
}

// WelchTOf is [WelchT] for a caller who holds only n, mean and standard deviation
// of each sample.
//
// Errors are those of [WelchT], or around [ErrParameter] for a standard deviation below 0.
func WelchTOf(x, y Summary, level float64) (TTest, error) {
	const fn = "stats.WelchTOf"
	c, err := compareWelch(fn, x, y)
	return newTTest(fn, c, err, level)
}

func compareWelch(fn string, x, y Summary) (Comparison, error) {
	if err := checkSummaries(fn, x, y, 2); err != nil {
		return Comparison{}, err
	}
	c := Comparison{Design: DesignWelch, X: x, Y: y, Difference: x.Mean - y.Mean}
	c.StdErr, c.DF = welchSatterthwaite(x.StdDev, y.StdDev, x.N, y.N)
	return c, nil
}

// welchSatterthwaite returns the standard error of a difference of two means and its
// degrees of freedom
//
//	(a+b)²/(a²/(n-1) + b²/(m-1)),   a = s²/n, b = s²/m of the second
//
// or 0 and those of both samples where neither varies.
func welchSatterthwaite(s1, s2 float64, n1, n2 int) (stdErr, df float64) {
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
