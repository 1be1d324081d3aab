package lot_test

import (
	"errors"
	"math"
	"testing"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
)

var halfPercent = stats.Margins{Lower: -0.5, Upper: 0.5}

func equivalent(t lot.VerificationTerms) lot.VerificationTerms {
	t.Difference = 0
	return t
}

// R 4.2.2: pt of the two statistics, with the standard errors of TestDetection; the
// power by integrate() of pnorm(hi/se - tc*w) - pnorm(lo/se + tc*w) times the density
// of w, w² = chi-square/nu, and the least n by a loop over it.
func TestVerifyEquivalence(t *testing.T) {
	for _, tt := range []struct {
		name               string
		contractor, agency []float64
		terms              lot.VerificationTerms
		design             stats.Design
		lower, upper       float64 // p values
		power              float64 // 0 where the source has none
		enough             int
		finding            lot.Finding
	}{
		{"independent", tenResults, fiveResults, equivalent(independent(0)), stats.DesignPooled, 0.00534579152671, 0.0101897814529, 0.689332419988, 10, lot.EquivalenceShown},
		{"split", firstHalf, secondHalf, equivalent(split(0)), stats.DesignPaired, 7.86227607334e-07, 0.00516170774042, 1, 3, lot.EquivalenceShown},
		{"two agency results far apart", tenResults, []float64{91, 94}, equivalent(independent(0)), stats.DesignWelch, 0.305519882303, 0.510601482828, 0, 0, lot.EquivalenceNotShown},
	} {
		v, err := lot.VerifyEquivalence(tt.contractor, tt.agency, halfPercent, tt.terms)
		if err != nil || v.Means.Design != tt.design || v.Finding != tt.finding || v.T != nil {
			t.Errorf("%s: %v, %v, %v", tt.name, v.Means.Design, v.Finding, err)
			continue
		}
		e := v.Equivalence
		if tt.power > 0 && (math.Abs(v.Detection.Power-tt.power) > 1e-9 || v.Detection.Enough != tt.enough) {
			t.Errorf("%s: %+v, want power %v, enough %d", tt.name, v.Detection, tt.power, tt.enough)
		}
		if math.Abs(e.AboveLower.P-tt.lower) > 1e-11 || math.Abs(e.BelowUpper.P-tt.upper) > 1e-11 {
			t.Errorf("%s: p %.12g and %.12g, want %v and %v", tt.name, e.AboveLower.P, e.BelowUpper.P, tt.lower, tt.upper)
		}
	}
}

// A difference that is real and does not matter: one test shows it, the other shows
// that it is within the margins.
func TestEquivalenceIsAnotherQuestion(t *testing.T) {
	v, err := lot.Verify(firstHalf, secondHalf, split(0.1))
	e, err2 := lot.VerifyEquivalence(firstHalf, secondHalf, halfPercent, split(0))
	mirrored, err3 := lot.VerifyEquivalence(secondHalf, firstHalf, halfPercent, split(0))
	if err := errors.Join(err, err2, err3); err != nil {
		t.Fatal(err)
	}
	if v.Finding != lot.DifferenceShown || e.Finding != lot.EquivalenceShown || mirrored.Finding != lot.EquivalenceShown {
		t.Errorf("%v, %v, %v", v.Finding, e.Finding, mirrored.Finding)
	}
	if mirrored.Equivalence.AboveLower.Value != -e.Equivalence.BelowUpper.Value || mirrored.Means.Difference != -e.Means.Difference {
		t.Errorf("%+v is not the mirror of %+v", mirrored.Equivalence, e.Equivalence)
	}
}

func TestVerifyEquivalenceRefuses(t *testing.T) {
	half := equivalent(independent(0))
	half.MeanAlpha, half.Power = 0.5, 0.9
	for _, tt := range []struct {
		name    string
		margins stats.Margins
		terms   lot.VerificationTerms
		arg     string
		want    error
	}{
		{"no kind", halfPercent, lot.VerificationTerms{Characteristic: "c", Unit: "u"}, "t.Kind", lot.ErrSampleKind},
		{"margins in the wrong order", stats.Margins{Lower: 0.5, Upper: -0.5}, independent(0), "margins", stats.ErrParameter},
		{"a margin that is NaN", stats.Margins{Lower: math.NaN(), Upper: 0.5}, independent(0), "margins.Lower", stats.ErrNotFinite},
		{"a difference outside the margins", halfPercent, independent(0.6), "t.Difference", stats.ErrParameter},
		{"a difference at a margin", halfPercent, independent(-0.5), "t.Difference", stats.ErrParameter},
		{"one half as alpha", halfPercent, half, "t.MeanAlpha", stats.ErrLevel},
	} {
		_, err := lot.VerifyEquivalence(tenResults, fiveResults, tt.margins, tt.terms)
		var bad *stats.InputError
		if !errors.Is(err, tt.want) || !errors.As(err, &bad) || bad.Arg != tt.arg || bad.Func != "lot.VerifyEquivalence" {
			t.Errorf("%s: %v, want %v of %s", tt.name, err, tt.want, tt.arg)
		}
	}
}
