package lot_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
)

// Invented results.
var (
	tenResults  = []float64{93.1, 92.8, 93.4, 92.6, 93.0, 93.3, 92.9, 93.2, 92.7, 93.5}
	fiveResults = []float64{92.9, 93.3, 92.6, 93.5, 92.8}
	steadyLot   = []float64{92.8, 93.1, 92.9, 93.0, 93.2, 92.9, 93.1, 93.0, 92.8, 93.2, 93.0, 93.0}
	firstHalf   = []float64{93.2, 92.1, 94.4, 91.5, 93.8, 92.7}
	secondHalf  = []float64{92.9, 91.7, 94.0, 91.0, 93.5, 92.4}
)

func independent(difference float64) lot.VerificationTerms {
	return lot.VerificationTerms{Characteristic: "mat density", Unit: "% of maximum theoretical density", Kind: lot.IndependentSamples,
		VarianceAlpha: 0.05, MeanAlpha: 0.05, Difference: difference, Power: 0.9}
}

func split(difference float64) lot.VerificationTerms {
	t := independent(difference)
	t.Kind, t.VarianceAlpha = lot.SplitSamples, 0
	return t
}

// outcome is what a source states of a verification; NaN where it does not.
type outcome struct{ f, fP, t, df, p, lo, hi float64 }

func outcomeOf(v lot.Verification) outcome {
	nan := math.NaN()
	o := outcome{nan, nan, nan, v.Means.DF, nan, v.Means.CI.Lo, v.Means.CI.Hi}
	if v.Variances != nil && v.Variances.F != nil {
		o.f, o.fP = v.Variances.F.Value, v.Variances.F.P
	}
	if v.T != nil {
		o.t, o.p = v.T.Value, v.T.P
	}
	return o
}

// All values by R 4.2.2, var.test and t.test (var.equal by the outcome of the
// former; paired = TRUE for split samples), to 12 digits. Beside a constant sample
// Welch's test is t.test of the other less 93. Those of the single result are
// (93.05-94.1)/(s·√1.1) with s = sd of the ten and pt and qt of 9.
func TestVerify(t *testing.T) {
	nan := math.NaN()
	for _, tt := range []struct {
		name               string
		contractor, agency []float64
		terms              lot.VerificationTerms
		design             stats.Design
		finding            lot.Finding
		want               outcome
		warnings           []stats.WarningCode
	}{
		{"two agency results far apart", tenResults, []float64{91, 94}, independent(0.5), stats.DesignWelch, lot.DifferenceNotShown,
			outcome{49.0909090909, 1.25591999476e-4, 0.365922027602, 1.008162886942, 0.776296402401, -18.186525206291, 19.286525206291},
			[]stats.WarningCode{lot.WarnVariancesDiffer, stats.WarnNotRejected, lot.WarnLittlePower, stats.WarnSmallN}},
		{"two agency results close together", tenResults, []float64{93.00, 93.02}, independent(0.5), stats.DesignPooled, lot.DifferenceNotShown,
			outcome{458.333333333, 0.072471063754, 0.179764841633, 10, 0.860927605663, -0.455789684289, 0.535789684289},
			[]stats.WarningCode{stats.WarnNotRejected, stats.WarnNotRejected, lot.WarnLittlePower, stats.WarnSmallN}},
		{"unequal variances", steadyLot, []float64{91.0, 93.1, 91.3}, independent(0.5), stats.DesignWelch, lot.DifferenceNotShown,
			outcome{70.95, 1.03382872352e-06, 1.82676726807, 2.01411471762, 0.208378189396, -1.60750808252, 4.00750808252},
			[]stats.WarningCode{lot.WarnVariancesDiffer, stats.WarnNotRejected, lot.WarnLittlePower}},
		{"five agency results", tenResults, fiveResults, independent(0.3), stats.DesignPooled, lot.DifferenceNotShown,
			outcome{1.49454545455, 0.565070872496, 0.168537689133, 13, 0.868754253738, -0.354549355264, 0.414549355264},
			[]stats.WarningCode{stats.WarnNotRejected, stats.WarnNotRejected, lot.WarnLittlePower}},
		{"one agency result", tenResults, []float64{94.1}, independent(0.5), stats.DesignPooled, lot.DifferenceShown,
			outcome{nan, nan, -3.30664245081, 9, 0.00913266113827, -1.76833137579, -0.33166862421},
			[]stats.WarningCode{lot.WarnVarianceUntested, stats.WarnSmallN}},
		{"a constant agency sample", tenResults, []float64{93, 93, 93}, independent(0.5), stats.DesignWelch, lot.DifferenceNotShown,
			outcome{nan, nan, 0.522232967867, 9, 0.614117254808, -0.166585058967, 0.266585058967},
			[]stats.WarningCode{stats.WarnNoVariance, stats.WarnNotRejected}},
		{"split samples", firstHalf, secondHalf, split(0.1), stats.DesignPaired, lot.DifferenceShown,
			outcome{nan, nan, 11, 5, 0.000108052205545, 0.280980605479, 0.452352727855}, nil},
	} {
		v, err := lot.Verify(tt.contractor, tt.agency, tt.terms)
		if err != nil || v.Means.Design != tt.design || v.Finding != tt.finding {
			t.Errorf("%s: %v, %v, %v", tt.name, v.Means.Design, v.Finding, err)
			continue
		}
		same := cmp.Options{cmp.AllowUnexported(outcome{}), cmpopts.EquateApprox(2e-11, 5e-12), cmpopts.EquateNaNs()}
		if diff := cmp.Diff(tt.want, outcomeOf(v), same); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
		var codes []stats.WarningCode
		for _, w := range v.Warnings {
			codes = append(codes, w.Code)
		}
		if diff := cmp.Diff(tt.warnings, codes); diff != "" {
			t.Errorf("%s: warnings %s", tt.name, diff)
		}
	}
}

// R 4.2.2: with nu and the noncentrality of each design, pt(qt(.975, nu), nu, ncp,
// lower.tail = FALSE) + pt(-qt(.975, nu), nu, ncp), uniroot of it for the detectable
// difference and a loop over n for the least; for split samples power.t.test(type =
// "paired", strict = TRUE) gives the same. Standard errors: 0.3249852·√(1/10+1/5)
// pooled, 0.30276504·√1.1 for a single result, 0.30276504/√10 beside a constant
// sample, 0.0816497/√6 paired.
func TestDetection(t *testing.T) {
	nan := math.NaN()
	for _, tt := range []struct {
		name               string
		contractor, agency []float64
		terms              lot.VerificationTerms
		power, detectable  float64
		enough             int
	}{
		{"pooled", tenResults, fiveResults, independent(0.3), 0.345360028975, 0.624851420707, 26},
		{"one agency result", tenResults, []float64{94.1}, independent(0.5), 0.291184080941, nan, 9},
		{"one contractor result", []float64{94.1}, tenResults, independent(0.5), 0.291184080941, nan, 9},
		{"a constant agency sample", tenResults, []float64{93, 93, 93}, independent(0.5), 0.99597719056, nan, 7},
		{"a constant contractor sample", []float64{93, 93, 93}, tenResults, independent(0.5), 0.99597719056, nan, 7},
		{"split", firstHalf, secondHalf, split(0.1), 0.672175881475, 0.136389526824, 10},
	} {
		v, err := lot.Verify(tt.contractor, tt.agency, tt.terms)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		d := v.Detection
		if math.Abs(d.Power-tt.power) > 1e-9 || math.Abs(d.Detectable-tt.detectable) > 1e-9 || d.Enough != tt.enough {
			t.Errorf("%s: %+v, want %v, %v, %d", tt.name, d, tt.power, tt.detectable, tt.enough)
		}
	}
}

// A mistyped result, or a difference too small for any n, does not hide the finding.
func TestNoNumberIsEnough(t *testing.T) {
	v, err := lot.Verify(tenResults, fiveResults, independent(1e-9))
	typo, err2 := lot.Verify(tenResults, []float64{92.9, 93.3, 9.26e8}, independent(0.5))
	for _, v := range []lot.Verification{v, typo} {
		if err != nil || err2 != nil || v.Finding != lot.DifferenceNotShown || v.Detection.Enough != 0 || !strings.Contains(v.Detection.String(), "no number of results on each side") {
			t.Errorf("%v, %+v, %v, %v", v.Finding, v.Detection, err, err2)
		}
	}
}

// For separate variances the plan has both standard deviations; the power itself is
// tested where it is computed.
func TestDetectionOfSeparateVariances(t *testing.T) {
	v, err := lot.Verify(steadyLot, []float64{91.0, 93.1, 91.3}, independent(0.5))
	if err != nil {
		t.Fatal(err)
	}
	// R 4.2.2: sd of the two samples.
	p := stats.MeansPlan{Design: stats.DesignWelch, N1: 12, N2: 3, StdDev1: 0.134839972493, StdDev2: 1.13578166916, Difference: 0.5, Alpha: 0.05}
	want, err := stats.TPower(p)
	if err != nil || math.Abs(v.Detection.Power-want) > 1e-9 {
		t.Errorf("power %v, want %v, %v", v.Detection.Power, want, err)
	}
}

// "Not rejected" is never said as if the results were equal.
func TestNotRejectedIsNotEqual(t *testing.T) {
	v, err := lot.Verify(tenResults, []float64{91, 94}, independent(0.5))
	if err != nil {
		t.Fatal(err)
	}
	text := strings.ToLower(v.String())
	for _, bad := range []string{"verified", "are equal", "equal means", "agree"} {
		if strings.Contains(text, bad) {
			t.Errorf("%q in\n%s", bad, text)
		}
	}
	for _, good := range []string{"does not show that there is none", "with probability 0.0", "results on each side would find 0.5 with 0.9", "1.00816 degrees of freedom"} {
		if !strings.Contains(text, good) {
			t.Errorf("no %q in\n%s", good, text)
		}
	}
}

// Samples without spread: plain loops would make 92.1 three and seven times differ.
func TestVerifyWithoutSpread(t *testing.T) {
	constant := func(x float64, n int) []float64 { return slices.Repeat([]float64{x}, n) }
	for _, tt := range []struct {
		name               string
		contractor, agency []float64
		terms              lot.VerificationTerms
		finding            lot.Finding
		difference         float64 // by hand
	}{
		{"equal", constant(92.1, 3), constant(92.1, 7), independent(0.5), lot.EqualWithoutSpread, 0},
		{"different", constant(93, 3), constant(93.5, 3), independent(0.5), lot.UnequalWithoutSpread, -0.5},
		{"equal, one agency result", constant(92.1, 3), constant(92.1, 1), independent(0.5), lot.EqualWithoutSpread, 0},
		{"different, one agency result", constant(92.5, 3), constant(92, 1), independent(0.5), lot.UnequalWithoutSpread, 0.5},
		{"split, equal", firstHalf, firstHalf, split(0.5), lot.EqualWithoutSpread, 0},
		{"split, one difference throughout", []float64{93.2, 94.4, 91.5}, []float64{92.9, 94.1, 91.2}, split(0.5), lot.UnequalWithoutSpread, 0.3},
	} {
		v, err := lot.Verify(tt.contractor, tt.agency, tt.terms)
		e, err2 := lot.VerifyEquivalence(tt.contractor, tt.agency, stats.Margins{Lower: -1, Upper: 1}, tt.terms)
		for _, v := range []lot.Verification{v, e} {
			if err != nil || err2 != nil || v.Finding != tt.finding || v.T != nil || v.Detection != nil ||
				math.Abs(v.Means.Difference-tt.difference) > 1e-13 || !has(v.Warnings, stats.WarnNoVariance) {
				t.Errorf("%s: %v, %+v, %v, %v", tt.name, v.Finding, v.Means, err, err2)
			}
		}
		if e.Equivalence.Equivalent {
			t.Errorf("%s: equivalence shown without variance", tt.name)
		}
	}
}
