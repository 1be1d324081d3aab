package lot

import (
	"fmt"
	"math/big"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Evaluate estimates the measure of a lot, looks up its pay factor and computes its
// pay. It computes in exact rational arithmetic from the recorded decimals, rounds
// each quantity only by the rule of the plan, and decides every comparison and
// every rounding exactly, so the error of a float64 never moves a pay step. The
// formulas are in the package comment, and in Working with the numbers put in.
//
// Flagged results stay in, unless they are marked as removed and the plan allows
// it. Where the pay row would be another without rounding, Warnings holds
// [WarnRounding]. A lot of too few results is judged by the plan's table for small
// lots, or refused; [Plan.EvaluateLots] joins such lots.
//
// Errors are [*stats.InputError] with the id of the result, around [ErrEmptyPlan],
// [ErrMissing] (a value), [ErrNoID], [ErrRepeatedID], [ErrText], [ErrUnit], [ErrDigits],
// [ErrNegative] (a quantity), [ErrPlausible], [ErrRetest], [ErrRemoval],
// [stats.ErrTooFew], [ErrScale], [ErrRoundedAway], [ErrNoConstant], [ErrNoRange],
// [ErrNoSchedule] or [ErrOutOfDomain] (more results than a table is written for, or
// a factor above 10, as of a row written in percent).
func (p Plan) Evaluate(l Lot) (Evaluation, error) {
	return p.evaluate("lot.Plan.Evaluate", l)
}

func (p Plan) evaluate(fn string, l Lot) (Evaluation, error) {
	if p.IsZero() {
		return Evaluation{}, stats.Refuse(fn, "p", "", ErrEmptyPlan)
	}
	t := p.terms
	if err := t.check(fn, l); err != nil {
		return Evaluation{}, err
	}
	s, err := t.settle(fn, l)
	if err != nil {
		return Evaluation{}, err
	}
	e := Evaluation{Plan: t.Name, Lot: l.ID, N: len(s.used), LeftOut: s.out}
	if t, err = e.termsFor(fn, t); err != nil {
		return Evaluation{}, err
	}
	if err := e.judge(fn, t, l, s); err != nil {
		return Evaluation{}, err
	}
	return e, nil
}

// termsFor returns the terms for as many results as there are.
func (e *Evaluation) termsFor(fn string, t *Terms) (*Terms, error) {
	need := t.Estimation.fewest()
	if s := t.SmallLot; s != nil {
		if e.N < s.Fewest && e.N > 0 && s.usesOwn() {
			e.warn(WarnSmallLot, "", "%d results are fewer than %d, so the table for small lots applies", e.N, s.Fewest)
			return t.own(), nil
		}
		need = s.Fewest
	}
	switch {
	case e.N < need:
		return nil, stats.Refuse(fn, "l.Results", "", fmt.Errorf("%w (have %d, need %d)", stats.ErrTooFew, e.N, need))
	case t.Estimation.Method == TableWithin:
		return t, checkTable(fn, "l.Results", e.N)
	}
	return t, nil
}

// own returns the terms with what the table for small lots says put in.
func (t *Terms) own() *Terms {
	own, small := t.SmallLot.Own, *t
	small.Limits, small.Second, small.Outlier = Limits{}, nil, nil
	small.Estimation = Estimation{Method: MeanDeviation, Target: &own.Target}
	small.Rounding.Measure = own.Measure
	small.Schedule, small.ByCount = Schedule{}, own.ByCount
	return &small
}

// judge fills the evaluation.
func (e *Evaluation) judge(fn string, t *Terms, l Lot, s settled) error {
	x, err := t.sampleOf(fn, l, s.used)
	if err != nil {
		return err
	}
	d := doubt{t, s.used, x, floatsOf(x.values)}
	if err := t.checkScale(fn, s.used); err != nil {
		return err
	}
	schedule, err := t.scheduleFor(fn, e.N)
	if err != nil {
		return err
	}
	w := &working{make([]units.Step, 0, 16)}
	e.removed(t, l, s, w)
	if err := e.screen(d, w); err != nil {
		return stats.Renamed(err, fn, "")
	}
	est, err := t.judgement(fn).estimate(x, w)
	if err != nil {
		return err
	}
	e.describe(est, s.used, x.values, t)
	e.Weighing = x.weighing()
	p, err := e.passes(fn, t, schedule, est, x, w)
	if err != nil {
		return err
	}
	if err := e.pay(t, p, l, w); err != nil {
		return stats.Refuse(fn, "l.Results", "", err)
	}
	e.warnRounding(d, schedule, est, p)
	e.diagnose(est, d)
	e.Working = w.steps
	return nil
}

// removed notes what was left out, and what the measure would be with the removed
// results.
func (e *Evaluation) removed(t *Terms, l Lot, s settled, w *working) {
	for _, look := range s.looks {
		e.Removals = append(e.Removals, *look.screen())
		w.steps = append(w.steps, look.working...)
	}
	for _, o := range s.out {
		w.add(units.Step{What: "left out", Formula: o.ID, Value: o.Why})
	}
	if s.before == nil {
		return
	}
	if before, err := t.sampleOf("", l, s.before); err == nil {
		e.WithRemoved = t.measureOf(before)
	}
}

// describe copies the estimate into the result.
func (e *Evaluation) describe(est exactEstimate, used []Result, values []*big.Rat, t *Terms) {
	e.Method = t.Estimation.Method
	e.Mean, e.StdDev = est.mean, est.stdDev
	e.QL, e.QU = est.ql, est.qu
	e.PWLLower, e.PWLUpper = est.lower, est.upper
	e.Measure = est.number
	if e.Method.within() {
		e.PWL = est.number
	}
	e.Used = make([]string, len(used))
	for i, v := range values {
		e.Used[i] = used[i].ID
		if t.Limits.pair().contains(v) {
			e.WithinCount++
		}
		if t.Individual != nil && !t.Individual.Limits.pair().contains(v) {
			e.OutsideSingle = append(e.OutsideSingle, used[i].ID)
		}
	}
	if est.constant && e.N > 1 {
		e.Warnings = append(e.Warnings, zeroSpread(e.N, est.atLimit)...)
	}
}
