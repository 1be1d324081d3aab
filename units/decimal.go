package units

import (
	"strings"

	"github.com/shopspring/decimal"
)

// ParseDecimal reads a plain decimal number without a unit, such as a percentage,
// a price or a tonnage: an optional minus sign, digits, and an optional point
// with digits on both sides. It keeps every digit, trailing zeros among them, and
// refuses what other readers let through: an exponent, a plus sign, a decimal
// comma, a no-break space, more than 30 digits. Blanks around the number are
// ignored.
//
// Errors are [*ParseError] around [ErrSyntax], [ErrDigits] or, for empty text,
// [ErrNotGiven].
func ParseDecimal(text string) (decimal.Decimal, error) {
	const fn = "units.ParseDecimal"
	s := strings.Trim(text, " \t")
	if s == "" {
		return decimal.Decimal{}, &ParseError{Func: fn, Text: text, Err: ErrNotGiven}
	}
	if _, err := checkDecimal(s); err != nil {
		return decimal.Decimal{}, &ParseError{Func: fn, Text: text, Need: "a number like 92.4", Err: err}
	}
	d, err := decimal.NewFromString(s)
	if err != nil {
		return decimal.Decimal{}, &ParseError{Func: fn, Text: text, Need: "a number like 92.4", Err: ErrSyntax}
	}
	return d, nil
}
