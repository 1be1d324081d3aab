package units_test

import (
	"encoding"
	"testing"

	"github.com/densilot/densilot/units"
)

// parsed is what a parser made, with its text form.
type parsed interface {
	encoding.TextMarshaler
	String() string
}

// textParsers are the parsers of text that is written back.
var textParsers = map[string]func(string) (parsed, error){
	"mass":             func(s string) (parsed, error) { v, err := units.ParseMass(s); return v, err },
	"length":           func(s string) (parsed, error) { v, err := units.ParseLength(s); return v, err },
	"gravity":          func(s string) (parsed, error) { v, err := units.ParseSpecificGravity(s); return v, err },
	"temperature":      func(s string) (parsed, error) { v, err := units.ParseTemperature(s); return v, err },
	"step":             func(s string) (parsed, error) { v, err := units.ParseTemperatureDifference(s); return v, err },
	"difference":       func(s string) (parsed, error) { v, err := units.ParseDensityDifference(s); return v, err },
	"rounding":         func(s string) (parsed, error) { v, err := units.ParseRounding(s); return v, err },
	"water":            func(s string) (parsed, error) { v, err := units.ParseWaterConvention(s); return v, err },
	"density unit":     func(s string) (parsed, error) { v, err := units.ParseDensityUnit(s); return v, err },
	"mass unit":        func(s string) (parsed, error) { v, err := units.ParseMassUnit(s); return v, err },
	"length unit":      func(s string) (parsed, error) { v, err := units.ParseLengthUnit(s); return v, err },
	"temperature unit": func(s string) (parsed, error) { v, err := units.ParseTemperatureUnit(s); return v, err },
	"kilometre station": func(s string) (parsed, error) {
		v, err := units.Station1000M.Parse(s)
		return v, err
	},
}

// Whatever text a parser takes, the text it is written as reads back the same.
func FuzzTexts(f *testing.F) {
	for _, seed := range []string{"2412.5 g", "1.5 in", "2.514", "285 °F", "-3.5 K", "+2.4 lb/ft3", "half-even to 0.01", "absolute",
		"62.245 lb/ft3", "kg/m3", "kg", "mm", "°C", "12+345.6", "1e3 g", "", "-0 °C"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for name, parse := range textParsers {
			first, err := parse(text)
			if err != nil {
				continue
			}
			written, err := first.MarshalText()
			if err != nil {
				t.Fatalf("%s %q: %v", name, text, err)
			}
			second, err := parse(string(written))
			if err != nil || second.String() != first.String() {
				t.Fatalf("%s %q is written %q and reads back as %v, %v", name, text, written, second, err)
			}
		}
	})
}
