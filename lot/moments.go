package lot

import "math/big"

// momentsOf returns the mean and the variance (divisor n-1). It counts in whole
// numbers of the smallest step that all values are multiples of, so that common
// factors are looked for twice and not at every sum.
func momentsOf(values []*big.Rat) (mean, variance *big.Rat) {
	step := big.NewInt(1)
	for _, v := range values {
		step = leastMultiple(step, v.Denom())
	}
	sum, squares, x := new(big.Int), new(big.Int), new(big.Int)
	for _, v := range values {
		x.Mul(v.Num(), x.Quo(step, v.Denom()))
		sum.Add(sum, x)
		squares.Add(squares, x.Mul(x, x))
	}
	n := big.NewInt(int64(len(values)))
	mean = new(big.Rat).SetFrac(sum, new(big.Int).Mul(n, step))
	if len(values) < 2 {
		return mean, new(big.Rat)
	}
	squares.Sub(squares.Mul(squares, n), sum.Mul(sum, sum))
	step.Mul(step, step).Mul(step, n).Mul(step, big.NewInt(int64(len(values)-1)))
	return mean, new(big.Rat).SetFrac(squares, step)
}

// leastMultiple returns the least common multiple of a and b.
func leastMultiple(a, b *big.Int) *big.Int {
	if new(big.Int).Rem(a, b).Sign() == 0 {
		return a
	}
	common := new(big.Int).GCD(nil, nil, a, b)
	return common.Mul(b, common.Quo(a, common))
}
