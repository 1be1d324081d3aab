package stats

import "math"

// StudentT is Student's t distribution with ν degrees of freedom, any positive
// real number. It is a [SymmetricBeta] of u = t/√(ν+t²) with shape ν/2.
//
// The zero value has no degrees of freedom and its methods return
// [ErrParameter]; make one with [NewStudentT].
type StudentT struct {
	df   float64
	beta SymmetricBeta
}

// NewStudentT returns the distribution with df degrees of freedom, which must be
// positive and finite; otherwise the error wraps [ErrParameter].
func NewStudentT(df float64) (StudentT, error) {
	if !(df > 0) || math.IsInf(df, 1) {
		return StudentT{}, refuse("stats.NewStudentT", "df", text(df), ErrParameter)
	}
	return newStudentT(df), nil
}

func newStudentT(df float64) StudentT {
	return StudentT{df: df, beta: newSymmetricBeta(df / 2)}
}

// CDF returns P(T ≤ t) to full relative accuracy in the lower tail. NaN is
// refused with [ErrNotFinite]; ±Inf give 0 and 1.
func (d StudentT) CDF(t float64) (float64, error) {
	if err := d.check("stats.StudentT.CDF", t); err != nil {
		return 0, err
	}
	return d.survival(-t), nil
}

// Survival returns P(T > t) to full relative accuracy in the upper tail.
func (d StudentT) Survival(t float64) (float64, error) {
	if err := d.check("stats.StudentT.Survival", t); err != nil {
		return 0, err
	}
	return d.survival(t), nil
}

// Quantile returns the t with P(T ≤ t) = p, for p in (0, 1); otherwise the error
// wraps [ErrLevel]. For an upper tail q ask for -Quantile(q), not Quantile(1-q):
// the difference 1-q loses digits.
func (d StudentT) Quantile(p float64) (float64, error) {
	const fn = "stats.StudentT.Quantile"
	if d.df == 0 {
		return 0, refuse(fn, "df", "", ErrParameter)
	}
	if err := checkFraction(fn, "p", p); err != nil {
		return 0, err
	}
	if p > 0.5 {
		return d.upperQuantile(1 - p), nil
	}
	return -d.upperQuantile(p), nil
}

func (d StudentT) check(fn string, t float64) error {
	if d.df == 0 {
		return refuse(fn, "df", "", ErrParameter)
	}
	if math.IsNaN(t) {
		return refuse(fn, "t", text(t), ErrNotFinite)
	}
	return nil
}

func (d StudentT) survival(t float64) float64 {
	if t < 0 {
		return 1 - d.survival(-t)
	}
	r := math.Hypot(math.Sqrt(d.df), t)
	return d.beta.tail(0.5 * (d.df / r) / (r + t))
}

// upperQuantile returns the t ≥ 0 with P(T > t) = q ≤ 1/2.
func (d StudentT) upperQuantile(q float64) float64 {
	s := d.beta.invTail(q)
	return math.Sqrt(d.df) * (0.5 - s) / math.Sqrt(s*(1-s))
}
