package lot_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
)

// verifies returns a plan with that policy.
func verifies(t testing.TB, policy lot.VerificationPolicy) lot.Plan {
	t.Helper()
	c := terms(t, lot.AtLeast(92))
	c.Verification = &policy
	return plan(t, c)
}

func independentPolicy() lot.VerificationPolicy {
	return lot.VerificationPolicy{Kind: lot.IndependentSamples, VarianceAlpha: 0.05, MeanAlpha: 0.05, Difference: 0.3, Power: 0.9}
}

func splitPolicy() lot.VerificationPolicy {
	return lot.VerificationPolicy{Kind: lot.SplitSamples, MeanAlpha: 0.05, Difference: 0.1, Power: 0.9}
}

func texts(xs []float64) []string {
	all := make([]string, len(xs))
	for i, x := range xs {
		all[i] = fmt.Sprintf("%.1f", x)
	}
	return all
}

// The plan says what the functions do; their numbers are tested with them.
func TestPlanVerifies(t *testing.T) {
	same := func(name string, got lot.Verification, err error, want lot.Verification, err2 error) {
		t.Helper()
		want.Plan, want.Lot = "invented", "7"
		if diff := cmp.Diff(want, got); err != nil || err2 != nil || diff != "" {
			t.Errorf("%s: %v, %v, %s", name, err, err2, diff)
		}
	}
	ten, five := lotOf(texts(tenResults)...), lotOf(texts(fiveResults)...)
	got, err := verifies(t, independentPolicy()).Verify(ten, five)
	want, err2 := lot.Verify(tenResults, fiveResults, independent(0.3))
	same("independent", got, err, want, err2)
	equivalent := splitPolicy()
	equivalent.Margins = &halfPercent
	got, err = verifies(t, equivalent).Verify(lotOf(texts(firstHalf)...), lotOf(texts(secondHalf)...))
	want, err2 = lot.VerifyEquivalence(firstHalf, secondHalf, halfPercent, split(0.1))
	same("equivalence", got, err, want, err2)
}

// Split samples are joined by id, whatever their order; the agency took the halves
// of five of the six samples, and one that the contractor does not have.
func TestPlanVerifiesById(t *testing.T) {
	contractor, agency := lotOf(texts(firstHalf)...), lotOf(texts(secondHalf)...)
	results := agency.Results
	agency.Results = []lot.Result{results[5], results[0], results[2], results[1], results[4], {ID: "S9", Value: d("93.0")}}
	got, err := verifies(t, splitPolicy()).Verify(contractor, agency)
	xs, ys := append(append([]float64(nil), firstHalf[:3]...), firstHalf[4:]...), append(append([]float64(nil), secondHalf[:3]...), secondHalf[4:]...)
	want, err2 := lot.Verify(xs, ys, split(0.1))
	if err != nil || err2 != nil || *got.T != *want.T || cmp.Diff(got.Unpaired, []string{"S4", "S9"}) != "" || !has(got.Warnings, lot.WarnUnpaired) {
		t.Errorf("%+v, %v, %v; want %+v", got, err, err2, want.T)
	}
}

// A retest stands for the result it replaces, and results are rounded as in the
// estimate.
func TestPlanVerifiesWhatCounts(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	policy := independentPolicy()
	c.Verification, c.Retest, c.Rounding.Value = &policy, lot.ReplaceResult, halfEven(0)
	contractor := lotOf("93.4", "80.0", "92.6")
	contractor.Results = append(contractor.Results, lot.Result{ID: "R2", RetestOf: "S2", Value: d("94.2")})
	got, err := plan(t, c).Verify(contractor, lotOf("92.1", "93.3"))
	want, err2 := lot.Verify([]float64{93, 94, 93}, []float64{92, 93}, independent(0.3))
	if err != nil || err2 != nil || *got.T != *want.T {
		t.Errorf("%+v, %v, %v; want %+v", got.T, err, err2, want.T)
	}
}

func TestPlanVerifyRefuses(t *testing.T) {
	ten, five := lotOf(texts(tenResults)...), lotOf(texts(fiveResults)...)
	family := independentPolicy()
	family.FamilyAlpha = 0.05
	other, far, twice, scale := lotOf("93.0"), lotOf("93.0", "930"), lotOf("93.0", "93.1"), lotOf("0.93", "0.94", "0.92")
	other.ID, twice.Results[1].ID = "8", "S1"
	for _, tt := range []struct {
		name               string
		plan               lot.Plan
		contractor, agency lot.Lot
		arg                string
		want               error
	}{
		{"no plan", lot.Plan{}, ten, five, "p", lot.ErrEmptyPlan},
		{"no policy", plan(t, terms(t, lot.AtLeast(92))), ten, five, "p", lot.ErrNoVerification},
		{"one of a family", verifies(t, family), ten, five, "p", lot.ErrFamily},
		{"another lot", verifies(t, independentPolicy()), ten, other, "agency.ID", lot.ErrOtherLot},
		{"an implausible result", verifies(t, independentPolicy()), ten, far, "agency.Results", lot.ErrPlausible},
		{"a result twice", verifies(t, independentPolicy()), twice, five, "contractor.Results", lot.ErrRepeatedID},
		{"fractions", verifies(t, independentPolicy()), ten, scale, "agency.Results", lot.ErrScale},
		{"no agency results", verifies(t, independentPolicy()), ten, lotOf(), "agency", stats.ErrTooFew},
		{"one pair", verifies(t, splitPolicy()), ten, lotOf("93.0"), "contractor", stats.ErrTooFew},
	} {
		_, err := tt.plan.Verify(tt.contractor, tt.agency)
		var bad *stats.InputError
		if !errors.Is(err, tt.want) || !errors.As(err, &bad) || bad.Arg != tt.arg || bad.Func != "lot.Plan.Verify" {
			t.Errorf("%s: %v, want %v of %s", tt.name, err, tt.want, tt.arg)
		}
	}
}

func TestPlanRefusesVerification(t *testing.T) {
	for _, tt := range []struct {
		name, arg string
		f         func(v *lot.VerificationPolicy)
		want      error
	}{
		{"no kind", "Kind", func(v *lot.VerificationPolicy) { v.Kind = 0 }, lot.ErrSampleKind},
		{"no alpha of F", "VarianceAlpha", func(v *lot.VerificationPolicy) { v.VarianceAlpha = 0 }, stats.ErrLevel},
		{"alpha in percent", "MeanAlpha", func(v *lot.VerificationPolicy) { v.MeanAlpha = 5 }, stats.ErrLevel},
		{"alpha is no number", "MeanAlpha", func(v *lot.VerificationPolicy) { v.MeanAlpha = math.NaN() }, stats.ErrLevel},
		{"no difference", "Difference", func(v *lot.VerificationPolicy) { v.Difference = 0 }, stats.ErrParameter},
		{"an endless difference", "Difference", func(v *lot.VerificationPolicy) { v.Difference = 1e-300 }, lot.ErrDigits},
		{"no power", "Power", func(v *lot.VerificationPolicy) { v.Power = 0 }, stats.ErrLevel},
		{"margins turned round", "Margins", func(v *lot.VerificationPolicy) { v.Margins = &stats.Margins{Lower: 1, Upper: -1} }, lot.ErrLimitOrder},
		{"endless margins", "Margins", func(v *lot.VerificationPolicy) { v.Margins = &stats.Margins{Lower: math.Inf(-1), Upper: 1} }, stats.ErrNotFinite},
		{"a difference beyond the margins", "Difference", func(v *lot.VerificationPolicy) { v.Margins = &stats.Margins{Lower: -0.2, Upper: 0.2} }, stats.ErrParameter},
		{"half of all", "MeanAlpha", func(v *lot.VerificationPolicy) { v.MeanAlpha, v.Margins = 0.5, &halfPercent }, stats.ErrLevel},
		{"equivalence in a family", "FamilyAlpha", func(v *lot.VerificationPolicy) { v.FamilyAlpha, v.Margins = 0.05, &halfPercent }, lot.ErrUnused},
		{"a family in percent", "FamilyAlpha", func(v *lot.VerificationPolicy) { v.FamilyAlpha = 5 }, stats.ErrLevel},
		{"a pair of independent samples", "Pair", func(v *lot.VerificationPolicy) { v.Pair = &lot.PairLimit{D2S: d("1"), Source: "x"} }, lot.ErrSampleKind},
		{"a pair without source", "Pair.Source", func(v *lot.VerificationPolicy) {
			*v = splitPolicy()
			v.Pair = &lot.PairLimit{D2S: d("1")}
		}, lot.ErrMissing},
		{"a pair that must be equal", "Pair.D2S", func(v *lot.VerificationPolicy) {
			*v = splitPolicy()
			v.Pair = &lot.PairLimit{Source: "x"}
		}, stats.ErrParameter},
	} {
		c, policy := terms(t, lot.AtLeast(92)), independentPolicy()
		tt.f(&policy)
		c.Verification = &policy
		_, err := lot.NewPlan(c)
		var bad *stats.InputError
		if !errors.Is(err, tt.want) || !errors.As(err, &bad) || bad.Arg != "t.Verification."+tt.arg {
			t.Errorf("%s: %v, want %s: %v", tt.name, err, tt.arg, tt.want)
		}
	}
}

// Holm's method over plans is VerifyFamily over their verifications, at the alpha of
// the plans.
func TestVerifyByPlans(t *testing.T) {
	policy := independentPolicy()
	policy.FamilyAlpha = 0.05
	density := lot.PlannedVerification{Plan: verifies(t, policy), Contractor: lotOf(texts(tenResults)...), Agency: lotOf("94.1")}
	voids := density
	c := voids.Plan.Terms()
	c.Characteristic = "air voids"
	voids.Plan, voids.Agency = plan(t, c), lotOf(texts(fiveResults)...)
	vs, members, err := lot.VerifyByPlans([]lot.PlannedVerification{density, voids})
	want, err2 := lot.VerifyFamily(vs, 0.05)
	if err != nil || err2 != nil || len(vs) != 2 || cmp.Diff(want, members) != "" || members[0].Finding != lot.DifferenceShown || *members[0].Adjusted != 2*vs[0].T.P {
		t.Errorf("%v, %v, %v", members, err, err2)
	}
	policy.FamilyAlpha = 0.01
	strict := voids
	strict.Plan = verifies(t, policy)
	alone := voids
	alone.Plan = verifies(t, independentPolicy())
	late := voids
	late.Agency = lotOf("93.0", "930")
	for name, tt := range map[string]struct {
		all  []lot.PlannedVerification
		want error
	}{"none": {nil, stats.ErrTooFew}, "two levels": {[]lot.PlannedVerification{density, strict}, lot.ErrFamily}, "no level": {[]lot.PlannedVerification{density, alone}, lot.ErrFamily},
		"one twice": {[]lot.PlannedVerification{density, density}, lot.ErrRepeatedID}, "a bad result": {[]lot.PlannedVerification{density, late}, lot.ErrPlausible}, "no plan": {[]lot.PlannedVerification{{}}, lot.ErrEmptyPlan}} {
		_, _, err := lot.VerifyByPlans(tt.all)
		var bad *stats.InputError
		if !errors.Is(err, tt.want) || !errors.As(err, &bad) || bad.Func != "lot.VerifyByPlans" {
			t.Errorf("%s: %v, want %v", name, err, tt.want)
		}
	}
	if _, _, err := lot.VerifyByPlans([]lot.PlannedVerification{density, late}); !strings.Contains(err.Error(), `comparisons "air voids" agency.Results`) {
		t.Errorf("the comparison is not named: %v", err)
	}
}

func TestPlanVerifiesAPair(t *testing.T) {
	policy := splitPolicy()
	policy.Pair = &lot.PairLimit{D2S: d("0.80"), Source: "invented, two laboratories"}
	c := terms(t, lot.AtLeast(92))
	c.Verification, c.Rounding.Value = &policy, halfEven(1)
	pl := plan(t, c)
	// 93.25 and 92.44 round to 93.2 and 92.4, which are 0.8 apart: not more.
	v, err := pl.VerifyPair(d("93.25"), d("92.44"))
	if err != nil || v.Finding != lot.DifferenceNotShown || !v.Difference.Equal(d("0.8")) {
		t.Errorf("%+v, %v", v, err)
	}
	if _, err := pl.VerifyPair(d("93.2"), d("9.2e3")); !errors.Is(err, lot.ErrPlausible) {
		t.Errorf("an implausible result: %v", err)
	}
	c.Plausible = lot.Between(-1, 110) // so that a result that is missing would pass for 0
	if v, err := plan(t, c).VerifyPair(d("93.2"), decimal.Decimal{}); !errors.Is(err, lot.ErrMissing) {
		t.Errorf("a missing result: %+v, %v", v, err)
	}
	if _, err := verifies(t, splitPolicy()).VerifyPair(d("93"), d("92")); !errors.Is(err, lot.ErrNoVerification) {
		t.Errorf("no limit: %v", err)
	}
}
