package stats_test

// The figures in the outputs were computed a second time by testdata/moments.py.

import (
	"context"
	"fmt"

	"github.com/densilot/densilot/stats"
)

func ExampleLagOne() {
	// Density along the mat in lb/ft³: the paver drifts.
	r, err := stats.LagOne([]float64{145.1, 145.4, 145.9, 146.3, 146.2, 146.8, 147.1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("r₁ = %.2f\n", r)
	// Output: r₁ = 0.52
}

func ExampleOneWay() {
	// Percent compaction in the cores of three lots of unequal size.
	t, err := stats.OneWay([][]float64{{92, 93, 94}, {94, 95, 96, 95}, {93, 94}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("between lots: %d degrees of freedom, mean square %.3f\n", t.Between.DF, t.Between.MS)
	fmt.Printf("within lots: %d degrees of freedom, mean square %.3f\n", t.Within.DF, t.Within.MS)
	fmt.Printf("F = %.2f, R² = %.2f\n", t.F, t.RSquared)
	// Output:
	// between lots: 2 degrees of freedom, mean square 3.750
	// within lots: 6 degrees of freedom, mean square 0.750
	// F = 5.00, R² = 0.62
}

func ExampleFitLine() {
	// Density in lb/ft³ over the number of roller passes.
	fit, err := stats.FitLine([]float64{1, 2, 3, 4, 5}, []float64{138.0, 140.1, 141.9, 144.2, 145.8})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f ± %.2f lb/ft³ per pass, residual %.2f lb/ft³\n", fit.Slope.Value, fit.Slope.StdErr, fit.ResidualSD)
	fmt.Printf("after 6 passes %.1f lb/ft³\n", fit.At(6))
	// Output:
	// 1.97 ± 0.06 lb/ft³ per pass, residual 0.17 lb/ft³
	// after 6 passes 147.9 lb/ft³
}

func ExampleFitLineThroughOrigin() {
	// Core density over gauge reading, both in lb/ft³, as a plain ratio.
	fit, err := stats.FitLineThroughOrigin([]float64{146.2, 147.9, 145.1, 148.6}, []float64{144.0, 145.5, 143.2, 146.3})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("ratio %.4f ± %.4f\n", fit.Slope.Value, fit.Slope.StdErr)
	// Output: ratio 0.9850 ± 0.0007
}

func ExampleFitLinear() {
	// Density in lb/ft³ over roller passes and mat temperature in °F.
	passes := []float64{1, 2, 3, 4, 1, 2, 3, 4}
	temperature := []float64{290, 280, 270, 260, 250, 240, 230, 220}
	density := []float64{138.9, 140.6, 142.8, 144.3, 136.7, 138.9, 140.7, 142.6}
	fit, err := stats.FitLinear([][]float64{passes, temperature}, density)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f ± %.2f lb/ft³ per pass\n", fit.Coefficients[1].Value, fit.Coefficients[1].StdErr)
	fmt.Printf("%.3f ± %.3f lb/ft³ per °F, R² = %.3f\n", fit.Coefficients[2].Value, fit.Coefficients[2].StdErr, fit.RSquared)
	// Output:
	// 2.38 ± 0.06 lb/ft³ per pass
	// 0.048 ± 0.003 lb/ft³ per °F, R² = 0.997
}

func ExampleFitLinearThroughOrigin() {
	// Truck weights in t as empty trucks and buckets loaded: 3 each.
	fit, err := stats.FitLinearThroughOrigin([][]float64{{1, 1, 1}, {4, 5, 6}}, []float64{24.0, 27.1, 29.8})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("truck %.1f t, bucket %.1f t\n", fit.Coefficients[0].Value, fit.Coefficients[1].Value)
	// Output: truck 12.5 t, bucket 2.9 t
}

func ExampleFitPolynomial() {
	// Density in lb/ft³ rises with the passes, then falls.
	passes := []float64{1, 2, 3, 4, 5, 6, 7}
	density := []float64{138.0, 141.1, 143.4, 144.7, 145.2, 144.8, 143.5}
	fit, err := stats.FitPolynomial(passes, density, 2)
	if err != nil {
		fmt.Println(err)
		return
	}
	b1, b2 := fit.Coefficients[1].Value, fit.Coefficients[2].Value
	fmt.Printf("highest after %.1f passes, residual %.2f lb/ft³\n", -b1/(2*b2), fit.ResidualSD)
	// Output: highest after 5.0 passes, residual 0.02 lb/ft³
}

func ExampleBootstrap() {
	// The median of percent compaction has no textbook interval.
	sublots := []float64{93.1, 94.4, 92.8, 95.0, 93.7, 94.1, 92.2, 93.9, 94.8, 93.3,
		94.0, 93.6, 95.3, 92.6, 93.8, 94.5, 93.0, 94.2, 93.5, 94.9}
	r, err := stats.Bootstrap(context.Background(), sublots, stats.Median, stats.BootstrapOptions{
		Replicates: 1999, Level: 0.95, Method: stats.BootstrapBCa, Seed: 20240611,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("median %.2f %%, 95%% interval %.1f to %.1f %%\n", r.Value, r.CI.Lo, r.CI.Hi)
	// Output: median 93.85 %, 95% interval 93.4 to 94.3 %
}
