package lot

import (
	"math/big"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// placed checks a rule that must name a number of places.
func placed(fn, arg string, r units.Rounding) error {
	if err := r.ValidatePlaces(); err != nil {
		return stats.Refuse(fn, arg, "", err)
	}
	return nil
}

// toDecimal converts a number that was rounded by r, so the decimal is exact.
func toDecimal(x *big.Rat, r units.Rounding) decimal.Decimal {
	return decimal.NewFromBigRat(x, int32(max(0, r.Places)))
}
