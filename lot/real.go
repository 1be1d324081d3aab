package lot

import (
	"math/big"

	"github.com/densilot/densilot/units"
)

// real is a number that is known exactly: either as a rational, or by a procedure
// that comes as close as it is asked to. Rounding and comparing ask for more bits
// until the answer is certain. A real belongs to one evaluation and is not shared.
type real struct {
	exact *big.Rat    // nil where the number is not rational
	limit *refinement // nil where it is
}

// refinement keeps the closest value that was asked for so far.
type refinement struct {
	near  func(bits uint) *big.Float // within 2^-bits of the number
	chunk uint                       // bits are asked for in multiples of this
	bits  uint
	value *big.Rat
}

// refined makes a real of a procedure that costs much. It is asked in chunks, so
// that the few more bits which a formula around it needs cost nothing.
func refined(near func(bits uint) *big.Float) real {
	return real{limit: &refinement{near: near, chunk: 96}}
}

// derived makes a real of a cheap formula of other reals.
func derived(near func(bits uint) *big.Float) real {
	return real{limit: &refinement{near: near, chunk: 1}}
}

// firstBits is the first precision asked for: 20 decimals, enough for a float64
// and for nearly every rounding. enoughBits is where asking for more ends. Two
// numbers of a lot that agree to 600 decimal places are taken as equal, as they
// are where a tie is exact.
const (
	firstBits  = 72
	enoughBits = 32 * firstBits
)

func rational(x *big.Rat) real { return real{exact: x} }

func integer(n int64) real { return real{exact: big.NewRat(n, 1)} }

// approx returns the number within 2^-bits.
func (r real) approx(bits uint) *big.Rat {
	if r.exact != nil {
		return r.exact
	}
	if r.limit.bits < bits {
		bits = (bits + r.limit.chunk - 1) / r.limit.chunk * r.limit.chunk
		r.limit.value, _ = r.limit.near(bits).Rat(nil)
		r.limit.bits = bits
	}
	return r.limit.value
}

// float returns the nearest float64, but for the last bit.
func (r real) float() float64 {
	f, _ := r.approx(firstBits).Float64()
	return f
}

// linear returns a + b·r.
func (r real) linear(a, b *big.Rat) real {
	at := func(x *big.Rat) *big.Rat {
		y := new(big.Rat).Mul(b, x)
		return y.Add(y, a)
	}
	if r.exact != nil {
		return rational(at(r.exact))
	}
	extra := uint(max(0, b.Num().BitLen()-b.Denom().BitLen()+2))
	return derived(func(bits uint) *big.Float {
		return floatOf(at(r.approx(bits+extra+2)), bits+2)
	})
}

// plus returns r + other.
func (r real) plus(other real) real {
	if r.exact != nil && other.exact != nil {
		return rational(new(big.Rat).Add(r.exact, other.exact))
	}
	return derived(func(bits uint) *big.Float {
		return floatOf(new(big.Rat).Add(r.approx(bits+2), other.approx(bits+2)), bits+2)
	})
}

// floatOf rounds x to within 2^-bits.
func floatOf(x *big.Rat, bits uint) *big.Float {
	whole := max(0, x.Num().BitLen()-x.Denom().BitLen())
	return new(big.Float).SetPrec(bits + uint(whole) + 4).SetRat(x)
}

// compare returns the sign of r - c.
func (r real) compare(c *big.Rat) int {
	if r.exact != nil {
		return r.exact.Cmp(c)
	}
	for bits := uint(firstBits); bits <= enoughBits; bits *= 2 {
		off := new(big.Rat).Sub(r.approx(bits), c)
		if new(big.Rat).Abs(off).Cmp(radius(bits)) > 0 {
			return off.Sign()
		}
	}
	return 0
}

// round rounds r by a valid rule that is not absolute: both ends of what r can be
// must round alike.
func (r real) round(rule units.Rounding) *big.Rat {
	if r.exact != nil {
		return roundRat(rule, r.exact)
	}
	for bits := uint(firstBits); bits <= enoughBits; bits *= 2 {
		x := r.approx(bits)
		lo := roundRat(rule, new(big.Rat).Sub(x, radius(bits)))
		hi := roundRat(rule, new(big.Rat).Add(x, radius(bits)))
		if lo.Cmp(hi) == 0 {
			return lo
		}
	}
	return roundRat(rule, tieNear(r.approx(enoughBits), rule.Places))
}

// tieNear returns the half step nearest to x.
func tieNear(x *big.Rat, places int) *big.Rat {
	fine := units.Rounding{Method: units.HalfEven, Places: places}
	half := big.NewRat(1, 2)
	step := roundRat(fine, new(big.Rat).Mul(x, big.NewRat(2, 1)))
	return step.Mul(step, half)
}

// radius returns 2^-bits.
func radius(bits uint) *big.Rat {
	return new(big.Rat).SetFrac(big.NewInt(1), new(big.Int).Lsh(big.NewInt(1), bits))
}

// roundRat applies a rule that has been validated.
func roundRat(rule units.Rounding, x *big.Rat) *big.Rat {
	y, _ := rule.Rat(x)
	return y
}
