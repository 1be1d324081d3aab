package lot

import "github.com/densilot/densilot/stats"

// verificationDocument is how a verification is stored, pairDocument one of a pair.
var (
	verificationDocument = document{format: "densilot/verification", version: 1}
	pairDocument         = document{format: "densilot/pair-verification", version: 1}
)

// ParseVerification reads a verification from the JSON that
// [Verification.MarshalJSON] writes, as strictly as [ParsePlan] reads a plan. A saved
// verification reads back equal. It is a record: nothing in it is computed again.
// Several that were read are judged together by [VerifyFamily], as before.
//
// Errors are [*FormatError] with the JSON pointer of the place, as those of
// ParsePlan.
func ParseVerification(data []byte) (Verification, error) {
	var v Verification
	if err := verificationDocument.read("lot.ParseVerification", data, v.form); err != nil {
		return Verification{}, err
	}
	if v.Equivalence != nil {
		v.Equivalence.Comparison = v.Means
	}
	return v, nil
}

// MarshalJSON writes the verification in its canonical form.
//
// The error is [*FormatError] for a verification that was made by hand and would not
// read back.
func (v Verification) MarshalJSON() ([]byte, error) {
	return readsBack("lot.Verification.MarshalJSON", verificationDocument.write(v.form), ParseVerification)
}

// UnmarshalJSON is [ParseVerification], with its errors.
func (v *Verification) UnmarshalJSON(data []byte) error {
	return readInto(v, data, ParseVerification)
}

func (v *Verification) form(f form) {
	optionalText(f, "plan", &v.Plan)
	optionalText(f, "lot", &v.Lot)
	f.object("terms", v.Terms.form)
	optionalTexts(f, "unpaired", &v.Unpaired)
	optionalObject(f, "variances", &v.Variances, varianceForm)
	f.object("means", func(f form) { comparisonForm(f, &v.Means) })
	optionalObject(f, "t", &v.T, statisticForm)
	optionalObject(f, "equivalence", &v.Equivalence, equivalenceForm)
	wordField(f, "finding", &v.Finding, findingNames)
	optionalObject(f, "detection", &v.Detection, detectionForm)
	optionalList(f, "working", &v.Working, stepForm)
	optionalList(f, "warnings", &v.Warnings, warningForm)
}

func (t *VerificationTerms) form(f form) {
	textField(f, "characteristic", &t.Characteristic)
	textField(f, "unit", &t.Unit)
	wordField(f, "kind", &t.Kind, kindOfSamples)
	floatField(f, "varianceAlpha", &t.VarianceAlpha)
	floatField(f, "meanAlpha", &t.MeanAlpha)
	floatField(f, "difference", &t.Difference)
	floatField(f, "power", &t.Power)
}

// words returns the words of an enum of another package.
func words[T interface {
	comparable
	String() string
}](values ...T) map[T]string {
	all := make(map[T]string, len(values))
	for _, v := range values {
		all[v] = v.String()
	}
	return all
}

var (
	statusNames = words(stats.Tested, stats.NoVarianceEqual, stats.NoVarianceDifferent)
	designNames = words(stats.DesignOneSample, stats.DesignPaired, stats.DesignPooled, stats.DesignWelch)
)

func varianceForm(f form, t *stats.FTest) {
	f.object("contractor", func(f form) { summaryForm(f, &t.X) })
	f.object("agency", func(f form) { summaryForm(f, &t.Y) })
	boolField(f, "contractorLarger", &t.XLarger)
	optionalObject(f, "f", &t.F, statisticForm)
	floatField(f, "df1", &t.DF1)
	floatField(f, "df2", &t.DF2)
	f.object("interval", func(f form) { intervalForm(f, &t.CI) })
	wordField(f, "status", &t.Status, statusNames)
	optionalList(f, "warnings", &t.Warnings, warningForm)
}

func comparisonForm(f form, c *stats.Comparison) {
	wordField(f, "design", &c.Design, designNames)
	f.object("contractor", func(f form) { summaryForm(f, &c.X) })
	f.object("agency", func(f form) { summaryForm(f, &c.Y) })
	floatField(f, "difference", &c.Difference)
	floatField(f, "stdDev", &c.StdDev)
	floatField(f, "stdErr", &c.StdErr)
	floatField(f, "df", &c.DF)
	f.object("interval", func(f form) { intervalForm(f, &c.CI) })
	wordField(f, "status", &c.Status, statusNames)
	optionalList(f, "warnings", &c.Warnings, warningForm)
}

// equivalenceForm leaves out the comparison, which is that of the means.
func equivalenceForm(f form, e *stats.Equivalence) {
	f.object("margins", func(f form) { marginsForm(f, &e.Margins) })
	floatField(f, "alpha", &e.Alpha)
	optionalObject(f, "aboveLower", &e.AboveLower, statisticForm)
	optionalObject(f, "belowUpper", &e.BelowUpper, statisticForm)
	boolField(f, "equivalent", &e.Equivalent)
}

func detectionForm(f form, d *Detection) {
	floatField(f, "difference", &d.Difference)
	optionalObject(f, "margins", &d.Margins, marginsForm)
	floatField(f, "power", &d.Power)
	floatField(f, "wanted", &d.Wanted)
	floatField(f, "detectable", &d.Detectable)
	countField(f, "enough", &d.Enough, mostEnough)
	wordField(f, "kind", &d.Kind, kindOfSamples)
	textField(f, "unit", &d.Unit)
}

func summaryForm(f form, s *stats.Summary) {
	intField(f, "n", &s.N)
	floatField(f, "mean", &s.Mean)
	floatField(f, "stdDev", &s.StdDev)
}

func statisticForm(f form, s *stats.Statistic) {
	floatField(f, "value", &s.Value)
	floatField(f, "p", &s.P)
}

func intervalForm(f form, i *stats.Interval) {
	floatField(f, "lo", &i.Lo)
	floatField(f, "hi", &i.Hi)
	floatField(f, "level", &i.Level)
}

func marginsForm(f form, m *stats.Margins) {
	floatField(f, "lower", &m.Lower)
	floatField(f, "upper", &m.Upper)
}

// ParsePairVerification reads the verification of one pair, as [ParseVerification]
// does one of samples. Errors are those.
func ParsePairVerification(data []byte) (PairVerification, error) {
	var v PairVerification
	if err := pairDocument.read("lot.ParsePairVerification", data, v.form); err != nil {
		return PairVerification{}, err
	}
	return v, nil
}

// MarshalJSON writes the verification in its canonical form, recorded numbers as
// text.
//
// The error is [*FormatError] for a verification that was made by hand and would not
// read back.
func (v PairVerification) MarshalJSON() ([]byte, error) {
	const fn = "lot.PairVerification.MarshalJSON"
	if !fewDigits(v.Terms.D2S) || !fewDigits(v.Contractor) || !fewDigits(v.Agency) || !fewDigits(v.Difference) {
		return nil, &FormatError{Func: fn, Err: ErrDigits}
	}
	return readsBack(fn, pairDocument.write(v.form), ParsePairVerification)
}

// UnmarshalJSON is [ParsePairVerification], with its errors.
func (v *PairVerification) UnmarshalJSON(data []byte) error {
	return readInto(v, data, ParsePairVerification)
}

func (v *PairVerification) form(f form) {
	f.object("terms", v.Terms.form)
	decimalField(f, "contractor", &v.Contractor)
	decimalField(f, "agency", &v.Agency)
	decimalField(f, "difference", &v.Difference)
	wordField(f, "finding", &v.Finding, findingNames)
	f.object("detection", func(f form) { detectionForm(f, &v.Detection) })
	optionalList(f, "working", &v.Working, stepForm)
	optionalList(f, "warnings", &v.Warnings, warningForm)
}

func (t *PairTerms) form(f form) {
	textField(f, "characteristic", &t.Characteristic)
	textField(f, "unit", &t.Unit)
	decimalField(f, "d2s", &t.D2S)
	textField(f, "source", &t.Source)
	floatField(f, "difference", &t.Difference)
	floatField(f, "power", &t.Power)
}
