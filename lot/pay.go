package lot

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// pass is what a schedule says about one estimate.
type pass struct {
	row    int
	second bool // by the limits of the second pass
	reject bool
	factor real // before rounding
	used   real // after it
}

// pay decides, and computes the money.
func (e *Evaluation) pay(t *Terms, p pass, l Lot, w *working) error {
	if !p.reject {
		factor := number(p.factor, p.used, t.Rounding.Factor)
		e.Factor = &factor
	}
	e.reportSingle(t, w)
	e.warnRemovedSingle(t, l)
	rule := ""
	e.Decision, rule = t.decide(p, len(e.OutsideSingle) > 0)
	step := units.Step{What: "decision", Formula: rule, Value: e.Decision.String()}
	if e.Decision == Rejected {
		step.Value += "; the engineer decides what happens to the lot"
		e.Factor = nil
	}
	if w.add(step); e.Decision == Rejected {
		return nil
	}
	if t.Composite != nil {
		w.add(units.Step{What: "composite", Formula: t.Composite.Rule.String(), Value: "the factor enters that of the lot, which decides the pay"})
		return nil
	}
	e.Payment = t.payment(l, p.used.exact, w)
	e.warnQuantity(l)
	for _, d := range e.decimals() {
		if !fewDigits(d) {
			return fmt.Errorf("pay: %w", ErrDigits)
		}
	}
	return nil
}

// warnQuantity names what is not paid because it has no quantity.
func (e *Evaluation) warnQuantity(l Lot) {
	var without []string
	for _, r := range l.Results {
		if r.RetestOf == "" && r.Quantity.Sign() == 0 {
			without = append(without, r.ID)
		}
	}
	switch {
	case e.Payment.Quantity.Sign() == 0:
		e.warn(WarnNoQuantity, "", "no result of the lot has a quantity, so nothing is paid")
	case without != nil:
		e.warn(WarnNoQuantity, strings.Join(without, ", "), "has no quantity, so nothing is paid for what it stands for")
	}
}

// decide says what becomes of the lot, and the rule that fired.
func (t *Terms) decide(p pass, outside bool) (Decision, string) {
	switch {
	case p.reject:
		return Rejected, "the row of the schedule is not accepted"
	case t.RejectBelow != nil && p.used.compare(t.RejectBelow.Rat()) < 0:
		return Rejected, "the factor is below " + digits(*t.RejectBelow)
	case outside && t.Individual.Action == RejectLot:
		return Rejected, "a single result is outside its limits, " + t.Individual.Limits.String()
	case p.used.compare(big.NewRat(1, 1)) < 0:
		return AcceptedReduced, "the factor is below 1"
	}
	return Accepted, "the factor is at least 1"
}

// passes reads the schedule, a second time where the plan wants it.
func (e *Evaluation) passes(fn string, t *Terms, s Schedule, est exactEstimate, x sample, w *working) (pass, error) {
	p, err := t.read(fn, s, est, t.MaxFactor, w)
	if err == nil && t.Second != nil && (p.reject || p.used.compare(t.Second.Below.Rat()) < 0) {
		return e.again(fn, t, s, x, w)
	}
	return p, err
}

// read reads the schedule. most is a cap, nil for none.
func (t *Terms) read(fn string, s Schedule, est exactEstimate, most *decimal.Decimal, w *working) (pass, error) {
	i, err := s.row(fn, est.measure)
	if err != nil {
		return pass{}, err
	}
	row, name := s.rows[i], t.Estimation.Method.short()
	from := "from " + name + " " + digits(row.From) + " on"
	if row.After {
		from = "above " + name + " " + digits(row.From)
	}
	if row.Reject {
		w.add(units.Step{What: "pay row", Formula: from, Value: "not accepted"})
		return pass{row: i, reject: true}, nil
	}
	if row.Pay.of(est.measure).compare(mostFactor.Rat()) > 0 { // which a cap would hide
		return pass{}, stats.Refuse(fn, "schedule", "row "+from, errPercent)
	}
	row.Max = lower(row.Max, most)
	p := pass{row: i, factor: row.factor(est.measure)}
	p.used = p.factor.apply(t.Rounding.Factor)
	if w == nil {
		return p, nil
	}
	limit := ""
	if row.Max != nil {
		limit = ", at most " + digits(*row.Max)
	}
	w.add(units.Step{What: "pay factor", Formula: row.Pay.in(name) + " " + from + limit, Numbers: row.Pay.in(est.number.Used) + limit,
		Value: textOf(p.factor), Rounded: number(p.factor, p.used, t.Rounding.Factor).Used, Rounding: t.Rounding.Factor.Rule()})
	return p, nil
}

// short names the measure in a formula.
func (m Method) short() string {
	switch m {
	case MeanDeviation:
		return "deviation"
	case AverageWithin:
		return "percent"
	}
	return "PWL"
}

// lower returns the lower of two caps, each nil for none.
func lower(a, b *decimal.Decimal) *decimal.Decimal {
	if a == nil || b != nil && b.LessThan(*a) {
		return b
	}
	return a
}

// again is the second pass.
func (e *Evaluation) again(fn string, t *Terms, s Schedule, x sample, w *working) (pass, error) {
	w.add(units.Step{What: "second pass", Formula: "the first pays less than " + digits(t.Second.Below),
		Value: fmt.Sprintf("judged by %v, with a factor of at most %s", t.Second.Limits, digits(t.Second.Max))})
	j := t.judgement(fn)
	j.limits = t.Second.Limits.pair()
	est, err := j.estimate(x, w)
	if err != nil {
		return pass{}, err
	}
	e.Second = &est.number
	p, err := t.read(fn, s, est, lower(&t.Second.Max, t.MaxFactor), w)
	p.second = true
	return p, err
}

// reportSingle names the results outside their own limits.
func (e *Evaluation) reportSingle(t *Terms, w *working) {
	if len(e.OutsideSingle) == 0 {
		return
	}
	w.add(units.Step{What: "single results", Formula: t.Individual.Limits.String(), Value: strings.Join(e.OutsideSingle, ", ") + " outside"})
	for _, id := range e.OutsideSingle {
		e.warn(WarnIndividual, id, "outside the limits for a single result (%v); action of the plan: %s", t.Individual.Limits, t.Individual.Action)
	}
}

// warnRemovedSingle names results outside their own limits that were removed without a
// retest: they count nowhere, and nothing else says how the material of their place is.
func (e *Evaluation) warnRemovedSingle(t *Terms, l Lot) {
	if t.Individual == nil {
		return
	}
	for _, r := range l.Results {
		again := func(other Result) bool { return other.RetestOf == r.ID }
		if r.Removed && !slices.ContainsFunc(l.Results, again) && !t.Individual.Limits.pair().contains(t.valuesOf([]Result{r})[0]) {
			e.warn(WarnIndividual, r.ID, "removed without a retest, and outside the limits for a single result (%v); it no longer counts there either", t.Individual.Limits)
		}
	}
}

// payment computes each amount exactly and rounds it once.
func (t *Terms) payment(l Lot, factor *big.Rat, w *working) *Payment {
	quantity := decimal.Zero
	for _, r := range l.Results {
		quantity = quantity.Add(r.Quantity)
	}
	rule := t.Rounding.Money
	base := new(big.Rat).Mul(quantity.Rat(), t.UnitPrice.Rat())
	over := new(big.Rat).Sub(factor, big.NewRat(1, 1))
	adjustment := new(big.Rat).Mul(base, over)
	pay := &Payment{Quantity: quantity, Base: toDecimal(roundRat(rule, base), rule), Adjustment: toDecimal(roundRat(rule, adjustment), rule)}
	pay.Total = pay.Base.Add(pay.Adjustment)
	pay.Shares = sharesOf(l, pay.Total, quantity, rule.Places)
	money := func(d decimal.Decimal) string { return d.StringFixed(int32(max(0, rule.Places))) + " " + t.Currency }
	product := quantity.String() + " " + t.QuantityUnit + " x " + digits(t.UnitPrice)
	w.add(units.Step{What: "full pay", Formula: "quantity·price", Numbers: product,
		Value: units.ExactText(base) + " " + t.Currency, Rounded: money(pay.Base), Rounding: rule.Rule()})
	w.add(units.Step{What: "pay adjustment", Formula: "quantity·price·(factor - 1)", Numbers: product + " x " + units.ExactText(over),
		Value: units.ExactText(adjustment) + " " + t.Currency, Rounded: money(pay.Adjustment), Rounding: rule.Rule()})
	w.add(units.Step{What: "pay", Formula: "full pay + adjustment", Value: money(pay.Total)})
	return pay
}
