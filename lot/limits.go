package lot

import (
	"fmt"
	"math"
	"math/big"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
)

// Limits are the specification limits of a characteristic: a lower one, an upper
// one or both. A value equal to a limit is within it. The zero value has no limit
// and is refused where one is needed. Limits do not change; compare them with
// [Limits.Equal].
type Limits struct{ p *limitPair }

// limitPair is what Limits point to, so that they cost nothing to hand on.
type limitPair struct {
	lower, upper *limit  // nil for none
	middle       float64 // of the two, or the one there is
	err          error   // what Validate says, worked out once
}

// limit is one limit in the forms that the two paths need.
type limit struct {
	recorded decimal.Decimal
	exact    *big.Rat
	float    float64
}

// noLimits is what the zero value stands for.
var noLimits = &limitPair{err: ErrNoLimit}

func (l Limits) pair() *limitPair {
	if l.p == nil {
		return noLimits
	}
	return l.p
}

// AtLeast returns a lower limit. The decimal it stands for is the shortest text
// of x, so AtLeast(92.1) is exactly 92.1. Limits made of NaN or an infinity are
// refused by [Limits.Validate] and wherever they are used.
func AtLeast(x float64) Limits {
	l, err := limitOf(x)
	return newLimits(l, nil, err)
}

// AtMost returns an upper limit, as [AtLeast] does a lower one.
func AtMost(x float64) Limits {
	l, err := limitOf(x)
	return newLimits(nil, l, err)
}

// Between returns a lower and an upper limit, as [AtLeast] and [AtMost] do.
func Between(lower, upper float64) Limits {
	l, err := limitOf(lower)
	u, errUpper := limitOf(upper)
	if err == nil {
		err = errUpper
	}
	return newLimits(l, u, err)
}

// AtLeastDecimal returns a lower limit that keeps the digits of x.
func AtLeastDecimal(x decimal.Decimal) Limits {
	l, err := limitOfDecimal(x)
	return newLimits(l, nil, err)
}

// AtMostDecimal returns an upper limit that keeps the digits of x.
func AtMostDecimal(x decimal.Decimal) Limits {
	l, err := limitOfDecimal(x)
	return newLimits(nil, l, err)
}

// BetweenDecimal returns both limits, keeping their digits.
func BetweenDecimal(lower, upper decimal.Decimal) Limits {
	l, err := limitOfDecimal(lower)
	u, errUpper := limitOfDecimal(upper)
	if err == nil {
		err = errUpper
	}
	return newLimits(l, u, err)
}

func limitOf(x float64) (*limit, error) {
	if !isFinite(x) {
		return nil, stats.ErrNotFinite
	}
	return limitOfDecimal(decimal.NewFromFloat(x))
}

func limitOfDecimal(x decimal.Decimal) (*limit, error) {
	if !fewDigits(x) {
		return nil, ErrDigits
	}
	return &limit{recorded: x, exact: x.Rat(), float: x.InexactFloat64()}, nil
}

func newLimits(lower, upper *limit, err error) Limits {
	if err != nil {
		return Limits{&limitPair{err: err}}
	}
	p := &limitPair{lower: lower, upper: upper}
	switch {
	case upper == nil:
		p.middle = lower.float
	case lower == nil:
		p.middle = upper.float
	default:
		p.middle = lower.float/2 + upper.float/2
		if lower.exact.Cmp(upper.exact) >= 0 {
			p.err = fmt.Errorf("%w (%s, %s)", ErrLimitOrder, digits(lower.recorded), digits(upper.recorded))
		}
	}
	return Limits{p}
}

// Lower returns the lower limit and whether there is one.
func (l Limits) Lower() (decimal.Decimal, bool) { return l.pair().lower.value() }

// Upper returns the upper limit and whether there is one.
func (l Limits) Upper() (decimal.Decimal, bool) { return l.pair().upper.value() }

func (l *limit) value() (decimal.Decimal, bool) {
	if l == nil {
		return decimal.Decimal{}, false
	}
	return l.recorded, true
}

// IsZero reports whether there is no limit.
func (l Limits) IsZero() bool { return l.pair().lower == nil && l.pair().upper == nil }

// Equal reports whether l and other have the same limits.
func (l Limits) Equal(other Limits) bool {
	same := func(a, b *limit) bool {
		return a == b || a != nil && b != nil && a.exact.Cmp(b.exact) == 0
	}
	return same(l.pair().lower, other.pair().lower) && same(l.pair().upper, other.pair().upper)
}

// Contains reports whether x is within the limits, equal to one included. A number
// of more than 30 digits is not.
func (l Limits) Contains(x decimal.Decimal) bool {
	return fewDigits(x) && l.pair().contains(x.Rat())
}

func (p *limitPair) contains(x *big.Rat) bool {
	return !(p.lower != nil && x.Cmp(p.lower.exact) < 0) && !(p.upper != nil && x.Cmp(p.upper.exact) > 0)
}

// Validate refuses limits without a limit ([ErrNoLimit]), with the lower not
// below the upper ([ErrLimitOrder]), made of NaN or an infinity
// ([stats.ErrNotFinite]) or with more than 30 digits ([ErrDigits]).
func (l Limits) Validate() error { return l.pair().err }

// String returns the limits in words, such as "at least 92.0".
func (l Limits) String() string {
	p := l.pair()
	switch {
	case p.lower != nil && p.upper != nil:
		return digits(p.lower.recorded) + " to " + digits(p.upper.recorded)
	case p.lower != nil:
		return "at least " + digits(p.lower.recorded)
	case p.upper != nil:
		return "at most " + digits(p.upper.recorded)
	}
	return "no limit"
}

// otherScale reports whether the limits are 80 to 125 fold off the mean. For two
// limits their middle counts.
func (p *limitPair) otherScale(mean float64) bool {
	a, b := mean, p.middle
	if a < 0 {
		a, b = -a, -b
	}
	return b > 0 && (a >= 80*b && a <= 125*b || b >= 80*a && b <= 125*a)
}

// strays reports whether one result is 80 to 125 fold off the limits. One that far
// below an upper limit is only a good one.
func (p *limitPair) strays(x float64) bool {
	fold := func(large, small float64) bool { return small > 0 && large >= 80*small && large <= 125*small }
	switch {
	case p.lower != nil && fold(p.lower.float, x):
		return true
	case p.upper != nil:
		return fold(x, p.upper.float)
	}
	return p.lower != nil && fold(x, p.lower.float)
}

// digits writes d with the decimals it was recorded with. Zeros that would fill the
// memory are not written out; they come only from results made by hand.
func digits(d decimal.Decimal) string {
	if e := d.Exponent(); e < -mostZeros || e > mostZeros {
		return fmt.Sprintf("%ve%d", d.Coefficient(), e)
	}
	return d.StringFixed(max(0, -d.Exponent()))
}

// mostZeros is more than a product of recorded numbers has.
const mostZeros = 1000

// maxDigits bounds the size of any decimal from outside, so that no input makes
// arithmetic fill the memory.
const maxDigits = 30

// fewDigits reports whether the plain text of d, zeros before and behind included,
// is one that [units.ParseDecimal] takes back.
func fewDigits(d decimal.Decimal) bool {
	exponent := int(d.Exponent())
	if exponent < -maxDigits || exponent > maxDigits {
		return false
	}
	return max(1, d.NumDigits()+exponent)+max(0, -exponent) <= maxDigits
}

// isFinite must not be x-x == 0: where x is a product, that difference may be fused
// into what the rounding of x lost.
func isFinite(x float64) bool { return math.Abs(x) <= math.MaxFloat64 }
