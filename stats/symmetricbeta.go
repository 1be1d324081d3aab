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
// A SymmetricBeta is a small value to make once and keep; its methods allocate
// nothing. Making one costs a few nanoseconds for the half-integer and integer
// shapes to 100 (samples to n = 202) and some hundred otherwise.
//
// Both tails keep full relative accuracy down to the smallest float64: 2e-15 for
// shapes to 14 (n = 30), 4e-15 beyond. u = 0 gives exactly 1/2, u = ±1 exactly 0
// or 1, and shape 1 is exactly linear.
//
// The zero value has no shape and its methods return [ErrParameter]; make one
// with [NewSymmetricBeta].
//
// Source: Lieberman and Resnikoff, Journal of the American Statistical
// Association 50 (1955) 457, for the estimator (from memory); the forms of the
// tail are derived beside the code.
type SymmetricBeta struct {
	a    float64
	norm float64 // 1/(4^a·a·B(a,a))
	row  uint8   // of the tables of small shapes, where the rule uses them
	rule shapeRule
}

// mostShape keeps twice the shape and its square root in range.
const mostShape = 1e300

// NewSymmetricBeta returns the distribution with shape a, which must be positive
// and at most 1e300; otherwise the error wraps [ErrParameter].
func NewSymmetricBeta(a float64) (SymmetricBeta, error) {
	if !(a > 0 && a <= mostShape) {
		return SymmetricBeta{}, outOfRange("stats.NewSymmetricBeta", "a", text(a), "more than 0 and at most 1e300")
	}
	return newSymmetricBeta(a), nil
}

func newSymmetricBeta(a float64) SymmetricBeta {
	twice := 2 * a
	if twice > float64(len(tailNorms)) || twice != math.Trunc(twice) {
		return generalSymmetricBeta(a)
	}
	row := int(twice) - 1
	if row < 0 {
		return generalSymmetricBeta(a)
	}
	if row >= smallShapes {
		return SymmetricBeta{a: a, norm: tailNorms[row], rule: largeRule}
	}
	return SymmetricBeta{a: a, norm: tailNorms[row], row: uint8(row), rule: smallRule}
}

// generalSymmetricBeta takes norm from the scale of the expansion in 1/a, at a
// itself or, for a small shape, at a shape 12 higher and down by the ratio
// 2(a+1)/(2a+1) of neighbours.
func generalSymmetricBeta(a float64) SymmetricBeta {
	if a >= leastLargeShape {
		return SymmetricBeta{a: a, norm: expansionScale(a) / (2 * math.Sqrt(math.Pi*a)), rule: largeRule}
	}
	const up = 12
	norm := expansionScale(a+up) / (2 * math.Sqrt(math.Pi*(a+up)))
	for k := float64(up - 1); k >= 0; k-- {
		norm *= 2 * (a + k + 1) / (2*(a+k) + 1)
	}
	return SymmetricBeta{a: a, norm: norm, rule: seriesRule}
}

// CDF returns P(U ≤ u), to full relative accuracy also where it is small. u
// beyond ±1 gives 0 or 1; NaN is refused with [ErrNotFinite].
func (b SymmetricBeta) CDF(u float64) (float64, error) {
	if b.rule == noShape || u != u {
		return 0, b.refuse("stats.SymmetricBeta.CDF", "u", u)
	}
	return b.below(u), nil
}

// Survival returns P(U > u), which is CDF(-u), with the errors of CDF.
func (b SymmetricBeta) Survival(u float64) (float64, error) {
	if b.rule == noShape || u != u {
		return 0, b.refuse("stats.SymmetricBeta.Survival", "u", u)
	}
	return b.below(-u), nil
}

// Incomplete returns I_x(a,a) = P(U ≤ 2x-1), the regularized incomplete beta
// function, for a caller who knows x = (1+u)/2 better than u: next to 0 it keeps
// the digits that 2x-1 drops. x below 0 gives 0, above 1 gives 1; NaN is refused
// with [ErrNotFinite].
func (b SymmetricBeta) Incomplete(x float64) (float64, error) {
	if b.rule == noShape || x != x {
		return 0, b.refuse("stats.SymmetricBeta.Incomplete", "x", x)
	}
	if x > 0.5 {
		return 1 - b.tail(1-x), nil
	}
	return b.tail(x), nil
}

// Quantile returns the u with P(U ≤ u) = p, for p in [0, 1]; otherwise the error
// wraps [ErrParameter]. It keeps its relative accuracy near the centre, where u
// is small.
func (b SymmetricBeta) Quantile(p float64) (float64, error) {
	if !(p >= 0 && p <= 1) || b.rule == noShape {
		return 0, b.refuse("stats.SymmetricBeta.Quantile", "p", p)
	}
	if p > 0.5 {
		return b.quantile(1 - p).u, nil
	}
	return -b.quantile(p).u, nil
}

// UpperQuantile returns the u with P(U > u) = q, which is -Quantile(q) and not
// Quantile(1-q): the difference 1-q loses digits. Its errors are those of Quantile.
func (b SymmetricBeta) UpperQuantile(q float64) (float64, error) {
	u, err := b.Quantile(q)
	if err != nil {
		return 0, b.refuse("stats.SymmetricBeta.UpperQuantile", "q", q)
	}
	return 0 - u, nil
}

// InverseIncomplete returns the x with I_x(a,a) = p, the inverse of
// [SymmetricBeta.Incomplete], for p in [0, 1]; otherwise the error wraps
// [ErrParameter]. A tiny x keeps its digits.
func (b SymmetricBeta) InverseIncomplete(p float64) (float64, error) {
	if !(p >= 0 && p <= 1) || b.rule == noShape {
		return 0, b.refuse("stats.SymmetricBeta.InverseIncomplete", "p", p)
	}
	if p > 0.5 {
		return 1 - b.quantile(1-p).s, nil
	}
	return b.quantile(p).s, nil
}

// refuse builds the error for a distribution without shape or a bad argument.
func (b SymmetricBeta) refuse(fn, arg string, x float64) error {
	switch {
	case b.rule == noShape:
		return outOfRange(fn, "b", "", "one made with NewSymmetricBeta")
	case arg == "p" || arg == "q":
		return outOfRange(fn, arg, text(x), "a fraction from 0 to 1")
	}
	return Refuse(fn, arg, text(x), ErrNotFinite)
}

// below returns P(U ≤ u) without checks. The sign of u picks the tail or its
// complement by a mask: in mixed data a branch is mispredicted half the time.
func (b *SymmetricBeta) below(u float64) float64 {
	if b.a == 1 { // uniform: one rounding, not two
		return max(0, min(1, 0.5+0.5*u))
	}
	s := 0.5 - 0.5*math.Abs(u)
	if b.rule != smallRule || !(s > tinyTail && s < 0.5) {
		return b.belowGeneral(u)
	}
	p := smallTail(b.row, s)
	negative := uint64(int64(math.Float64bits(u)) >> 63)
	return math.Float64frombits(math.Float64bits(p)&negative | math.Float64bits(1-p)&^negative)
}

// belowGeneral starts from u itself, because with a large shape (1-u)/2 has
// already lost the digits that matter.
func (b *SymmetricBeta) belowGeneral(u float64) float64 {
	far := math.Abs(u)
	p := 0.0
	switch {
	case far < 0x1p-60:
		return 0.5
	case far < 1:
		p = b.tailAt(pointOfU(far))
	}
	if u > 0 {
		return 1 - p
	}
	return p
}
