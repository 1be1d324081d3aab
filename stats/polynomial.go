package stats

import (
	"fmt"
	"slices"
)

// maxDegree bounds what FitPolynomial accepts; powers of ordinary data are
// linearly dependent, even to twice the precision, long before.
const maxDegree = 30

// FitPolynomial fits y = b₀ + b₁x + … + b_d·x^d of degree d ≥ 1 by least squares.
// xs and ys hold n ≥ d+2 finite values each and are not changed; at least d+1 of
// the x differ.
//
// The powers are formed with twice the precision, so the coefficients are those
// of exact arithmetic on the given x where powers rounded to float64 and passed
// to [FitLinear] would have lost half of the digits. All else is as for
// FitLinear.
//
// Errors are [*InputError] around [ErrLength], [ErrTooFew], [ErrNotFinite],
// [ErrParameter] (degree below 1 or above 30), [ErrCollinear] or [ErrOverflow].
func FitPolynomial(xs, ys []float64, degree int) (LinearFit, error) {
	const fn = "stats.FitPolynomial"
	if degree < 1 || degree > maxDegree {
		return LinearFit{}, outOfRange(fn, "degree", text(float64(degree)), fmt.Sprintf("1 to %d", maxDegree))
	}
	if err := checkPoints(fn, xs, ys, degree+2); err != nil {
		return LinearFit{}, err
	}
	s := newLeastSquares(ys)
	s.addColumn(ones(len(xs)), 0)
	scaled := make([]pair, len(xs))
	for i, x := range xs {
		scaled[i].hi = x
	}
	exponent := scaleColumn(scaled)
	power := ones(len(xs))
	for d := 1; d <= degree; d++ {
		next := make([]pair, len(xs))
		for i := range next {
			next[i] = power[i].mul(scaled[i])
		}
		power = next
		s.addColumn(slices.Clone(next), d*exponent)
	}
	if !s.factor(powerTolerance) {
		return LinearFit{}, Refuse(fn, "xs", "", ErrCollinear)
	}
	return s.fit(fn, true)
}

// powerTolerance is what must remain of a power beside the lower ones, so that a
// pair, with its 106 bits, holds all 53 bits of it.
const powerTolerance = 0x1p-48
