package density_test

import (
	"fmt"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/units"
)

// The same three spots were read after every pass, on an invented strip.
func stripPasses() (passes []density.Pass) {
	mats := []float64{288, 271, 252, 236, 219, 204, 190, 181}
	for i, row := range [][]float64{{136.2, 137.3, 138.1}, {139.7, 140.4, 141.9}, {141.8, 143.1, 143.8}, {143.3, 144.0, 145.2},
		{143.6, 144.9, 145.6}, {143.9, 144.7, 145.9}, {143.8, 145.2, 145.6}, {143.7, 144.6, 145.8}} {
		pass := density.Pass{Spots: []string{"left", "middle", "right"}, Mat: units.Fahrenheit.Of(mats[i])}
		for _, x := range row {
			pass.Readings = append(pass.Readings, density.Uncorrected(units.LbPerFt3.Of(x)))
		}
		passes = append(passes, pass)
	}
	return passes
}

func ExampleRollerPattern_spots() {
	p, err := density.RollerPattern(stripPasses(), density.PatternOptions{Tolerance: units.LbPerFt3.Difference(0.5), MinMat: units.Fahrenheit.Of(175)})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(p.Outcome, "at pass", p.Optimum, "with the mat from", p.Window.High, "to", p.Window.Low)
	fmt.Printf("highest average %.2f after pass %d ± %.2f, fit %.2f\n", p.Averages[p.Peak-1], p.Peak, p.StdErrs[p.Peak-1], p.Fit.Fitted[p.Peak-1])
	fmt.Printf("noise of a reading %.2f lb/ft3, %d degrees of freedom; noise alone shows such a peak with a probability of at most %.2g\n",
		p.Noise.StdDev, p.Noise.DF, p.PeakTest.P)
	// Output:
	// plateau at pass 5 with the mat from 288 °F to 219 °F
	// highest average 144.87 lb/ft3 after pass 7 ± 0.11 lb/ft3, fit 144.87 lb/ft3
	// noise of a reading 0.20 lb/ft3, 14 degrees of freedom; noise alone shows such a peak with a probability of at most 1
}

func ExamplePattern_AuditLevel() {
	p, err := density.RollerPattern(stripPasses(), density.PatternOptions{Tolerance: units.LbPerFt3.Difference(0.5)})
	if err != nil {
		fmt.Println(err)
		return
	}
	level, err := p.AuditLevel(jobOffset(), jobScope, jobMaximum(), jobRounding(),
		density.Requirement{Percent: decimal.RequireFromString("94.0"), Kind: density.KindMaximumTheoretical})
	fmt.Println(p.Outcome, "at", level.Percentage, level.Unit+"; 94.0 met:", level.Met, err)
	// Output: plateau at 94.06 % of maximum theoretical density; 94.0 met: true <nil>
}
