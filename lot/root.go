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
	return refined(func(bits uint) *big.Float {
		x := sqrtOf(r.square, bits+4)
		if r.sign < 0 {
			x.Neg(x)
		}
		return x
	})
}

// ratSqrt returns √x where it is rational, otherwise nil.
func ratSqrt(x *big.Rat) *big.Rat {
	num, den := new(big.Int).Sqrt(x.Num()), new(big.Int).Sqrt(x.Denom())
	root := new(big.Rat).SetFrac(num, den)
	if new(big.Rat).Mul(root, root).Cmp(x) != 0 {
		return nil
	}
	return root
}

// sqrtOf returns √x within 2^-bits.
func sqrtOf(x *big.Rat, bits uint) *big.Float {
	whole := uint(max(0, x.Num().BitLen()-x.Denom().BitLen()))
	f := new(big.Float).SetPrec(bits + whole + 16).SetRat(x)
	return f.Sqrt(f)
}
