package lot

import (
	"math"
	"math/big"
)

// floorSqrt returns the largest whole number whose square is at most x ≥ 0. It does
// what [big.Int.Sqrt] does, from the root of the leading bits in float64 instead of
// from a power of two, which saves most of the steps: Newton's method comes down from
// any start above the root, and stops at it whatever the start was.
func floorSqrt(x *big.Int) *big.Int {
	shift := x.BitLen() - 62
	if shift <= 2*seedBits {
		return new(big.Int).Sqrt(x)
	}
	shift += shift % 2
	var quotient, next big.Int
	y := above(next.Rsh(x, uint(shift)).Uint64(), uint(shift/2))
	for {
		quotient.Quo(x, y)
		next.Add(y, &quotient)
		next.Rsh(&next, 1)
		if next.Cmp(y) >= 0 {
			return y
		}
		y.Set(&next)
	}
}

// seedBits are those behind the point that are kept of the first root.
const seedBits = 21

// above returns a little more than √lead·2^half, lead being cut from more digits.
func above(lead uint64, half uint) *big.Int {
	const slack = 1 + 0x1p-50 // for the cut, for the rounding of lead and of its root
	root := math.Sqrt(float64(lead)) * slack
	y := new(big.Int).SetUint64(uint64(root*(1<<seedBits)) + 1)
	return y.Lsh(y, half-seedBits)
}
