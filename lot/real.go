package lot

import (
	"math"
	"math/big"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/units"
)

// real is a number that is known exactly: either as a rational, or by a procedure
// that comes as close as it is asked to. Rounding and comparing ask for more bits
// until the answer is certain. A real belongs to one evaluation and is not shared.
//
// What is not rational is held as a whole number of 2^-bits, because a [big.Rat]
// looks for common factors at every step and a power of two has none to offer.
type real struct {
	exact *big.Rat    // nil where the number is not rational
	limit *refinement // nil where it is
}

// refinement keeps the closest value that was asked for so far.
type refinement struct {
	near  func(bits uint) *big.Int // within 1 of the number times 2^bits
	size  int                      // the number is below 2^size, either way
	chunk uint                     // bits are asked for in multiples of this
	bits  uint
	value *big.Int
}

// refined makes a real of a procedure that costs much. It is asked in chunks, so
// that the few more bits which a formula around it needs cost nothing.
func refined(size int, near func(bits uint) *big.Int) real {
	return real{limit: &refinement{near: near, size: size, chunk: 128}}
}

// derived makes a real of a cheap formula of other reals.
func derived(size int, near func(bits uint) *big.Int) real {
	return real{limit: &refinement{near: near, size: size, chunk: 16}}
}

// firstBits is the first precision asked for: 20 decimals, enough for a float64
// and for nearly every rounding. enoughBits is where asking for more ends. Two
// numbers of a lot that agree to 600 decimal places are taken as equal, as they
// are where a tie is exact.
const (
	firstBits  = 72
	enoughBits = 32 * firstBits
)

var one, two = big.NewInt(1), big.NewInt(2)

func rational(x *big.Rat) real { return real{exact: x} }

func integer(n int64) real { return real{exact: big.NewRat(n, 1)} }

// scaled returns a whole number within 1 of r·2^bits.
func (r real) scaled(bits uint) *big.Int {
	if r.exact != nil {
		return nearestQuotient(new(big.Int).Lsh(r.exact.Num(), bits), r.exact.Denom())
	}
	if r.limit.bits < bits || r.limit.value == nil {
		r.limit.bits = (bits + r.limit.chunk - 1) / r.limit.chunk * r.limit.chunk
		r.limit.value = r.limit.near(r.limit.bits)
	}
	return dropBits(r.limit.value, r.limit.bits-bits)
}

// size returns s with |r| < 2^s.
func (r real) size() int {
	if r.exact != nil {
		return sizeOf(r.exact)
	}
	return r.limit.size
}

func sizeOf(x *big.Rat) int { return x.Num().BitLen() - x.Denom().BitLen() + 1 }

// float returns the nearest float64, but for the last bit.
func (r real) float() float64 {
	if r.exact != nil {
		f, _ := r.exact.Float64()
		return f
	}
	bits := uint(firstBits)
	x := r.scaled(bits)
	for short := 64 - x.BitLen(); short > 0 && bits < enoughBits; short = 64 - x.BitLen() { // of a small number more
		bits += uint(short)
		x = r.scaled(bits)
	}
	surplus := uint(max(0, x.BitLen()-64))
	var lead big.Int
	top := lead.Rsh(lead.Abs(x), surplus).Uint64()
	if x.TrailingZeroBits() < surplus {
		top |= 1 // what is cut off is more than nothing, which matters at a tie
	}
	f := math.Ldexp(float64(top), int(surplus)-int(bits))
	if x.Sign() < 0 {
		return -f
	}
	return f
}

// compare returns the sign of r - c.
func (r real) compare(c *big.Rat) int {
	if r.exact != nil {
		return r.exact.Cmp(c)
	}
	for bits := uint(firstBits); bits <= enoughBits; bits *= 2 {
		off := new(big.Int).Mul(r.scaled(bits), c.Denom())
		off.Sub(off, new(big.Int).Lsh(c.Num(), bits))
		if off.CmpAbs(c.Denom()) > 0 {
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
		x := r.scaled(bits)
		lo := nearestStep(new(big.Int).Sub(x, two), bits, rule.Places)
		hi := nearestStep(new(big.Int).Add(x, two), bits, rule.Places)
		if lo.Cmp(hi) == 0 {
			return inPlaces(lo, rule.Places)
		}
	}
	return roundRat(rule, r.tieNear(rule.Places))
}

// nearestStep returns x/2^bits in whole steps of 10^-places. An end of an interval
// on a tie may go either way: the other end is then on one side of it.
func nearestStep(x *big.Int, bits uint, places int) *big.Int {
	num, den := x, new(big.Int).Lsh(one, bits)
	if places >= 0 {
		num = new(big.Int).Mul(x, tenTo(places))
	} else {
		den.Mul(den, tenTo(-places))
	}
	return nearestQuotient(num, den)
}

// tieNear returns the half step nearest to r.
func (r real) tieNear(places int) *big.Rat {
	twice := new(big.Int).Lsh(r.scaled(enoughBits), 1)
	halves := inPlaces(nearestStep(twice, enoughBits, places), places)
	return halves.Mul(halves, big.NewRat(1, 2))
}

// inPlaces returns steps·10^-places.
func inPlaces(steps *big.Int, places int) *big.Rat {
	if places < 0 {
		return new(big.Rat).SetInt(new(big.Int).Mul(steps, tenTo(-places)))
	}
	return new(big.Rat).SetFrac(steps, tenTo(places))
}

// tenTo returns a power of ten that is not to be changed.
func tenTo(n int) *big.Int {
	if n < len(tens) {
		return tens[n]
	}
	return new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(n)), nil)
}

var tens = func() (powers [maxDigits + 1]*big.Int) {
	for n := range powers {
		powers[n] = new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(n)), nil)
	}
	return powers
}()

// nearestQuotient returns num/den for den > 0, to within half of 1.
func nearestQuotient(num, den *big.Int) *big.Int {
	twice := new(big.Int).Lsh(num, 1)
	twice.Add(twice, den)
	return twice.Div(twice, new(big.Int).Lsh(den, 1))
}

// dropBits returns x/2^bits to within half of 1.
func dropBits(x *big.Int, bits uint) *big.Int {
	if bits == 0 {
		return x
	}
	y := new(big.Int).Rsh(x, bits-1)
	return y.Rsh(y.Add(y, one), 1)
}

// textOf writes a number for a working, as [units.ExactText] does.
func textOf(r real) string {
	if r.exact != nil {
		return units.ExactText(r.exact)
	}
	return r.text()
}

// text cuts behind the ninth place, where both ends of what r can be must agree. A
// number at which they never do is one that ends there.
func (r real) text() string {
	const places = 9
	var size, lo, hi big.Int
	for bits := uint(firstBits); bits <= enoughBits; bits *= 2 {
		x := r.scaled(bits)
		size.Abs(x)
		lo.Rsh(lo.Mul(lo.Sub(&size, two), tenTo(places)), bits)
		hi.Rsh(hi.Mul(hi.Add(&size, two), tenTo(places)), bits)
		if lo.Cmp(&hi) == 0 {
			sign := ""
			if x.Sign() < 0 {
				sign = "-"
			}
			return sign + decimal.NewFromBigInt(&lo, -places).StringFixed(places) + "…"
		}
	}
	return units.ExactText(inPlaces(nearestStep(r.scaled(enoughBits), enoughBits, places), places))
}

// roundRat applies a rule that has been validated.
func roundRat(rule units.Rounding, x *big.Rat) *big.Rat {
	y, _ := rule.Rat(x)
	return y
}
