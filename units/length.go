package units

import (
	"database/sql/driver"
	"fmt"
	"math/big"
)

// Length is a length: the number that was recorded and its unit. It is its own
// difference. The zero value is not given.
type Length struct{ q quantity[LengthUnit] }

// Add returns l + other, in the unit of l; not given where either is not.
func (l Length) Add(other Length) Length { return Length{l.q.plus(other.q, 1)} }

// Sub returns l - other, in the unit of l; not given where either is not.
func (l Length) Sub(other Length) Length { return Length{l.q.plus(other.q, -1)} }

// Equal reports whether l and other are the same amount, in whatever unit; two
// that are not given are equal. The operator == compares the record instead.
func (l Length) Equal(other Length) bool { return l.q.compare(other.q, false) == 0 }

// Compare returns -1, 0 or 1 as l is less than, equal to or more than other,
// decided exactly. One that is not given is less than any other.
func (l Length) Compare(other Length) int { return l.q.compare(other.q, false) }

// IsZero reports whether l is not given; a recorded 0 is given.
func (l Length) IsZero() bool { return !l.q.given() }

// String returns the record, such as "50 mm"; "" if not given.
func (l Length) String() string { return string(l.q.appendText(nil)) }

// Text returns l converted to u with 12 significant digits, for people; "" if
// l is not given or too large for a number in u.
func (l Length) Text(u LengthUnit) string { return l.q.text(u, false) }

// In returns the number of l in u: the float64 nearest to the exact conversion, at most
// the largest; 0 if l is not given.
func (l Length) In(u LengthUnit) float64 { return l.q.in(u, false) }

// Exact returns the number of l in u without any rounding: the decimal that was
// recorded times the exact factor of the units. It is nil if l is not given.
func (l Length) Exact(u LengthUnit) *big.Rat { return l.q.exact(u, false) }

// Unit returns the unit l was recorded in; no unit if l is not given.
func (l Length) Unit() LengthUnit { return l.q.unit }

// To records l anew in u, as the number nearest to the exact conversion; not given
// if l is not or is too large for a number in u.
func (l Length) To(u LengthUnit) Length { return Length{l.q.to(u, false)} }

// Format writes l for package fmt: %v and %s as recorded, %.1f with that many
// decimals (half-even on the decimal digits), a + flag with its sign.
func (l Length) Format(f fmt.State, verb rune) { l.q.format(f, verb, "Length") }

// AppendText appends the record to b. It allocates only where b must grow. The error
// is nil.
func (l Length) AppendText(b []byte) ([]byte, error) { return l.q.appendText(b), nil }

// MarshalText returns the record, empty if not given. The error is nil.
func (l Length) MarshalText() ([]byte, error) { return l.q.appendText(nil), nil }

// UnmarshalText reads what [ParseLength] reads, with its errors; empty text means not given.
func (l *Length) UnmarshalText(text []byte) error {
	return l.q.unmarshal("units.Length.UnmarshalText", text)
}

// Value returns the record for a database column, NULL if not given. The error is nil.
func (l Length) Value() (driver.Value, error) {
	if l.IsZero() {
		return nil, nil
	}
	return l.String(), nil
}

// Scan reads a database column of text with unit, or NULL. Errors are those of
// [ParseLength], or [*ParseError] around [ErrUnit] for a column of another type.
func (l *Length) Scan(src any) error { return l.q.scan("units.Length.Scan", src) }

// ParseLength reads a record such as "50 mm": a plain decimal number and one of the
// units of [LengthUnit]. Blanks around and between them are ignored.
//
// Errors are [*ParseError] around [ErrSyntax], [ErrUnit], [ErrDigits],
// [ErrRange] or, for empty text, [ErrNotGiven].
func ParseLength(text string) (Length, error) {
	q, err := parse[LengthUnit]("units.ParseLength", text)
	return Length{q}, err
}
