package stats

import "math"

// FDistribution is Fisher's F distribution, that of the ratio of two independent
// sample variances of normal populations with one variance, with DF1 degrees of
// freedom above and DF2 below, any positive real numbers up to 1e10.
//
// Both tails keep their relative accuracy for degrees of freedom to 1000: 2e-14
// above 1e-15, 2e-13 down to 1e-300. A tail costs some 0.2 µs, more as the square
// root of the larger degrees of freedom; a quantile some six times that. Nothing
// is allocated.
//
// The zero value has no degrees of freedom and its methods return
// [ErrParameter]; make one with [NewFDistribution].
//
// Source: the incomplete beta function of A. R. DiDonato and A. H. Morris, ACM
// Transactions on Mathematical Software 18 (1992) 360 (from memory), with the
// power in front taken from its value at the mean.
type FDistribution struct{ df1, df2 float64 }

// mostTailDF bounds the number of terms of a tail, some 1e5 there.
const mostTailDF = 1e10

// mostValues is the largest sample that a function takes which sums such terms, far
// beyond any use.
const mostValues = 1e9

// NewFDistribution returns the distribution with df1 and df2 degrees of freedom,
// which must be at least 1e-3 and at most 1e10; otherwise the error wraps
// [ErrParameter].
func NewFDistribution(df1, df2 float64) (FDistribution, error) {
	const fn = "stats.NewFDistribution"
	if !(df1 >= 1e-3 && df1 <= mostTailDF) {
		return FDistribution{}, outOfRange(fn, "df1", text(df1), "1e-3 to 1e10")
	}
	if !(df2 >= 1e-3 && df2 <= mostTailDF) {
		return FDistribution{}, outOfRange(fn, "df2", text(df2), "1e-3 to 1e10")
	}
	return FDistribution{df1: df1, df2: df2}, nil
}

// CDF returns P(X ≤ x). NaN is refused with [ErrNotFinite]; x below 0 gives 0
// and +Inf gives 1.
func (d FDistribution) CDF(x float64) (float64, error) {
	if err := d.check("stats.FDistribution.CDF", x); err != nil {
		return 0, err
	}
	lower, _ := d.tails(x)
	return lower, nil
}

// Survival returns P(X > x), the p-value of a ratio x, under the rules and with the
// errors of [FDistribution.CDF].
func (d FDistribution) Survival(x float64) (float64, error) {
	if err := d.check("stats.FDistribution.Survival", x); err != nil {
		return 0, err
	}
	_, upper := d.tails(x)
	return upper, nil
}

// Quantile returns the x with P(X ≤ x) = p, for p in (0, 1); otherwise the error
// wraps [ErrLevel]. An x beyond the float64 range, which takes few degrees of
// freedom, is [ErrOverflow].
func (d FDistribution) Quantile(p float64) (float64, error) {
	return d.checkedQuantile("stats.FDistribution.Quantile", "p", p, p, 1-p)
}

// UpperQuantile returns the x with P(X > x) = q, the critical value of a test at
// significance q, under the rules and with the errors of [FDistribution.Quantile].
func (d FDistribution) UpperQuantile(q float64) (float64, error) {
	return d.checkedQuantile("stats.FDistribution.UpperQuantile", "q", q, 1-q, q)
}

func (d FDistribution) checkedQuantile(fn, arg string, p, lower, upper float64) (float64, error) {
	if d.df1 == 0 {
		return 0, outOfRange(fn, "d", "", "one made with NewFDistribution")
	}
	if err := checkFraction(fn, arg, p); err != nil {
		return 0, err
	}
	x := d.quantile(lower, upper)
	if !isFinite(x) {
		return 0, Refuse(fn, arg, text(p), ErrOverflow)
	}
	return x, nil
}

func (d FDistribution) check(fn string, x float64) error {
	if d.df1 == 0 {
		return outOfRange(fn, "d", "", "one made with NewFDistribution")
	}
	if math.IsNaN(x) {
		return Refuse(fn, "x", text(x), ErrNotFinite)
	}
	return nil
}

func (d FDistribution) tails(x float64) (lower, upper float64) {
	return incompleteBeta(0.5*d.df1, 0.5*d.df2, x)
}

// quantile searches in ln x from a normal variable with the spread and the
// offset of ln x.
func (d FDistribution) quantile(lower, upper float64) float64 {
	a, b := 0.5*d.df1, 0.5*d.df2
	spread := math.Sqrt(1/a + 1/b)
	start := normalScore(lower, upper)*spread + 0.5/b - 0.5/a
	return math.Exp(tailRoot(func(lnX float64) tailPlace {
		x := math.Exp(lnX)
		l, u := d.tails(x)
		return tailPlace{lower: l, upper: u, slope: betaPower(a, b, x, x-1), bend: a * b * (1 - x) / (a*x + b)}
	}, lower, upper, start, 0.1*spread))
}
