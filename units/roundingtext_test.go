package units_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"testing"

	"github.com/densilot/densilot/units"
)

func TestRoundingTextRoundTrips(t *testing.T) {
	rules := []units.Rounding{{}, {Method: units.Absolute}}
	for places := -30; places <= 30; places++ {
		rules = append(rules, units.Rounding{Method: units.HalfEven, Places: places}, units.Rounding{Method: units.HalfUp, Places: places})
	}
	for _, want := range rules {
		b, err := json.Marshal(want)
		var got units.Rounding
		if err == nil {
			err = json.Unmarshal(b, &got)
		}
		if err != nil || got != want {
			t.Errorf("%+v through %s = %+v, %v", want, b, got, err)
		}
	}
	if _, err := (units.Rounding{Method: 9}).MarshalText(); !errors.Is(err, units.ErrRounding) {
		t.Errorf("an unknown method was written: %v", err)
	}
}

func TestParseRounding(t *testing.T) {
	for _, tt := range []struct {
		text string
		want units.Rounding
		err  error
	}{
		{"half-even to 0.001", units.Rounding{Method: units.HalfEven, Places: 3}, nil},
		{" half-up to 1 ", units.Rounding{Method: units.HalfUp}, nil},
		{"half-up to 1.0", units.Rounding{Method: units.HalfUp}, nil},
		{"half-even to 100", units.Rounding{Method: units.HalfEven, Places: -2}, nil},
		{"absolute", units.Rounding{Method: units.Absolute}, nil},
		{"", units.Rounding{}, units.ErrNotGiven},
		{"absolute to 0.1", units.Rounding{}, units.ErrRounding},
		{"half-down to 0.1", units.Rounding{}, units.ErrRounding},
		{"half-even", units.Rounding{}, units.ErrSyntax},
		{"half-even to", units.Rounding{}, units.ErrRounding},
		{"half-even to 0.05", units.Rounding{}, units.ErrRange},
		{"half-even to 0", units.Rounding{}, units.ErrRange},
		{"half-even to 1.1", units.Rounding{}, units.ErrRange},
		{"half-even to -0.1", units.Rounding{}, units.ErrRange},
		{"half-even to 0.0000000000000000000000000000001", units.Rounding{}, units.ErrRange},
		{"half-even to 1e-2", units.Rounding{}, units.ErrSyntax},
	} {
		got, err := units.ParseRounding(tt.text)
		if got != tt.want || !errors.Is(err, tt.err) {
			t.Errorf("ParseRounding(%q) = %+v, %v; want %+v, %v", tt.text, got, err, tt.want, tt.err)
		}
	}
}

// Names of units, conventions and rules stand in JSON as text, never as numbers
// that a later version could number anew.
func TestNamesInJSON(t *testing.T) {
	type plan struct {
		Density     units.DensityUnit
		Length      units.LengthUnit
		Mass        units.MassUnit
		Temperature units.TemperatureUnit
		Water       units.WaterConvention
		Rule        units.Rounding
	}
	want := plan{units.KgPerM3, units.Foot, units.ShortTon, units.Fahrenheit, units.Water62_245, units.Rounding{Method: units.HalfEven, Places: 1}}
	b, err := json.Marshal(want)
	if text := `{"Density":"kg/m3","Length":"ft","Mass":"short ton","Temperature":"°F","Water":"62.245 lb/ft3","Rule":"half-even to 0.1"}`; err != nil || string(b) != text {
		t.Fatalf("%s, %v", b, err)
	}
	var got, none plan
	if err := json.Unmarshal(b, &got); err != nil || got != want {
		t.Errorf("read back as %+v, %v", got, err)
	}
	if b, err = json.Marshal(none); err == nil {
		err = json.Unmarshal(b, &got)
	}
	if err != nil || got != none {
		t.Errorf("nothing read back as %+v, %v", got, err)
	}
	for _, bad := range []string{`{"Density":"stone"}`, `{"Length":3}`, `{"Mass":"ton"}`, `{"Temperature":"R"}`, `{"Water":"62.5 lb/ft3"}`, `{"Rule":"nearest"}`} {
		if err := json.Unmarshal([]byte(bad), &got); err == nil {
			t.Errorf("%s was read", bad)
		}
	}
}

func ExampleParseRounding() {
	r, err := units.ParseRounding("half-even to 0.001")
	fmt.Println(r.Places, r, err)
	// Output: 3 half-even to 0.001 <nil>
}
