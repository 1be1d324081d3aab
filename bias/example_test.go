package bias_test

import (
	"fmt"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/units"
)

func ExampleEstimateOffset() {
	// An invented test strip: three readings a location, lb/ft3, and one core each.
	reading := func(x float64) density.Reading { return density.Uncorrected(units.LbPerFt3.Of(x)) }
	cut := func(x float64) []density.InPlace { return []density.InPlace{density.Core(units.LbPerFt3.Of(x))} }
	gauge := []bias.Location{
		{ID: "T1", Readings: []density.Reading{reading(145.0), reading(145.3), reading(145.3)}},
		{ID: "T2", Readings: []density.Reading{reading(143.5), reading(143.8), reading(143.5)}},
		{ID: "T3", Readings: []density.Reading{reading(145.4), reading(145.6), reading(145.5)}},
		{ID: "T4", Readings: []density.Reading{reading(144.2), reading(144.5), reading(144.5)}},
		{ID: "T5", Readings: []density.Reading{reading(145.1), reading(145.0), reading(145.2)}},
	}
	cores := []bias.Core{{"T1", cut(147.4)}, {"T2", cut(146.2)}, {"T3", cut(148.2)}, {"T4", cut(146.6)}, {"T5", cut(147.6)}}
	e, err := bias.EstimateOffset(gauge, cores, bias.Options{Level: 0.95, OutlierAlpha: 0.01,
		Rounding: units.Rounding{Method: units.HalfEven, Places: 1},
		Scope:    density.Scope{Gauge: "G-07", Mix: "TC-12.5-A", Lift: "surface"}, Source: "test strip of 11 May"})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v, %g%% interval %+.2f to %+.2f %v\n", e.Correction, 100*e.CI.Level, e.CI.Lo, e.CI.Hi, e.Unit)
	// Output: +2.4 lb/ft3 (core - gauge), gauge G-07, mix TC-12.5-A, lift surface, 95% interval +2.15 to +2.73 lb/ft3
}
