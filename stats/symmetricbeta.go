package stats

import "math"

// SymmetricBeta is the distribution of u on [-1, 1] with density proportional to
//
//	(1 - u²)^(a-1),   a > 0
//
// that is, of 2x-1 where x has the beta distribution with both shapes a. With
// a = n/2 - 1 it gives the minimum variance unbiased estimate of the fraction of
// a normal population below a limit (u = Q·√n/(n-1)), with a = ν/2 Student's t
// (u = t/√(ν+t²)), and through that Grubbs' critical value.
//
// The zero value has no shape and its methods return [ErrParameter]; make one
// with [NewSymmetricBeta].
//
// Source: Lieberman and Resnikoff, Journal of the American Statistical
// Association 50 (1955) 457, for the estimator (from memory).
type SymmetricBeta struct {
	a    float64
	norm float64 // 1/(a·B(a,a))
}

// NewSymmetricBeta returns the distribution with shape a, which must be positive
// and finite; otherwise the error wraps [ErrParameter].
func NewSymmetricBeta(a float64) (SymmetricBeta, error) {
	if !(a > 0) || math.IsInf(a, 1) {
		return SymmetricBeta{}, refuse("stats.NewSymmetricBeta", "a", text(a), ErrParameter)
	}
	return newSymmetricBeta(a), nil
}

func newSymmetricBeta(a float64) SymmetricBeta {
	return SymmetricBeta{a: a, norm: betaNorm(a)}
}

// CDF returns P(U ≤ u), to full relative accuracy also where it is small. u
// beyond ±1 gives 0 or 1; NaN is refused with [ErrNotFinite].
func (b SymmetricBeta) CDF(u float64) (float64, error) {
	if err := b.check("stats.SymmetricBeta.CDF", u); err != nil {
		return 0, err
	}
	return b.below(u), nil
}

// Survival returns P(U > u), which is CDF(-u).
func (b SymmetricBeta) Survival(u float64) (float64, error) {
	if err := b.check("stats.SymmetricBeta.Survival", u); err != nil {
		return 0, err
	}
	return b.below(-u), nil
}

// Quantile returns the u with P(U ≤ u) = p, for p in [0, 1]; otherwise the error
// wraps [ErrParameter].
func (b SymmetricBeta) Quantile(p float64) (float64, error) {
	const fn = "stats.SymmetricBeta.Quantile"
	if b.a == 0 {
		return 0, refuse(fn, "shape", "", ErrParameter)
	}
	if !(p >= 0 && p <= 1) {
		return 0, refuse(fn, "p", text(p), ErrParameter)
	}
	if p > 0.5 {
		return 1 - 2*b.invTail(1-p), nil
	}
	return 2*b.invTail(p) - 1, nil
}

func (b SymmetricBeta) check(fn string, u float64) error {
	if b.a == 0 {
		return refuse(fn, "shape", "", ErrParameter)
	}
	if math.IsNaN(u) {
		return refuse(fn, "u", text(u), ErrNotFinite)
	}
	return nil
}

func (b SymmetricBeta) below(u float64) float64 {
	if u > 0 {
		return 1 - b.tail(0.5-0.5*u)
	}
	return b.tail(0.5 + 0.5*u)
}

// tail returns I_s(a,a) for s ≤ 1/2 by the series of positive terms
//
//	(s·y)^a/(a·B(a,a)) · Σ (2a)_k/(a+1)_k · s^k,   y = 1-s.
func (b SymmetricBeta) tail(s float64) float64 {
	if s <= 0 {
		return 0
	}
	sum, term := 1.0, 1.0
	for k := 0.0; term > sum*1e-17; k++ {
		term *= (2*b.a + k) / (b.a + 1 + k) * s
		sum += term
	}
	return math.Pow(4*s*(1-s), b.a) * b.norm * sum
}

// invTail returns the s ≤ 1/2 with tail(s) = p by bisection in ln s, then
// Newton steps with the exact density.
func (b SymmetricBeta) invTail(p float64) float64 {
	switch {
	case p <= 0:
		return 0
	case p >= 0.5:
		return 0.5
	}
	lo, hi := math.Log(p)/b.a-800/b.a-2, math.Log(0.5)
	for hi-lo > 1e-3 {
		if mid := 0.5 * (lo + hi); b.tail(math.Exp(mid)) < p {
			lo = mid
		} else {
			hi = mid
		}
	}
	s := math.Exp(0.5 * (lo + hi))
	for range 6 {
		slope := b.norm * b.a * math.Pow(4*s*(1-s), b.a) / (s * (1 - s))
		if slope == 0 {
			break
		}
		s -= (b.tail(s) - p) / slope
	}
	return min(s, 0.5)
}

// betaNorm returns 4^-a/(a·B(a,a)), so that the power in tail is of 4s(1-s).
// The recurrence from a-1 to a multiplies by (2a-1)/(2a).
func betaNorm(a float64) float64 {
	if a != math.Floor(a) && a != math.Floor(a)+0.5 || a > 1000 {
		la, _ := math.Lgamma(a)
		lh, _ := math.Lgamma(a + 0.5)
		return math.Exp(lh-la) / (2 * a * math.Sqrt(math.Pi)) * 1
	}
	k, c := 1.0, 0.25
	if a != math.Floor(a) {
		k, c = 0.5, 1/math.Pi
	}
	for ; k < a; k++ {
		c *= (2*k + 1) / (2 * (k + 1))
	}
	return c
}
