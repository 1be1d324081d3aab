package lot

import (
	"fmt"
	"math"
)

// trueWithinDocument is how an interval is stored.
var trueWithinDocument = document{format: "densilot/true-within", version: 1}

// ParseTrueWithin reads a [TrueWithin] from the JSON that [TrueWithin.MarshalJSON]
// writes, as strictly as [ParsePlan] reads a plan. What was saved reads back equal. It
// is a record: nothing in it is computed again.
//
// Errors are [*FormatError] with the JSON pointer of the place, as those of
// ParsePlan.
func ParseTrueWithin(data []byte) (TrueWithin, error) {
	var t TrueWithin
	if err := trueWithinDocument.read("lot.ParseTrueWithin", data, t.form); err != nil {
		return TrueWithin{}, err
	}
	return t, nil
}

// MarshalJSON writes the interval in its canonical form. Degrees of freedom without
// end are the text "infinite".
//
// The error is [*FormatError] for one that was made by hand and would not read back.
func (t TrueWithin) MarshalJSON() ([]byte, error) {
	return readsBack("lot.TrueWithin.MarshalJSON", trueWithinDocument.write(t.form), ParseTrueWithin)
}

// UnmarshalJSON is [ParseTrueWithin], with its errors.
func (t *TrueWithin) UnmarshalJSON(data []byte) error {
	return readInto(t, data, ParseTrueWithin)
}

func (t *TrueWithin) form(f form) {
	textField(f, "plan", &t.Plan)
	textField(f, "lot", &t.Lot)
	textField(f, "unit", &t.Unit)
	wordField(f, "decision", &t.Decision, decisionNames)
	f.object("contract", func(f form) { numberForm(f, &t.Contract) })
	f.object("asComputed", func(f form) {
		withinForm(f, &t.AsComputed.Within)
		f.object("interval", func(f form) { intervalForm(f, &t.AsComputed.CI) })
	})
	boolField(f, "correctedKnown", &t.CorrectedKnown)
	f.object("corrected", func(f form) { withinForm(f, &t.Corrected) })
	f.object("interval", func(f form) { intervalForm(f, &t.CI) })
	f.object("error", func(f form) {
		optionalList(f, "common", &t.Error.Common, componentForm)
		f.object("repeatability", func(f form) { componentForm(f, &t.Error.Repeatability) })
	})
	optionalList(f, "budget", &t.Budget, contributionForm)
	optionalList(f, "working", &t.Working, stepForm)
	optionalList(f, "warnings", &t.Warnings, warningForm)
}

func withinForm(f form, w *Within) {
	summaryForm(f, &w.Summary)
	floatField(f, "ql", &w.QL)
	floatField(f, "qu", &w.QU)
	floatField(f, "below", &w.Below)
	floatField(f, "above", &w.Above)
	floatField(f, "pwl", &w.PWL)
	optionalList(f, "warnings", &w.Warnings, warningForm)
}

func componentForm(f form, c *Component) {
	textField(f, "source", &c.Source)
	floatField(f, "stdErr", &c.StdErr)
	degreesField(f, &c.DF)
}

func contributionForm(f form, c *Contribution) {
	textField(f, "source", &c.Source)
	floatField(f, "stdErr", &c.StdErr)
	degreesField(f, &c.DF)
	floatField(f, "share", &c.Share)
	textField(f, "takes", &c.Takes)
	f.object("halved", func(f form) { intervalForm(f, &c.Halved) })
}

// degreesField handles degrees of freedom, which may be without end.
func degreesField(f form, p *float64) {
	const infinite = "infinite"
	text := shortest(*p)
	if math.IsInf(*p, 1) {
		text = infinite
	}
	f.scalar("df", kindText, text, func(text string) (err error) {
		if text == infinite {
			*p = math.Inf(1)
			return nil
		}
		if *p, err = parseShortest(text); err != nil {
			return fmt.Errorf("%w, or %q", err, infinite)
		}
		return nil
	})
}
