package stats

import "math"

// NoncentralT is the noncentral t distribution with ν degrees of freedom, that
// of (Z + δ)/√(χ²/ν) with Z standard normal, χ² chi-square with ν degrees of
// freedom, and δ the noncentrality, any real number. √n·(mean - limit)/s of a
// normal sample has it with ν = n-1 and δ = √n·(μ - limit)/σ, so everything
// about acceptance and tolerance with one limit follows from it.
//
// A NoncentralT holds what depends on ν alone; make it once and ask for any t
// and δ. Its methods allocate nothing.
//
// Both tails keep their relative accuracy, 1e-12 or better, down to 1e-300. For
// a whole ν up to 300 they are Owen's finite sums where those are sums of
// positive terms, or where their rounding, some 1e-15, is less than 1e-12 of the
// answer; elsewhere, and for other ν, a quadrature of positive terms, of some
// thirty to a hundred nodes.
//
// The zero value has no degrees of freedom and its methods return
// [ErrParameter]; make one with [NewNoncentralT].
//
// Source: D. B. Owen, Technometrics 10 (1968) 445, for the sums (from memory);
// the quadrature is described beside the code.
type NoncentralT struct {
	df    float64
	scale float64 // of the density of ln w, w = √(χ²/ν)
	whole int     // df where finite sums serve, else 0
}

// mostSummed is the largest ν whose finite sums are taken; beyond it the
// quadrature is as fast.
const mostSummed = 300

// NewNoncentralT returns the distribution with df degrees of freedom, which must
// be at least 1e-3 and at most 1e10; otherwise the error wraps [ErrParameter].
func NewNoncentralT(df float64) (NoncentralT, error) {
	if !(df >= 1e-3 && df <= mostTailDF) {
		return NoncentralT{}, outOfRange("stats.NewNoncentralT", "df", text(df), "1e-3 to 1e10")
	}
	return newNoncentralT(df), nil
}

func newNoncentralT(df float64) NoncentralT {
	if df >= 1 && df <= mostSummed && df == math.Trunc(df) {
		return NoncentralT{df: df, scale: sumScales[int(df)], whole: int(df)}
	}
	return NoncentralT{df: df, scale: lnChiScale(df)}
}

// Tails returns P(T ≤ t) and P(T > t) in one call. t may be infinite, ncp must
// be finite; otherwise, and for NaN, the error wraps [ErrNotFinite].
func (d NoncentralT) Tails(t, ncp float64) (lower, upper float64, err error) {
	if err := d.check("stats.NoncentralT.Tails", t, ncp); err != nil {
		return 0, 0, err
	}
	lower, upper = d.tails(t, ncp)
	return lower, upper, nil
}

// CDF returns P(T ≤ t), under the rules and with the errors of [NoncentralT.Tails].
func (d NoncentralT) CDF(t, ncp float64) (float64, error) {
	if err := d.check("stats.NoncentralT.CDF", t, ncp); err != nil {
		return 0, err
	}
	lower, _ := d.tails(t, ncp)
	return lower, nil
}

// Survival returns P(T > t), under the rules and with the errors of [NoncentralT.Tails].
func (d NoncentralT) Survival(t, ncp float64) (float64, error) {
	if err := d.check("stats.NoncentralT.Survival", t, ncp); err != nil {
		return 0, err
	}
	_, upper := d.tails(t, ncp)
	return upper, nil
}

// Density returns the probability density at t, under the rules and with the errors of
// [NoncentralT.Tails]; ±Inf give 0.
func (d NoncentralT) Density(t, ncp float64) (float64, error) {
	if err := d.check("stats.NoncentralT.Density", t, ncp); err != nil {
		return 0, err
	}
	return d.density(t, ncp), nil
}

func (d NoncentralT) check(fn string, t, ncp float64) error {
	switch {
	case d.df == 0:
		return outOfRange(fn, "d", "", "one made with NewNoncentralT")
	case math.IsNaN(t):
		return Refuse(fn, "t", text(t), ErrNotFinite)
	case !isFinite(ncp):
		return Refuse(fn, "ncp", text(ncp), ErrNotFinite)
	}
	return nil
}

// tails reflects to t ≥ 0 and takes the cheapest form that holds.
func (d NoncentralT) tails(t, ncp float64) (lower, upper float64) {
	switch {
	case t < 0:
		upper, lower = d.tails(-t, -ncp)
		return lower, upper
	case t == 0:
		return normalTail(ncp), normalTail(-ncp)
	case math.IsInf(t, 1):
		return 1, 0
	}
	if d.whole > 0 {
		if lower, upper, ok := d.finiteTails(t, ncp); ok {
			return lower, upper
		}
	}
	if ncp > distantNCP && ncp > distantRatio*math.Sqrt(2*d.df) {
		return d.distantTails(t, ncp)
	}
	return d.integralTails(t, ncp)
}
