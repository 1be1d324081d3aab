package units

import (
	"fmt"
	"math"
	"math/big"

	"github.com/shopspring/decimal"
)

// RoundingMethod names how a number is rounded before it is used or compared.
// The zero value names none and is refused, because the method moves decisions.
type RoundingMethod uint8

// The rounding methods. HalfEven is the rounding method of ASTM E29, Absolute
// its absolute method, in which a number is compared as it is; HalfUp is the
// variation some agencies write into their procedures, such as Iowa DOT IM 202.
const (
	HalfEven RoundingMethod = iota + 1 // an exact 5 goes to the even digit
	HalfUp                             // an exact 5 goes away from zero
	Absolute                           // no rounding
)

// String returns the method in words.
func (m RoundingMethod) String() string {
	switch m {
	case HalfEven:
		return "half-even"
	case HalfUp:
		return "half-up"
	case Absolute:
		return "absolute"
	}
	return fmt.Sprintf("RoundingMethod(%d)", m)
}

// Rounding is a rule for one recorded or computed number: the method and the
// number of decimal places to keep. Places may be negative (-1 keeps tens) and
// is not used by Absolute.
type Rounding struct {
	Method RoundingMethod
	Places int
}

// maxPlaces bounds the places of a rounding either way, maxExponent the decimals
// that are rounded: every float64 fits, and none fills the memory.
const (
	maxPlaces   = maxDigits
	maxExponent = 400
)

// Validate refuses a rounding without a method ([ErrRounding]) or with more
// than 30 places either way ([ErrRange]).
func (r Rounding) Validate() error {
	switch {
	case r.Method < HalfEven || r.Method > Absolute:
		return fmt.Errorf("units.Rounding: Method = %d: %w; need HalfEven, HalfUp or Absolute", r.Method, ErrRounding)
	case r.Method != Absolute && (r.Places < -maxPlaces || r.Places > maxPlaces):
		return fmt.Errorf("units.Rounding: Places = %d: %w; need -%d to %d", r.Places, ErrRange, maxPlaces, maxPlaces)
	}
	return nil
}

// ValidatePlaces is [Rounding.Validate] for a number that has to end somewhere, such
// as money or a quotient: it refuses Absolute as well ([ErrAbsolute]).
func (r Rounding) ValidatePlaces() error {
	if r.Method == Absolute {
		return fmt.Errorf("units.Rounding: %w", ErrAbsolute)
	}
	return r.Validate()
}

// String returns the rule in words, such as "half-even to 0.01".
func (r Rounding) String() string {
	if r.Method < HalfEven || r.Method >= Absolute {
		return r.Method.String()
	}
	return r.Method.String() + " to " + decimal.New(1, int32(-clamp(r.Places))).String()
}

// Rule returns the words of a rule that changes numbers, "" for Absolute: what a
// working shows beside a step.
func (r Rounding) Rule() string {
	if r.Method == Absolute {
		return ""
	}
	return r.String()
}

func clamp(places int) int { return min(max(places, -maxPlaces), maxPlaces) }

// Decimal rounds d. Half of a step is decided on the decimal digits, so 92.45 is
// a tie. A result of zero has no sign.
//
// The error wraps [ErrRounding] or [ErrRange] if the rule is not valid, or
// [ErrDigits] for an exponent that no float64 has.
func (r Rounding) Decimal(d decimal.Decimal) (decimal.Decimal, error) {
	if err := r.Validate(); err != nil {
		return decimal.Decimal{}, err
	}
	if e := d.Exponent(); e < -maxExponent || e > maxExponent {
		return decimal.Decimal{}, fmt.Errorf("units.Rounding.Decimal: d has exponent %d: %w", e, ErrDigits)
	}
	switch r.Method {
	case HalfEven:
		return d.RoundBank(int32(r.Places)), nil
	case HalfUp:
		return d.Round(int32(r.Places)), nil
	}
	return d, nil
}

// Float rounds a computed number. It is first taken to 12 significant digits, so
// that the noise of a conversion never decides a tie; with Absolute that decimal
// is the result.
//
// The error wraps [ErrSyntax] for NaN or an infinity, otherwise as Decimal.
func (r Rounding) Float(x float64) (decimal.Decimal, error) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return decimal.Decimal{}, fmt.Errorf("units.Rounding.Float: x = %g: %w", x, ErrSyntax)
	}
	return r.Decimal(significant(x))
}

// significant returns x to 12 significant digits as a decimal.
func significant(x float64) decimal.Decimal {
	if x == 0 {
		return decimal.Zero
	}
	// The digits are counted, not taken from a logarithm, which differs by an ulp
	// between processors just where it would matter, at the powers of ten.
	d := decimal.NewFromFloat(x)
	surplus := int32(d.NumDigits()) - 12
	return d.RoundBank(-(d.Exponent() + surplus))
}

// Rat rounds an exact rational number, in its turn exactly; Absolute returns a
// copy of x. The error wraps [ErrNotGiven] for nil, otherwise as Decimal.
func (r Rounding) Rat(x *big.Rat) (*big.Rat, error) {
	if err := r.Validate(); err != nil {
		return nil, err
	}
	if x == nil {
		return nil, fmt.Errorf("units.Rounding.Rat: x: %w", ErrNotGiven)
	}
	if r.Method == Absolute {
		return new(big.Rat).Set(x), nil
	}
	num, den := x.Num(), x.Denom()
	if r.Places < 0 {
		step := tens[-r.Places]
		whole := roundQuotient(num, new(big.Int).Mul(den, step), r.Method)
		return new(big.Rat).SetInt(whole.Mul(whole, step)), nil
	}
	step := tens[r.Places]
	return new(big.Rat).SetFrac(roundQuotient(new(big.Int).Mul(num, step), den, r.Method), step), nil
}

// tens are the powers of ten, which are not to be changed.
var tens = func() (powers [maxPlaces + 1]*big.Int) {
	for n := range powers {
		powers[n] = new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(n)), nil)
	}
	return powers
}()

// roundQuotient rounds num/den to an integer, for den > 0.
func roundQuotient(num, den *big.Int, m RoundingMethod) *big.Int {
	whole, rest := new(big.Int).QuoRem(num, den, new(big.Int))
	twice := rest.Abs(rest).Lsh(rest, 1)
	half := twice.Cmp(den)
	if half > 0 || half == 0 && (m == HalfUp || whole.Bit(0) == 1) {
		whole.Add(whole, big.NewInt(int64(num.Sign())))
	}
	return whole
}
