package units

import (
	"database/sql/driver"
	"fmt"
	"math/big"
)

// Temperature is a point on a temperature scale: the number that was recorded and
// its unit. The zero value is not given; 0 °C is given. A step between two
// temperatures is a [TemperatureDifference].
type Temperature struct{ q quantity[TemperatureUnit] }

// Sub returns t - other, in the unit of t; not given where either is not.
func (t Temperature) Sub(other Temperature) TemperatureDifference {
	return TemperatureDifference{t.q.minus(other.q)}
}

// Add returns t + step, in the unit of t; not given where either is not.
func (t Temperature) Add(step TemperatureDifference) Temperature {
	return Temperature{t.q.plus(step.q, 1)}
}

// Equal reports whether t and other are the same amount, in whatever unit; two
// that are not given are equal. The operator == compares the record instead.
func (t Temperature) Equal(other Temperature) bool { return t.q.compare(other.q, false) == 0 }

// Compare returns -1, 0 or 1 as t is less than, equal to or more than other,
// decided exactly. One that is not given is less than any other.
func (t Temperature) Compare(other Temperature) int { return t.q.compare(other.q, false) }

// IsZero reports whether t is not given; a recorded 0 is given.
func (t Temperature) IsZero() bool { return !t.q.given() }

// String returns the record, such as "285 °F"; "" if not given.
func (t Temperature) String() string { return string(t.q.appendText(nil)) }

// Text returns t converted to u with 12 significant digits, for people; "" if
// t is not given or too large for a number in u.
func (t Temperature) Text(u TemperatureUnit) string { return t.q.text(u, false) }

// In returns the number of t in u: the float64 nearest to the exact conversion, at most
// the largest; 0 if t is not given.
func (t Temperature) In(u TemperatureUnit) float64 { return t.q.in(u, false) }

// Exact returns the number of t in u without any rounding: the decimal that was
// recorded times the exact factor of the units. It is nil if t is not given.
func (t Temperature) Exact(u TemperatureUnit) *big.Rat { return t.q.exact(u, false) }

// Unit returns the unit t was recorded in; no unit if t is not given.
func (t Temperature) Unit() TemperatureUnit { return t.q.unit }

// To records t anew in u, as the number nearest to the exact conversion; not given
// if t is not or is too large for a number in u.
func (t Temperature) To(u TemperatureUnit) Temperature { return Temperature{t.q.to(u, false)} }

// Format writes t for package fmt: %v and %s as recorded, %.1f with that many
// decimals (half-even on the decimal digits), a + flag with its sign.
func (t Temperature) Format(f fmt.State, verb rune) { t.q.format(f, verb, "Temperature") }

// AppendText appends the record to b. It allocates only where b must grow. The error
// is nil.
func (t Temperature) AppendText(b []byte) ([]byte, error) { return t.q.appendText(b), nil }

// MarshalText returns the record, empty if not given. The error is nil.
func (t Temperature) MarshalText() ([]byte, error) { return t.q.appendText(nil), nil }

// UnmarshalText reads what [ParseTemperature] reads, with its errors; empty text means not given.
func (t *Temperature) UnmarshalText(text []byte) error {
	return t.q.unmarshal("units.Temperature.UnmarshalText", text)
}

// Value returns the record for a database column, NULL if not given. The error is nil.
func (t Temperature) Value() (driver.Value, error) {
	if t.IsZero() {
		return nil, nil
	}
	return t.String(), nil
}

// Scan reads a database column of text with unit, or NULL. Errors are those of
// [ParseTemperature], or [*ParseError] around [ErrUnit] for a column of another type.
func (t *Temperature) Scan(src any) error { return t.q.scan("units.Temperature.Scan", src) }

// ParseTemperature reads a record such as "285 °F": a plain decimal number and one of the
// units of [TemperatureUnit]. Blanks around and between them are ignored.
//
// Errors are [*ParseError] around [ErrSyntax], [ErrUnit], [ErrDigits],
// [ErrRange] or, for empty text, [ErrNotGiven].
func ParseTemperature(text string) (Temperature, error) {
	q, err := parse[TemperatureUnit]("units.ParseTemperature", text)
	return Temperature{q}, err
}
