package stats_test

import (
	"fmt"

	"github.com/densilot/densilot/stats"
)

func ExampleMeanInterval() {
	// Differences core - gauge at five locations of an invented strip, lb/ft3.
	e, err := stats.MeanInterval([]float64{2.2, 2.6, 2.7, 2.2, 2.5}, 0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f lb/ft3, %g%% interval %.2f to %.2f\n", e.Mean, 100*e.CI.Level, e.CI.Lo, e.CI.Hi)
	// Output: 2.44 lb/ft3, 95% interval 2.15 to 2.73
}

func ExampleMeanIntervalOf() {
	// A record that kept only n, mean and standard deviation, lb/ft3.
	e, err := stats.MeanIntervalOf(stats.Summary{N: 10, Mean: 2.12, StdDev: 0.527}, 0.95)
	fmt.Printf("±%.2f lb/ft3 %v\n", e.CI.HalfWidth(), err)
	// Output: ±0.38 lb/ft3 <nil>
}

func ExampleGrubbs() {
	// Percent compaction of five sublots; is the low one an outlier?
	r, err := stats.Grubbs([]float64{93.3, 92.9, 93.6, 93.1, 90.2}, stats.Low, 0.05)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%: G %.3f, critical %.3f, p %.4f, outlier %v\n", r.Suspect, r.G, r.Critical, r.P, r.Outlier)
	// Output: 90.2 %: G 1.757, critical 1.671, p 0.0071, outlier true
}

func ExampleGrubbsCritical() {
	t, err := stats.GrubbsCritical(8, stats.High, 0.05)
	fmt.Printf("%.3f %v\n", t, err)
	// Output: 2.032 <nil>
}

func ExampleLargestGap() {
	// Left lane and right lane of one lot, percent compaction.
	g, err := stats.LargestGap([]float64{91.2, 91.3, 91.4, 95.6, 95.7, 95.8})
	fmt.Printf("%.1f to %.1f, %d below and %d above %v\n", g.Lo, g.Hi, g.Below, g.Above, err)
	// Output: 91.4 to 95.6, 3 below and 3 above <nil>
}
