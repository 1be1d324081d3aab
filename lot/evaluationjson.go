package lot

import (
	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// evaluationDocument is how an evaluation is stored.
var evaluationDocument = document{format: "densilot/evaluation", version: 1}

// ParseEvaluation reads an evaluation from the JSON that [Evaluation.MarshalJSON]
// writes, as strictly as [ParsePlan] reads a plan. A saved evaluation reads back
// equal. It is a record: nothing in it is computed again.
//
// Errors are [*FormatError] with the JSON pointer of the place, as those of
// ParsePlan.
func ParseEvaluation(data []byte) (Evaluation, error) {
	var e Evaluation
	if err := evaluationDocument.read("lot.ParseEvaluation", data, e.form); err != nil {
		return Evaluation{}, err
	}
	return e, nil
}

// MarshalJSON writes the evaluation in its canonical form, money and recorded
// numbers as text.
//
// The error is [*FormatError] for an evaluation that was made by hand and would not
// read back.
func (e Evaluation) MarshalJSON() ([]byte, error) {
	const fn = "lot.Evaluation.MarshalJSON"
	for _, d := range e.decimals() {
		if !fewDigits(d) {
			return nil, &FormatError{fn, "/payment", ErrDigits}
		}
	}
	return readsBack(fn, evaluationDocument.write(e.form), ParseEvaluation)
}

// UnmarshalJSON is [ParseEvaluation], with its errors.
func (e *Evaluation) UnmarshalJSON(data []byte) error {
	return readInto(e, data, ParseEvaluation)
}

// decimals returns the recorded numbers of the payment.
func (e *Evaluation) decimals() []decimal.Decimal {
	if e.Payment == nil {
		return nil
	}
	p := e.Payment
	all := []decimal.Decimal{p.Quantity, p.Base, p.Adjustment, p.Total}
	for _, s := range p.Shares {
		all = append(all, s.Quantity, s.Amount)
	}
	return all
}

func (e *Evaluation) form(f form) {
	textField(f, "plan", &e.Plan)
	textField(f, "lot", &e.Lot)
	optionalTexts(f, "joined", &e.Joined)
	optionalTexts(f, "reopened", &e.Reopened)
	wordField(f, "method", &e.Method, methodNames)
	wordField(f, "decision", &e.Decision, decisionNames)
	intField(f, "n", &e.N)
	optionalObject(f, "weighing", &e.Weighing, func(f form, w *Weighing) {
		floatField(f, "results", &w.Results)
		floatField(f, "df", &w.DF)
	})
	optionalTexts(f, "used", &e.Used)
	optionalList(f, "leftOut", &e.LeftOut, func(f form, o *LeftOut) {
		textField(f, "id", &o.ID)
		textField(f, "why", &o.Why)
	})
	intField(f, "withinCount", &e.WithinCount)
	optionalTexts(f, "outsideSingle", &e.OutsideSingle)
	e.numbers(f)
	optionalObject(f, "screen", &e.Screen, screenForm)
	optionalList(f, "removals", &e.Removals, screenForm)
	optionalObject(f, "withoutResult", &e.WithoutResult, numberForm)
	optionalObject(f, "withRemoved", &e.WithRemoved, numberForm)
	optionalObject(f, "factor", &e.Factor, numberForm)
	optionalObject(f, "payment", &e.Payment, paymentForm)
	optionalList(f, "working", &e.Working, stepForm)
	optionalList(f, "warnings", &e.Warnings, warningForm)
}

func (e *Evaluation) numbers(f form) {
	f.object("mean", func(f form) { numberForm(f, &e.Mean) })
	f.object("stdDev", func(f form) { numberForm(f, &e.StdDev) })
	optionalObject(f, "ql", &e.QL, numberForm)
	optionalObject(f, "qu", &e.QU, numberForm)
	optionalObject(f, "pwlLower", &e.PWLLower, numberForm)
	optionalObject(f, "pwlUpper", &e.PWLUpper, numberForm)
	f.object("pwl", func(f form) { numberForm(f, &e.PWL) })
	f.object("measure", func(f form) { numberForm(f, &e.Measure) })
	optionalObject(f, "second", &e.Second, numberForm)
}

func numberForm(f form, n *Number) {
	floatField(f, "exact", &n.Exact)
	textField(f, "used", &n.Used)
}

func screenForm(f form, s *Screen) {
	wordField(f, "test", &s.Test, testNames)
	wordField(f, "side", &s.Side, sideNames)
	floatField(f, "alpha", &s.Alpha)
	intField(f, "n", &s.N)
	listField(f, "steps", &s.Steps, func(f form, s *ScreenStep) {
		optionalTexts(f, "suspects", &s.Suspects)
		f.object("statistic", func(f form) { numberForm(f, &s.Statistic) })
		floatField(f, "critical", &s.Critical)
		floatField(f, "p", &s.P)
	})
	optionalTexts(f, "flagged", &s.Flagged)
}

func paymentForm(f form, p *Payment) {
	decimalField(f, "quantity", &p.Quantity)
	decimalField(f, "base", &p.Base)
	decimalField(f, "adjustment", &p.Adjustment)
	decimalField(f, "total", &p.Total)
	optionalList(f, "shares", &p.Shares, func(f form, s *Share) {
		textField(f, "id", &s.ID)
		decimalField(f, "quantity", &s.Quantity)
		decimalField(f, "amount", &s.Amount)
	})
}

func stepForm(f form, s *units.Step) {
	textField(f, "what", &s.What)
	optionalText(f, "formula", &s.Formula)
	optionalText(f, "numbers", &s.Numbers)
	optionalText(f, "value", &s.Value)
	optionalText(f, "rounded", &s.Rounded)
	optionalText(f, "rounding", &s.Rounding)
}

func warningForm(f form, w *stats.Warning) {
	f.scalar("code", kindText, string(w.Code), func(text string) error {
		w.Code = stats.WarningCode(text)
		return nil
	})
	optionalText(f, "where", &w.Where)
	textField(f, "text", &w.Text)
}
