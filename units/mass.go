package units

import (
	"database/sql/driver"
	"fmt"
	"math/big"
)

// Mass is a mass: the number that was recorded and its unit. It is its own
// difference. The zero value is not given.
//
// Tons are named in full, because a short ton (2000 lb) and a metric ton (1000 kg)
// differ by a tenth.
type Mass struct{ q quantity[MassUnit] }

// Add returns m + other, in the unit of m; not given where either is not.
func (m Mass) Add(other Mass) Mass { return Mass{m.q.plus(other.q, 1)} }

// Sub returns m - other, in the unit of m; not given where either is not.
func (m Mass) Sub(other Mass) Mass { return Mass{m.q.plus(other.q, -1)} }

// Equal reports whether m and other are the same amount, in whatever unit; two
// that are not given are equal. The operator == compares the record instead.
func (m Mass) Equal(other Mass) bool { return m.q.compare(other.q, false) == 0 }

// Compare returns -1, 0 or 1 as m is less than, equal to or more than other,
// decided exactly. One that is not given is less than any other.
func (m Mass) Compare(other Mass) int { return m.q.compare(other.q, false) }

// IsZero reports whether m is not given; a recorded 0 is given.
func (m Mass) IsZero() bool { return !m.q.given() }

// String returns the record, such as "1432.7 g"; "" if not given.
func (m Mass) String() string { return string(m.q.appendText(nil)) }

// Text returns m converted to u with 12 significant digits, for people; "" if
// m is not given or too large for a number in u.
func (m Mass) Text(u MassUnit) string { return m.q.text(u, false) }

// In returns the number of m in u: the float64 nearest to the exact conversion, at most
// the largest; 0 if m is not given.
func (m Mass) In(u MassUnit) float64 { return m.q.in(u, false) }

// Exact returns the number of m in u without any rounding: the decimal that was
// recorded times the exact factor of the units. It is nil if m is not given.
func (m Mass) Exact(u MassUnit) *big.Rat { return m.q.exact(u, false) }

// Unit returns the unit m was recorded in; no unit if m is not given.
func (m Mass) Unit() MassUnit { return m.q.unit }

// To records m anew in u, as the number nearest to the exact conversion; not given
// if m is not or is too large for a number in u.
func (m Mass) To(u MassUnit) Mass { return Mass{m.q.to(u, false)} }

// Format writes m for package fmt: %v and %s as recorded, %.1f with that many
// decimals (half-even on the decimal digits), a + flag with its sign.
func (m Mass) Format(f fmt.State, verb rune) { m.q.format(f, verb, "Mass") }

// AppendText appends the record to b. It allocates only where b must grow. The error
// is nil.
func (m Mass) AppendText(b []byte) ([]byte, error) { return m.q.appendText(b), nil }

// MarshalText returns the record, empty if not given. The error is nil.
func (m Mass) MarshalText() ([]byte, error) { return m.q.appendText(nil), nil }

// UnmarshalText reads what [ParseMass] reads, with its errors; empty text means not given.
func (m *Mass) UnmarshalText(text []byte) error {
	return m.q.unmarshal("units.Mass.UnmarshalText", text)
}

// Value returns the record for a database column, NULL if not given. The error is nil.
func (m Mass) Value() (driver.Value, error) {
	if m.IsZero() {
		return nil, nil
	}
	return m.String(), nil
}

// Scan reads a database column of text with unit, or NULL. Errors are those of
// [ParseMass], or [*ParseError] around [ErrUnit] for a column of another type.
func (m *Mass) Scan(src any) error { return m.q.scan("units.Mass.Scan", src) }

// ParseMass reads a record such as "1432.7 g": a plain decimal number and one of the
// units of [MassUnit]. Blanks around and between them are ignored.
//
// Errors are [*ParseError] around [ErrSyntax], [ErrUnit], [ErrDigits],
// [ErrRange] or, for empty text, [ErrNotGiven].
func ParseMass(text string) (Mass, error) {
	q, err := parse[MassUnit]("units.ParseMass", text)
	return Mass{q}, err
}
