package lot_test

import (
	"encoding/json"
	"fmt"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
)

// Numbers by R 4.2.2: var.test, t.test(var.equal = TRUE), and pt with a
// noncentrality for the power.
func ExampleVerify() {
	// Invented results, taken at separate places.
	contractor := []float64{93.1, 92.8, 93.4, 92.6, 93.0, 93.3, 92.9, 93.2, 92.7, 93.5}
	agency := []float64{92.9, 93.3, 92.6, 93.5, 92.8}
	v, err := lot.Verify(contractor, agency, lot.VerificationTerms{
		Characteristic: "mat density", Unit: "% of Gmm", Kind: lot.IndependentSamples,
		VarianceAlpha: 0.05, MeanAlpha: 0.05, Difference: 0.3, Power: 0.9})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(v)
	// Output:
	// mat density, contractor less agency, independent samples
	// mean of the contractor = Σx/n = 93.05 % of Gmm, n = 10, s = 0.302765
	// mean of the agency = Σx/n = 93.02 % of Gmm, n = 5, s = 0.370135
	// test of the variances = F = larger s²/smaller s² = 0.370135²/0.302765² = 1.49455, 4 and 9 degrees of freedom, p = 0.5651, above 0.05
	// difference of the means = contractor - agency = 93.05 - 93.02 = 0.03, 95% interval -0.354549 to 0.414549
	// standard error, two samples, pooled variance = pooled s·√(1/n + 1/m) = 0.324985 x √(1/10 + 1/5) = 0.178002, 13 degrees of freedom
	// test of the means = t = difference/standard error = 0.03/0.178002 = 0.168538, p = 0.8688, above 0.05
	// finding: no difference was shown; that does not show that there is none
	// this comparison finds a true difference of 0.3 % of Gmm with probability 0.35, and one of 0.625 with 0.9; 26 results on each side would find 0.3 with 0.9
}

func ExampleVerifyEquivalence() {
	// Invented halves of six samples and an invented margin.
	contractor := []float64{93.2, 92.1, 94.4, 91.5, 93.8, 92.7}
	agency := []float64{92.9, 91.7, 94.0, 91.0, 93.5, 92.4}
	v, err := lot.VerifyEquivalence(contractor, agency, stats.Margins{Lower: -0.5, Upper: 0.5}, lot.VerificationTerms{
		Characteristic: "mat density", Unit: "% of Gmm", Kind: lot.SplitSamples, MeanAlpha: 0.05, Power: 0.9})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f %s, %.0f%% interval %.3f to %.3f: %v\n", v.Means.Difference, v.Terms.Unit, 100*v.Means.CI.Level, v.Means.CI.Lo, v.Means.CI.Hi, v.Finding)
	// Output: 0.367 % of Gmm, 90% interval 0.299 to 0.434: the difference is within the margins
}

func ExampleVerifyPair() {
	// An invented limit.
	v, err := lot.VerifyPair(d("93.2"), d("92.7"), lot.PairTerms{Characteristic: "density of one core", Unit: "% of Gmm",
		D2S: d("0.8"), Source: "invented, two laboratories", Difference: 0.5, Power: 0.9})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(v)
	// Output:
	// density of one core, contractor less agency, one split sample
	// difference = contractor - agency = 93.2 - 92.7 = 0.5 % of Gmm, not more than d2s 0.8 (invented, two laboratories)
	// finding: no difference was shown; that does not show that there is none
	// this comparison finds a true difference of 0.5 % of Gmm with probability 0.23, and one of 1.32 with 0.9; 10 pairs would find 0.5 with 0.9
}

// The numbers are those of the example of Verify.
func ExamplePlan_Verify() {
	plan, err := invented() // read by ParsePlan: mat density of at least 92.0 %
	if err != nil {
		fmt.Println(err)
		return
	}
	terms := plan.Terms()
	terms.Verification = &lot.VerificationPolicy{Kind: lot.IndependentSamples, VarianceAlpha: 0.05, MeanAlpha: 0.05, Difference: 0.3, Power: 0.9}
	if plan, err = lot.NewPlan(terms); err != nil {
		fmt.Println(err)
		return
	}
	v, err := plan.Verify(
		inventedLot("7", "93.1", "92.8", "93.4", "92.6", "93.0", "93.3", "92.9", "93.2", "92.7", "93.5"),
		inventedLot("7", "92.9", "93.3", "92.6", "93.5", "92.8"))
	fmt.Printf("lot %s, %v, p = %.4f: %v, %v\n", v.Lot, v.Means.Design, v.T.P, v.Finding, err)
	// Output:
	// lot 7, two samples, pooled variance, p = 0.8688: no difference was shown; that does not show that there is none, <nil>
}

// p values and adjustment as in the example of VerifyFamily.
func ExampleVerifyByPlans() {
	plan := func(characteristic string) lot.Plan {
		p, err := invented() // read by ParsePlan: mat density of at least 92.0 %
		if err != nil {
			fmt.Println(err)
		}
		terms := p.Terms()
		terms.Characteristic, terms.Limits, terms.Plausible = characteristic, lot.AtLeast(3), lot.Between(0, 100)
		terms.Verification = &lot.VerificationPolicy{Kind: lot.SplitSamples, MeanAlpha: 0.05, Difference: 0.5, Power: 0.9, FamilyAlpha: 0.05}
		if p, err = lot.NewPlan(terms); err != nil {
			fmt.Println(err)
		}
		return p
	}
	_, members, err := lot.VerifyByPlans([]lot.PlannedVerification{
		{Plan: plan("air voids"), Contractor: inventedLot("7", "4.1", "3.8", "4.5", "4.0"), Agency: inventedLot("7", "4.0", "3.8", "4.3", "3.9")},
		{Plan: plan("passing 4.75 mm"), Contractor: inventedLot("7", "54", "57", "52", "55"), Agency: inventedLot("7", "51", "55", "50", "53")}})
	for _, m := range members {
		fmt.Println(m)
	}
	fmt.Println(err)
	// Output:
	// air voids: p = 0.09172, adjusted 0.09172: no difference was shown; that does not show that there is none
	// passing 4.75 mm: p = 0.002896, adjusted 0.005792: a difference was shown
	// <nil>
}

func ExampleParseVerification() {
	v, err := lot.Verify([]float64{93.2, 92.1, 94.4}, []float64{92.9, 91.7, 94.0}, lot.VerificationTerms{
		Characteristic: "mat density", Unit: "% of Gmm", Kind: lot.SplitSamples, MeanAlpha: 0.05, Difference: 0.5, Power: 0.9})
	if err != nil {
		fmt.Println(err)
		return
	}
	saved, err := json.Marshal(v)
	if err != nil {
		fmt.Println(err)
		return
	}
	back, err := lot.ParseVerification(saved)
	fmt.Println(back.Finding, back.String() == v.String(), err)
	// Output: a difference was shown true <nil>
}

func ExampleParsePairVerification() {
	v, err := lot.VerifyPair(d("93.2"), d("92.7"), lot.PairTerms{Characteristic: "density of one core", Unit: "% of Gmm",
		D2S: d("0.8"), Source: "invented, two laboratories", Difference: 0.5, Power: 0.9})
	if err != nil {
		fmt.Println(err)
		return
	}
	saved, err := json.Marshal(v)
	if err != nil {
		fmt.Println(err)
		return
	}
	back, err := lot.ParsePairVerification(saved)
	fmt.Println(back.Difference, back.Finding, err)
	// Output: 0.5 no difference was shown; that does not show that there is none <nil>
}

// p values by R 4.2.2: t.test of the differences and p.adjust(p, "holm").
func ExampleVerifyFamily() {
	// Invented results of one lot: air voids, and percent passing a sieve.
	terms := lot.VerificationTerms{Characteristic: "air voids", Unit: "%", Kind: lot.SplitSamples, MeanAlpha: 0.05, Difference: 0.5, Power: 0.9}
	voids, err := lot.Verify([]float64{4.1, 3.8, 4.5, 4.0}, []float64{4.0, 3.8, 4.3, 3.9}, terms)
	terms.Characteristic = "passing 4.75 mm"
	passing, err2 := lot.Verify([]float64{54, 57, 52, 55}, []float64{51, 55, 50, 53}, terms)
	members, err3 := lot.VerifyFamily([]lot.Verification{voids, passing}, 0.05)
	for _, m := range members {
		fmt.Println(m)
	}
	fmt.Println(err, err2, err3)
	// Output:
	// air voids: p = 0.09172, adjusted 0.09172: no difference was shown; that does not show that there is none
	// passing 4.75 mm: p = 0.002896, adjusted 0.005792: a difference was shown
	// <nil> <nil> <nil>
}
