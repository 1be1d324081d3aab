package units

import (
	"database/sql/driver"
	"fmt"
	"strings"

	"github.com/shopspring/decimal"
)

// Station is a place along the line of a road, in the notation that is painted
// beside it: full stations, a plus sign and the rest, such as 12+34.5 for 1234.5
// ft from the zero of the line. The zero value is not given; the zero of the line
// is 0+00. Places before it are written -0+50.
//
// A station is kept to 6 decimals of its foot or metre. Differences are lengths
// along the line as it is numbered; a line that was shortened or lengthened
// (a station equation) has its own arithmetic and must be cut there first.
type Station struct {
	at     Length // from the zero of the line, in the unit of system
	system StationSystem
}

// Add returns s moved ahead by l, in the system of s; not given where either is
// not.
func (s Station) Add(l Length) Station {
	moved := s.at.Add(l)
	if moved.IsZero() {
		return Station{}
	}
	return s.system.Of(moved.In(s.system.Unit()))
}

// Sub returns the length from other to s, in the unit of s: positive where s is
// ahead. It is not given where either is not.
func (s Station) Sub(other Station) Length { return s.at.Sub(other.at) }

// Length returns the length from the zero of the line; not given if s is not.
func (s Station) Length() Length { return s.at }

// System returns the notation s was recorded in; none if s is not given.
func (s Station) System() StationSystem { return s.system }

// Equal reports whether s and other are the same length from the zero of their
// line, in whatever system; two that are not given are equal.
func (s Station) Equal(other Station) bool { return s.at.Equal(other.at) }

// Compare returns -1, 0 or 1 as s is before, at or ahead of other. One that is
// not given comes first.
func (s Station) Compare(other Station) int { return s.at.Compare(other.at) }

// IsZero reports whether s is not given; a recorded 0+00 is given.
func (s Station) IsZero() bool { return s.system == 0 }

// String returns the record with its unit, such as "12+34.5 ft"; "" if not given.
func (s Station) String() string { return string(s.appendText(nil)) }

// Notation returns the record without its unit, such as "12+34.5", for signs and
// columns whose head names the system; "" if not given.
func (s Station) Notation() string {
	var buf [stationBytes]byte
	return string(s.appendNotation(buf[:0]))
}

// Format writes s for package fmt: %v and %s as recorded, %.1f with that many
// decimals (half-even on the decimal digits).
func (s Station) Format(f fmt.State, verb rune) {
	var b []byte
	places, fixed := f.Precision()
	switch {
	case s.IsZero() && strings.ContainsRune("vsf", verb):
		b = []byte("not given")
	case verb == 'v' || verb == 's':
		b = s.appendText(nil)
	case verb == 'f':
		if !fixed {
			places = stationPlaces
		}
		places = min(places, maxDigits)
		number := decimal.NewFromFloat(s.at.q.value).RoundBank(int32(places)).StringFixed(int32(places))
		b = appendUnit(s.system.appendPlus(nil, []byte(number)), s.system.Unit())
	default:
		fmt.Fprintf(f, "%%!%c(units.Station=%s)", verb, s.appendText(nil))
		return
	}
	pad(f, b)
}

// AppendText appends the record to b. It allocates only where b must grow. The error
// is nil.
func (s Station) AppendText(b []byte) ([]byte, error) { return s.appendText(b), nil }

// MarshalText returns the record, empty if not given. The error is nil.
func (s Station) MarshalText() ([]byte, error) { return s.appendText(nil), nil }

// UnmarshalText reads what [ParseStation] reads, with its errors; empty text means not given.
func (s *Station) UnmarshalText(text []byte) error {
	return s.unmarshal("units.Station.UnmarshalText", string(text))
}

// Value returns the record for a database column, NULL if not given. The error is nil.
func (s Station) Value() (driver.Value, error) {
	if s.IsZero() {
		return nil, nil
	}
	return s.String(), nil
}

// Scan reads a database column of text with unit, or NULL. Errors are those of
// [ParseStation], or [*ParseError] around [ErrUnit] for a column of another type.
func (s *Station) Scan(src any) error {
	const fn = "units.Station.Scan"
	switch v := src.(type) {
	case nil:
		*s = Station{}
		return nil
	case string:
		return s.unmarshal(fn, v)
	case []byte:
		return s.unmarshal(fn, string(v))
	}
	return &ParseError{Func: fn, Text: fmt.Sprint(src), Err: ErrUnit, Need: "text with a unit, or NULL"}
}

func (s *Station) unmarshal(fn, text string) error {
	if text == "" {
		*s = Station{}
		return nil
	}
	parsed, err := parseStation(fn, text)
	if err == nil {
		*s = parsed
	}
	return err
}

func (s Station) appendText(b []byte) []byte {
	if s.IsZero() {
		return b
	}
	return appendUnit(s.appendNotation(b), s.system.Unit())
}

func (s Station) appendNotation(b []byte) []byte {
	if s.IsZero() {
		return b
	}
	var buf [stationBytes]byte
	return s.system.appendPlus(b, appendPlain(buf[:0], s.at.q.value))
}

// ParseStation reads a record such as "12+34.5 ft": full stations, a plus sign, the
// rest with two digits before the point for stations of 100 and three for stations
// of 1000, and the unit, ft or m. Blanks around them are ignored.
//
// Errors are [*ParseError] around [ErrSyntax], [ErrUnit], [ErrDigits] for more
// than 6 decimals, [ErrRange] or, for empty text, [ErrNotGiven]. Text without a
// unit is read by [StationSystem.Parse].
func ParseStation(text string) (Station, error) { return parseStation("units.ParseStation", text) }

func parseStation(fn, text string) (Station, error) {
	number, name := splitStation(strings.Trim(text, " \t"))
	if number == "" && name == "" {
		return Station{}, &ParseError{Func: fn, Text: text, Err: ErrNotGiven}
	}
	width := restDigits(number)
	for s := Station100Ft; s <= Station1000M; s++ {
		if s.Unit().String() == name && s.digits() == width {
			return s.parse(fn, text, number)
		}
	}
	reason := ErrUnit
	if width == 0 || !likeUnit(name) {
		reason = ErrSyntax
	}
	return Station{}, &ParseError{Func: fn, Text: text, Err: reason, Need: stationForms}
}

const stationForms = "a station like 12+34.5 ft, 12+34.5 m (of 100 m) or 12+345.6 m (of 1000 m)"
