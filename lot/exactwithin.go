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
	unit := big.NewRat(1, 1)
	switch {
	case y.sign == 0:
		return rational(big.NewRat(1, 2))
	case y.square.Cmp(unit) >= 0 && y.sign > 0:
		return integer(1)
	case y.square.Cmp(unit) >= 0:
		return integer(0)
	}
	if x := ratSqrt(y.square); x != nil && n%2 == 0 && n <= mostExact {
		return rational(evenExact(x, y.sign, n))
	}
	return refined(0, func(bits uint) *big.Int { return fractionNear(y, n, bits) })
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

// fractionNear evaluates the formulas in whole numbers of 2^-(bits+guard) and
// returns F in those of 2^-bits. All terms are positive and at most 1, each
// operation errs by less than 2 of the last place, and for n to a million the
// errors together stay below 2^guard.
func fractionNear(y root, n int, bits uint) *big.Int {
	const guard = 64
	p := bits + guard
	num, den := y.square.Num(), y.square.Denom()
	u := sqrtScaled(num, den, p)
	rest := new(big.Int).Sub(den, num)
	w := new(big.Int).Quo(new(big.Int).Lsh(rest, p), den)
	var g *big.Int // F(|y|) - 1/2
	if n%2 == 0 {
		g = series(w, p, n/2-1, func(k int64) (num, den int64) { return 2*k - 1, 2 * k })
		g.Rsh(g.Mul(g, u), p+1)
	} else {
		v := sqrtScaled(rest, den, p)
		g = series(w, p, (n-3)/2, func(k int64) (num, den int64) { return 2 * k, 2*k + 1 })
		g.Rsh(g.Mul(g, u), p)
		g.Rsh(g.Mul(g, v), p)
		g.Add(g, angle(u, v, p))
		g.Quo(g.Lsh(g, p), pi(p))
	}
	if y.sign < 0 {
		g.Neg(g)
	}
	return dropBits(g.Add(g, new(big.Int).Lsh(one, p-1)), guard)
}

// series sums terms Σ t_k·w^k with t_0 = 1 and t_k = t_{k-1}·num/den, in whole
// numbers of 2^-p. Terms that have come down to 0 stay there.
func series(w *big.Int, p uint, terms int, ratio func(k int64) (num, den int64)) *big.Int {
	sum, term := new(big.Int), new(big.Int).Lsh(one, p)
	var factor, product big.Int // apart from term, so that its memory serves again
	for k := range int64(terms) {
		if k > 0 {
			num, den := ratio(k)
			term.Rsh(product.Mul(term, w), p)
			term.Quo(product.Mul(term, factor.SetInt64(num)), factor.SetInt64(den))
		}
		if term.Sign() == 0 {
			break
		}
		sum.Add(sum, term)
	}
	return sum
}

// angle returns the angle of the point (x, y) of the unit circle with x, y ≥ 0. The
// tangent of half of it is y/(1 + x); more halvings leave less than 1/5, and the
// series of that ends soon. Each costs a root, about as much as ten terms.
func angle(y, x *big.Int, p uint) *big.Int {
	const halvings = 2
	unit := new(big.Int).Lsh(one, p)
	t := new(big.Int).Lsh(y, p)
	t.Quo(t, new(big.Int).Add(unit, x))
	for range halvings {
		t = halfTangent(t, unit, p)
	}
	a := arctan(t, p)
	return a.Lsh(a, halvings+1)
}

// halfTangent returns tan(φ/2) = t/(1 + √(1 + t²)) for t = tan(φ).
func halfTangent(t, unit *big.Int, p uint) *big.Int {
	square := new(big.Int).Mul(t, t)
	square.Add(square, new(big.Int).Lsh(unit, p))
	below := floorSqrt(square)
	below.Add(below, unit)
	return new(big.Int).Quo(new(big.Int).Lsh(t, p), below)
}

// arctan sums t - t³/3 + t⁵/5 - … for a small t.
func arctan(t *big.Int, p uint) *big.Int {
	square := new(big.Int).Mul(t, t)
	square.Rsh(square, p)
	sum, power := new(big.Int), new(big.Int).Set(t)
	var term, divisor, product big.Int
	for k := int64(1); power.Sign() != 0; k += 2 {
		term.Quo(power, divisor.SetInt64(k))
		if k%4 == 1 {
			sum.Add(sum, &term)
		} else {
			sum.Sub(sum, &term)
		}
		power.Rsh(product.Mul(power, square), p)
	}
	return sum
}

// pi returns π in whole numbers of 2^-p, cut from a value that is worked out once.
func pi(p uint) *big.Int {
	const once = 512
	if p <= once {
		return new(big.Int).Rsh(piOnce(), once-p)
	}
	return piTo(p)
}

var piOnce = sync.OnceValue(func() *big.Int { return piTo(512) })

// piTo returns twice the right angle. The last 16 bits, which the halvings take, are
// worked out and dropped.
func piTo(p uint) *big.Int {
	a := angle(new(big.Int).Lsh(one, p+16), new(big.Int), p+16)
	return a.Rsh(a.Lsh(a, 1), 16)
}
