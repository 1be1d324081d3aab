package lot

import (
	"errors"
	"fmt"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// ErrSampleKind is the reason for refusing a verification that does not say how
// its samples belong together, or gives a rule of one kind to the other.
var ErrSampleKind = errors.New("does not fit the kind of samples")

// Codes of the warnings of verifications.
const (
	WarnVarianceUntested stats.WarningCode = "variance-untested" // the F test could not be made
	WarnVariancesDiffer  stats.WarningCode = "variances-differ"  // the F test found a difference
	WarnLittlePower      stats.WarningCode = "little-power"      // the comparison could hardly find what it was to find
	WarnUnpaired         stats.WarningCode = "unpaired"          // a split sample has a result on one side only
)

// SampleKind says how the results of contractor and agency belong together. The
// zero value is no kind and is refused: halves of one sample tested as if they
// were independent hide a difference between two laboratories, and independent
// samples hold the scatter of material, production and sampling as well.
type SampleKind uint8

// The kinds of samples.
const (
	IndependentSamples SampleKind = iota + 1 // taken separately, each from its own place
	SplitSamples                             // parts of the same samples, in the same order
)

var kindOfSamples = names[SampleKind]{IndependentSamples: "independent samples", SplitSamples: "split samples"}

// String returns the kind in words.
func (k SampleKind) String() string { return kindOfSamples.of(k) }

// VerificationTerms are what an agency's procedure says about one characteristic.
// All fields are needed but where a remark says otherwise.
type VerificationTerms struct {
	Characteristic string // such as "mat density"
	Unit           string // of the results, such as "% of maximum theoretical density"
	Kind           SampleKind
	VarianceAlpha  float64 // significance of the F test, as a fraction; only for independent samples
	MeanAlpha      float64 // significance of the test of the means, as a fraction
	Difference     float64 // true difference of the means that the power is stated for, in Unit
	Power          float64 // probability with which that difference should be found, as a fraction
}

// check names the terms as the caller knows them.
func (t VerificationTerms) check(fn, arg string) error {
	switch {
	case t.Characteristic == "":
		return stats.Refuse(fn, arg+".Characteristic", "", ErrMissing)
	case t.Unit == "":
		return stats.Refuse(fn, arg+".Unit", "", ErrMissing)
	case !plainText(t.Characteristic):
		return stats.Refuse(fn, arg+".Characteristic", fmt.Sprintf("%.80q", t.Characteristic), ErrText)
	case !plainText(t.Unit):
		return stats.Refuse(fn, arg+".Unit", fmt.Sprintf("%.80q", t.Unit), ErrText)
	case kindOfSamples[t.Kind] == "":
		return stats.Refuse(fn, arg+".Kind", fmt.Sprint(uint8(t.Kind)), needs(ErrSampleKind, "IndependentSamples or SplitSamples"))
	case t.Kind == SplitSamples && t.VarianceAlpha != 0:
		return stats.Refuse(fn, arg+".VarianceAlpha", shortest(t.VarianceAlpha), fmt.Errorf("%w: split samples have no F test", ErrSampleKind))
	case t.Kind == IndependentSamples && !isFraction(t.VarianceAlpha):
		return stats.Refuse(fn, arg+".VarianceAlpha", shortest(t.VarianceAlpha), stats.ErrLevel)
	case !isFraction(t.MeanAlpha):
		return stats.Refuse(fn, arg+".MeanAlpha", shortest(t.MeanAlpha), stats.ErrLevel)
	case !isFinite(t.Difference):
		return stats.Refuse(fn, arg+".Difference", shortest(t.Difference), stats.ErrNotFinite)
	case !isFraction(t.Power):
		return stats.Refuse(fn, arg+".Power", shortest(t.Power), stats.ErrLevel)
	case t.Power <= t.MeanAlpha:
		return stats.Refuse(fn, arg+".Power", shortest(t.Power), fmt.Errorf("%w: not above the significance", stats.ErrParameter))
	}
	return nil
}

// checkDifference wants one that a test of a difference could find.
func (t VerificationTerms) checkDifference(fn, arg string) error {
	if t.Difference <= 0 {
		return stats.Refuse(fn, arg+".Difference", shortest(t.Difference), needs(stats.ErrParameter, "a difference above 0 that matters"))
	}
	return nil
}

// checkWithin wants one at which equivalence holds.
func (t VerificationTerms) checkWithin(fn, arg string, m stats.Margins) error {
	if !(m.Lower < t.Difference && t.Difference < m.Upper) {
		return stats.Refuse(fn, arg+".Difference", shortest(t.Difference), fmt.Errorf("%w: not between the margins", stats.ErrParameter))
	}
	return nil
}

// isFraction wants a significance whose complement is a level below 1.
func isFraction(x float64) bool { return x > 0 && 1-x > 0 && 1-x < 1 }

// VerificationPolicy says how the characteristic of a plan is verified: what
// [Plan.Verify] and [VerifyByPlans] hand on. The numbers have at most 30 digits.
type VerificationPolicy struct {
	Kind          SampleKind
	VarianceAlpha float64 // this and the next three as in VerificationTerms
	MeanAlpha     float64 // of power and interval alone where FamilyAlpha judges
	Difference    float64
	Power         float64
	Margins       *stats.Margins // for a test of equivalence, nil for one of a difference
	FamilyAlpha   float64        // for several characteristics judged together by Holm's method, 0 for one by itself
	Pair          *PairLimit     // for split samples, what a single pair is judged by; nil where none is
}

// PairLimit is the most by which the two results of one split sample should differ.
type PairLimit struct {
	D2S    decimal.Decimal
	Source string // method and edition
}

// Finding says what a verification showed. None of them says that results are
// verified: that is for the engineer, with the power in view.
type Finding uint8

// The findings.
const (
	DifferenceShown      Finding = iota + 1 // rejected: the results do not agree
	DifferenceNotShown                      // not rejected, which is not "equal"
	EquivalenceShown                        // the true difference lies within the margins
	EquivalenceNotShown                     // it may lie outside
	EqualWithoutSpread                      // nothing varies and nothing differs, so nothing was tested
	UnequalWithoutSpread                    // a difference, and no spread to test it by
)

var findingNames = names[Finding]{
	DifferenceShown:      "a difference was shown",
	DifferenceNotShown:   "no difference was shown; that does not show that there is none",
	EquivalenceShown:     "the difference is within the margins",
	EquivalenceNotShown:  "not shown that the difference is within the margins",
	EqualWithoutSpread:   "no variance, equal: nothing to test by",
	UnequalWithoutSpread: "no variance, different: nothing to test by",
}

// String returns the finding in words.
func (f Finding) String() string { return findingNames.of(f) }

// Verification is the comparison of a contractor's results with an agency's. Every
// difference is contractor less agency, in the unit of the terms.
type Verification struct {
	Plan, Lot   string // of Plan.Verify, else ""
	Terms       VerificationTerms
	Unpaired    []string           // ids of split samples that one side alone has, of Plan.Verify
	Variances   *stats.FTest       // nil for split samples, and where a side has one result
	Means       stats.Comparison   // contractor as X, agency as Y; its Design says which test was made
	T           *stats.Statistic   // of Verify; nil where nothing varies
	Equivalence *stats.Equivalence // of VerifyEquivalence, else nil
	Finding     Finding
	Detection   *Detection // nil where nothing varies
	Working     []units.Step
	Warnings    []stats.Warning
}

// String returns the working, the finding and what could have been found, a line
// each.
func (v Verification) String() string {
	text := v.Terms.Characteristic + ", contractor less agency, " + v.Terms.Kind.String() + "\n"
	for _, s := range v.Working {
		text += s.String() + "\n"
	}
	text += "finding: " + v.Finding.String() + "\n"
	if v.Detection != nil {
		text += v.Detection.String() + "\n"
	}
	return text
}

func (v *Verification) warn(code stats.WarningCode, where, format string, values ...any) {
	v.Warnings = append(v.Warnings, stats.Warning{Code: code, Where: where, Text: fmt.Sprintf(format, values...)})
}

// adopt takes over the warnings of a part.
func (v *Verification) adopt(where string, warnings []stats.Warning) {
	for _, w := range warnings {
		w.Where = where
		v.Warnings = append(v.Warnings, w)
	}
}

// untested is the finding where nothing varies.
func untested(s stats.Status) Finding {
	if s == stats.NoVarianceEqual {
		return EqualWithoutSpread
	}
	return UnequalWithoutSpread
}
