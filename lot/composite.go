package lot

import (
	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/units"
)

// Weighted is the pay factor of one characteristic and its weight.
type Weighted struct {
	Name   string
	Factor decimal.Decimal // 1 for full pay
	Weight decimal.Decimal // more than 0
}

// Composite returns the weighted sum of pay factors, rounded by the rule,
//
//	Σ weight·factor,   Σ weight = 1
//
// as contracts combine density, air voids, binder content and the like.
//
// Errors are [*stats.InputError] around [ErrWeights] (a weight that is not
// positive, or a sum other than exactly 1), [ErrDigits], [ErrAbsolute] or
// [units.ErrRounding].
func Composite(parts []Weighted, r units.Rounding) (decimal.Decimal, error) {
	const fn = "lot.Composite"
	if err := placed(fn, "r", r); err != nil {
		return decimal.Decimal{}, err
	}
	sum, weights := decimal.Zero, decimal.Zero
	for i, p := range parts {
		if !fewDigits(p.Factor) || !fewDigits(p.Weight) {
			return decimal.Decimal{}, refuseAt(fn, "parts", i, p.Name, ErrDigits)
		}
		if p.Weight.Sign() <= 0 {
			return decimal.Decimal{}, refuseAt(fn, "parts", i, p.Name+" "+p.Weight.String(), ErrWeights)
		}
		weights = weights.Add(p.Weight)
		sum = sum.Add(p.Weight.Mul(p.Factor))
	}
	if !weights.Equal(decimal.NewFromInt(1)) {
		return decimal.Decimal{}, refuse(fn, "parts", weights.String(), ErrWeights)
	}
	return r.Decimal(sum)
}
