package units

import (
	"database/sql/driver"
	"fmt"
	"math/big"
)

// DensityDifference is a step between two densities, such as an offset, a gain per
// pass or a tolerance. It may be negative. The zero value is not given; a
// difference of nothing is recorded as 0 in a unit.
type DensityDifference struct{ q quantity[DensityUnit] }

// Add returns d + other, in the unit of d; not given where either is not.
func (d DensityDifference) Add(other DensityDifference) DensityDifference {
	return DensityDifference{d.q.plus(other.q, 1)}
}

// Sub returns d - other, in the unit of d; not given where either is not.
func (d DensityDifference) Sub(other DensityDifference) DensityDifference {
	return DensityDifference{d.q.plus(other.q, -1)}
}

// Equal reports whether d and other are the same amount, in whatever unit; two
// that are not given are equal. The operator == compares the record instead.
func (d DensityDifference) Equal(other DensityDifference) bool {
	return d.q.compare(other.q, true) == 0
}

// Compare returns -1, 0 or 1 as d is less than, equal to or more than other,
// decided exactly. One that is not given is less than any other.
func (d DensityDifference) Compare(other DensityDifference) int { return d.q.compare(other.q, true) }

// IsZero reports whether d is not given; a recorded 0 is given.
func (d DensityDifference) IsZero() bool { return !d.q.given() }

// String returns the record, such as "2.2 lb/ft3"; "" if not given.
func (d DensityDifference) String() string { return string(d.q.appendText(nil)) }

// Text returns d converted to u with 12 significant digits, for people; "" if
// d is not given or too large for a number in u.
func (d DensityDifference) Text(u DensityUnit) string { return d.q.text(u, true) }

// In returns the number of d in u: the float64 nearest to the exact conversion, at most
// the largest; 0 if d is not given.
func (d DensityDifference) In(u DensityUnit) float64 { return d.q.in(u, true) }

// Exact returns the number of d in u without any rounding: the decimal that was
// recorded times the exact factor of the units. It is nil if d is not given.
func (d DensityDifference) Exact(u DensityUnit) *big.Rat { return d.q.exact(u, true) }

// Unit returns the unit d was recorded in; no unit if d is not given.
func (d DensityDifference) Unit() DensityUnit { return d.q.unit }

// To records d anew in u, as the number nearest to the exact conversion; not given
// if d is not or is too large for a number in u.
func (d DensityDifference) To(u DensityUnit) DensityDifference {
	return DensityDifference{d.q.to(u, true)}
}

// Format writes d for package fmt: %v and %s as recorded, %.1f with that many
// decimals (half-even on the decimal digits), a + flag with its sign.
func (d DensityDifference) Format(f fmt.State, verb rune) { d.q.format(f, verb, "DensityDifference") }

// AppendText appends the record to b. It allocates only where b must grow. The error
// is nil.
func (d DensityDifference) AppendText(b []byte) ([]byte, error) { return d.q.appendText(b), nil }

// MarshalText returns the record, empty if not given. The error is nil.
func (d DensityDifference) MarshalText() ([]byte, error) { return d.q.appendText(nil), nil }

// UnmarshalText reads what [ParseDensityDifference] reads, with its errors; empty text means not given.
func (d *DensityDifference) UnmarshalText(text []byte) error {
	return d.q.unmarshal("units.DensityDifference.UnmarshalText", text)
}

// Value returns the record for a database column, NULL if not given. The error is nil.
func (d DensityDifference) Value() (driver.Value, error) {
	if d.IsZero() {
		return nil, nil
	}
	return d.String(), nil
}

// Scan reads a database column of text with unit, or NULL. Errors are those of
// [ParseDensityDifference], or [*ParseError] around [ErrUnit] for a column of another type.
func (d *DensityDifference) Scan(src any) error { return d.q.scan("units.DensityDifference.Scan", src) }

// ParseDensityDifference reads a record such as "2.2 lb/ft3": a plain decimal number and one of the
// units of [DensityUnit]. Blanks around and between them are ignored.
//
// Errors are [*ParseError] around [ErrSyntax], [ErrUnit], [ErrDigits],
// [ErrRange] or, for empty text, [ErrNotGiven].
func ParseDensityDifference(text string) (DensityDifference, error) {
	q, err := parse[DensityUnit]("units.ParseDensityDifference", text)
	return DensityDifference{q}, err
}
