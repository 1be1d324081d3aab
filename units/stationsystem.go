package units

import (
	"math"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"
)

// StationSystem is the unit of a road's stations and the length of a full one. The
// zero value is none.
type StationSystem uint8

// The systems of stations.
const (
	Station100Ft StationSystem = iota + 1 // full stations of 100 ft: 12+34.5 is 1234.5 ft
	Station100M                           // full stations of 100 m: 12+34.5 is 1234.5 m
	Station1000M                          // full stations of 1000 m: 12+345.6 is 12345.6 m
)

// stationPlaces are the decimals that a station keeps, so that with maxStation it
// has no more digits than a float64, and stationBytes its longest text.
const (
	stationPlaces = 6
	maxStation    = 1e9
	stationBytes  = 32
)

func (s StationSystem) known() bool { return s >= Station100Ft && s <= Station1000M }

// Unit returns the unit of length of the system; no unit for none.
func (s StationSystem) Unit() LengthUnit {
	switch s {
	case Station100Ft:
		return Foot
	case Station100M, Station1000M:
		return Metre
	}
	return 0
}

// digits returns how many digits stand between the plus sign and the point.
func (s StationSystem) digits() int {
	switch s {
	case Station100Ft, Station100M:
		return 2
	case Station1000M:
		return 3
	}
	return 0
}

// String returns the length of a full station, such as "stations of 100 ft"; ""
// for none.
func (s StationSystem) String() string {
	if !s.known() {
		return ""
	}
	return "stations of 1" + strings.Repeat("0", s.digits()) + " " + s.Unit().String()
}

// Of makes the station x from the zero of the line, in the unit of the system and
// recorded to 6 decimals, half-even. NaN, 1e9 or more either way as recorded, or an
// unknown system make one that is not given.
func (s StationSystem) Of(x float64) Station {
	if !s.known() || !(math.Abs(x) < maxStation) {
		return Station{}
	}
	recorded := decimal.NewFromFloat(x).RoundBank(stationPlaces).InexactFloat64()
	if math.Abs(recorded) >= maxStation {
		return Station{}
	}
	return Station{at: s.Unit().Of(recorded), system: s}
}

// Parse reads a station of this system with or without its unit, such as
// "12+34.5", for a column or a plan that names its system once. Errors are those
// of [ParseStation]; for an unknown system the error wraps [ErrUnit].
func (s StationSystem) Parse(text string) (Station, error) {
	const fn = "units.StationSystem.Parse"
	number, name := splitStation(strings.Trim(text, " \t"))
	switch {
	case !s.known():
		return Station{}, &ParseError{Func: fn, Text: text, Err: ErrUnit, Need: "a system of stations"}
	case number == "" && name == "":
		return Station{}, &ParseError{Func: fn, Text: text, Err: ErrNotGiven}
	case !likeUnit(name):
		return Station{}, &ParseError{Func: fn, Text: text, Err: ErrSyntax, Need: s.form()}
	case name != "" && name != s.Unit().String():
		return Station{}, &ParseError{Func: fn, Text: text, Err: ErrUnit, Need: s.Unit().String()}
	}
	return s.parse(fn, text, number)
}

func (s StationSystem) form() string { return "a station like " + s.Of(1234.5).String() }

// parse reads a notation such as "-12+34.5" of this system.
func (s StationSystem) parse(fn, text, number string) (Station, error) {
	full, rest, _ := strings.Cut(number, "+")
	_, decimals, _ := strings.Cut(rest, ".")
	need := s.form()
	if restDigits(number) != s.digits() || !allDigits(strings.TrimPrefix(full, "-")) {
		return Station{}, &ParseError{Func: fn, Text: text, Err: ErrSyntax, Need: need}
	}
	if len(decimals) > stationPlaces {
		return Station{}, &ParseError{Func: fn, Text: text, Err: ErrDigits, Need: "at most " + strconv.Itoa(stationPlaces) + " decimals"}
	}
	x, err := parseNumber(full + rest)
	if err != nil {
		return Station{}, &ParseError{Func: fn, Text: text, Err: err, Need: need}
	}
	if math.Abs(x) >= maxStation {
		return Station{}, &ParseError{Func: fn, Text: text, Err: ErrRange, Need: "less than 1e9 " + s.Unit().String()}
	}
	return s.Of(x), nil
}

// appendPlus appends a plain decimal number in station notation: at least one
// digit, the plus sign, and the last digits of the whole number.
func (s StationSystem) appendPlus(b, number []byte) []byte {
	if number[0] == '-' {
		b, number = append(b, '-'), number[1:]
	}
	whole := len(number)
	for i, c := range number {
		if c == '.' {
			whole = i
			break
		}
	}
	for i := min(0, whole-s.digits()-1); i < whole; i++ {
		if i == whole-s.digits() {
			b = append(b, '+')
		}
		if i < 0 {
			b = append(b, '0')
			continue
		}
		b = append(b, number[i])
	}
	return append(b, number[whole:]...)
}

// appendPlain appends the shortest decimal text of x without an exponent.
func appendPlain(b []byte, x float64) []byte { return strconv.AppendFloat(b, x, 'f', -1, 64) }

// splitStation cuts a station from its unit.
func splitStation(s string) (number, name string) {
	end := strings.IndexFunc(s, func(r rune) bool { return !strings.ContainsRune("-+.0123456789", r) })
	if end < 0 {
		return s, ""
	}
	return s[:end], strings.Trim(s[end:], " \t")
}

// restDigits counts the digits between the plus sign and the point, 0 where the
// rest is not of that form.
func restDigits(number string) int {
	_, rest, ok := strings.Cut(number, "+")
	whole, decimals, hasPoint := strings.Cut(rest, ".")
	if !ok || !allDigits(whole) || hasPoint && !allDigits(decimals) {
		return 0
	}
	return len(whole)
}
