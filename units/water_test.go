package units_test

import (
	"errors"
	"math"
	"testing"

	"github.com/densilot/densilot/units"
)

func TestWaterAt(t *testing.T) {
	for _, tt := range []struct {
		t      units.Temperature
		want   float64
		tol    float64
		source string
	}{
		{units.Celsius.Of(20), 998.2067, 5e-5, "Tanaka et al. 2001 as quoted with 7 digits, 0.9982067 g/cm3"},
		{units.Celsius.Of(25), 997.047, 5e-4, "Tanaka et al. 2001 as quoted with 6 digits, 0.997047 g/cm3"},
		{units.Celsius.Of(4), 999.974948, 5e-7, "the formula in R 4.2.2, 6 decimals"},
		{units.Celsius.Of(40), 992.215209, 5e-7, "the formula in R 4.2.2, 6 decimals"},
		{units.Fahrenheit.Of(77), 997.047022, 5e-7, "77 °F is 25 °C; the formula in R 4.2.2, 6 decimals"},
	} {
		w, err := units.WaterAt(tt.t)
		if err != nil {
			t.Fatal(err)
		}
		if got := w.Density().In(units.KgPerM3); math.Abs(got-tt.want) > tt.tol {
			t.Errorf("water at %v = %v, want %v (%s)", tt.t, got, tt.want, tt.source)
		}
	}
	for _, bad := range []units.Temperature{{}, units.Celsius.Of(-0.1), units.Celsius.Of(40.1)} {
		if _, err := units.WaterAt(bad); err == nil {
			t.Errorf("water at %q was answered", bad)
		}
	}
}

func TestWaterConventionsDiffer(t *testing.T) {
	if a, b := units.Water62_245.Density(), units.Water997_1.Density(); a.Equal(b) {
		t.Error("62.245 lb/ft3 and 997.1 kg/m3 are taken as equal")
	}
	w, err := units.ParseWaterConvention("62.245 pcf")
	if err != nil || w != units.Water62_245 {
		t.Errorf("62.245 pcf is %v, %v", w, err)
	}
	if _, err := units.ParseWaterConvention("62.5 pcf"); !errors.Is(err, units.ErrRange) {
		t.Errorf("62.5 pcf: %v", err)
	}
	if !units.SpecificGravityOf(2.5).Density(units.WaterConvention(0)).IsZero() || !units.SpecificGravityOf(2.5).Density(nil).IsZero() {
		t.Error("a density came of no water")
	}
}

func TestWaterByContractRefuses(t *testing.T) {
	for _, tt := range []struct {
		d      units.Density
		source string
		want   error
	}{
		{units.Density{}, "contract", units.ErrNotGiven},
		{units.LbPerFt3.Of(62.3), "", units.ErrNotGiven},
		{units.LbPerFt3.Of(6.23), "contract", units.ErrRange},
		{units.KgPerM3.Of(62.3), "contract", units.ErrRange},
	} {
		if w, err := units.NewWaterByContract(tt.d, tt.source); !errors.Is(err, tt.want) || !w.Density().IsZero() {
			t.Errorf("%v, %q: %v, %v; want %v", tt.d, tt.source, w, err, tt.want)
		}
	}
	if !units.SpecificGravityOf(2.5).Density(units.WaterByContract{}).IsZero() {
		t.Error("a density came of no water")
	}
}
