package lot

import (
	"fmt"
	"math"

	"github.com/shopspring/decimal"
)

// Limits are the specification limits of a characteristic: a lower one, an upper
// one or both. A value equal to a limit is within it. The zero value has no limit
// and is refused where one is needed.
type Limits struct {
	lower, upper       decimal.Decimal
	lowerF, upperF     float64
	hasLower, hasUpper bool
	bad                bool // a limit with too many digits was asked for
}

// AtLeast returns a lower limit. The decimal it stands for is the shortest text
// of x, so AtLeast(92.1) is exactly 92.1. NaN or an infinity make no limit.
func AtLeast(x float64) Limits { return Limits{}.withLower(x) }

// AtMost returns an upper limit, as [AtLeast] does a lower one.
func AtMost(x float64) Limits { return Limits{}.withUpper(x) }

// Between returns a lower and an upper limit, as [AtLeast] and [AtMost] do.
func Between(lower, upper float64) Limits { return AtLeast(lower).withUpper(upper) }

// AtLeastDecimal returns a lower limit that keeps the digits of x.
func AtLeastDecimal(x decimal.Decimal) Limits { return Limits{}.withLowerDecimal(x) }

// AtMostDecimal returns an upper limit that keeps the digits of x.
func AtMostDecimal(x decimal.Decimal) Limits { return Limits{}.withUpperDecimal(x) }

// BetweenDecimal returns both limits, keeping their digits.
func BetweenDecimal(lower, upper decimal.Decimal) Limits {
	return AtLeastDecimal(lower).withUpperDecimal(upper)
}

func (l Limits) withLowerDecimal(x decimal.Decimal) Limits {
	if !fewDigits(x) {
		return Limits{bad: true}
	}
	l.lower, l.lowerF, l.hasLower = x, x.InexactFloat64(), true
	return l
}

func (l Limits) withUpperDecimal(x decimal.Decimal) Limits {
	if l.bad || !fewDigits(x) {
		return Limits{bad: true}
	}
	l.upper, l.upperF, l.hasUpper = x, x.InexactFloat64(), true
	return l
}

func (l Limits) withLower(x float64) Limits {
	if !isFinite(x) {
		return l
	}
	return l.withLowerDecimal(decimal.NewFromFloat(x))
}

func (l Limits) withUpper(x float64) Limits {
	if !isFinite(x) {
		return l
	}
	return l.withUpperDecimal(decimal.NewFromFloat(x))
}

// Lower returns the lower limit and whether there is one.
func (l Limits) Lower() (decimal.Decimal, bool) { return l.lower, l.hasLower }

// Upper returns the upper limit and whether there is one.
func (l Limits) Upper() (decimal.Decimal, bool) { return l.upper, l.hasUpper }

// IsZero reports whether there is no limit.
func (l Limits) IsZero() bool { return !l.hasLower && !l.hasUpper }

// Contains reports whether x is within the limits, equal to one included. A number
// of more than 30 digits is not.
func (l Limits) Contains(x decimal.Decimal) bool {
	return fewDigits(x) && !(l.hasLower && x.LessThan(l.lower)) && !(l.hasUpper && x.GreaterThan(l.upper))
}

// Validate refuses limits without a limit ([ErrNoLimit]), with the lower not
// below the upper ([ErrLimitOrder]), or with more than 30 digits ([ErrDigits]).
func (l Limits) Validate() error {
	switch {
	case l.bad:
		return ErrDigits
	case l.IsZero():
		return ErrNoLimit
	case l.hasLower && l.hasUpper && !l.lower.LessThan(l.upper):
		return fmt.Errorf("%w (%s, %s)", ErrLimitOrder, l.lower, l.upper)
	}
	return nil
}

// String returns the limits in words, such as "at least 92.0".
func (l Limits) String() string {
	switch {
	case l.hasLower && l.hasUpper:
		return digits(l.lower) + " to " + digits(l.upper)
	case l.hasLower:
		return "at least " + digits(l.lower)
	case l.hasUpper:
		return "at most " + digits(l.upper)
	}
	return "no limit"
}

// digits writes d with the decimals it was recorded with.
func digits(d decimal.Decimal) string { return d.StringFixed(max(0, -d.Exponent())) }

// maxDigits bounds the size of any decimal from outside, so that no input makes
// arithmetic fill the memory.
const maxDigits = 30

func fewDigits(d decimal.Decimal) bool {
	return d.Exponent() >= -maxDigits && d.Exponent() <= maxDigits && d.NumDigits() <= maxDigits
}

func isFinite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
