package lot

import "github.com/densilot/densilot/stats"

// VerifyEquivalence tests whether the true difference of a contractor's and an
// agency's means lies within margins, by two one-sided t tests at MeanAlpha each:
//
//	(d̄ - Lower)/e ≥ t(1-α)   and   (d̄ - Upper)/e ≤ -t(1-α)
//
// with d̄ = contractor less agency and its standard error e and degrees of freedom
// chosen as [Verify] does: paired for split samples, pooled or separate by the F
// test for independent ones. It is the stricter alternative: few or scattered
// results fail to show equivalence, where in Verify they fail to show a difference.
//
// Samples, warnings and assumptions are those of Verify. margins are in the unit of
// the terms and about d̄. Difference of the terms is the true difference the power
// is stated for, 0 for none; it lies between the margins. MeanAlpha is below 0.5.
// Where nothing varies Finding says what was seen, and equivalence is not shown.
//
// Errors are those of Verify, with [stats.ErrParameter] also for margins that are
// not in order or do not hold Difference.
//
// Source: [stats.PooledEquivalence], [stats.WelchEquivalence] and
// [stats.PairedEquivalence], which name theirs.
func VerifyEquivalence(contractor, agency []float64, margins stats.Margins, t VerificationTerms) (Verification, error) {
	const fn = "lot.VerifyEquivalence"
	if err := t.check(fn, "t"); err != nil {
		return Verification{}, err
	}
	v := Verification{Terms: t}
	if err := v.compareWithin(contractor, agency, margins); err != nil {
		return Verification{}, inSamples(fn, err)
	}
	if err := t.checkWithin(fn, "t", margins); err != nil {
		return Verification{}, err
	}
	if v.Means.Status == stats.Tested {
		d, err := detectEquivalence(v.Means, margins, t)
		if err != nil {
			return Verification{}, inSamples(fn, err)
		}
		v.Detection = &d
	}
	v.warnFew()
	v.explain()
	return v, nil
}

// compareWithin makes the two tests and says whether both reject.
func (v *Verification) compareWithin(contractor, agency []float64, margins stats.Margins) error {
	design, err := v.chooseDesign(contractor, agency)
	if err != nil {
		return err
	}
	e, err := equivalenceTest(design)(contractor, agency, margins, v.Terms.MeanAlpha)
	if err != nil {
		return err
	}
	v.Means, v.Equivalence = e.Comparison, &e
	v.adopt("means", e.Warnings)
	switch {
	case e.Status != stats.Tested:
		v.Finding = untested(e.Status)
	case e.Equivalent:
		v.Finding = EquivalenceShown
	default:
		v.Finding = EquivalenceNotShown
	}
	return nil
}

func equivalenceTest(d stats.Design) func(xs, ys []float64, margins stats.Margins, alpha float64) (stats.Equivalence, error) {
	switch d {
	case stats.DesignPaired:
		return stats.PairedEquivalence
	case stats.DesignPooled:
		return stats.PooledEquivalence
	}
	return stats.WelchEquivalence
}
