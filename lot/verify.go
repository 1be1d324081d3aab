package lot

import "github.com/densilot/densilot/stats"

// Verify tests whether a contractor's and an agency's results have one mean.
//
// Independent samples take two steps: the variances by F, the larger over the
// smaller, at VarianceAlpha; then the means by t at MeanAlpha, with one pooled
// variance where F did not reject and with separate ones (Welch) where it did.
//
//	F = s1²/s2²,   t = (x̄ - ȳ)/(s·√(1/n+1/m))   or   t = (x̄ - ȳ)/√(s1²/n + s2²/m)
//
// A constant sample beside one that varies counts as another variance. A side
// with a single result has no variance to compare: the pooled form is used and
// [WarnVarianceUntested] says so. Split samples take the paired t test, with
// contractor[i] and agency[i] parts of the same sample; one pair alone is for
// [VerifyPair].
//
//	t = d̄/(s_d/√n),   d = contractor - agency
//
// Each side holds finite results in the unit of the terms, at least 3 together if
// independent and 2 pairs if split, and is not changed. Difference of the terms is
// above 0: Detection says with which probability it would have been found, because
// "not rejected" is no verification. Where nothing varies T and Detection are nil
// and Finding says what was seen. [VerifyEquivalence] turns the burden of proof
// round.
//
// It assumes normal populations and independent draws, of pairs if split. Choosing
// the test of the means by the outcome of F keeps the level where the variances are
// equal, but F misses many that are not: 10 results against 5 that scatter three
// times as much are called different in 8.5 % of cases instead of 5 % (simulated).
//
// Errors are [*stats.InputError] around [ErrSampleKind], [ErrMissing], [ErrText],
// [stats.ErrTooFew], [stats.ErrLength], [stats.ErrNotFinite], [stats.ErrLevel],
// [stats.ErrParameter] (Difference, or Power not above MeanAlpha) or
// [stats.ErrOverflow].
//
// Source: the order of the tests is that of FHWA-RD-02-095, appendix F; the tests
// are those of [stats.EqualVariances], [stats.PooledT], [stats.WelchT] and
// [stats.PairedT].
func Verify(contractor, agency []float64, t VerificationTerms) (Verification, error) {
	const fn = "lot.Verify"
	if err := t.check(fn, "t"); err != nil {
		return Verification{}, err
	}
	if err := t.checkDifference(fn, "t"); err != nil {
		return Verification{}, err
	}
	v := Verification{Terms: t}
	if err := v.compare(contractor, agency); err != nil {
		return Verification{}, inSamples(fn, err)
	}
	if v.T != nil {
		d, err := detectDifference(v.Means, t)
		if err != nil {
			return Verification{}, inSamples(fn, err)
		}
		v.Detection = &d
	}
	v.warnFew()
	v.explain()
	return v, nil
}

// compare makes the tests and compares p with the significance.
func (v *Verification) compare(contractor, agency []float64) error {
	design, err := v.chooseDesign(contractor, agency)
	if err != nil {
		return err
	}
	r, err := tTest(design)(contractor, agency, 1-v.Terms.MeanAlpha)
	if err != nil {
		return err
	}
	v.Means, v.T = r.Comparison, r.T
	v.adopt("means", r.Warnings)
	switch {
	case v.T == nil:
		v.Finding = untested(v.Means.Status)
	case v.T.P <= v.Terms.MeanAlpha:
		v.Finding = DifferenceShown
	default:
		v.Finding = DifferenceNotShown
	}
	return nil
}

func tTest(d stats.Design) func(xs, ys []float64, level float64) (stats.TTest, error) {
	switch d {
	case stats.DesignPaired:
		return stats.PairedT
	case stats.DesignPooled:
		return stats.PooledT
	}
	return stats.WelchT
}

// chooseDesign picks the test of the means: by the kind of samples, and between
// independent ones by the F test.
func (v *Verification) chooseDesign(contractor, agency []float64) (stats.Design, error) {
	if v.Terms.Kind == SplitSamples {
		return stats.DesignPaired, nil
	}
	if len(contractor) == 1 || len(agency) == 1 {
		v.warn(WarnVarianceUntested, "variances", "one side has a single result, so the variances cannot be compared; the test takes them for equal")
		return stats.DesignPooled, nil
	}
	f, err := stats.EqualVariances(contractor, agency, 1-v.Terms.VarianceAlpha)
	if err != nil {
		return 0, err
	}
	v.Variances = &f
	v.adopt("variances", f.Warnings)
	switch {
	case f.Status == stats.NoVarianceDifferent:
		return stats.DesignWelch, nil
	case f.F != nil && f.F.P <= v.Terms.VarianceAlpha:
		v.warn(WarnVariancesDiffer, "variances", "contractor and agency scatter differently (standard deviations %.4g and %.4g); find out why", f.X.StdDev, f.Y.StdDev)
		return stats.DesignWelch, nil
	}
	return stats.DesignPooled, nil
}

// warnFew names what the comparison could hardly do.
func (v *Verification) warnFew() {
	notShown := v.Finding == DifferenceNotShown || v.Finding == EquivalenceNotShown
	if d := v.Detection; d != nil && notShown && d.Power < d.Wanted {
		v.warn(WarnLittlePower, "", "%s", d.String())
	}
	if few := min(v.Means.X.N, v.Means.Y.N); few <= 2 {
		v.warn(stats.WarnSmallN, "", "one side has %s, with which hardly any difference shows", []string{"no result", "1 result", "2 results"}[few])
	}
}
