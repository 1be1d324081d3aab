package units

import (
	"database/sql/driver"
	"fmt"
	"math/big"
)

// Density is a mass per volume: the number that was recorded and its unit.
// The zero value is no density at all and is refused where one is needed. The
// difference of two densities is a [DensityDifference].
type Density struct{ q quantity[DensityUnit] }

// Sub returns d - other, in the unit of d; not given where either is not.
func (d Density) Sub(other Density) DensityDifference { return DensityDifference{d.q.minus(other.q)} }

// Add returns d + step, in the unit of d; not given where either is not.
func (d Density) Add(step DensityDifference) Density { return Density{d.q.plus(step.q, 1)} }

// Equal reports whether d and other are the same amount, in whatever unit; two
// that are not given are equal. The operator == compares the record instead.
func (d Density) Equal(other Density) bool { return d.q.compare(other.q, false) == 0 }

// Compare returns -1, 0 or 1 as d is less than, equal to or more than other,
// decided exactly. One that is not given is less than any other.
func (d Density) Compare(other Density) int { return d.q.compare(other.q, false) }

// IsZero reports whether d is not given; a recorded 0 is given.
func (d Density) IsZero() bool { return !d.q.given() }

// String returns the record, such as "147.2 lb/ft3"; "" if not given.
func (d Density) String() string { return string(d.q.appendText(nil)) }

// Text returns d converted to u with 12 significant digits, for people; "" if
// d is not given or too large for a number in u.
func (d Density) Text(u DensityUnit) string { return d.q.text(u, false) }

// In returns the number of d in u: the float64 nearest to the exact conversion, at most
// the largest; 0 if d is not given.
func (d Density) In(u DensityUnit) float64 { return d.q.in(u, false) }

// Exact returns the number of d in u without any rounding: the decimal that was
// recorded times the exact factor of the units. It is nil if d is not given.
func (d Density) Exact(u DensityUnit) *big.Rat { return d.q.exact(u, false) }

// Unit returns the unit d was recorded in; no unit if d is not given.
func (d Density) Unit() DensityUnit { return d.q.unit }

// To records d anew in u, as the number nearest to the exact conversion; not given
// if d is not or is too large for a number in u.
func (d Density) To(u DensityUnit) Density { return Density{d.q.to(u, false)} }

// Format writes d for package fmt: %v and %s as recorded, %.1f with that many
// decimals (half-even on the decimal digits), a + flag with its sign.
func (d Density) Format(f fmt.State, verb rune) { d.q.format(f, verb, "Density") }

// AppendText appends the record to b. It allocates only where b must grow. The error
// is nil.
func (d Density) AppendText(b []byte) ([]byte, error) { return d.q.appendText(b), nil }

// MarshalText returns the record, empty if not given. The error is nil.
func (d Density) MarshalText() ([]byte, error) { return d.q.appendText(nil), nil }

// UnmarshalText reads what [ParseDensity] reads, with its errors; empty text means not given.
func (d *Density) UnmarshalText(text []byte) error {
	return d.q.unmarshal("units.Density.UnmarshalText", text)
}

// Value returns the record for a database column, NULL if not given. The error is nil.
func (d Density) Value() (driver.Value, error) {
	if d.IsZero() {
		return nil, nil
	}
	return d.String(), nil
}

// Scan reads a database column of text with unit, or NULL. Errors are those of
// [ParseDensity], or [*ParseError] around [ErrUnit] for a column of another type.
func (d *Density) Scan(src any) error { return d.q.scan("units.Density.Scan", src) }

// ParseDensity reads a record such as "147.2 lb/ft3": a plain decimal number and one of the
// units of [DensityUnit]. Blanks around and between them are ignored.
//
// Errors are [*ParseError] around [ErrSyntax], [ErrUnit], [ErrDigits],
// [ErrRange] or, for empty text, [ErrNotGiven].
func ParseDensity(text string) (Density, error) {
	q, err := parse[DensityUnit]("units.ParseDensity", text)
	return Density{q}, err
}
