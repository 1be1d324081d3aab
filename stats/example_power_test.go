package stats_test

// The figures in the outputs were computed a second time in R 4.2.2, those for Welch
// by testdata/welchpower.py.

import (
	"fmt"

	"github.com/densilot/densilot/stats"
)

// Ten results of the contractor, five of the agency; s = 0.8 % compaction.
var verification = stats.MeansPlan{Design: stats.DesignPooled, N1: 10, N2: 5, StdDev1: 0.8, Difference: 1, Alpha: 0.01}

func ExampleTPower() {
	power, err := stats.TPower(verification)
	fmt.Printf("a difference of 1 %% is found with probability %.3f %v\n", power, err)
	// Output: a difference of 1 % is found with probability 0.282 <nil>
}

func ExampleTSampleSize() {
	n, err := stats.TSampleSize(verification, 0.9)
	fmt.Println(n, "results each", err)
	// Output: 21 results each <nil>
}

func ExampleDetectableDifference() {
	d, err := stats.DetectableDifference(verification, 0.9)
	fmt.Printf("%.2f %% %v\n", d, err)
	// Output: 1.95 % <nil>
}

func ExampleEquivalencePower() {
	p := verification
	p.Difference, p.Alpha = 0, 0.05
	power, err := stats.EquivalencePower(p, stats.Margins{Lower: -1, Upper: 1})
	fmt.Printf("%.3f %v\n", power, err)
	// Output: 0.402 <nil>
}

func ExampleEquivalenceSampleSize() {
	p := verification
	p.Difference, p.Alpha = 0, 0.05
	n, err := stats.EquivalenceSampleSize(p, stats.Margins{Lower: -1, Upper: 1}, 0.9)
	fmt.Println(n, "results each", err)
	// Output: 15 results each <nil>
}

func ExampleFPower() {
	power, err := stats.FPower(stats.VariancesPlan{N1: 10, N2: 5, StdDev1: 0.8, StdDev2: 1.6, Alpha: 0.05})
	fmt.Printf("twice the standard deviation, in %%, is found with probability %.3f %v\n", power, err)
	// Output: twice the standard deviation, in %, is found with probability 0.384 <nil>
}

func ExampleFSampleSize() {
	n, err := stats.FSampleSize(stats.VariancesPlan{StdDev1: 0.8, StdDev2: 1.6, Alpha: 0.05}, 0.9)
	fmt.Println(n, "results each", err)
	// Output: 24 results each <nil>
}
