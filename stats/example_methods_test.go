package stats_test

// The figures in the outputs were computed a second time by testdata/rankfits.R,
// testdata/agreement.R and testdata/interlaboratory.R.

import (
	"fmt"

	"github.com/densilot/densilot/stats"
)

// A second gauge at the ten places, and both read once more, lb/ft³.
var (
	other      = []float64{142.9, 141.2, 141.5, 139.1, 144.9, 143.1, 141.4, 140.3, 144.2, 141.6}
	gaugeAgain = []float64{142.4, 140.7, 140.8, 139.3, 143.3, 142.6, 141.3, 139.7, 143.5, 140.6}
	otherAgain = []float64{142.8, 141.5, 141.7, 138.9, 145.0, 142.8, 141.8, 140.4, 144.2, 141.4}
)

// readTwice puts the readings of each place together.
func readTwice(first, second []float64) (places [][]float64) {
	for i := range first {
		places = append(places, []float64{first[i], second[i]})
	}
	return places
}

func ExampleFitTheilSen() {
	f, err := stats.FitTheilSen(gauge, core, stats.TheilSenOptions{Level: 0.95, Method: stats.RankNormal})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("core = %.2f lb/ft³ + %.4f·gauge, slope %.3f to %.3f\n", f.Intercept, f.Slope, f.SlopeCI.Lo, f.SlopeCI.Hi)
	// Output: core = 25.52 lb/ft³ + 0.8333·gauge, slope 0.538 to 1.286
}

func ExampleFitPassingBablok() {
	f, err := stats.FitPassingBablok(gauge, core, stats.PassingBablokOptions{Level: 0.95})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("core = %.2f lb/ft³ + %.4f·gauge, slope %.3f to %.3f\n", f.Intercept, f.Slope, f.SlopeCI.Lo, f.SlopeCI.Hi)
	fmt.Printf("linear: p = %.2f\n", f.Linearity.P)
	// Output:
	// core = 22.14 lb/ft³ + 0.8571·gauge, slope 0.605 to 1.292
	// linear: p = 0.40
}

func ExampleLimitsOfAgreement() {
	a, err := stats.LimitsOfAgreement(gauge, other, stats.AgreementOptions{Level: 0.95, Coverage: 0.95, Method: stats.LimitExact})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("mean difference %.2f lb/ft³ (%.2f to %.2f)\n", a.Mean, a.CI.Lo, a.CI.Hi)
	fmt.Printf("limits of agreement %.2f (%.2f to %.2f) and %.2f (%.2f to %.2f)\n",
		a.Limits.Lo, a.LowerCI.Lo, a.LowerCI.Hi, a.Limits.Hi, a.UpperCI.Lo, a.UpperCI.Hi)
	fmt.Printf("95 %% of places with 95 %% confidence: %.2f to %.2f\n", a.Tolerance.Lo, a.Tolerance.Hi)
	// Output:
	// mean difference -0.62 lb/ft³ (-0.88 to -0.36)
	// limits of agreement -1.33 (-1.99 to -1.04) and 0.09 (-0.20 to 0.75)
	// 95 % of places with 95 % confidence: -1.85 to 0.61
}

func ExampleLimitsOfAgreementOf() {
	differences := stats.Summary{N: 10, Mean: -0.62, StdDev: 0.361478} // lb/ft³
	a, err := stats.LimitsOfAgreementOf(differences, stats.AgreementOptions{Level: 0.95, Coverage: 0.95, Method: stats.LimitApproximate})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("upper limit %.2f lb/ft³ (%.2f to %.2f)\n", a.Limits.Hi, a.UpperCI.Lo, a.UpperCI.Hi)
	// Output: upper limit 0.09 lb/ft³ (-0.35 to 0.53)
}

func ExampleLimitsOfRatio() {
	r, err := stats.LimitsOfRatio(gauge, other, stats.AgreementOptions{Level: 0.95, Coverage: 0.95, Method: stats.LimitExact})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("gauge/other %.4f, limits of agreement %.4f to %.4f\n", r.Ratio, r.Limits.Lo, r.Limits.Hi)
	// Output: gauge/other 0.9957, limits of agreement 0.9908 to 1.0005
}

func ExampleReplicatedLimits() {
	a, err := stats.ReplicatedLimits(readTwice(gauge, gaugeAgain), readTwice(other, otherAgain), stats.ReplicatedAgreementOptions{Level: 0.95, Coverage: 0.95})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("repeatability %.2f and %.2f, beyond it %.2f lb/ft³\n", a.X.StdDev, a.Y.StdDev, a.Beyond)
	fmt.Printf("limits of agreement of single readings %.2f to %.2f\n", a.Limits.Lo, a.Limits.Hi)
	// Output:
	// repeatability 0.18 and 0.16, beyond it 0.38 lb/ft³
	// limits of agreement of single readings -1.50 to 0.25
}

func ExampleLinkedLimits() {
	// both gauges before and after another pass of the roller
	a, err := stats.LinkedLimits(readTwice(gauge, gaugeAgain), readTwice(other, otherAgain), stats.ReplicatedAgreementOptions{Level: 0.95, Coverage: 0.95})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("limits of agreement %.2f to %.2f lb/ft³\n", a.Limits.Lo, a.Limits.Hi)
	// Output: limits of agreement -1.51 to 0.26 lb/ft³
}

func ExampleRegressionLimits() {
	a, err := stats.RegressionLimits(gauge, other, stats.RegressionAgreementOptions{Level: 0.95, Coverage: 0.95, Spread: stats.SpreadConstant})
	if err != nil {
		fmt.Println(err)
		return
	}
	at, err := a.At(142)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("difference = %.2f lb/ft³ %+.4f·mean, p of no slope %.4f, of constant spread %.2f\n",
		a.Bias.Intercept.Value, a.Bias.Slope.Value, a.BiasSlope.P, a.SpreadSlope.P)
	fmt.Printf("at 142 lb/ft³: %.2f, limits of agreement %.2f to %.2f\n", at.Bias, at.Limits.Lo, at.Limits.Hi)
	// Output:
	// difference = 24.43 lb/ft³ -0.1768·mean, p of no slope 0.0065, of constant spread 0.94
	// at 142 lb/ft³: -0.67, limits of agreement -1.13 to -0.21
}

func ExampleInterlaboratory() {
	// invented bulk specific gravities of one mix, three specimens in each of four laboratories
	s, err := stats.Interlaboratory([][]float64{{2.341, 2.346, 2.343}, {2.338, 2.344, 2.340}, {2.352, 2.349, 2.355}, {2.343, 2.340, 2.344}},
		stats.InterlaboratoryOptions{Level: 0.95, Alpha: 0.005})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("repeatability %.4f (%.4f to %.4f), reproducibility %.4f (%.4f to %.4f)\n",
		s.Repeatability, s.RepeatabilityCI.Lo, s.RepeatabilityCI.Hi, s.Reproducibility, s.ReproducibilityCI.Lo, s.ReproducibilityCI.Hi)
	fmt.Printf("two laboratories differ by more than %.3f in one case of twenty\n", s.ReproducibilityLimit)
	fmt.Printf("third laboratory: h %+.2f of %.2f, k %.2f of %.2f\n", s.Scores[2].H, s.HCritical, s.Scores[2].K, s.KCritical)
	// Output:
	// repeatability 0.0027 (0.0018 to 0.0052), reproducibility 0.0055 (0.0036 to 0.0190)
	// two laboratories differ by more than 0.015 in one case of twenty
	// third laboratory: h +1.46 of 1.49, k 1.11 of 1.82
}

func ExampleConsistencyHCritical() {
	h, err := stats.ConsistencyHCritical(8, 0.005)
	fmt.Printf("h of 8 laboratories: %.2f, %v\n", h, err)
	// Output: h of 8 laboratories: 2.15, <nil>
}

func ExampleConsistencyKCritical() {
	k, err := stats.ConsistencyKCritical(8, 3, 0.005)
	fmt.Printf("k of 8 laboratories with 3 results each: %.2f, %v\n", k, err)
	// Output: k of 8 laboratories with 3 results each: 2.06, <nil>
}
