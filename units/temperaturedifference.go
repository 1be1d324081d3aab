package units

import (
	"database/sql/driver"
	"fmt"
	"math/big"
)

// TemperatureDifference is a step between two temperatures. It converts by the size
// of the degree alone: 20 °C as a difference is 36 °F. The zero value is not
// given.
type TemperatureDifference struct{ q quantity[TemperatureUnit] }

// Add returns t + other, in the unit of t; not given where either is not.
func (t TemperatureDifference) Add(other TemperatureDifference) TemperatureDifference {
	return TemperatureDifference{t.q.plus(other.q, 1)}
}

// Sub returns t - other, in the unit of t; not given where either is not.
func (t TemperatureDifference) Sub(other TemperatureDifference) TemperatureDifference {
	return TemperatureDifference{t.q.plus(other.q, -1)}
}

// Equal reports whether t and other are the same amount, in whatever unit; two
// that are not given are equal. The operator == compares the record instead.
func (t TemperatureDifference) Equal(other TemperatureDifference) bool {
	return t.q.compare(other.q, true) == 0
}

// Compare returns -1, 0 or 1 as t is less than, equal to or more than other,
// decided exactly. One that is not given is less than any other.
func (t TemperatureDifference) Compare(other TemperatureDifference) int {
	return t.q.compare(other.q, true)
}

// IsZero reports whether t is not given; a recorded 0 is given.
func (t TemperatureDifference) IsZero() bool { return !t.q.given() }

// String returns the record, such as "20 °F"; "" if not given.
func (t TemperatureDifference) String() string { return string(t.q.appendText(nil)) }

// Text returns t converted to u with 12 significant digits, for people; "" if
// t is not given or too large for a number in u.
func (t TemperatureDifference) Text(u TemperatureUnit) string { return t.q.text(u, true) }

// In returns the number of t in u: the float64 nearest to the exact conversion, at most
// the largest; 0 if t is not given.
func (t TemperatureDifference) In(u TemperatureUnit) float64 { return t.q.in(u, true) }

// Exact returns the number of t in u without any rounding: the decimal that was
// recorded times the exact factor of the units. It is nil if t is not given.
func (t TemperatureDifference) Exact(u TemperatureUnit) *big.Rat { return t.q.exact(u, true) }

// Unit returns the unit t was recorded in; no unit if t is not given.
func (t TemperatureDifference) Unit() TemperatureUnit { return t.q.unit }

// To records t anew in u, as the number nearest to the exact conversion; not given
// if t is not or is too large for a number in u.
func (t TemperatureDifference) To(u TemperatureUnit) TemperatureDifference {
	return TemperatureDifference{t.q.to(u, true)}
}

// Format writes t for package fmt: %v and %s as recorded, %.1f with that many
// decimals (half-even on the decimal digits), a + flag with its sign.
func (t TemperatureDifference) Format(f fmt.State, verb rune) {
	t.q.format(f, verb, "TemperatureDifference")
}

// AppendText appends the record to b. It allocates only where b must grow. The error
// is nil.
func (t TemperatureDifference) AppendText(b []byte) ([]byte, error) { return t.q.appendText(b), nil }

// MarshalText returns the record, empty if not given. The error is nil.
func (t TemperatureDifference) MarshalText() ([]byte, error) { return t.q.appendText(nil), nil }

// UnmarshalText reads what [ParseTemperatureDifference] reads, with its errors; empty text means not given.
func (t *TemperatureDifference) UnmarshalText(text []byte) error {
	return t.q.unmarshal("units.TemperatureDifference.UnmarshalText", text)
}

// Value returns the record for a database column, NULL if not given. The error is nil.
func (t TemperatureDifference) Value() (driver.Value, error) {
	if t.IsZero() {
		return nil, nil
	}
	return t.String(), nil
}

// Scan reads a database column of text with unit, or NULL. Errors are those of
// [ParseTemperatureDifference], or [*ParseError] around [ErrUnit] for a column of another type.
func (t *TemperatureDifference) Scan(src any) error {
	return t.q.scan("units.TemperatureDifference.Scan", src)
}

// ParseTemperatureDifference reads a record such as "20 °F": a plain decimal number and one of the
// units of [TemperatureUnit]. Blanks around and between them are ignored.
//
// Errors are [*ParseError] around [ErrSyntax], [ErrUnit], [ErrDigits],
// [ErrRange] or, for empty text, [ErrNotGiven].
func ParseTemperatureDifference(text string) (TemperatureDifference, error) {
	q, err := parse[TemperatureUnit]("units.ParseTemperatureDifference", text)
	return TemperatureDifference{q}, err
}
