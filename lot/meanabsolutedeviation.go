package lot

import (
	"fmt"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// MeanAbsoluteDeviation returns the mean distance of values from a target, rounded
// by the rule,
//
//	Σ|x - target|/n
//
// a quality measure that some contracts read a schedule with. The distance is
// from the target, not from the mean.
//
// Errors are [*stats.InputError] around [stats.ErrTooFew] for no values, [ErrMissing]
// for a value that is decimal.Zero, the zero value of the type, [ErrDigits],
// [units.ErrAbsolute] or [units.ErrRounding].
//
// Source: UFGS 02749, 3.11.5.
func MeanAbsoluteDeviation(values []decimal.Decimal, target decimal.Decimal, r units.Rounding) (decimal.Decimal, error) {
	const fn = "lot.MeanAbsoluteDeviation"
	if err := placed(fn, "r", r); err != nil {
		return decimal.Decimal{}, err
	}
	if len(values) == 0 {
		return decimal.Decimal{}, stats.Refuse(fn, "values", "", fmt.Errorf("%w (have 0, need 1)", stats.ErrTooFew))
	}
	if !fewDigits(target) {
		return decimal.Decimal{}, stats.Refuse(fn, "target", "", ErrDigits)
	}
	sum := decimal.Zero
	for i, v := range values {
		if err := checkRecorded(v); err != nil {
			return decimal.Decimal{}, refuseAt(fn, "values", i, "", err)
		}
		sum = sum.Add(v.Sub(target).Abs())
	}
	mean := sum.Rat()
	mean.Quo(mean, decimal.NewFromInt(int64(len(values))).Rat())
	return toDecimal(roundRat(r, mean), r), nil
}
