package units

import (
	"database/sql/driver"
	"fmt"
	"math/big"
)

// SpecificGravity is a density relative to that of water, such as Gmm or Gmb. It
// has no unit and becomes a density only with a named [Water]. The zero value is
// not given.
type SpecificGravity struct{ q quantity[gravityUnit] }

// gravityUnit lets a pure number share the text and comparison of quantities.
type gravityUnit uint8

const noGravityUnit gravityUnit = 1

var gravityDimension = newDimension(scale{factor: rat(1, 1)})

func (u gravityUnit) dimension() *dimension { return gravityDimension }

// SpecificGravityOf makes a specific gravity of x. NaN or an infinity make one
// that is not given.
func SpecificGravityOf(x float64) SpecificGravity {
	return SpecificGravity{of(x, noGravityUnit)}
}

// Float64 returns the number of g; 0 if not given.
func (g SpecificGravity) Float64() float64 { return g.q.in(noGravityUnit, false) }

// Exact returns the decimal that was recorded; nil if not given.
func (g SpecificGravity) Exact() *big.Rat { return g.q.exact(noGravityUnit, false) }

// Density returns g times the density of water, in the unit of the water: the
// number nearest to the exact product. It is not given where g or w is not.
func (g SpecificGravity) Density(w Water) Density {
	if g.IsZero() || w == nil || w.Density().IsZero() {
		return Density{}
	}
	unit := w.Density().Unit()
	x, _ := new(big.Rat).Mul(g.Exact(), w.Density().Exact(unit)).Float64()
	return unit.Of(x)
}

// Equal reports whether g and other are the same number; two that are not given are
// equal. The operator == says the same.
func (g SpecificGravity) Equal(other SpecificGravity) bool { return g.q.compare(other.q, false) == 0 }

// Compare returns -1, 0 or 1 as g is less than, equal to or more than other,
// decided exactly. One that is not given is less than any other.
func (g SpecificGravity) Compare(other SpecificGravity) int { return g.q.compare(other.q, false) }

// IsZero reports whether g is not given; a recorded 0 is given.
func (g SpecificGravity) IsZero() bool { return !g.q.given() }

// String returns the record, such as "2.512"; "" if not given.
func (g SpecificGravity) String() string { return string(g.q.appendText(nil)) }

// Format writes g for package fmt: %v and %s as recorded, %.1f with that many
// decimals (half-even on the decimal digits), a + flag with its sign.
func (g SpecificGravity) Format(f fmt.State, verb rune) { g.q.format(f, verb, "SpecificGravity") }

// AppendText appends the record to b. It allocates only where b must grow. The error
// is nil.
func (g SpecificGravity) AppendText(b []byte) ([]byte, error) { return g.q.appendText(b), nil }

// MarshalText returns the record, empty if not given. The error is nil.
func (g SpecificGravity) MarshalText() ([]byte, error) { return g.q.appendText(nil), nil }

// UnmarshalText reads what [ParseSpecificGravity] reads, with its errors; empty text means not given.
func (g *SpecificGravity) UnmarshalText(text []byte) error {
	return g.q.unmarshal("units.SpecificGravity.UnmarshalText", text)
}

// Value returns the record for a database column, NULL if not given. The error is nil.
func (g SpecificGravity) Value() (driver.Value, error) {
	if g.IsZero() {
		return nil, nil
	}
	return g.String(), nil
}

// Scan reads a database column of text with unit, or NULL. Errors are those of
// [ParseSpecificGravity], or [*ParseError] around [ErrUnit] for a column of another type.
func (g *SpecificGravity) Scan(src any) error { return g.q.scan("units.SpecificGravity.Scan", src) }

// ParseSpecificGravity reads a record such as "2.512": a plain decimal number without a unit.
// Blanks around it are ignored.
//
// Errors are [*ParseError] around [ErrSyntax], [ErrUnit], [ErrDigits],
// [ErrRange] or, for empty text, [ErrNotGiven].
func ParseSpecificGravity(text string) (SpecificGravity, error) {
	q, err := parse[gravityUnit]("units.ParseSpecificGravity", text)
	return SpecificGravity{q}, err
}
