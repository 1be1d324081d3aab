package lot_test

import (
	"errors"
	"math"
	"testing"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
)

func TestVerifyRefuses(t *testing.T) {
	change := func(f func(*lot.VerificationTerms)) lot.VerificationTerms {
		terms := independent(0.5)
		f(&terms)
		return terms
	}
	for _, tt := range []struct {
		name               string
		contractor, agency []float64
		terms              lot.VerificationTerms
		arg                string
		want               error
	}{
		{"no kind", tenResults, fiveResults, change(func(t *lot.VerificationTerms) { t.Kind = 0 }), "t.Kind", lot.ErrSampleKind},
		{"another kind", tenResults, fiveResults, change(func(t *lot.VerificationTerms) { t.Kind = 3 }), "t.Kind", lot.ErrSampleKind},
		{"F for split samples", firstHalf, secondHalf, change(func(t *lot.VerificationTerms) { t.Kind = lot.SplitSamples }), "t.VarianceAlpha", lot.ErrSampleKind},
		{"no characteristic", tenResults, fiveResults, change(func(t *lot.VerificationTerms) { t.Characteristic = "" }), "t.Characteristic", lot.ErrMissing},
		{"a characteristic of two lines", tenResults, fiveResults, change(func(t *lot.VerificationTerms) { t.Characteristic = "mat\ndensity" }), "t.Characteristic", lot.ErrText},
		{"a unit with a blank", tenResults, fiveResults, change(func(t *lot.VerificationTerms) { t.Unit = "% " }), "t.Unit", lot.ErrText},
		{"no unit", tenResults, fiveResults, change(func(t *lot.VerificationTerms) { t.Unit = "" }), "t.Unit", lot.ErrMissing},
		{"no alpha of F", tenResults, fiveResults, change(func(t *lot.VerificationTerms) { t.VarianceAlpha = 0 }), "t.VarianceAlpha", stats.ErrLevel},
		{"alpha in percent", tenResults, fiveResults, change(func(t *lot.VerificationTerms) { t.MeanAlpha = 5 }), "t.MeanAlpha", stats.ErrLevel},
		{"alpha lost in 1", tenResults, fiveResults, change(func(t *lot.VerificationTerms) { t.MeanAlpha = 1e-20 }), "t.MeanAlpha", stats.ErrLevel},
		{"no difference", tenResults, fiveResults, change(func(t *lot.VerificationTerms) { t.Difference = 0 }), "t.Difference", stats.ErrParameter},
		{"difference NaN", tenResults, fiveResults, change(func(t *lot.VerificationTerms) { t.Difference = math.NaN() }), "t.Difference", stats.ErrNotFinite},
		{"power below alpha", tenResults, fiveResults, change(func(t *lot.VerificationTerms) { t.Power = 0.04 }), "t.Power", stats.ErrParameter},
		{"power of 1", tenResults, fiveResults, change(func(t *lot.VerificationTerms) { t.Power = 1 }), "t.Power", stats.ErrLevel},
		{"no contractor results", nil, fiveResults, independent(0.5), "contractor", stats.ErrTooFew},
		{"no agency results", tenResults, nil, independent(0.5), "agency", stats.ErrTooFew},
		{"no agency results beside one", []float64{93}, nil, independent(0.5), "agency", stats.ErrTooFew},
		{"one result each", []float64{93}, []float64{92}, independent(0.5), "contractor and agency", stats.ErrTooFew},
		{"one pair", []float64{93}, []float64{92}, split(0.5), "contractor", stats.ErrTooFew},
		{"pairs that do not match", tenResults, fiveResults, split(0.5), "agency", stats.ErrLength},
		{"NaN", []float64{93, math.NaN(), 92}, fiveResults, independent(0.5), "contractor", stats.ErrNotFinite},
		{"one result, infinite", tenResults, []float64{math.Inf(1)}, independent(0.5), "agency", stats.ErrNotFinite},
		{"beyond float64", []float64{-1e308, 1e308}, fiveResults, independent(0.5), "contractor and agency", stats.ErrOverflow},
	} {
		v, err := lot.Verify(tt.contractor, tt.agency, tt.terms)
		var bad *stats.InputError
		if !errors.Is(err, tt.want) || !errors.As(err, &bad) || bad.Arg != tt.arg || bad.Func != "lot.Verify" || v.Finding != 0 {
			t.Errorf("%s: %v, want %v of %s", tt.name, err, tt.want, tt.arg)
		}
	}
}
