package lot

import "math/big"

// root is sign·√square. The standard deviation, the quality indices and y are of
// this form with rational squares, so they compare and divide without rounding.
type root struct {
	sign   int
	square *big.Rat
}

func rootOf(x *big.Rat) root { return root{x.Sign(), new(big.Rat).Mul(x, x)} }

func (r root) negative() root { return root{-r.sign, r.square} }

// over returns r/d for d > 0.
func (r root) over(d root) root {
	return root{r.sign, new(big.Rat).Quo(r.square, d.square)}
}

// real returns the number itself.
func (r root) real() real {
	if x := ratSqrt(r.square); x != nil {
		if r.sign < 0 {
			x.Neg(x)
		}
		return rational(x)
	}
	return refined(max(0, sizeOf(r.square))/2+1, func(bits uint) *big.Int {
		x := sqrtScaled(r.square.Num(), r.square.Denom(), bits)
		if r.sign < 0 {
			x.Neg(x)
		}
		return x
	})
}

// ratSqrt returns √x where it is rational, otherwise nil. A fraction in its lowest
// terms is a square where both its numbers are.
func ratSqrt(x *big.Rat) *big.Rat {
	den := intSqrt(x.Denom())
	if den == nil {
		return nil
	}
	num := intSqrt(x.Num())
	if num == nil {
		return nil
	}
	return new(big.Rat).SetFrac(num, den)
}

// intSqrt returns √x where it is whole, otherwise nil.
func intSqrt(x *big.Int) *big.Int {
	if x.Sign() > 0 && x.TrailingZeroBits()%2 == 1 {
		return nil
	}
	y := floorSqrt(x)
	if new(big.Int).Mul(y, y).Cmp(x) != 0 {
		return nil
	}
	return y
}

// sqrtScaled returns √(num/den)·2^bits, less what is behind the point.
func sqrtScaled(num, den *big.Int, bits uint) *big.Int {
	x := new(big.Int).Lsh(num, 2*bits)
	return floorSqrt(x.Quo(x, den))
}
