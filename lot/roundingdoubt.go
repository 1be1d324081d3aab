package lot

import (
	"math/big"
	"slices"

	"github.com/densilot/densilot/units"
)

// warnRounding looks whether the plan's rounding, or its table, moved the lot to
// another row of the schedule, another pass or another decision.
func (e *Evaluation) warnRounding(d doubt, s Schedule, est exactEstimate, used pass) {
	t := d.terms.unrounded()
	if d.terms.rounds() {
		d.values = t.valuesOf(d.results)
		var err error
		if est, err = t.judgement("").estimate(d.sample, nil); err != nil {
			return
		}
	}
	p, err := new(Evaluation).passes("", t, s, est, d.sample, nil)
	if err != nil {
		return
	}
	name := t.Estimation.Method.short()
	decision, _ := t.decide(p, t.anyOutside(d.sample))
	switch exact := textOf(est.measure); {
	case decision != e.Decision:
		e.warn(WarnRounding, "", "the decision depends on rounding: without it %s is %s and the lot %v, with it %s and %v", name, exact, decision, e.Measure.Used, e.Decision)
	case p.row != used.row || p.second != used.second:
		e.warn(WarnRounding, "", "the pay row depends on rounding: without it %s is %s, with it %s", name, exact, e.Measure.Used)
	}
}

// unrounded returns the terms without any rounding, and with the formula instead of
// its table.
func (t *Terms) unrounded() *Terms {
	none := units.Rounding{Method: units.Absolute}
	free := *t
	free.Rounding = RoundingPolicy{none, none, none, none, none, none, none}
	if t.Estimation.Method == TableWithin {
		free.Estimation = Estimation{Method: ExactWithin}
	}
	return &free
}

// rounds reports whether something before the factor is not as the formula gives it.
func (t *Terms) rounds() bool {
	r := t.Rounding
	return t.Estimation.Method == TableWithin || slices.ContainsFunc([]units.Rounding{r.Value, r.Mean, r.StdDev, r.Q, r.Measure},
		func(r units.Rounding) bool { return r.Method != units.Absolute })
}

// anyOutside reports whether a single result is outside its own limits.
func (t *Terms) anyOutside(x sample) bool {
	return t.Individual != nil && slices.ContainsFunc(x.values, func(v *big.Rat) bool { return !t.Individual.Limits.pair().contains(v) })
}
