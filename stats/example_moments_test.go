package stats_test

// The figures in the outputs were computed a second time by testdata/moments.py.

import (
	"context"
	"fmt"

	"github.com/densilot/densilot/stats"
)

func ExampleDescribe() {
	// Percent compaction of five sublots.
	d, err := stats.Describe([]float64{93.1, 94.4, 92.8, 95.0, 93.7})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("n = %d, mean %.2f %%, s %.2f %%, from %.1f to %.1f %%\n", d.N, d.Mean, d.StdDev, d.Min, d.Max)
	// Output: n = 5, mean 93.80 %, s 0.91 %, from 92.8 to 95.0 %
}

func ExampleSummarize() {
	// Gauge readings at one location, turned by a quarter each time, in lb/ft³.
	s, err := stats.Summarize([]float64{147.2, 146.8, 147.5, 147.1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("mean %.2f lb/ft³, s %.2f lb/ft³\n", s.Mean, s.StdDev)
	// Output: mean 147.15 lb/ft³, s 0.29 lb/ft³
}

func ExampleSum() {
	// Tonnage of the loads of a lot.
	tons, err := stats.Sum([]float64{20.1, 19.9, 20.3, 19.7, 20.2, 20.1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(tons, "t")
	// Output: 120.3 t
}

func ExampleMean() {
	mean, err := stats.Mean([]float64{130.0, 130.5})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(mean, "lb/ft³")
	// Output: 130.25 lb/ft³
}

func ExampleAccumulator() {
	// Two gauges read one mat; each keeps its own account in lb/ft³.
	var first, second stats.Accumulator
	first.AddSlice([]float64{146.2, 147.0, 146.5})
	second.AddSlice([]float64{147.9, 145.8})
	second.Add(146.6)
	first.Merge(&second)
	d, err := first.Description()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d readings, mean %.2f lb/ft³, s %.2f lb/ft³\n", d.N, d.Mean, d.StdDev)
	// Output: 6 readings, mean 146.67 lb/ft³, s 0.73 lb/ft³
}

func ExampleAccumulator_SkewnessAdjusted() {
	// Air voids in percent; one joint is far more open than the mat.
	var a stats.Accumulator
	a.AddSlice([]float64{5.8, 6.1, 6.4, 5.9, 6.2, 9.7})
	g, err := a.SkewnessAdjusted()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("skewness %.1f: a long upper tail\n", g)
	// Output: skewness 2.3: a long upper tail
}

func ExampleAccumulator_KurtosisMoment() {
	// The values 1 2 3 4 10: m₂ = 10 and m₄ = 278.8, so g₂ = 2.788 - 3.
	var a stats.Accumulator
	a.AddSlice([]float64{1, 2, 3, 4, 10})
	g, err := a.KurtosisMoment()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("excess kurtosis %.3f\n", g)
	// Output: excess kurtosis -0.212
}

func ExampleAccumulator_Err() {
	var a stats.Accumulator
	a.AddSlice([]float64{93.1, 94.4})
	a.Add(0 / zero())
	a.Add(92.8)
	fmt.Println(a.Err())
	// Output: stats.Accumulator.Add: x[2] = NaN: value is NaN or infinite
}

// zero stands for the missing divisor of a computed value.
func zero() float64 { return 0 }

func ExampleQuantile() {
	readings := []float64{145.9, 146.4, 147.0, 147.3, 148.2} // lb/ft³
	for _, kind := range []stats.QuantileType{stats.Quantile6, stats.Quantile7} {
		q, err := stats.Quantile(readings, 0.25, kind)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("lower quartile, %v: %.2f lb/ft³\n", kind, q)
	}
	// Output:
	// lower quartile, type 6: 146.15 lb/ft³
	// lower quartile, type 7: 146.40 lb/ft³
}

func ExampleQuantileInto() {
	scratch := make([]float64, 5) // serves as many samples as come
	for _, lot := range [][]float64{{93.1, 94.4, 92.8, 95.0, 93.7}, {92.2, 93.9, 94.1}} {
		q, err := stats.QuantileInto(scratch, lot, 0.5, stats.Quantile7)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.1f %%\n", q)
	}
	// Output:
	// 93.7 %
	// 93.9 %
}

func ExampleMedian() {
	// A decimal point was lost in the third value, in percent compaction.
	m, err := stats.Median([]float64{93.1, 94.4, 928, 95.0, 93.7})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%\n", m)
	// Output: 94.4 %
}

func ExampleMAD() {
	m, err := stats.MAD([]float64{93.1, 94.4, 928, 95.0, 93.7})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("MAD %.2f %%, as a standard deviation %.2f %%\n", m, m*stats.NormalMAD)
	// Output: MAD 0.70 %, as a standard deviation 1.04 %
}

func ExampleMADInto() {
	scratch := make([]float64, 5)
	m, err := stats.MADInto(scratch, []float64{146.0, 146.5, 147.0, 148.0, 146.5})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("MAD %.1f lb/ft³\n", m)
	// Output: MAD 0.5 lb/ft³
}

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
