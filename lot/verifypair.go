package lot

import (
	"fmt"
	"math"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// PairTerms are what a procedure says about one split sample. All fields are
// needed.
type PairTerms struct {
	Characteristic string          // such as "Gmb of a core"
	Unit           string          // of the results; "" is refused, so name a pure number one
	D2S            decimal.Decimal // most by which two results should differ, the d2s of a precision statement
	Source         string          // of D2S: method, edition and whether for one laboratory or two
	Difference     float64         // true difference that the power is stated for, above 0
	Power          float64         // probability with which that difference should be found, as a fraction above 0.05
}

// d2sAlpha is the share of pairs without a true difference that exceeds d2s.
const d2sAlpha = 0.05

func (t PairTerms) check(fn string) error {
	if err := (PairLimit{t.D2S, t.Source}).check(fn, "t"); err != nil {
		return err
	}
	switch {
	case t.Characteristic == "":
		return stats.Refuse(fn, "t.Characteristic", "", ErrMissing)
	case t.Unit == "":
		return stats.Refuse(fn, "t.Unit", "", ErrMissing)
	case !plainText(t.Characteristic):
		return stats.Refuse(fn, "t.Characteristic", fmt.Sprintf("%.80q", t.Characteristic), ErrText)
	case !plainText(t.Unit):
		return stats.Refuse(fn, "t.Unit", fmt.Sprintf("%.80q", t.Unit), ErrText)
	case !(t.Difference > 0 && isFinite(t.Difference)):
		return stats.Refuse(fn, "t.Difference", shortest(t.Difference), needs(stats.ErrParameter, "a difference above 0 that matters"))
	case !isFraction(t.Power):
		return stats.Refuse(fn, "t.Power", shortest(t.Power), stats.ErrLevel)
	case t.Power <= d2sAlpha:
		return stats.Refuse(fn, "t.Power", shortest(t.Power), fmt.Errorf("%w: not above the %g of d2s", stats.ErrParameter, d2sAlpha))
	}
	return nil
}

func (l PairLimit) check(fn, arg string) error {
	switch {
	case l.Source == "":
		return stats.Refuse(fn, arg+".Source", "", ErrMissing)
	case !plainText(l.Source):
		return stats.Refuse(fn, arg+".Source", fmt.Sprintf("%.80q", l.Source), ErrText)
	case !fewDigits(l.D2S):
		return stats.Refuse(fn, arg+".D2S", "", ErrDigits)
	case l.D2S.Sign() <= 0:
		return stats.Refuse(fn, arg+".D2S", l.D2S.String(), needs(stats.ErrParameter, "more than 0"))
	}
	return nil
}

// PairVerification is the comparison of one contractor's result with the agency's
// on the other part of the sample.
type PairVerification struct {
	Terms              PairTerms
	Contractor, Agency decimal.Decimal
	Difference         decimal.Decimal // contractor less agency
	Finding            Finding         // DifferenceShown or DifferenceNotShown
	Detection          Detection       // Enough is of pairs, for the paired test of Verify
	Working            []units.Step
	Warnings           []stats.Warning
}

// String returns the working, the finding and what could have been found, a line
// each.
func (v PairVerification) String() string {
	text := v.Terms.Characteristic + ", contractor less agency, one split sample\n"
	for _, s := range v.Working {
		text += s.String() + "\n"
	}
	return text + "finding: " + v.Finding.String() + "\n" + v.Detection.String() + "\n"
}

// VerifyPair compares the two results of one split sample with the limit of a
// precision statement. A difference is shown where
//
//	|contractor - agency| > d2s
//
// decided on the recorded decimals; a difference equal to d2s does not exceed it, and
// decimal.Zero, the zero value of the type, is a result that is missing.
// Detection takes the standard deviation of a difference as d2s/1.96, which is what
// a d2s stands for, and states the power of the one pair and the pairs with which
// the paired test of [Verify] would find the difference at a significance of 5 %.
//
// It assumes normal errors of the precision that the statement gives, for the same
// number of laboratories and the same kind of material. One pair says little:
// Warnings holds [WarnLittlePower] where it is not shown and the power is short.
//
// Errors are [*stats.InputError] around [ErrMissing], [ErrText], [ErrDigits],
// [stats.ErrParameter] or [stats.ErrLevel].
//
// Source: ASTM C670, difference two-sigma limit, 1.960·√2 times the one-sigma limit
// (from memory).
func VerifyPair(contractor, agency decimal.Decimal, t PairTerms) (PairVerification, error) {
	const fn = "lot.VerifyPair"
	if err := t.check(fn); err != nil {
		return PairVerification{}, err
	}
	if err := checkRecorded(contractor); err != nil {
		return PairVerification{}, stats.Refuse(fn, "contractor", "", err)
	}
	if err := checkRecorded(agency); err != nil {
		return PairVerification{}, stats.Refuse(fn, "agency", "", err)
	}
	v := PairVerification{Terms: t, Contractor: contractor, Agency: agency, Difference: contractor.Sub(agency), Finding: DifferenceNotShown}
	verdict := "not more than"
	if v.Difference.Abs().Cmp(t.D2S) > 0 {
		v.Finding, verdict = DifferenceShown, "more than"
	}
	var err error
	if v.Detection, err = t.detection(); err != nil {
		return PairVerification{}, stats.Renamed(err, fn, "")
	}
	if d := v.Detection; v.Finding == DifferenceNotShown && d.Power < d.Wanted {
		v.Warnings = []stats.Warning{{Code: WarnLittlePower, Text: d.String()}}
	}
	v.Working = []units.Step{{What: "difference", Formula: "contractor - agency", Numbers: digits(contractor) + " - " + digits(agency),
		Value: fmt.Sprintf("%s %s, %s d2s %s (%s)", digits(v.Difference), t.Unit, verdict, digits(t.D2S), t.Source)}}
	return v, nil
}

// detection works with the standard deviation of a difference that d2s stands for.
func (t PairTerms) detection() (Detection, error) {
	d := Detection{Difference: t.Difference, Wanted: t.Power, Kind: SplitSamples, Unit: t.Unit}
	one, err := stats.NewNormal(0, 1)
	if err != nil {
		return d, err
	}
	z, err := one.UpperQuantile(d2sAlpha / 2)
	if err != nil {
		return d, err
	}
	d2s := t.D2S.InexactFloat64() // within 1e±60
	d.Power = min(beyond(t.Difference/d2s, z), 1)
	d.Detectable = d2s * detectableShare(t.Power, z)
	d.Enough, err = orNone(stats.TSampleSize(stats.MeansPlan{Design: stats.DesignPaired, StdDev1: d2s / z, Difference: t.Difference, Alpha: d2sAlpha}, t.Power))
	return d, err
}

// beyond returns the probability that a pair exceeds d2s when the true difference
// is share of it and z standard deviations of a difference make d2s.
func beyond(share, z float64) float64 {
	tail := func(x float64) float64 { return math.Erfc(x/math.Sqrt2) / 2 }
	return tail(z-share*z) + tail(z+share*z)
}

// detectableShare inverts beyond by halving: it rises from 0.05 at 0.
func detectableShare(power, z float64) float64 {
	lo, hi := 0.0, 1+40/z
	for range 64 {
		if mid := lo/2 + hi/2; beyond(mid, z) < power {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}
