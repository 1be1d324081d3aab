package density_test

import (
	"errors"
	"testing"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/units"
)

func g(x float64) units.Mass { return units.Gram.Of(x) }

var (
	thousandth = units.Rounding{Method: units.HalfEven, Places: 3}
	hundredth  = units.Rounding{Method: units.HalfEven, Places: 2}
	fifth      = units.Rounding{Method: units.HalfEven, Places: 5}
)

func TestImpossibleMasses(t *testing.T) {
	for _, tt := range []struct {
		name    string
		a, b, c float64
	}{
		{"lighter when wet", 4833.6, 4830, 2881.3},
		{"it floats", 4833.6, 4842.4, 4833.6},
		{"a negative mass", -1, 4842.4, 2881.3},
		{"a zero", 4833.6, 4842.4, 0},
	} {
		m := density.SurfaceDryMasses{Dry: g(tt.a), SurfaceDry: g(tt.b), InWater: g(tt.c)}
		if got, err := density.GmbSurfaceDry(m, thousandth, hundredth); !errors.Is(err, density.ErrImpossibleMass) {
			t.Errorf("%s: %v, %v", tt.name, got, err)
		}
	}
	if _, err := density.GmbSurfaceDry(density.SurfaceDryMasses{Dry: g(1)}, thousandth, hundredth); !errors.Is(err, units.ErrNotGiven) {
		t.Errorf("two masses missing: %v", err)
	}
	if _, err := density.GmbSurfaceDry(density.SurfaceDryMasses{Dry: g(2), SurfaceDry: g(2), InWater: g(1)}, absolute, hundredth); !errors.Is(err, units.ErrAbsolute) {
		t.Errorf("no places: %v", err)
	}
	for _, c := range []float64{286.3, 1719.0, 2000} { // empty, no volume, less than no volume
		if _, err := density.GmmBowl(density.BowlMasses{Dry: g(1432.7), BowlInWater: g(286.3), SampleInWater: g(c)}, thousandth); !errors.Is(err, density.ErrImpossibleMass) {
			t.Errorf("bowl and sample %v g: %v", c, err)
		}
	}
	flask := density.FlaskMasses{Dry: g(1200.3), Filled: g(7502.5), WithSample: g(8217.1), Water: units.Celsius.Of(60)}
	if _, err := density.GmmFlask(flask, fifth, thousandth); !errors.Is(err, units.ErrRange) {
		t.Errorf("water at 60 °C: %v", err)
	}
	flask.Water = units.Temperature{}
	if _, err := density.GmmFlask(flask, fifth, thousandth); !errors.Is(err, units.ErrNotGiven) {
		t.Errorf("no water temperature: %v", err)
	}
}

// The unit of the balance does not matter, and the 2 % rule speaks above 2 %, not
// at it: 100·(2000 - 1980)/(2000 - 1000) is exactly 2.
func TestAbsorptionRule(t *testing.T) {
	for _, tt := range []struct {
		dry  float64
		warn bool
	}{{1980, false}, {1979.9, true}} {
		inGrams, err := density.GmbSurfaceDry(density.SurfaceDryMasses{Dry: g(tt.dry), SurfaceDry: g(2000), InWater: g(1000)}, thousandth, hundredth)
		if err != nil || (len(inGrams.Warnings) > 0) != tt.warn {
			t.Errorf("dry mass %v: %+v, %v", tt.dry, inGrams, err)
		}
		inKg, err := density.GmbSurfaceDry(density.SurfaceDryMasses{Dry: g(tt.dry).To(units.Kilogram), SurfaceDry: units.Kilogram.Of(2), InWater: units.Kilogram.Of(1)}, thousandth, hundredth)
		if err != nil || inKg.Value != inGrams.Value || !inKg.Absorption.Equal(inGrams.Absorption) {
			t.Errorf("in kg %v, in g %v, %v", inKg, inGrams, err)
		}
	}
}
