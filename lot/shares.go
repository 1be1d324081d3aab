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
	all := quantity.Rat()
	left := new(big.Int).Set(steps)
	var parts []part
	for _, r := range l.Results {
		if r.Quantity.Sign() == 0 {
			continue
		}
		exact := new(big.Rat).Quo(r.Quantity.Rat(), all)
		exact.Mul(exact, new(big.Rat).SetInt(steps))
		whole, rest := new(big.Int).QuoRem(exact.Num(), exact.Denom(), new(big.Int))
		left.Sub(left, whole)
		parts = append(parts, part{r, whole, new(big.Rat).SetFrac(rest, exact.Denom())})
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
	rest   *big.Rat
}
