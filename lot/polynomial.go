package lot

import "math/big"

// linear returns a + b·r. It divides once, behind the product with the numerator of
// b, so that it needs few bits more of r than it gives.
func (r real) linear(a, b *big.Rat) real {
	if r.exact != nil {
		y := new(big.Rat).Mul(b, r.exact)
		return rational(y.Add(y, a))
	}
	extra := uint(max(0, sizeOf(b)) + 3)
	return derived(max(sizeOf(a), sizeOf(b)+r.size())+1, func(bits uint) *big.Int {
		y := new(big.Int).Mul(r.scaled(bits+extra), b.Num())
		y.Quo(y, b.Denom())
		return dropBits(y.Add(y, rational(a).scaled(bits+extra)), extra)
	})
}

// plus returns r + other.
func (r real) plus(other real) real {
	if r.exact != nil && other.exact != nil {
		return rational(new(big.Rat).Add(r.exact, other.exact))
	}
	return derived(max(r.size(), other.size())+1, func(bits uint) *big.Int {
		sum := new(big.Int).Add(r.scaled(bits+2), other.scaled(bits+2))
		return dropBits(sum, 2)
	})
}

// polynomial returns Σ c[k]·r^k.
func (r real) polynomial(c []*big.Rat) real {
	switch {
	case len(c) == 1:
		return rational(c[0])
	case len(c) == 2:
		return r.linear(c[0], c[1])
	case r.exact != nil:
		return rational(polynomialRat(r.exact, c))
	}
	h := max(0, r.size())
	size := h*len(c) + len(c)
	for _, a := range c {
		size = max(size, sizeOf(a)+h*len(c)+len(c))
	}
	extra := uint(size + 2*len(c) + 2)
	return derived(size, func(bits uint) *big.Int { return dropBits(r.horner(c, bits+extra), extra) })
}

func polynomialRat(x *big.Rat, c []*big.Rat) *big.Rat {
	sum := new(big.Rat)
	for k := len(c) - 1; k >= 0; k-- {
		sum.Add(sum.Mul(sum, x), c[k])
	}
	return sum
}

// horner sums k terms in whole numbers of 2^-bits. With |r| below 2^h and all
// coefficients below 2^m, each step errs by 1 for its rounding, 1 for its coefficient
// and the sum so far for r, and what it errs by grows by 2^h with each step behind it:
// together less than 2^(m + (h+3)k).
func (r real) horner(c []*big.Rat, bits uint) *big.Int {
	x, sum := r.scaled(bits), new(big.Int)
	for k := len(c) - 1; k >= 0; k-- {
		sum = dropBits(sum.Mul(sum, x), bits)
		sum.Add(sum, rational(c[k]).scaled(bits))
	}
	return sum
}
