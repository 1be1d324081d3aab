package lot_test

import (
	"errors"
	"math"
	"slices"
	"testing"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
)

// made returns a verification of independent samples under another name.
func made(t *testing.T, name string, contractor, agency []float64, terms lot.VerificationTerms) lot.Verification {
	t.Helper()
	terms.Characteristic = name
	v, err := lot.Verify(contractor, agency, terms)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// p values by R 4.2.2 (see TestVerify); adjusted by p.adjust(p, "holm"), by hand
// 3·1.080522e-4, 2·0.00913266 and 0.868754, because the constants are no test. At 1 %
// the second would be shown alone.
func TestVerifyFamily(t *testing.T) {
	vs := []lot.Verification{
		made(t, "air voids", tenResults, fiveResults, independent(0.5)),
		made(t, "mat density", tenResults, []float64{94.1}, independent(0.5)),
		made(t, "binder content", []float64{5, 5}, []float64{5, 5}, independent(0.5)),
		made(t, "joint density", firstHalf, secondHalf, split(0.5)),
	}
	kept := slices.Clone(vs)
	for _, tt := range []struct {
		alpha float64
		want  []lot.Finding
	}{
		{0.05, []lot.Finding{lot.DifferenceNotShown, lot.DifferenceShown, lot.EqualWithoutSpread, lot.DifferenceShown}},
		{0.01, []lot.Finding{lot.DifferenceNotShown, lot.DifferenceNotShown, lot.EqualWithoutSpread, lot.DifferenceShown}},
	} {
		members, err := lot.VerifyFamily(vs, tt.alpha)
		if err != nil {
			t.Fatal(err)
		}
		for i, want := range []float64{0.868754253738, 0.01826532227654, math.NaN(), 0.000324156616635} {
			m := members[i]
			if m.Finding != tt.want[i] || m.Characteristic != vs[i].Terms.Characteristic {
				t.Errorf("alpha %g: %v, want %v", tt.alpha, m, tt.want[i])
			}
			if math.IsNaN(want) != (m.Adjusted == nil) || m.Adjusted != nil && math.Abs(*m.Adjusted-want) > 1e-12 {
				t.Errorf("%v, want %v", m, want)
			}
		}
	}
	for i := range vs {
		if vs[i].Finding != kept[i].Finding {
			t.Error("input changed")
		}
	}
	alone, err := lot.VerifyFamily(vs[2:3], 0.05)
	if err != nil || alone[0].P != nil || alone[0].Finding != lot.EqualWithoutSpread {
		t.Errorf("constants alone: %v, %v", alone, err)
	}
}

func TestVerifyFamilyRefuses(t *testing.T) {
	v := made(t, "air voids", tenResults, fiveResults, independent(0.5))
	e, err := lot.VerifyEquivalence(tenResults, fiveResults, halfPercent, independent(0))
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name  string
		vs    []lot.Verification
		alpha float64
		index int
		want  error
	}{
		{"none", nil, 0.05, -1, stats.ErrTooFew},
		{"no alpha", []lot.Verification{v}, 0, -1, stats.ErrLevel},
		{"an empty one", []lot.Verification{v, {}}, 0.05, 1, lot.ErrNotVerified},
		{"an equivalence test", []lot.Verification{e}, 0.05, 0, lot.ErrEquivalence},
		{"one without a probability", []lot.Verification{v, {Finding: lot.DifferenceShown, T: &stats.Statistic{P: math.NaN()}}}, 0.05, 1, lot.ErrNotVerified},
		{"no such finding", []lot.Verification{{Finding: 200}}, 0.05, 0, lot.ErrNotVerified},
		{"one twice", []lot.Verification{v, v}, 0.05, 1, lot.ErrRepeatedID},
	} {
		_, err := lot.VerifyFamily(tt.vs, tt.alpha)
		var bad *stats.InputError
		if !errors.Is(err, tt.want) || !errors.As(err, &bad) || bad.Index != tt.index {
			t.Errorf("%s: %v, want %v at %d", tt.name, err, tt.want, tt.index)
		}
	}
}

// A member that was made by hand without an adjusted value has no verdict by one.
func TestFamilyMemberByHand(t *testing.T) {
	p := 0.3
	if got, want := (lot.FamilyMember{Characteristic: "air voids", P: &p}).String(), "air voids: none"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}
