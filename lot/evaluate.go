package lot

import (
	"fmt"
	"math/big"
	"strings"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Result is one sublot result as it was recorded.
type Result struct {
	ID       string
	Value    decimal.Decimal
	Quantity decimal.Decimal // placed in the sublot, in the quantity unit of the plan
}

// Lot is what is judged at once.
type Lot struct {
	ID      string
	Unit    string // of the values; must be that of the plan
	Results []Result
}

// Number is a computed number before and after the rounding of the plan.
type Number struct {
	Exact float64 `json:"exact"` // before rounding, as the nearest float64
	Used  string  `json:"used"`  // decimal digits as used further; "…" at the end where nothing was rounded
}

// Decision is what the schedule says about a lot. The zero value is none.
type Decision uint8

// The decisions. The engineer in charge makes them final.
const (
	Accepted        Decision = iota + 1 // at full pay or more
	AcceptedReduced                     // at less than full pay
	Rejected                            // for the engineer to deal with
)

// String returns the decision in words.
func (d Decision) String() string {
	switch d {
	case Accepted:
		return "accepted"
	case AcceptedReduced:
		return "accepted at reduced pay"
	case Rejected:
		return "rejected"
	}
	return "no decision"
}

// Payment is the money for one lot.
type Payment struct {
	Quantity   decimal.Decimal // sum over the results
	Base       decimal.Decimal // Quantity · UnitPrice
	Adjustment decimal.Decimal // Quantity · UnitPrice · (factor - 1)
	Total      decimal.Decimal // Base + Adjustment
}

// Evaluation is the answer of [Plan.Evaluate], with what decided it.
type Evaluation struct {
	Lot           string
	N             int
	WithinCount   int // results within the limits
	Mean, StdDev  Number
	QL, QU        *Number // nil without that limit, or without spread
	PWLLower      *Number // percent above the lower limit, nil without one
	PWLUpper      *Number // percent below the upper limit, nil without one
	PWL           Number
	Screen        *stats.GrubbsResult // nil where the plan has none, or for too few results
	WithoutResult *Number             // PWL without the result that the screen flags, nil if none or fewer than 3 are left
	Decision      Decision
	Factor        *Number  // nil if rejected
	Payment       *Payment // nil if rejected
	Working       []units.Step
	Warnings      []stats.Warning
}

// Evaluate estimates the percent within limits of a lot, looks up its pay factor
// and computes its pay. It computes in exact rational arithmetic from the
// recorded decimals, rounds each quantity only by the rule of the plan, and
// decides every comparison and every rounding exactly, so the error of a float64
// never moves a pay step. The formulas are in the package comment, and
// in Working with the numbers put in.
//
// Flagged results stay in. Where the pay row would be another without rounding,
// Warnings holds [WarnRounding].
//
// Errors are [*stats.InputError] with the id of the result, around [ErrEmptyPlan],
// [ErrNoID], [ErrRepeatedID], [ErrUnit], [ErrDigits], [ErrNegative] (a quantity),
// [ErrPlausible], [stats.ErrTooFew] (3 are needed), [ErrScale] or
// [ErrRoundedAway].
func (p Plan) Evaluate(l Lot) (Evaluation, error) {
	const fn = "lot.Plan.Evaluate"
	if !p.ready {
		return Evaluation{}, refuse(fn, "p", "", ErrEmptyPlan)
	}
	if err := p.check(fn, l); err != nil {
		return Evaluation{}, err
	}
	values := p.values(l)
	if err := p.checkScale(fn, values); err != nil {
		return Evaluation{}, err
	}
	w := &working{}
	est, err := estimateExact(fn, values, p.terms.Limits, p.terms.Rounding, w)
	if err != nil {
		return Evaluation{}, err
	}
	e := Evaluation{Lot: l.ID, N: len(values)}
	e.describe(est, values, p.terms)
	if err := e.pay(fn, p, l, est, w); err != nil {
		return Evaluation{}, err
	}
	if err := e.diagnose(fn, p, l, values, est.pwl); err != nil {
		return Evaluation{}, err
	}
	e.Working = w.steps
	return e, nil
}

// check refuses a lot that cannot be judged, before any statistics.
func (p Plan) check(fn string, l Lot) error {
	if l.ID == "" {
		return refuse(fn, "l.ID", "", ErrNoID)
	}
	if l.Unit != p.terms.Unit {
		return refuse(fn, "l.Unit", fmt.Sprintf("%q", l.Unit), fmt.Errorf("%w (%q)", ErrUnit, p.terms.Unit))
	}
	seen := make(map[string]bool, len(l.Results))
	var repeated []string
	for i, r := range l.Results {
		if r.ID == "" {
			return refuseAt(fn, "l.Results", i, "", ErrNoID)
		}
		if seen[r.ID] {
			repeated = append(repeated, r.ID)
		}
		seen[r.ID] = true
		if err := p.checkResult(r); err != nil {
			return &stats.InputError{Func: fn, Arg: "l.Results", Index: i, ID: r.ID, Value: short(r.Value), Err: err}
		}
	}
	if repeated != nil {
		return refuse(fn, "l.Results", strings.Join(repeated, ", "), ErrRepeatedID)
	}
	if len(l.Results) < 3 {
		return tooFew(fn, "l.Results", len(l.Results))
	}
	return nil
}

func (p Plan) checkResult(r Result) error {
	switch {
	case !fewDigits(r.Value) || !fewDigits(r.Quantity):
		return ErrDigits
	case !p.terms.Plausible.Contains(r.Value):
		return fmt.Errorf("%w (%v)", ErrPlausible, p.terms.Plausible)
	case r.Quantity.Sign() < 0:
		return fmt.Errorf("quantity %w", ErrNegative)
	}
	return nil
}

// checkScale refuses results and limits of which one looks like a percentage and
// the other like a fraction.
func (p Plan) checkScale(fn string, values []*big.Rat) error {
	exact, _ := momentsOf(values)
	mean, _ := exact.Float64()
	if !p.terms.AnyScale && p.terms.Limits.pair().otherScale(mean) {
		return refuse(fn, "l.Results", fmt.Sprintf("mean %.6g", mean), fmt.Errorf("%w (limits %v)", ErrScale, p.terms.Limits))
	}
	return nil
}

// short writes a value for a message, however many digits it has.
func short(d decimal.Decimal) string {
	if !fewDigits(d) {
		return ""
	}
	return digits(d)
}

// values rounds the results by the rule for a result.
func (p Plan) values(l Lot) []*big.Rat {
	values := make([]*big.Rat, len(l.Results))
	for i, r := range l.Results {
		values[i] = roundRat(p.terms.Rounding.Value, r.Value.Rat())
	}
	return values
}

// describe copies the estimate into the result.
func (e *Evaluation) describe(est exactEstimate, values []*big.Rat, t Terms) {
	e.Mean, e.StdDev = est.mean, est.stdDev
	e.QL, e.QU = est.ql, est.qu
	e.PWLLower, e.PWLUpper = est.lower, est.upper
	e.PWL = est.pwlNumber
	for _, v := range values {
		if t.Limits.pair().contains(v) {
			e.WithinCount++
		}
	}
	if est.constant {
		e.Warnings = append(e.Warnings, zeroSpread(e.N, est.atLimit)...)
	}
}

// pay reads the schedule and computes the money.
func (e *Evaluation) pay(fn string, p Plan, l Lot, est exactEstimate, w *working) error {
	i, err := p.terms.Schedule.row(fn, est.pwl)
	if err != nil {
		return err
	}
	row := p.terms.Schedule.rows[i]
	if row.Reject {
		e.Decision = Rejected
		w.add(units.Step{What: "pay row", Formula: fmt.Sprintf("PWL from %s", digits(row.From)), Value: "not accepted; the engineer decides what happens to the lot"})
		return nil
	}
	a, b := row.Pay.parts()
	factor := est.pwl.linear(a, b)
	used := factor.round(p.terms.Rounding.Factor)
	e.Factor = &Number{factor.float(), used.FloatString(max(0, p.terms.Rounding.Factor.Places))}
	w.add(units.Step{What: "pay factor", Formula: fmt.Sprintf("%s from PWL %s", inPWL(row.Pay, "PWL"), digits(row.From)), Numbers: inPWL(row.Pay, est.pwlNumber.Used),
		Value: textOf(factor), Rounded: e.Factor.Used, Rounding: p.terms.Rounding.Factor.Rule()})
	e.Decision = Accepted
	if used.Cmp(big.NewRat(1, 1)) < 0 {
		e.Decision = AcceptedReduced
	}
	e.Payment = p.payment(l, used, w)
	return nil
}

// inPWL writes a line with its variable named or put in.
func inPWL(l Line, x string) string { return strings.ReplaceAll(l.String(), "x", x) }

// payment computes each amount exactly and rounds it once.
func (p Plan) payment(l Lot, factor *big.Rat, w *working) *Payment {
	quantity := decimal.Zero
	for _, r := range l.Results {
		quantity = quantity.Add(r.Quantity)
	}
	rule, t := p.terms.Rounding.Money, p.terms
	base := new(big.Rat).Mul(quantity.Rat(), t.UnitPrice.Rat())
	over := new(big.Rat).Sub(factor, big.NewRat(1, 1))
	adjustment := new(big.Rat).Mul(base, over)
	pay := &Payment{Quantity: quantity, Base: toDecimal(roundRat(rule, base), rule), Adjustment: toDecimal(roundRat(rule, adjustment), rule)}
	pay.Total = pay.Base.Add(pay.Adjustment)
	money := func(d decimal.Decimal) string { return d.StringFixed(int32(max(0, rule.Places))) + " " + t.Currency }
	product := quantity.String() + " " + t.QuantityUnit + " x " + digits(t.UnitPrice)
	w.add(units.Step{What: "full pay", Formula: "quantity·price", Numbers: product,
		Value: units.ExactText(base) + " " + t.Currency, Rounded: money(pay.Base), Rounding: rule.Rule()})
	w.add(units.Step{What: "pay adjustment", Formula: "quantity·price·(factor - 1)", Numbers: product + " x " + units.ExactText(over),
		Value: units.ExactText(adjustment) + " " + t.Currency, Rounded: money(pay.Adjustment), Rounding: rule.Rule()})
	w.add(units.Step{What: "pay", Formula: "full pay + adjustment", Value: money(pay.Total)})
	return pay
}
