package lot

import (
	"bytes"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// planDocument is how a plan is stored.
var planDocument = document{format: "densilot/plan", version: 1}

// ParsePlan reads a plan from the JSON that [Plan.MarshalJSON] writes and the package
// comment describes, and checks it as [NewPlan] does. Every number that is recorded is a text of at most 30 digits
// without an exponent; counts and places are numbers. Optional keys are left out,
// all others are needed. Unknown keys, keys given twice and keys in other capitals
// are refused, as is a document of more than 4 MiB, 200,000 values or 20 levels.
//
// Errors are [*FormatError] with the JSON pointer of the place, around [ErrSyntax],
// [ErrKind], [ErrUnknownKey], [ErrDuplicateKey], [ErrTooLarge], [ErrFormat],
// [*VersionError] for a newer version, [units.ErrSyntax], [units.ErrDigits], or what
// NewPlan gives.
func ParsePlan(data []byte) (Plan, error) {
	const fn = "lot.ParsePlan"
	var t Terms
	if err := planDocument.read(fn, data, t.form); err != nil {
		return Plan{}, err
	}
	p, err := NewPlan(t)
	if err != nil {
		return Plan{}, placedError(fn, err)
	}
	return p, nil
}

// MarshalJSON writes the plan in its canonical form: version, keys in a fixed order,
// no blanks. The same plan always gives the same bytes.
//
// The error is [*stats.InputError] around [ErrEmptyPlan].
func (p Plan) MarshalJSON() ([]byte, error) {
	if p.IsZero() {
		return nil, stats.Refuse("lot.Plan.MarshalJSON", "p", "", ErrEmptyPlan)
	}
	t := p.terms.clone()
	return planDocument.write(t.form), nil
}

// UnmarshalJSON is [ParsePlan], with its errors.
func (p *Plan) UnmarshalJSON(data []byte) error {
	return readInto(p, data, ParsePlan)
}

// Equal reports whether p and other say the same, to the digits as recorded.
func (p Plan) Equal(other Plan) bool {
	a, errA := p.MarshalJSON()
	b, errB := other.MarshalJSON()
	return (errA == nil) == (errB == nil) && bytes.Equal(a, b)
}

func (t *Terms) form(f form) {
	textField(f, "name", &t.Name)
	textField(f, "characteristic", &t.Characteristic)
	textField(f, "unit", &t.Unit)
	textField(f, "gmmSource", &t.GmmSource)
	if f.has("limits", !t.Limits.IsZero()) {
		limitsField(f, "limits", &t.Limits)
	}
	limitsField(f, "plausible", &t.Plausible)
	f.object("estimation", t.Estimation.form)
	f.object("rounding", t.Rounding.form)
	optionalObject(f, "outlier", &t.Outlier, outlierForm)
	optionalObject(f, "individual", &t.Individual, individualForm)
	optionalObject(f, "smallLot", &t.SmallLot, smallLotForm)
	wordField(f, "retest", &t.Retest, retestNames)
	if f.has("schedule", !t.Schedule.IsZero()) {
		scheduleField(f, "schedule", &t.Schedule)
	}
	optionalList(f, "byCount", &t.ByCount, countForm)
	optionalObject(f, "second", &t.Second, secondForm)
	optionalDecimal(f, "maxFactor", &t.MaxFactor)
	optionalDecimal(f, "rejectBelow", &t.RejectBelow)
	optionalObject(f, "composite", &t.Composite, compositeForm)
	optionalObject(f, "verification", &t.Verification, verificationPolicyForm)
	decimalField(f, "unitPrice", &t.UnitPrice)
	textField(f, "quantityUnit", &t.QuantityUnit)
	textField(f, "currency", &t.Currency)
	boolField(f, "anyScale", &t.AnyScale)
}

func (e *Estimation) form(f form) {
	wordField(f, "method", &e.Method, methodNames)
	if f.has("weights", e.Weights != NoWeights) {
		wordField(f, "weights", &e.Weights, weightNames)
	}
	optionalObject(f, "table", &e.Table, func(f form, r *TableRule) {
		roundingField(f, "cell", &r.Cell)
		wordField(f, "negative", &r.Negative, negativeNames)
	})
	optionalList(f, "ranges", &e.Ranges, func(f form, c *RangeConstant) {
		intField(f, "n", &c.N)
		intField(f, "group", &c.Group)
		decimalField(f, "c", &c.C)
	})
	optionalDecimal(f, "target", &e.Target)
	optionalInt(f, "window", &e.Window)
}

func (r *RoundingPolicy) form(f form) {
	roundingField(f, "value", &r.Value)
	roundingField(f, "mean", &r.Mean)
	roundingField(f, "stdDev", &r.StdDev)
	roundingField(f, "q", &r.Q)
	roundingField(f, "measure", &r.Measure)
	roundingField(f, "factor", &r.Factor)
	roundingField(f, "money", &r.Money)
}

var roundingNames = map[units.RoundingMethod]string{units.HalfEven: "half-even", units.HalfUp: "half-up", units.Absolute: "absolute"}

// roundingField leaves out the places of the absolute method, which has none.
func roundingField(f form, key string, r *units.Rounding) {
	f.object(key, func(f form) {
		wordField(f, "method", &r.Method, roundingNames)
		if r.Method != units.Absolute {
			intField(f, "places", &r.Places)
		}
	})
}

func limitsField(f form, key string, l *Limits) {
	lower, hasLower := l.Lower()
	upper, hasUpper := l.Upper()
	f.object(key, func(f form) {
		if hasLower = f.has("lower", hasLower); hasLower {
			decimalField(f, "lower", &lower)
		}
		if hasUpper = f.has("upper", hasUpper); hasUpper {
			decimalField(f, "upper", &upper)
		}
	})
	switch {
	case hasLower && hasUpper:
		*l = BetweenDecimal(lower, upper)
	case hasLower:
		*l = AtLeastDecimal(lower)
	case hasUpper:
		*l = AtMostDecimal(upper)
	}
}

var sideNames = map[stats.Side]string{stats.Low: "low", stats.High: "high", stats.TwoSide: "two-sided"}

func outlierForm(f form, o *OutlierPolicy) {
	wordField(f, "test", &o.Test, testNames)
	wordField(f, "side", &o.Side, sideNames)
	plainField(f, "alpha", &o.Alpha)
	intField(f, "minN", &o.MinN)
	optionalInt(f, "suspects", &o.Suspects)
	intField(f, "maxRemoved", &o.MaxRemoved)
	boolField(f, "causeRequired", &o.CauseRequired)
	boolField(f, "retestNeeded", &o.RetestNeeded)
}

func verificationPolicyForm(f form, v *VerificationPolicy) {
	wordField(f, "kind", &v.Kind, kindOfSamples)
	optionalPlain(f, "varianceAlpha", &v.VarianceAlpha)
	plainField(f, "meanAlpha", &v.MeanAlpha)
	plainField(f, "difference", &v.Difference)
	plainField(f, "power", &v.Power)
	optionalObject(f, "margins", &v.Margins, func(f form, m *stats.Margins) {
		plainField(f, "lower", &m.Lower)
		plainField(f, "upper", &m.Upper)
	})
	optionalPlain(f, "familyAlpha", &v.FamilyAlpha)
	optionalObject(f, "pair", &v.Pair, func(f form, p *PairLimit) {
		decimalField(f, "d2s", &p.D2S)
		textField(f, "source", &p.Source)
	})
}

func individualForm(f form, p *IndividualPolicy) {
	limitsField(f, "limits", &p.Limits)
	wordField(f, "action", &p.Action, actionNames)
}

func smallLotForm(f form, s *SmallLotPolicy) {
	intField(f, "fewest", &s.Fewest)
	wordField(f, "rule", &s.Rule, smallLotNames)
	if f.has("last", s.Last != 0) {
		wordField(f, "last", &s.Last, smallLotNames)
	}
	optionalObject(f, "own", &s.Own, func(f form, o *OwnTerms) {
		decimalField(f, "target", &o.Target)
		roundingField(f, "measure", &o.Measure)
		listField(f, "byCount", &o.ByCount, countForm)
	})
}

func secondForm(f form, s *SecondPass) {
	decimalField(f, "below", &s.Below)
	limitsField(f, "limits", &s.Limits)
	decimalField(f, "max", &s.Max)
}

func compositeForm(f form, c *CompositePart) {
	wordField(f, "rule", &c.Rule, compositeNames)
	optionalDecimal(f, "weight", &c.Weight)
}

func countForm(f form, c *CountSchedule) {
	intField(f, "from", &c.From)
	intField(f, "to", &c.To)
	scheduleField(f, "schedule", &c.Schedule)
}
