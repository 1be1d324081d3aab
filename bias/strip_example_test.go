package bias_test

import (
	"fmt"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/units"
)

// The examples belong to one invented job: gauge G-07 on mix TC-12.5-A, in lb/ft3. Their
// numbers were checked with R 4.2.2 from the formulas of the doc comments.
var jobScope = density.Scope{Gauge: "G-07", Mix: "TC-12.5-A", Lift: "surface"}

func jobStrip() ([]bias.Location, []bias.Core) {
	return []bias.Location{location("T1", 145.0, 145.3, 145.3), location("T2", 143.5, 143.8, 143.5), location("T3", 145.4, 145.6, 145.5),
			location("T4", 144.2, 144.5, 144.5), location("T5", 145.1, 145.0, 145.2)},
		[]bias.Core{core("T1", 147.4), core("T2", 146.2), core("T3", 148.2), core("T4", 146.6), core("T5", 147.6)}
}

func jobOptions() bias.Options {
	return bias.Options{Level: 0.95, OutlierAlpha: 0.01, Rounding: units.Rounding{Method: units.HalfEven, Places: 1}, Scope: jobScope, Source: "test strip of 11 May"}
}

func ExampleLocationOf() {
	entry := func(x float64) density.Entry {
		return density.Entry{Value: units.LbPerFt3.Of(x), Stage: density.AsShown}
	}
	set, err := density.NewReadingSet(density.SetRecord{ID: "T6", Entries: []density.Entry{entry(144.6), entry(144.9)}, Moisture: density.MatDry})
	if err != nil {
		fmt.Println(err)
		return
	}
	l, err := bias.LocationOf(set)
	fmt.Println(l.ID, l.Readings, l.Moisture, err)
	// Output: T6 [144.6 lb/ft3 uncorrected 144.9 lb/ft3 uncorrected] dry <nil>
}

func ExampleOffsetOf() {
	gauge := []float64{145.2, 143.6, 145.5, 144.4, 145.1} // lb/ft3, means of the locations
	cores := []float64{147.4, 146.2, 148.2, 146.6, 147.6}
	e, err := bias.OffsetOf(gauge, cores, 0.95)
	fmt.Printf("offset %+.2f lb/ft3, interval %+.2f to %+.2f, one more location %+.2f to %+.2f, %v\n",
		e.Mean, e.CI.Lo, e.CI.Hi, e.Prediction.Lo, e.Prediction.Hi, err)
	// Output: offset +2.44 lb/ft3, interval +2.15 to +2.73, one more location +1.74 to +3.14, <nil>
}

func ExampleEliminateWorst() {
	gauge, cores := jobStrip()
	gauge, cores = append(gauge, location("T6", 144.0, 144.4)), append(cores, core("T6", 155.0)) // a mistyped core
	r, err := bias.EliminateWorst(gauge, cores, jobOptions(), bias.EliminationRule{Limit: units.LbPerFt3.Difference(2.5), Keep: 5,
		Mean: units.Rounding{Method: units.HalfEven, Places: 1}, StdDev: units.Rounding{Method: units.HalfEven, Places: 2}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range r.Steps {
		fmt.Printf("%d pairs, mean %+.2f, standard deviation %.2f, dropped %q\n", s.N, s.Mean, s.StdDev, s.Dropped)
	}
	fmt.Println(r.Kept.Offset, "of all pairs", r.All.Offset)
	// Output:
	// 6 pairs, mean +3.80 lb/ft3, standard deviation 3.42 lb/ft3, dropped "T6"
	// 5 pairs, mean +2.40 lb/ft3, standard deviation 0.23 lb/ft3, dropped ""
	// 2.4 lb/ft3 of all pairs 3.8 lb/ft3
}

func ExampleCompareModels() {
	gauge, cores := jobStrip()
	m, err := bias.CompareModels(gauge, cores, bias.ModelOptions{Level: 0.95, CoreStdDev: units.LbPerFt3.Difference(0.8)})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("recommended:", m.Recommended)
	for _, reason := range m.Reasons {
		fmt.Println("-", reason)
	}
	far, err := m.At(density.Uncorrected(units.LbPerFt3.Of(140)))
	fmt.Printf("140 lb/ft3: offset %.1f, line %.1f, extrapolated %v, %v\n", far.Offset, far.Line, far.Extrapolated, err)
	line, err := m.Correction(density.StraightLine, bias.CorrectionOptions{Slope: units.Rounding{Method: units.HalfEven, Places: 3},
		Offset: units.Rounding{Method: units.HalfEven, Places: 1}, Scope: jobScope, Source: "test strip of 11 May"})
	fmt.Println(line, err)
	// Output:
	// recommended: offset
	// - the slope is 1.004, 95% interval 0.452 to 1.564; slope one has p = 0.98
	// - the ratio of error variances, core over gauge, is 87.3, stated for the core, from its readings for the gauge (10 degrees of freedom)
	// - the cores span 2.00 lb/ft3, the differences have a standard deviation of 0.23
	// - AICc: offset -28.2, ratio -28.2, line -8.2; the smallest is best, differences below 2 say little
	// - slope one is not rejected, so the offset is enough over this range; that does not show that the slope is one
	// 140 lb/ft3: offset 142.4 lb/ft3, line 142.4 lb/ft3, extrapolated true, <nil>
	// x 1.004 +1.9 lb/ft3 (core on gauge), gauge G-07, mix TC-12.5-A, lift surface <nil>
}

func ExampleStripComponents() {
	gauge, cores := jobStrip()
	c, err := bias.StripComponents(gauge, cores, 0.95)
	fmt.Printf("one reading %.2f %v, between locations %.2f %v, %v\n", c.Reading, c.Unit, c.Location, c.Unit, err)
	half, err := c.HalfWidth(8, 3, 0.95)
	fmt.Printf("8 cores with 3 readings: ±%.2f, %v\n", half, err)
	// Output:
	// one reading 0.15 lb/ft3, between locations 0.21 lb/ft3, <nil>
	// 8 cores with 3 readings: ±0.19 lb/ft3, <nil>
}

func ExamplePlanStrip() {
	// standard deviations of an earlier strip: 0.9 lb/ft3 between locations, 0.3 of a reading
	p, err := bias.PlanStrip(bias.Components{Unit: units.LbPerFt3, Location: 0.9, Reading: 0.3},
		bias.StripRequest{HalfWidth: units.LbPerFt3.Difference(0.6), Level: 0.95, CostCore: 100, CostReading: 2, MostCores: 30, MostReadings: 4})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, d := range p.Designs {
		fmt.Println(d)
	}
	fmt.Println("cheapest:", p.Best)
	// Output:
	// 13 cores, 1 reading each: ±0.57 lb/ft3, cost 1326
	// 12 cores, 2 readings each: ±0.59 lb/ft3, cost 1248
	// 12 cores, 3 readings each: ±0.58 lb/ft3, cost 1272
	// 12 cores, 4 readings each: ±0.58 lb/ft3, cost 1296
	// cheapest: 12 cores, 2 readings each: ±0.59 lb/ft3, cost 1248
}

func ExampleGainFrom() {
	gains, err := bias.GainFrom(bias.Components{Unit: units.LbPerFt3, Location: 0.9, Reading: 0.3},
		bias.StripRequest{HalfWidth: units.LbPerFt3.Difference(0.6), Level: 0.95, CostCore: 100, CostReading: 2, MostCores: 30, MostReadings: 4}, 5, 4)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, g := range gains {
		fmt.Printf("%s: narrower by %.2f for %g\n", g.Change, g.Narrower, g.ExtraCost)
	}
	// Output:
	// one core more: narrower by 0.18 lb/ft3 for 108
	// twice the cores: narrower by 0.48 lb/ft3 for 540
	// one reading more at each: narrower by 0.00 lb/ft3 for 10
	// twice the readings: narrower by 0.01 lb/ft3 for 40
}
