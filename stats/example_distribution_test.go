package stats_test

// Every figure in these outputs was computed apart, with mpmath 1.3 at 30 digits,
// from the definitions: incomplete beta and gamma functions, the integral of
// Φ(δ-tw) over the chi density, and root finding.

import (
	"fmt"

	"github.com/densilot/densilot/stats"
)

// Five sublot densities with mean 93.2 and standard deviation 0.9 percent of
// maximum, against a lower limit of 92.0.
func ExampleSymmetricBeta() {
	const n = 5
	q := (93.2 - 92.0) / 0.9
	u := q * 2.2360679774997896 / (n - 1) // Q·√n/(n-1)

	b, err := stats.NewSymmetricBeta(n/2.0 - 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	within, _ := b.CDF(u)
	beyond, _ := b.Survival(u)
	fmt.Printf("Q = %.2f: %.1f percent within the limit, %.1f percent below it\n", q, 100*within, 100*beyond)
	// Output: Q = 1.33: 92.6 percent within the limit, 7.4 percent below it
}

// The quality index that five results need for 90 percent within one limit.
func ExampleSymmetricBeta_Quantile() {
	const n = 5
	b, _ := stats.NewSymmetricBeta(n/2.0 - 1)
	u, err := b.Quantile(0.90)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("Q = %.3f\n", u*(n-1)/2.2360679774997896)
	// Output: Q = 1.229
}

// A gauge reads 1.1 lb/ft³ low on the mean of six cores, s = 1.5 lb/ft³. Is that
// only chance?
func ExampleStudentT() {
	d, err := stats.NewStudentT(5)
	if err != nil {
		fmt.Println(err)
		return
	}
	t := 1.1 / (1.5 / 2.449489742783178) // √6
	p, _ := d.Survival(t)
	critical, _ := d.UpperQuantile(0.025)
	fmt.Printf("t = %.2f, p = %.3f on both sides; 5 percent lies beyond %.3f\n", t, 2*p, critical)
	// Output: t = 1.80, p = 0.132 on both sides; 5 percent lies beyond 2.571
}

// The chance that a lot whose true mean lies 1.5 standard deviations above the
// limit is accepted, when five results must have a quality index of at least 1.2.
func ExampleNoncentralT() {
	const root = 2.23606797749979 // √5
	d, err := stats.NewNoncentralT(4)
	if err != nil {
		fmt.Println(err)
		return
	}
	reject, accept, _ := d.Tails(1.2*root, 1.5*root)
	fmt.Printf("accepted %.1f percent of the time, rejected %.1f percent\n", 100*accept, 100*reject)
	// Output: accepted 73.4 percent of the time, rejected 26.6 percent
}

// The index that a lot 1.5 standard deviations above the limit exceeds 95 times
// in 100, and the worst lot that an index of 1.2 leaves possible at 5 percent.
func ExampleNoncentralT_Quantile() {
	const root = 2.23606797749979 // √5
	d, _ := stats.NewNoncentralT(4)
	low, err := d.Quantile(0.05, 1.5*root)
	if err != nil {
		fmt.Println(err)
		return
	}
	worst, _ := d.UpperNCP(0.05, 1.2*root)
	fmt.Printf("Q at least %.3f; true mean at least %.3f standard deviations above\n", low/root, worst/root)
	// Output: Q at least 0.702; true mean at least 0.153 standard deviations above
}

func ExampleNormal() {
	voids, err := stats.NewNormal(4.0, 0.6) // percent air voids
	if err != nil {
		fmt.Println(err)
		return
	}
	p, _ := voids.Survival(5.5)
	x, _ := voids.UpperQuantile(0.10)
	fmt.Printf("%.2f percent of the mat above 5.5 percent voids; a tenth above %.2f percent\n", 100*p, x)
	// Output: 0.62 percent of the mat above 5.5 percent voids; a tenth above 4.77 percent
}

// A 90 percent interval for the true standard deviation from ten readings with
// s = 1.2 lb/ft³.
func ExampleChiSquared() {
	const n, s = 10, 1.2
	d, err := stats.NewChiSquared(n - 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	most, _ := d.UpperQuantile(0.05)
	least, _ := d.Quantile(0.05)
	fmt.Printf("variance %.2f to %.2f (lb/ft³)²\n", (n-1)*s*s/most, (n-1)*s*s/least)
	// Output: variance 0.77 to 3.90 (lb/ft³)²
}

// Contractor and agency variances of density on one lot, 2.9 from eight results
// and 0.8 from five.
func ExampleFDistribution() {
	d, err := stats.NewFDistribution(7, 4)
	if err != nil {
		fmt.Println(err)
		return
	}
	ratio := 2.9 / 0.8
	p, _ := d.Survival(ratio)
	critical, _ := d.UpperQuantile(0.005)
	fmt.Printf("F = %.2f, p = %.3f; critical at 0.5 percent %.2f\n", ratio, p, critical)
	// Output: F = 3.62, p = 0.115; critical at 0.5 percent 21.62
}

// Eight cores average 94.1 percent of maximum with s = 0.8.
func ExampleToleranceOneSided() {
	k, err := stats.ToleranceOneSided(8, 0.90, 0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("k = %.3f: with 95%% confidence 90%% of the mat is above %.1f percent\n", k, 94.1-k*0.8)
	// Output: k = 2.582: with 95% confidence 90% of the mat is above 92.0 percent
}

func ExampleToleranceTwoSided() {
	k, err := stats.ToleranceTwoSided(8, 0.90, 0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("k = %.3f: with 95%% confidence 90%% of the mat is within %.1f to %.1f percent\n", k, 94.1-k*0.8, 94.1+k*0.8)
	// Output: k = 3.156: with 95% confidence 90% of the mat is within 91.6 to 96.6 percent
}

// Five sublots against a lower limit of 92.0 percent of maximum.
func ExampleConformingInterval() {
	s, err := stats.Summarize([]float64{93.1, 94.4, 92.7, 93.9, 92.4})
	if err != nil {
		fmt.Println(err)
		return
	}
	c, err := stats.ConformingInterval(s, 92.0, stats.Low, 0.90)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("Q = %.2f: %.0f%% within the limit, 90%% interval %.0f%% to %.0f%%\n",
		c.Q, 100*c.Value, 100*c.Within.Lo, 100*c.Within.Hi)
	// Output: Q = 1.56: 97% within the limit, 90% interval 64% to 100%
}

// The same from a quality index on paper.
func ExampleConformingIntervalOf() {
	c, err := stats.ConformingIntervalOf(1.55, 5, 0.90)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("at most %.0f%% below the limit, with 95%% confidence\n", 100*c.Beyond.Hi)
	// Output: at most 36% below the limit, with 95% confidence
}
