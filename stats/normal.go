package stats

import "math"

// Normal is the normal distribution with a mean and a standard deviation.
//
// Both tails keep full relative accuracy, 5e-16, down to 1e-300, and a quantile
// keeps it near the centre.
//
// The zero value has no spread and its methods return [ErrParameter]; make one
// with [NewNormal], the standard one with NewNormal(0, 1).
//
// Source: erfc of package math, with the rounding of its argument put right;
// quantiles from gonum.org/v1/gonum/mathext (after Cephes).
type Normal struct{ mean, stdDev float64 }

// NewNormal returns the distribution with this mean, which must be finite, and
// standard deviation, which must be positive and finite; otherwise the error
// wraps [ErrNotFinite] or [ErrParameter].
func NewNormal(mean, stdDev float64) (Normal, error) {
	const fn = "stats.NewNormal"
	if !isFinite(mean) {
		return Normal{}, Refuse(fn, "mean", text(mean), ErrNotFinite)
	}
	if !(stdDev > 0) || math.IsInf(stdDev, 1) {
		return Normal{}, outOfRange(fn, "stdDev", text(stdDev), positive)
	}
	return Normal{mean: mean, stdDev: stdDev}, nil
}

// CDF returns P(X ≤ x). NaN is refused with [ErrNotFinite]; ±Inf give 0 and 1.
func (d Normal) CDF(x float64) (float64, error) {
	if err := d.check("stats.Normal.CDF", x); err != nil {
		return 0, err
	}
	return normalTail(-d.standard(x)), nil
}

// Survival returns P(X > x), under the rules and with the errors of [Normal.CDF].
func (d Normal) Survival(x float64) (float64, error) {
	if err := d.check("stats.Normal.Survival", x); err != nil {
		return 0, err
	}
	return normalTail(d.standard(x)), nil
}

// Quantile returns the x with P(X ≤ x) = p, for p in (0, 1); otherwise the error
// wraps [ErrLevel]. An x beyond the float64 range is [ErrOverflow].
func (d Normal) Quantile(p float64) (float64, error) {
	return d.quantile("stats.Normal.Quantile", "p", p, 1)
}

// UpperQuantile returns the x with P(X > x) = q, under the rules and with the errors of
// [Normal.Quantile]. Ask it for a small upper tail: 1-q loses digits.
func (d Normal) UpperQuantile(q float64) (float64, error) {
	return d.quantile("stats.Normal.UpperQuantile", "q", q, -1)
}

func (d Normal) quantile(fn, arg string, p, sign float64) (float64, error) {
	if d.stdDev == 0 {
		return 0, outOfRange(fn, "d", "", "one made with NewNormal")
	}
	if err := checkFraction(fn, arg, p); err != nil {
		return 0, err
	}
	x := d.mean + sign*normalQuantile(p)*d.stdDev
	if !isFinite(x) {
		return 0, Refuse(fn, arg, text(p), ErrOverflow)
	}
	return x, nil
}

func (d Normal) check(fn string, x float64) error {
	if d.stdDev == 0 {
		return outOfRange(fn, "d", "", "one made with NewNormal")
	}
	if math.IsNaN(x) {
		return Refuse(fn, "x", text(x), ErrNotFinite)
	}
	return nil
}

// standard returns (x-mean)/stdDev, halved first so that no difference of finite
// numbers overflows.
func (d Normal) standard(x float64) float64 {
	return (0.5*x - 0.5*d.mean) / d.stdDev * 2
}
