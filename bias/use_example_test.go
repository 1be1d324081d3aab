package bias_test

import (
	"fmt"
	"strings"
	"time"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// jobChecks are cores cut later on the invented job.
func jobChecks() (later []bias.LaterCheck) {
	for i, c := range []struct {
		id          string
		gauge, core float64
	}{{"C1", 144.8, 147.4}, {"C2", 145.6, 147.9}, {"C3", 144.1, 146.6}, {"C4", 145.2, 147.8}} {
		later = append(later, bias.LaterCheck{At: time.Date(2025, 5, 14+i, 10, 0, 0, 0, time.UTC), Location: location(c.id, c.gauge), Core: core(c.id, c.core)})
	}
	return later
}

func ExampleRecheck() {
	gauge, cores := jobStrip()
	e, err := bias.EstimateOffset(gauge, cores, jobOptions())
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := bias.Recheck(e.Correction, jobChecks(), bias.RecheckOptions{Tolerance: units.LbPerFt3.Difference(1), Alpha: 0.05,
		Reference: units.LbPerFt3.Difference(0.5), Decision: units.LbPerFt3.Difference(2)})
	fmt.Println(r.Verdict, err)
	fmt.Println(r.Explanation)
	// Output:
	// holds <nil>
	// the mean remaining bias of 4 checks is +0.10, 90% interval -0.07 to +0.27 lb/ft3, against a tolerance of 1: it holds
}

func ExampleUpdateOffset() {
	gauge, cores := jobStrip()
	o := bias.Options{Level: 0.95, OutlierAlpha: 0.01, Rounding: units.Rounding{Method: units.HalfEven, Places: 1}, Scope: jobScope, Source: "test strip of 11 May"}
	u, err := bias.UpdateOffset(gauge, cores, o, jobChecks(), bias.RecheckOptions{Tolerance: units.LbPerFt3.Difference(1), Alpha: 0.05,
		Reference: units.LbPerFt3.Difference(0.5), Decision: units.LbPerFt3.Difference(2)})
	fmt.Println(u.Explanation, err)
	// Output: combined from 9 pairs: +2.5 lb/ft3, before +2.4 lb/ft3 <nil>
}

func ExampleCheckBlock() {
	var history []bias.BlockReading
	for i, x := range []float64{135.0, 135.2, 134.9, 135.1, 135.0, 134.8, 135.1, 135.0} {
		history = append(history, bias.BlockReading{At: time.Date(2025, 5, 1+i, 6, 30, 0, 0, time.UTC), Value: units.LbPerFt3.Of(x)})
	}
	today := bias.BlockReading{At: time.Date(2025, 5, 9, 6, 30, 0, 0, time.UTC), Value: units.LbPerFt3.Of(135.7)}
	r, err := bias.CheckBlock(history, today, bias.BlockOptions{Assigned: units.LbPerFt3.Of(135), Tolerance: units.LbPerFt3.Difference(1), Multiple: 3})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("passed:", r.Passed)
	fmt.Println("broken:", strings.Join(r.Broken, "; "))
	fmt.Println("kept:", strings.Join(r.Kept, "; "))
	fmt.Println("in doubt since", r.InDoubt.From.Format(time.DateOnly))
	// Output:
	// passed: false
	// broken: 135.7 lb/ft3 lies outside 134.48 to 135.54, the limits of 8 earlier checks
	// kept: within 1 lb/ft3 of 135 lb/ft3
	// in doubt since 2025-05-08
}

func ExampleUncertaintyOf() {
	gauge, cores := jobStrip()
	e, err := bias.EstimateOffset(gauge, cores, jobOptions())
	if err != nil {
		fmt.Println(err)
		return
	}
	parts, err := bias.StripComponents(gauge, cores, 0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := bias.UncertaintyOf(location("", 143.7, 143.9).Readings, e.Correction, jobScope, parts, 0.95)
	fmt.Println(r.Corrected, err)
	fmt.Printf("repeatability %.2f, location %.2f, offset %.2f, together %.2f %v, a core would show %.1f to %.1f\n",
		r.Repeatability.StdDev, r.Location.StdDev, r.Correction.StdDev, r.Combined.StdDev, r.Unit, r.CI.Lo, r.CI.Hi)
	// Output:
	// 146.2 lb/ft3 (corrected reading) <nil>
	// repeatability 0.10, location 0.21, offset 0.10, together 0.26 lb/ft3, a core would show 145.5 to 146.9
}

func ExampleCompareGauges() {
	a := []bias.Location{location("1", 144.6, 144.9), location("2", 145.8, 145.6), location("3", 143.9, 144.2), location("4", 146.3, 146.0)}
	b := []bias.Location{location("1", 145.9, 146.1), location("2", 146.9, 147.1), location("3", 145.0, 145.4), location("4", 147.6, 147.3)}
	r, err := bias.CompareGauges(a, b, bias.AgreementOptions{Level: 0.95, Coverage: 0.95})
	fmt.Printf("mean difference %+.2f %v, interval %+.2f to %+.2f, limits of agreement %+.2f to %+.2f, %v\n", r.Mean, r.Unit, r.CI.Lo, r.CI.Hi, r.Limits.Lo, r.Limits.Hi, err)
	// Output: mean difference -1.25 lb/ft3, interval -1.36 to -1.14, limits of agreement -1.39 to -1.11, <nil>
}

func ExampleCompareCores() {
	// invented: four cores, each measured by the contractor and by the agency
	contractor := []bias.Core{core("1", 147.4), core("2", 146.2), core("3", 148.2), core("4", 146.6)}
	agency := []bias.Core{core("1", 146.9), core("2", 145.9), core("3", 147.6), core("4", 146.2)}
	r, err := bias.CompareCores(contractor, agency, bias.AgreementOptions{Level: 0.95, Coverage: 0.95})
	fmt.Printf("mean difference %+.2f %v, interval %+.2f to %+.2f, %v\n", r.Mean, r.Unit, r.CI.Lo, r.CI.Hi, err)
	// Output: mean difference +0.45 lb/ft3, interval +0.24 to +0.66, <nil>
}

func ExampleCompareLaboratories() {
	// invented bulk specific gravities of one mix in four laboratories
	s, err := bias.CompareLaboratories([]bias.Laboratory{{ID: "A", Results: []float64{2.341, 2.346}}, {ID: "B", Results: []float64{2.338, 2.344}},
		{ID: "C", Results: []float64{2.352, 2.349}}, {ID: "D", Results: []float64{2.343, 2.340}}}, stats.InterlaboratoryOptions{Level: 0.95, Alpha: 0.005})
	fmt.Printf("repeatability %.4f, reproducibility %.4f, %v\n", s.Repeatability, s.Reproducibility, err)
	for i, l := range s.Scores {
		fmt.Printf("%s: h %+.2f, k %.2f\n", s.IDs[i], l.H, l.K)
	}
	// Output:
	// repeatability 0.0031, reproducibility 0.0049, <nil>
	// A: h -0.14, k 1.13
	// B: h -0.71, k 1.35
	// C: h +1.45, k 0.68
	// D: h -0.60, k 0.68
}
