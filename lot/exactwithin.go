package lot

import (
	"math/big"
	"sync"
)

// fractionBelow returns the exact estimate of the fraction of a normal population
// below a limit at y = -Q√n/(n-1), that is F(y) for n results:
//
//	n even:  F = 1/2 + y/2 · Σ_{k=0}^{n/2-2} c_k w^k,       c_k = c_{k-1}(2k-1)/(2k),   c_0 = 1
//	n odd:   F = 1/2 + (asin y + y√w · Σ_{k=0}^{(n-5)/2} d_k w^k)/π,   d_k = d_{k-1}·2k/(2k+1),   d_0 = 1
//
// with w = 1 - y². It is 0 or 1 where |y| ≥ 1. Apart from y = 0 and |y| = 1 it is
// rational only for even n with y rational, and for n = 3 at the angles whose
// sine is the root of a rational; the former is computed as such.
func fractionBelow(y root, n int) real {
	one := big.NewRat(1, 1)
	switch {
	case y.sign == 0:
		return rational(big.NewRat(1, 2))
	case y.square.Cmp(one) >= 0 && y.sign > 0:
		return integer(1)
	case y.square.Cmp(one) >= 0:
		return integer(0)
	}
	if x := ratSqrt(y.square); x != nil && n%2 == 0 && n <= mostExact {
		return rational(evenExact(x, y.sign, n))
	}
	return refined(func(bits uint) *big.Float { return fractionNear(y, n, bits) })
}

// mostExact is the largest n for which a rational result is kept as one; its
// digits grow with n.
const mostExact = 60

func evenExact(x *big.Rat, sign, n int) *big.Rat {
	w := new(big.Rat).Sub(big.NewRat(1, 1), new(big.Rat).Mul(x, x))
	sum, term := big.NewRat(1, 1), big.NewRat(1, 1)
	for k := int64(1); k <= int64(n/2-2); k++ {
		term.Mul(term, big.NewRat(2*k-1, 2*k)).Mul(term, w)
		sum.Add(sum, term)
	}
	g := sum.Mul(sum, x).Mul(sum, big.NewRat(int64(sign), 2))
	return g.Add(g, big.NewRat(1, 2))
}

// fractionNear evaluates the formulas in binary with guard bits. All terms are
// positive and below 1, and each operation errs by less than 2^-(bits+guard)
// relative; n terms and the eight halvings of the arctangent multiply that by
// less than 2^guard/4 for n to a million.
func fractionNear(y root, n int, bits uint) *big.Float {
	const guard = 64
	prec := bits + guard
	u2 := new(big.Float).SetPrec(prec).SetRat(y.square)
	w := new(big.Float).SetPrec(prec).SetRat(new(big.Rat).Sub(big.NewRat(1, 1), y.square))
	u := new(big.Float).SetPrec(prec).Sqrt(u2)
	var g *big.Float // G/2 = F(|y|) - 1/2
	if n%2 == 0 {
		g = series(w, n/2-1, func(k int64) (num, den int64) { return 2*k - 1, 2 * k })
		g.Mul(g, u)
		g.Quo(g, floatInt(2, prec))
	} else {
		root := new(big.Float).SetPrec(prec).Sqrt(w)
		g = series(w, (n-3)/2, func(k int64) (num, den int64) { return 2 * k, 2*k + 1 })
		g.Mul(g, u)
		g.Mul(g, root)
		g.Add(g, arctan(u, root, prec))
		g.Quo(g, pi(prec))
	}
	if y.sign < 0 {
		g.Neg(g)
	}
	return g.Add(g, new(big.Float).SetPrec(prec).SetFloat64(0.5))
}

// series sums terms Σ t_k·w^k with t_0 = 1 and t_k = t_{k-1}·num/den.
func series(w *big.Float, terms int, ratio func(k int64) (num, den int64)) *big.Float {
	prec := w.Prec()
	sum := floatInt(0, prec)
	term := floatInt(1, prec)
	for k := range int64(terms) {
		if k > 0 {
			num, den := ratio(k)
			term.Mul(term, w)
			term.Mul(term, floatInt(num, prec))
			term.Quo(term, floatInt(den, prec))
		}
		sum.Add(sum, term)
	}
	return sum
}

// arctan returns the angle of the point (x, y) with y, x ≥ 0, not both 0. The
// half angle has tangent y/(x+r); eight halvings leave an angle below 1/100, and
// the series of that ends soon.
func arctan(y, x *big.Float, prec uint) *big.Float {
	const halvings = 8
	y, x = new(big.Float).Copy(y), new(big.Float).Copy(x)
	for range halvings {
		r := new(big.Float).SetPrec(prec)
		r.Add(new(big.Float).Mul(x, x), new(big.Float).Mul(y, y))
		x.Add(x, r.Sqrt(r))
	}
	t := new(big.Float).SetPrec(prec).Quo(y, x)
	square := new(big.Float).Mul(t, t)
	sum, power := floatInt(0, prec), new(big.Float).Copy(t)
	for k := int64(1); power.MantExp(nil) > -int(prec); k += 2 {
		sum.Add(sum, new(big.Float).Quo(power, floatInt(k, prec)))
		power.Mul(power, square)
		power.Neg(power)
		if power.Sign() == 0 {
			break
		}
	}
	return sum.SetMantExp(sum, halvings)
}

// pi returns π, rounded from a value that is worked out once.
func pi(prec uint) *big.Float {
	if prec <= piOnce().Prec() {
		return new(big.Float).SetPrec(prec).Set(piOnce())
	}
	return piTo(prec)
}

var piOnce = sync.OnceValue(func() *big.Float { return piTo(512) })

// piTo returns 4·arctan(1).
func piTo(prec uint) *big.Float {
	a := arctan(floatInt(1, prec), floatInt(1, prec), prec)
	return a.SetMantExp(a, 2)
}

func floatInt(n int64, prec uint) *big.Float { return new(big.Float).SetPrec(prec).SetInt64(n) }
