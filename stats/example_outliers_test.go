package stats_test

import (
	"fmt"

	"github.com/densilot/densilot/stats"
)

func ExampleGrubbsCriticalBounds() {
	lower, upper, err := stats.GrubbsCriticalBounds(100, stats.High, 0.05)
	fmt.Printf("%.4f to %.4f %v\n", lower, upper, err)
	// Output: 3.2070 to 3.2095 <nil>
}

func ExampleTwoOutliers() {
	// Percent compaction of six sublots; a test for one outlier finds nothing here.
	r, err := stats.TwoOutliers([]float64{93.1, 93.4, 93.2, 93.3, 88.0, 88.2}, stats.Low, 0.01)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("sublots %d and %d: ratio %.4f, critical %.4f, outliers %v\n", r.Indices[0]+1, r.Indices[1]+1, r.Ratio, r.Critical, r.Outliers)
	// Output: sublots 5 and 6: ratio 0.0014, critical 0.0186, outliers true
}

func ExampleTwoOutliersCritical() {
	c, err := stats.TwoOutliersCritical(6, 0.05)
	fmt.Printf("%.4f %v\n", c, err)
	// Output: 0.0564 <nil>
}

func ExampleGeneralizedESD() {
	// Percent compaction; at most two wrong values are thought possible.
	r, err := stats.GeneralizedESD([]float64{93.1, 93.4, 93.2, 93.3, 88.0, 88.2}, 2, stats.TwoSide, 0.05)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range r.Steps[:r.Outliers] {
		fmt.Printf("%.1f %%: R %.3f, critical %.3f\n", s.Suspect, s.R, s.Critical)
	}
	fmt.Println(r.Warnings[1])
	// Output:
	// 88.0 %: R 1.327, critical 1.887
	// 88.2 %: R 1.787, critical 1.715
	// the 2 outliers hide each other: a test for one would find none
}

func ExampleHolm() {
	// p of three verification tests: density, air voids, thickness.
	adjusted, err := stats.Holm([]float64{0.012, 0.3, 0.04})
	fmt.Printf("%.3f %v\n", adjusted, err)
	// Output: [0.036 0.300 0.080] <nil>
}

func ExampleDixon() {
	// Percent compaction of eight results, the last one low.
	xs := []float64{93.1, 92.8, 93.6, 93.0, 93.3, 92.7, 93.2, 90.6}
	ratio, err := stats.UsualDixonRatio(len(xs))
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := stats.Dixon(xs, ratio, stats.Low, 0.05)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%: %s = %.3f, critical %.3f, p = %.4f, outlier %v\n", r.Suspect, r.Ratio, r.R, r.Critical, r.P, r.Outlier)
	// Output: 90.6 %: r11 = 0.778, critical 0.554, p = 0.0016, outlier true
}

func ExampleDixonCritical() {
	r, err := stats.DixonCritical(8, stats.DixonR11, stats.TwoSide, 0.05)
	fmt.Printf("%.4f %v\n", r, err)
	// Output: 0.6150 <nil>
}

func ExampleUsualDixonRatio() {
	for _, n := range []int{5, 9, 12, 20} {
		ratio, err := stats.UsualDixonRatio(n)
		fmt.Println(n, ratio, err)
	}
	// Output:
	// 5 r10 <nil>
	// 9 r11 <nil>
	// 12 r21 <nil>
	// 20 r22 <nil>
}
