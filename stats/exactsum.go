package stats

import (
	"math"
	"math/bits"
)

// exactSum is a sum of float64 values that is never rounded: one fixed-point
// number wide enough for every float64 and 2^62 of them. Limb i counts units of
// 2^(32i-1138), 64 bits below the smallest float64 to leave room for a division.
// Between carries a limb may leave 0..2^32-1 in either direction.
// The zero value is an empty sum.
type exactSum struct {
	limbs [sumLimbs]int64
}

const (
	sumLimbs    = 70
	limbBits    = 32
	limbMask    = 1<<limbBits - 1
	spareLimbs  = 2
	lowestPower = -1074 - spareLimbs*limbBits
	// One value adds less than 2^53 to a limb, so this many cannot overflow it.
	blockLimit = 512
)

// addAll takes finite values.
func (s *exactSum) addAll(xs []float64) {
	for len(xs) > 0 {
		block := xs[:min(blockLimit, len(xs))]
		xs = xs[len(block):]
		s.carry()
		for _, x := range block {
			s.scatter(x)
		}
	}
}

// scatter adds the bits of x to the two limbs they reach into.
func (s *exactSum) scatter(x float64) {
	b := math.Float64bits(x)
	sign := int64(b) >> 63
	exponent := b >> 52 & 0x7ff
	normal := min(exponent, 1)
	mantissa := b&(1<<52-1) | normal<<52
	exponent -= normal
	at, shift := spareLimbs+exponent/limbBits, exponent%limbBits
	low := int64(mantissa << shift & limbMask)
	high := int64(mantissa >> (limbBits - shift))
	s.limbs[at] += (low ^ sign) - sign
	s.limbs[at+1] += (high ^ sign) - sign
}

// carry brings every limb but the last, which holds the sign, into 0..2^32-1.
func (s *exactSum) carry() {
	for i := range s.limbs[:sumLimbs-1] {
		s.limbs[i+1] += s.limbs[i] >> limbBits
		s.limbs[i] &= limbMask
	}
}

// isNegative reports the sign of a carried sum.
func (s *exactSum) isNegative() bool { return s.limbs[sumLimbs-1] < 0 }

func (s *exactSum) negate() {
	for i := range s.limbs {
		s.limbs[i] = -s.limbs[i]
	}
	s.carry()
}

// divide replaces the sum by its quotient with n > 0 by long division, cut off
// 64 bits below the smallest float64, where a last bit stands for a remainder.
func (s *exactSum) divide(n int) {
	s.carry()
	negative := s.isNegative()
	if negative {
		s.negate()
	}
	var quotient, rest uint64
	for i := sumLimbs - 1; i >= 0; i-- {
		limb := rest<<limbBits | uint64(s.limbs[i])
		quotient, rest = bits.Div64(rest>>limbBits, limb, uint64(n))
		s.limbs[i] = int64(quotient)
	}
	if rest != 0 {
		s.limbs[0] |= 1
	}
	if negative {
		s.negate()
	}
}

// round returns the sum as significand·2^exponent, rounded to nearest, ties to
// even. The significand of a sum of 0 is 0.
func (s *exactSum) round() (significand float64, exponent int) {
	s.carry() // so that the copy starts out carried
	abs := *s
	sign := 1.0
	if abs.isNegative() {
		sign = -1
		abs.negate()
	}
	top := sumLimbs - 1
	for top > 0 && abs.limbs[top] == 0 {
		top--
	}
	leading, exponent := abs.leadingBits(top)
	return sign * float64(leading), exponent
}

// leadingBits returns the 64 bits from the highest one in limb top, the last of
// them set if anything below is, so that rounding sees which side of a tie the
// sum lies on.
func (s *exactSum) leadingBits(top int) (leading uint64, exponent int) {
	limb := func(i int) uint64 {
		if i < 0 {
			return 0
		}
		return uint64(s.limbs[i])
	}
	leading = limb(top)<<limbBits | limb(top-1)
	shift := bits.LeadingZeros64(leading)
	if shift >= limbBits {
		return leading, limbBits*(top-1) + lowestPower
	}
	next := limb(top-2) << shift
	leading = leading<<shift | next>>limbBits
	below := next & limbMask
	for i := 0; i < top-2; i++ {
		below |= uint64(s.limbs[i])
	}
	if below != 0 {
		leading |= 1
	}
	return leading, limbBits*(top-1) - shift + lowestPower
}
