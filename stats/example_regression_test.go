package stats_test

// The figures in the outputs were computed a second time by testdata/regression.R.

import (
	"fmt"

	"github.com/densilot/densilot/stats"
)

// Gauge readings and cores at ten places, lb/ft³.
var (
	gauge = []float64{142.1, 140.9, 140.7, 138.9, 143.6, 142.4, 141.3, 139.8, 143.3, 141.0}
	core  = []float64{144.9, 142.8, 143.1, 140.7, 145.1, 144.2, 143.8, 142.8, 144.8, 143.0}
)

func ExampleLineFit_SlopeAgainst() {
	fit, _ := stats.FitLine(gauge, core)
	r, err := fit.SlopeAgainst(1, 0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("slope %.3f, 95%% interval %.3f to %.3f, p of 1 is %.3f\n", r.Value, r.CI.Lo, r.CI.Hi, r.P)
	// Output: slope 0.844, 95% interval 0.583 to 1.105, p of 1 is 0.205
}

func ExampleLineFit_InterceptAgainst() {
	fit, _ := stats.FitLine(gauge, core)
	r, err := fit.InterceptAgainst(0, 0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("intercept %.1f lb/ft³, 95%% interval %.1f to %.1f, p of 0 is %.2f\n", r.Value, r.CI.Lo, r.CI.Hi, r.P)
	// Output: intercept 24.2 lb/ft³, 95% interval -12.7 to 61.1, p of 0 is 0.17
}

func ExampleLineFit_Predict() {
	fit, _ := stats.FitLine(gauge, core)
	p, err := fit.Predict(142, 0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("cores where the gauge reads 142 lb/ft³: %.1f on average (%.1f to %.1f), one core %.1f to %.1f\n",
		p.Value, p.CI.Lo, p.CI.Hi, p.PI.Lo, p.PI.Hi)
	// Output: cores where the gauge reads 142 lb/ft³: 144.0 on average (143.6 to 144.4), one core 142.8 to 145.3
}

// passesAndHeat is density in lb/ft³ over roller passes and mat temperature in °F.
func passesAndHeat() stats.LinearFit {
	passes := []float64{1, 2, 3, 4, 1, 2, 3, 4}
	temperature := []float64{290, 280, 270, 260, 250, 240, 230, 220}
	fit, _ := stats.FitLinear([][]float64{passes, temperature}, []float64{138.9, 140.6, 142.8, 144.3, 136.7, 138.9, 140.7, 142.6})
	return fit
}

func ExampleLinearFit_CoefficientAgainst() {
	r, err := passesAndHeat().CoefficientAgainst(2, 0, 0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f to %.3f lb/ft³ per °F, p of 0 is %.1e\n", r.CI.Lo, r.CI.Hi, r.P)
	// Output: 0.040 to 0.056 lb/ft³ per °F, p of 0 is 1.8e-05
}

func ExampleLinearFit_Predict() {
	p, err := passesAndHeat().Predict([]float64{1, 3, 255}, 0.95) // 1 for the intercept
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("third pass at 255 °F: %.1f lb/ft³, one reading %.1f to %.1f\n", p.Value, p.PI.Lo, p.PI.Hi)
	// Output: third pass at 255 °F: 141.9 lb/ft³, one reading 141.4 to 142.4
}

func ExampleLackOfFit() {
	// Dry density in g/cm³ over water content in percent, twice each: no straight line.
	water := []float64{5, 5, 7, 7, 9, 9, 11, 11}
	density := []float64{1.91, 1.92, 2.00, 2.01, 2.02, 2.01, 1.94, 1.95}
	r, err := stats.LackOfFit(water, density)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("F = %.0f with %d and %d degrees of freedom, p = %.5f\n", r.F, r.Lack.DF, r.PureError.DF, r.P)
	// Output: F = 128 with 2 and 4 degrees of freedom, p = 0.00024
}

func ExampleLackOfFitThroughOrigin() {
	// A balance with masses of 1, 2 and 3 kg.
	mass := []float64{1, 1, 2, 2, 3, 3}
	read := []float64{1.002, 1.000, 2.006, 2.008, 3.004, 3.002}
	r, err := stats.LackOfFitThroughOrigin(mass, read)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("F = %.2f with %d and %d degrees of freedom, p = %.2f\n", r.F, r.Lack.DF, r.PureError.DF, r.P)
	// Output: F = 8.93 with 2 and 3 degrees of freedom, p = 0.05
}

func ExampleLineFit_Calibrate() {
	fit, _ := stats.FitLine(gauge, core)
	c, err := fit.Calibrate(143.5, stats.CalibrationOptions{Readings: 1, Level: 0.95, Method: stats.Fieller})
	if err != nil {
		fmt.Println(err)
		return
	}
	if c.CI.Shape == stats.Between {
		fmt.Printf("a core of 143.5 lb/ft³ reads %.1f on the gauge, 95%% interval %.1f to %.1f\n", c.X, c.CI.Lo, c.CI.Hi)
	}
	// Output: a core of 143.5 lb/ft³ reads 141.4 on the gauge, 95% interval 139.9 to 142.9
}

func ExampleConfidenceSet_Contains() {
	set := stats.ConfidenceSet{Interval: stats.Interval{Lo: -2.6, Hi: 6.5, Level: 0.95}, Shape: stats.Outside}
	fmt.Println(set.Shape, set.Contains(0), set.Contains(100))
	// Output: outside false true
}

func ExampleSummarizePairs() {
	s, err := stats.SummarizePairs(gauge, core)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("means %.2f and %.2f lb/ft³, sums %.2f, %.3f and %.2f (lb/ft³)²\n", s.MeanX, s.MeanY, s.SXX, s.SYY, s.SXY)
	// Output: means 141.40 and 143.52 lb/ft³, sums 19.66, 16.016 and 16.59 (lb/ft³)²
}

func ExampleDemingLine() {
	// The gauge has twice the standard deviation of a core: variance of y over x is 1/4.
	s, _ := stats.SummarizePairs(gauge, core)
	line, err := stats.DemingLine(s, 0.25)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("core = %.2f lb/ft³ + %.4f·gauge\n", line.Intercept, line.Slope)
	// Output: core = 11.14 lb/ft³ + 0.9362·gauge
}

func ExampleFitDeming() {
	f, err := stats.FitDeming(gauge, core, stats.DemingOptions{VarYOverVarX: 0.25, Level: 0.95, Method: stats.DemingAngle})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("slope %.3f, 95%% interval %.3f to %.3f (%v)\n", f.Slope.Value, f.SlopeCI.Lo, f.SlopeCI.Hi, f.Method)
	// Output: slope 0.936, 95% interval 0.699 to 1.326 (angle)
}

func ExampleDemingFit_SlopeP() {
	f, _ := stats.FitDeming(gauge, core, stats.DemingOptions{VarYOverVarX: 0.25, Level: 0.95, Method: stats.DemingAngle})
	_, p, err := f.SlopeP(1)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("p of a slope of 1: %.2f\n", p)
	// Output: p of a slope of 1: 0.64
}

// Readings of a gauge and results of cores at four places, lb/ft³.
var (
	readings = [][]float64{{144.8, 145.1, 144.9}, {146.9, 147.2, 147.0}, {143.9, 144.1, 144.0}, {148.0, 148.2, 147.9}}
	cores    = [][]float64{{147.4, 147.9}, {148.6, 148.2}, {147.3, 147.6}, {149.6, 149.3}}
)

func ExampleNewReplicateRatio() {
	r, err := stats.NewReplicateRatio(readings, cores, 0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("variance of a core over that of a reading %.2f, 95%% interval %.2f to %.1f\n", r.VarYOverVarX, r.CI.Lo, r.CI.Hi)
	// Output: variance of a core over that of a reading 3.69, 95% interval 0.73 to 33.1
}

func ExampleFitDemingReplicates() {
	f, err := stats.FitDemingReplicates(readings, cores, 0.95, stats.DemingJackknife)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("core = %.1f lb/ft³ + %.3f·gauge with ratio %.2f of the means\n", f.Intercept.Value, f.Slope.Value, f.VarYOverVarX)
	// Output: core = 79.7 lb/ft³ + 0.469·gauge with ratio 5.53 of the means
}

func ExampleFitYork() {
	// Standard deviations in lb/ft³: fewer readings at some places, other laboratories.
	gaugeError := []float64{.2, .2, .3, .3, .2, .2, .3, .3, .2, .2}
	coreError := []float64{.4, .4, .4, .4, .4, .6, .6, .6, .6, .6}
	f, err := stats.FitYork(gauge, core, gaugeError, coreError, stats.YorkOptions{Errors: stats.AbsoluteErrors, Level: 0.95})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("slope %.4f, S = %.2f with %.0f degrees of freedom, p = %.2f\n", f.Slope.Value, f.S, f.DF, f.P)
	// Output: slope 0.9102, S = 7.87 with 8 degrees of freedom, p = 0.45
}

func ExampleOneWayComponents() {
	// Percent compaction at three places in each of four lots.
	lots := [][]float64{{92.1, 92.6, 91.9}, {93.9, 94.4, 94.0}, {92.8, 93.3, 92.7}, {95.1, 94.6, 95.0}}
	v, err := stats.OneWayComponents(lots, stats.ComponentOptions{Level: 0.95, Method: stats.ModifiedLargeSample})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("standard deviation between lots %.2f %%, within %.2f %%\n", v.Components[0].StdDev, v.Components[1].StdDev)
	fmt.Printf("intraclass correlation %.2f, 95%% interval %.2f to %.3f\n", v.ICC, v.ICCCI.Lo, v.ICCCI.Hi)
	// Output:
	// standard deviation between lots 1.19 %, within 0.31 %
	// intraclass correlation 0.94, 95% interval 0.72 to 0.996
}

func ExampleNestedComponents() {
	// Percent compaction, two readings at two locations in each of three lots.
	lot := []string{"A", "A", "A", "A", "B", "B", "B", "B", "C", "C", "C", "C"}
	location := []string{"1", "1", "2", "2", "1", "1", "2", "2", "1", "1", "2", "2"}
	values := []float64{92.1, 92.4, 93.0, 93.2, 94.6, 94.4, 93.9, 94.1, 93.0, 93.1, 92.2, 92.0}
	v, err := stats.NestedComponents(values, [][]string{lot, location}, stats.ComponentOptions{Level: 0.95, Method: stats.ModifiedLargeSample})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("variances: lots %.3f, locations %.3f, readings %.3f\n", v.Components[0].Variance, v.Components[1].Variance, v.Components[2].Variance)
	// Output: variances: lots 0.726, locations 0.302, readings 0.022
}

func ExampleNestedREML() {
	// Percent compaction in three lots: one to three readings at two or three locations.
	lot := []string{"A", "A", "A", "A", "A", "B", "B", "B", "C", "C", "C", "C"}
	location := []string{"1", "1", "2", "2", "3", "1", "2", "2", "1", "1", "1", "2"}
	values := []float64{92.1, 92.4, 93.0, 93.2, 92.6, 94.6, 93.9, 94.1, 93.0, 93.1, 92.9, 92.2}
	v, err := stats.NestedREML(values, [][]string{lot, location}, 0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	lots, locations, readings := v.Components[0], v.Components[1], v.Components[2]
	fmt.Printf("mean %.2f %%, standard error %.2f %%\n", v.Mean, v.MeanStdErr)
	fmt.Printf("variances: lots %.3f, locations %.3f, readings %.3f (%.3f to %.3f)\n", lots.Variance, locations.Variance, readings.Variance, readings.CI.Lo, readings.CI.Hi)
	// Output:
	// mean 93.18 %, standard error 0.55 %
	// variances: lots 0.810, locations 0.204, readings 0.021 (0.008 to 0.100)
}
