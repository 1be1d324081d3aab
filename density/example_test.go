package density_test

import (
	"fmt"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/units"
)

// The examples belong to one invented job: gauge G-07 on mix TC-12.5-A.
var jobScope = density.Scope{Gauge: "G-07", Mix: "TC-12.5-A", Lift: "surface"}

func jobOffset() density.Correction {
	c, err := density.NewOffset(density.Offset{Offset: units.LbPerFt3.Difference(2.4), Scope: jobScope, Source: "test strip of 11 May"})
	if err != nil {
		panic(err) // the literal above is complete
	}
	return c
}

func jobMaximum() density.Reference {
	ref, err := density.MaximumTheoretical(units.SpecificGravityOf(2.514), units.Water62_245)
	if err != nil {
		panic(err) // the literal above is complete
	}
	return ref
}

func Example() {
	reading := density.Uncorrected(units.LbPerFt3.Of(143.7))
	inPlace, err := jobOffset().Apply(reading, jobScope)
	if err != nil {
		fmt.Println(err)
		return
	}
	c, err := density.PercentCompaction(inPlace, jobMaximum())
	fmt.Println(inPlace, "is", c, err)
	// Output: 146.1 lb/ft3 (corrected reading) is 93.36 % of maximum theoretical density <nil>
}

func ExampleNewOffset() {
	fmt.Println(jobOffset())
	// Output: +2.4 lb/ft3 (core - gauge), gauge G-07, mix TC-12.5-A, lift surface
}

func ExampleNewRatio() {
	c, err := density.NewRatio(density.Ratio{Ratio: 1.015, Scope: jobScope, Source: "test strip of 11 May"})
	fmt.Println(c, err)
	corrected, err := c.Apply(density.Uncorrected(units.LbPerFt3.Of(140.8)), jobScope)
	fmt.Println(corrected, err)
	// Output:
	// x 1.015 (core/gauge), gauge G-07, mix TC-12.5-A, lift surface <nil>
	// 142.912 lb/ft3 (corrected reading) <nil>
}

func ExampleNewLine() {
	c, err := density.NewLine(density.Line{Slope: 0.896, Intercept: units.LbPerFt3.Difference(16.8), Low: units.LbPerFt3.Of(138.9),
		High: units.LbPerFt3.Of(143.6), Scope: jobScope, Source: "test strip of 11 May"})
	fmt.Println(c, err)
	corrected, err := c.Apply(density.Uncorrected(units.LbPerFt3.Of(140.8)), jobScope)
	fmt.Println(corrected, err)
	// Output:
	// x 0.896 +16.8 lb/ft3 (core on gauge), gauge G-07, mix TC-12.5-A, lift surface <nil>
	// 142.9568 lb/ft3 (corrected reading) <nil>
}

func ExampleCorrection_Override() {
	elsewhere := density.Scope{Gauge: "G-07", Mix: "TC-9.5-B", Lift: "surface"}
	c, err := jobOffset().Override(elsewhere, "same aggregate, letter of 14 May")
	fmt.Println(c, err)
	fmt.Println(c.Overrides()[0].Reason)
	// Output:
	// +2.4 lb/ft3 (core - gauge), gauge G-07, mix TC-9.5-B, lift surface <nil>
	// same aggregate, letter of 14 May
}

func ExampleCorrection_Apply() {
	elsewhere := jobScope
	elsewhere.Mix = "TC-9.5-B"
	_, err := jobOffset().Apply(density.Uncorrected(units.LbPerFt3.Of(143.7)), elsewhere)
	fmt.Println(err)
	// Output: density.Correction.Apply: at = gauge G-07, mix TC-9.5-B, lift surface: outside the scope of the correction (gauge G-07, mix TC-12.5-A, lift surface)
}

func ExampleMaximumTheoretical() {
	fmt.Println(jobMaximum())
	// Output: 156.48393 lb/ft3 maximum theoretical density (2.514 x 62.245 lb/ft3)
}

func ExampleLaboratoryBulk() {
	ref, err := density.LaboratoryBulk(units.SpecificGravityOf(2.402), units.Water62_245)
	fmt.Println(ref.Kind().PercentOf(), err)
	// Output: % of laboratory bulk density <nil>
}

func ExampleControlStrip() {
	ref, err := density.ControlStrip(density.Core(units.LbPerFt3.Of(148.1)))
	fmt.Println(ref, err)
	// Output: 148.1 lb/ft3 control strip density <nil>
}

func ExampleParseReferenceKind() {
	k, err := density.ParseReferenceKind("% of maximum theoretical density")
	fmt.Println(k, err)
	// Output: maximum theoretical density <nil>
}

func ExampleUncorrected() {
	fmt.Println(density.Uncorrected(units.LbPerFt3.Of(143.7)))
	// Output: 143.7 lb/ft3 uncorrected
}

func ExampleCore() {
	fmt.Println(density.Core(units.LbPerFt3.Of(147.4)))
	// Output: 147.4 lb/ft3 (core)
}

func ExampleCoreOf() {
	core, err := density.CoreOf(units.SpecificGravityOf(2.368), units.Water62_4)
	fmt.Println(core, err)
	_, err = density.PercentCompaction(core, jobMaximum()) // made with 62.245 lb/ft3
	fmt.Println(err)
	// Output:
	// 147.7632 lb/ft3 (core) <nil>
	// density.PercentCompaction: d = 147.7632 lb/ft3 (core): different densities of water: 62.4 lb/ft3 and 62.245 lb/ft3
}

func ExampleAlreadyCorrected() {
	p, err := density.AlreadyCorrected(units.LbPerFt3.Of(146.1), "daily report 12 May, gauge set to +2.4")
	fmt.Println(p, err)
	// Output: 146.1 lb/ft3 (recorded as corrected) <nil>
}

func ExamplePercentCompaction() {
	c, err := density.PercentCompaction(density.Core(units.LbPerFt3.Of(147.4)), jobMaximum())
	fmt.Println(c, err)
	// Output: 94.19 % of maximum theoretical density <nil>
}

func ExampleAirVoids() {
	va, err := density.AirVoids(density.Core(units.LbPerFt3.Of(147.4)), jobMaximum())
	fmt.Printf("%.2f %% %v\n", va, err)
	// Output: 5.81 % <nil>
}

func ExampleMeanOf() {
	mean, unit, err := density.MeanOf([]density.Reading{
		density.Uncorrected(units.LbPerFt3.Of(143.5)), density.Uncorrected(units.LbPerFt3.Of(143.8)), density.Uncorrected(units.LbPerFt3.Of(143.9))})
	fmt.Println(units.ExactText(mean), unit, err)
	// Output: 143.733333333… lb/ft3 <nil>
}

func ExampleMeanGravity() {
	gmm, step, err := density.MeanGravity([]units.SpecificGravity{units.SpecificGravityOf(2.512), units.SpecificGravityOf(2.516)},
		units.Rounding{Method: units.HalfEven, Places: 3})
	fmt.Println(gmm, err)
	fmt.Println(step)
	// Output:
	// 2.514 <nil>
	// mean specific gravity = ΣG/n = (2.512 + 2.516)/2 = 2.514 (half-even to 0.001)
}

func jobRounding() density.RoundingPolicy {
	tenth := units.Rounding{Method: units.HalfEven, Places: 1}
	return density.RoundingPolicy{Mean: units.Rounding{Method: units.Absolute}, Density: tenth, Maximum: tenth, Percentage: units.Rounding{Method: units.HalfEven, Places: 2}}
}

func ExampleAuditReadings() {
	readings := []density.Reading{
		density.Uncorrected(units.LbPerFt3.Of(143.5)), density.Uncorrected(units.LbPerFt3.Of(143.8)), density.Uncorrected(units.LbPerFt3.Of(143.9))}
	a, err := density.AuditReadings(readings, jobOffset(), jobScope, jobMaximum(), jobRounding())
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, step := range a.Working {
		fmt.Println(step)
	}
	// Output:
	// mean reading = Σx/n = (143.5 + 143.8 + 143.9)/3 = 143.733333333… lb/ft3
	// corrected density = mean + offset = 143.733333333… + 2.4 = 146.133333333… lb/ft3 → 146.1 lb/ft3 (half-even to 0.1)
	// maximum theoretical density = Gmm·water = 2.514 x 62.245 lb/ft3 = 156.48393 lb/ft3 → 156.5 lb/ft3 (half-even to 0.1)
	// percent compaction = 100·density/maximum theoretical density = 100 x 146.1/156.5 = 93.354632587… % → 93.35 % (half-even to 0.01)
	// air voids = 100 - percent compaction = 100 - 93.35 = 6.65 %
}

func ExampleAuditCore() {
	a, err := density.AuditCore(density.Core(units.LbPerFt3.Of(147.4)), jobMaximum(), jobRounding())
	fmt.Println(a.Percentage, a.Unit, err)
	// Output: 94.19 % of maximum theoretical density <nil>
}

func ExampleRollerPattern() {
	var passes []density.Pass
	for _, average := range []float64{137.1, 140.6, 142.9, 144.1, 144.7, 144.8, 144.9, 144.7} {
		passes = append(passes, density.Pass{Readings: []density.Reading{density.Uncorrected(units.LbPerFt3.Of(average))}})
	}
	p, err := density.RollerPattern(passes, density.PatternOptions{Tolerance: units.LbPerFt3.Difference(0.5)})
	fmt.Println(p.Outcome, p.Optimum, err)
	fmt.Println(p.Reason)
	// Output:
	// plateau 5 <nil>
	// no later pass average exceeds pass 5 by more than 0.5 lb/ft3
}

func ExampleParseDate() {
	day, err := density.ParseDate("2026-05-12")
	fmt.Println(day, err)
	_, err = density.ParseDate("12 May 2026")
	fmt.Println(err)
	// Output:
	// 2026-05-12 <nil>
	// density.ParseDate "12 May 2026": not a calendar day; need text like 2026-05-12
}

func ExampleDateOf() {
	at, err := density.ParseInstant("2026-05-12T23:30:00-05:00")
	fmt.Println(density.DateOf(at), err)
	// Output: 2026-05-12 <nil>
}

func ExampleScope_ValidFor() {
	made, err := density.ParseDate("2026-05-11")
	if err != nil {
		fmt.Println(err)
		return
	}
	week, err := jobScope.ValidFor(made, 7) // the contract of this invented job wants a check every week
	fmt.Println(week, err)
	c, err := density.NewOffset(density.Offset{Offset: units.LbPerFt3.Difference(2.4), Scope: week, Made: made, Source: "test strip"})
	if err != nil {
		fmt.Println(err)
		return
	}
	later, err := density.ParseDate("2026-05-18")
	if err != nil {
		fmt.Println(err)
		return
	}
	_, err = c.Apply(density.Uncorrected(units.LbPerFt3.Of(143.8)), jobScope.On(later))
	fmt.Println(err)
	// Output:
	// gauge G-07, mix TC-12.5-A, lift surface, 2026-05-11 to 2026-05-17 <nil>
	// density.Correction.Apply: at = gauge G-07, mix TC-12.5-A, lift surface, 2026-05-18: outside the scope of the correction: not a day it is valid on (gauge G-07, mix TC-12.5-A, lift surface, 2026-05-11 to 2026-05-17)
}
