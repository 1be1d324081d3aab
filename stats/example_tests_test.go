package stats_test

// The figures in the outputs were computed a second time in R 4.2.2.

import (
	"fmt"

	"github.com/densilot/densilot/stats"
)

// Percent compaction by the contractor and by the agency, independent samples.
var (
	contractorResults = []float64{93.1, 92.8, 93.4, 92.6, 93.0, 93.3, 92.9, 93.2, 92.7, 93.5}
	agencyResults     = []float64{92.4, 92.9, 92.2, 93.0, 92.6}
)

// printT prints the outcome of a t test of percent compaction.
func printT(r stats.TTest, err error) {
	if err != nil || r.T == nil {
		fmt.Println(r.Status, err)
		return
	}
	fmt.Printf("difference %.2f %%, %g%% interval %.2f to %.2f %%, t %.2f, %.2f df, p %.2g\n",
		r.Difference, 100*r.CI.Level, r.CI.Lo, r.CI.Hi, r.T.Value, r.DF, r.T.P)
}

func printEquivalence(r stats.Equivalence, err error) {
	if err != nil || r.AboveLower == nil {
		fmt.Println(r.Status, err)
		return
	}
	fmt.Printf("difference %.2f %%, %g%% interval %.2f to %.2f %%, p %.2g and %.2g, equivalent %v\n",
		r.Difference, 100*r.CI.Level, r.CI.Lo, r.CI.Hi, r.AboveLower.P, r.BelowUpper.P, r.Equivalent)
}

func ExampleOneSampleT() {
	printT(stats.OneSampleT(agencyResults, 93, 0.95))
	// Output: difference -0.38 %, 95% interval -0.80 to 0.04 %, t -2.54, 4.00 df, p 0.064
}

func ExampleOneSampleTOf() {
	// Differences core - gauge of a later check, percent.
	printT(stats.OneSampleTOf(stats.Summary{N: 6, Mean: 0.37, StdDev: 0.21}, 0, 0.95))
	// Output: difference 0.37 %, 95% interval 0.15 to 0.59 %, t 4.32, 5.00 df, p 0.0076
}

func ExamplePairedT() {
	// Halves of six cores, one laboratory each.
	printT(stats.PairedT([]float64{93.2, 92.1, 94.4, 91.5, 93.8, 92.7}, []float64{92.9, 91.7, 94.0, 91.0, 93.5, 92.4}, 0.95))
	// Output: difference 0.37 %, 95% interval 0.28 to 0.45 %, t 11.00, 5.00 df, p 0.00011
}

func ExamplePooledT() {
	printT(stats.PooledT(contractorResults, agencyResults, 0.99))
	// Output: difference 0.43 %, 99% interval -0.09 to 0.95 %, t 2.51, 13.00 df, p 0.026
}

func ExamplePooledTOf() {
	printT(stats.PooledTOf(stats.Summary{N: 10, Mean: 93.05, StdDev: 0.3}, stats.Summary{N: 5, Mean: 92.62, StdDev: 0.33}, 0.99))
	// Output: difference 0.43 %, 99% interval -0.08 to 0.94 %, t 2.54, 13.00 df, p 0.025
}

func ExampleWelchT() {
	printT(stats.WelchT(contractorResults, []float64{91, 94}, 0.95))
	printT(stats.WelchT([]float64{92.1, 92.1, 92.1}, []float64{92.1, 92.1}, 0.95))
	// Output:
	// difference 0.55 %, 95% interval -18.19 to 19.29 %, t 0.37, 1.01 df, p 0.78
	// no variance, equal <nil>
}

func ExampleWelchTOf() {
	printT(stats.WelchTOf(stats.Summary{N: 10, Mean: 93.05, StdDev: 0.3}, stats.Summary{N: 3, Mean: 91.8, StdDev: 1.14}, 0.99))
	// Output: difference 1.25 %, 99% interval -4.92 to 7.42 %, t 1.88, 2.08 df, p 0.2
}

func ExampleTTest_Detectable() {
	r, err := stats.WelchT(contractorResults, []float64{91, 94}, 0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(r.Warnings[0])
	missed, err := r.Detectable(0.9)
	fmt.Printf("two agency results find a difference of %.0f %% nine times in ten %v\n", missed, err)
	// Output:
	// not rejected is not equal: the 95% interval of the difference runs from -18.19 to 19.29
	// two agency results find a difference of 31 % nine times in ten <nil>
}

func ExampleEqualVariances() {
	r, err := stats.EqualVariances(contractorResults, []float64{91, 94}, 0.95)
	if err != nil || r.F == nil {
		fmt.Println(r.Status, err)
		return
	}
	fmt.Printf("F %.2f, the contractor's variance on top %v, %g and %g df, p %.6f\n", r.F.Value, r.XLarger, r.DF1, r.DF2, r.F.P)
	// Output: F 49.09, the contractor's variance on top false, 1 and 9 df, p 0.000126
}

func ExampleEqualVariancesOf() {
	r, err := stats.EqualVariancesOf(stats.Summary{N: 10, Mean: 93.05, StdDev: 0.3}, stats.Summary{N: 5, Mean: 92.62, StdDev: 0.33}, 0.99)
	if err != nil || r.F == nil {
		fmt.Println(r.Status, err)
		return
	}
	fmt.Printf("F %.2f, p %.3f, %g%% interval of the ratio %.2f to %.2f\n", r.F.Value, r.F.P, 100*r.CI.Level, r.CI.Lo, r.CI.Hi)
	// Output: F 1.21, p 0.742, 99% interval of the ratio 0.15 to 25.58
}

var onePercent = stats.Margins{Lower: -1, Upper: 1}

func ExampleOneSampleEquivalence() {
	printEquivalence(stats.OneSampleEquivalence(agencyResults, 93, onePercent, 0.05))
	// Output: difference -0.38 %, 90% interval -0.70 to -0.06 %, p 0.0072 and 0.00038, equivalent true
}

func ExampleOneSampleEquivalenceOf() {
	printEquivalence(stats.OneSampleEquivalenceOf(stats.Summary{N: 6, Mean: 0.37, StdDev: 0.21}, 0, stats.Margins{Lower: -0.5, Upper: 0.5}, 0.05))
	// Output: difference 0.37 %, 90% interval 0.20 to 0.54 %, p 8e-05 and 0.095, equivalent false
}

func ExamplePairedEquivalence() {
	printEquivalence(stats.PairedEquivalence([]float64{93.2, 92.1, 94.4, 91.5, 93.8, 92.7}, []float64{92.9, 91.7, 94.0, 91.0, 93.5, 92.4}, onePercent, 0.05))
	// Output: difference 0.37 %, 90% interval 0.30 to 0.43 %, p 8.1e-08 and 3.7e-06, equivalent true
}

func ExamplePooledEquivalence() {
	printEquivalence(stats.PooledEquivalence(contractorResults, agencyResults, onePercent, 0.05))
	// Output: difference 0.43 %, 90% interval 0.13 to 0.73 %, p 7e-07 and 0.0027, equivalent true
}

func ExamplePooledEquivalenceOf() {
	printEquivalence(stats.PooledEquivalenceOf(stats.Summary{N: 10, Mean: 93.05, StdDev: 0.3}, stats.Summary{N: 5, Mean: 92.62, StdDev: 0.33}, onePercent, 0.05))
	// Output: difference 0.43 %, 90% interval 0.13 to 0.73 %, p 6.2e-07 and 0.0026, equivalent true
}

func ExampleWelchEquivalence() {
	// Too few agency results to show anything.
	printEquivalence(stats.WelchEquivalence(contractorResults, []float64{91, 94}, onePercent, 0.05))
	// Output: difference 0.55 %, 90% interval -8.81 to 9.91 %, p 0.24 and 0.41, equivalent false
}

func ExampleWelchEquivalenceOf() {
	printEquivalence(stats.WelchEquivalenceOf(stats.Summary{N: 10, Mean: 93.05, StdDev: 0.3}, stats.Summary{N: 5, Mean: 92.62, StdDev: 0.33}, onePercent, 0.05))
	// Output: difference 0.43 %, 90% interval 0.10 to 0.76 %, p 2.9e-05 and 0.0065, equivalent true
}
