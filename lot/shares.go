package lot

import (
	"math/big"
	"slices"

	"github.com/shopspring/decimal"
)

// sharesOf parts the pay of a lot among its sublots by quantity, so that the parts
// add up to it: each gets the whole steps of money in its exact part, and the steps
// that are left go one each to the largest remainders, the earlier sublot first
// where two are equal. A pay below 0 is parted as its amount.
func sharesOf(l Lot, total, quantity decimal.Decimal, places int) []Share {
	if quantity.Sign() == 0 {
		return nil
	}
	steps := total.Abs().Shift(int32(places)).BigInt()
	left, all := new(big.Int).Set(steps), wholeOf(quantity, quantity)
	var parts []part
	for _, r := range l.Results {
		if r.Quantity.Sign() == 0 {
			continue
		}
		product := wholeOf(r.Quantity, quantity)
		p := part{result: r, rest: new(big.Int)}
		p.steps, _ = product.Mul(product, steps).QuoRem(product, all, p.rest)
		left.Sub(left, p.steps)
		parts = append(parts, p)
	}
	order := make([]int, len(parts))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return parts[b].rest.Cmp(parts[a].rest) })
	for _, i := range order[:left.Int64()] {
		parts[i].steps.Add(parts[i].steps, one)
	}
	shares := make([]Share, len(parts))
	for i, p := range parts {
		if total.Sign() < 0 {
			p.steps.Neg(p.steps)
		}
		shares[i] = Share{p.result.ID, p.result.Quantity, decimal.NewFromBigInt(p.steps, int32(-places))}
	}
	return shares
}

// part is a share while it is worked out.
type part struct {
	result Result
	steps  *big.Int
	rest   *big.Int
}

// wholeOf returns a quantity in whole units of the last place of a sum, which has as
// many places as any of its terms.
func wholeOf(quantity, sum decimal.Decimal) *big.Int {
	return quantity.Shift(-min(0, sum.Exponent())).BigInt()
}
