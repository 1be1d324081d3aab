package lot

import "math/big"

// linear returns a + b·r.
func (r real) linear(a, b *big.Rat) real { return r.polynomial([]*big.Rat{a, b}) }

// plus returns r + other.
func (r real) plus(other real) real {
	if r.exact != nil && other.exact != nil {
		return rational(new(big.Rat).Add(r.exact, other.exact))
	}
	return derived(func(bits uint) *big.Int {
		sum := new(big.Int).Add(r.scaled(bits+2), other.scaled(bits+2))
		return dropBits(sum, 2)
	})
}

// polynomial returns Σ c[k]·r^k.
func (r real) polynomial(c []*big.Rat) real {
	if r.exact != nil {
		return rational(polynomialRat(r.exact, c))
	}
	extra := guardBits(r, c)
	return derived(func(bits uint) *big.Int {
		return dropBits(r.horner(c, bits+extra), extra)
	})
}

func polynomialRat(x *big.Rat, c []*big.Rat) *big.Rat {
	sum := new(big.Rat)
	for k := len(c) - 1; k >= 0; k-- {
		sum.Add(sum.Mul(sum, x), c[k])
	}
	return sum
}

// horner sums in whole numbers of 2^-bits. Each of the steps errs by less than 2
// of them and by the 1 of r times the sum so far.
func (r real) horner(c []*big.Rat, bits uint) *big.Int {
	x, sum := r.scaled(bits), new(big.Int)
	for k := len(c) - 1; k >= 0; k-- {
		sum = dropBits(sum.Mul(sum, x), bits)
		sum.Add(sum, rational(c[k]).scaled(bits))
	}
	return sum
}

// guardBits returns how many bits more the terms need: with |r| below 2^h and
// every coefficient below 2^m the errors of a sum of k terms are together below
// 2^(m + (h+2)k + 2).
func guardBits(r real, c []*big.Rat) uint {
	h := max(0, r.scaled(firstBits).BitLen()-firstBits+1)
	m := 0
	for _, a := range c {
		m = max(m, a.Num().BitLen()-a.Denom().BitLen()+1)
	}
	return uint(m + (h+2)*len(c) + 2)
}
