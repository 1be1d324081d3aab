package lot

import (
	"fmt"
	"slices"
	"strconv"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// TrueWithin is what the results of an evaluated lot say of its true percent within
// limits, beside what the contract made of them.
type TrueWithin struct {
	Plan     string // name of the plan
	Lot      string
	Unit     string   // of results, limits and errors
	Decision Decision // of the contract
	Contract Number   // the percent within limits of the contract, of the first pass where there were two
	Measured
	Working []units.Step
}

// TrueWithin gives the interval of the true percent within limits of a lot that this
// plan evaluated, as [WithinMeasured] does, from the results that count there as the
// plan rounds them, by their mean and standard deviation before any rounding. The
// evaluation is not changed, and its decision and pay stand: the contract rests on the
// estimate, and the interval says how far that can be off. Working says it in words, a
// step for each part; String and [TrueWithin.MarshalJSON] write it out.
//
// Results of different weight count as so many equal ones as [Weighing] has. One-sided
// 95 % bounds then cover, in percent, as in the table of [WithinInterval] (4000 simulated
// lots each, standard error 0.34; go test ./lot -run CoverageWeightedTable -args -long):
//
//	      weights  one limit            two, in the middle   off it, nine tenths  off it, six tenths
//	        1 1 2  95.1-95.6/94.7-95.7  95.7-96.3/93.9-95.4  94.8-96.4/93.9-95.1  94.8-95.8/94.8-95.7
//	    1 1 1 1 2  94.5-95.5/93.8-95.0  95.5-96.4/94.2-95.3  95.4-96.0/93.7-95.2  94.9-95.9/94.8-95.5
//	    1 1 1 1 4  96.3-96.7/93.4-96.7  96.3-97.3/93.0-94.7  96.3-97.0/93.3-94.5  96.1-96.9/94.0-96.3
//	1 1 1 2 2 2 3  94.8-96.5/94.9-95.4  95.3-96.5/93.9-95.5  95.0-96.0/94.3-95.1  95.4-95.8/94.6-95.1
//
// so that upper bounds are up to two points short where one of five weighs four times as
// much as each other. What has been done to the results by an outlier screen, retests,
// joining of lots, a second pass or coarse rounding is in no formula: Warnings says it,
// with [WarnChosen], [WarnPooled], [WarnSecondPass] or [WarnCoarse], and repeats the
// evaluation's doubts of one normal population. It is no small matter. Of a true 90
// with one limit, one-sided 95 % lower bounds hold for 91.3 % of lots of five where the
// lowest result is removed whenever Grubbs' test at 0.05 flags it, for 24.2 % of those
// where it was; and for 87.0 % of lots of ten where each result outside the limit is
// replaced by a retest (30,000 lots; go test ./lot -run BoundsOfChosen -args -long).
//
// level is a fraction in (0, 1) up to 0.999, m is in the unit of the plan; the zero
// value is no measurement error.
//
// Errors are [*stats.InputError] around [ErrEmptyPlan], [ErrOtherPlan] (e is by another
// plan, or has a second pass that this one has not), [ErrNoInterval] (the measure is not
// the percent within limits of the mean and standard deviation: mean ranges, mean
// deviation, moving averages, or a small lot judged by its own table), [stats.ErrTooFew],
// [stats.ErrNotFinite] or [ErrOutOfDomain] (an evaluation made by hand) or those of
// WithinMeasured.
func (p Plan) TrueWithin(e Evaluation, level float64, m MeasurementError) (TrueWithin, error) {
	const fn = "lot.Plan.TrueWithin"
	w, err := p.estimateBehind(fn, e)
	if err != nil {
		return TrueWithin{}, err
	}
	if err := checkMeasured(fn, level, m); err != nil {
		return TrueWithin{}, err
	}
	found, ok := measured(w, e.worth(), p.terms.Limits.pair(), level, m)
	if !ok {
		return TrueWithin{}, stats.Refuse(fn, "e", "", stats.ErrOverflow)
	}
	t := TrueWithin{Plan: e.Plan, Lot: e.Lot, Unit: p.terms.Unit, Decision: e.Decision, Contract: e.PWL, Measured: found}
	t.doubt(p.terms, e)
	t.explain()
	return t, nil
}

// estimateBehind returns the estimate that a contract would have without rounding.
func (p Plan) estimateBehind(fn string, e Evaluation) (Within, error) {
	s := stats.Summary{N: e.N, Mean: e.Mean.Exact, StdDev: e.StdDev.Exact}
	switch {
	case p.IsZero():
		return Within{}, stats.Refuse(fn, "p", "", ErrEmptyPlan)
	case e.Plan != p.terms.Name:
		return Within{}, stats.Refuse(fn, "e.Plan", strconv.Quote(e.Plan), fmt.Errorf("%w (%q)", ErrOtherPlan, p.terms.Name))
	case e.Method != ExactWithin && e.Method != TableWithin:
		return Within{}, stats.Refuse(fn, "e.Method", e.Method.String(), fmt.Errorf("%w; %s", ErrNoInterval, e.Method.instead()))
	case s.N < 3:
		return Within{}, tooFew(fn, "e.N", s.N)
	case s.N > maxCount:
		return Within{}, stats.Refuse(fn, "e.N", fmt.Sprint(s.N), needs(ErrOutOfDomain, fmt.Sprintf("at most %d results", maxCount)))
	case e.Second != nil && p.terms.Second == nil:
		return Within{}, stats.Refuse(fn, "e.Second", e.Second.Used, fmt.Errorf("%w: it has no second pass", ErrOtherPlan))
	case !e.worth().valid(s.N):
		return Within{}, stats.Refuse(fn, "e.Weighing", fmt.Sprintf("%+v", e.worth()), needs(ErrOutOfDomain, "what so many results can be worth, as Plan.Evaluate gives it"))
	case !isFinite(s.Mean) || !isFinite(s.StdDev) || s.StdDev < 0:
		return Within{}, stats.Refuse(fn, "e", fmt.Sprintf("mean %v, standard deviation %v", s.Mean, s.StdDev), stats.ErrNotFinite)
	}
	limits := p.terms.Limits.pair()
	w := limits.withinConstant(s)
	if s.StdDev > 0 {
		var ok bool
		if w, ok = limits.estimateOf(s); !ok {
			return Within{}, stats.Refuse(fn, "e", "", stats.ErrOverflow)
		}
	}
	w.doubt()
	return w, nil
}

// worth returns what the results are worth.
func (e *Evaluation) worth() Weighing {
	if e.Weighing == nil {
		return equalResults(e.N)
	}
	return *e.Weighing
}

// instead says what there is where a plan reads no percent within limits off a mean
// and a standard deviation.
func (m Method) instead() string {
	switch m {
	case RangeWithin:
		return "it rests on ranges; WithinMeasured takes the results themselves"
	case AverageWithin:
		return "it is of moving averages, of which no two are independent"
	}
	return "it has no limits to be within"
}

// explain writes the working.
func (t *TrueWithin) explain() {
	t.step("percent within limits by the contract", "", "", t.Contract.Used+", "+t.Decision.String())
	t.step("true percent within limits, results taken as exact", "", "", boundsText(t.AsComputed.CI))
	if t.Error.none() {
		return
	}
	if r := t.Error.Repeatability.StdErr; r > 0 {
		t.step("standard deviation without repeatability", "√(s² - σ²)", fmt.Sprintf("√(%.4g² - %.4g²)", t.AsComputed.StdDev, r), fmt.Sprintf("%.4g %s", t.Corrected.StdDev, t.Unit))
		corrected := "not known, since nothing is left of the standard deviation"
		if t.CorrectedKnown {
			corrected = fmt.Sprintf("%.2f", t.Corrected.PWL)
		}
		t.step("percent within limits without repeatability", "", "", corrected)
	}
	t.step("true percent within limits, errors included", "", "", boundsText(t.CI))
	t.explainBudget()
}

// explainBudget says what each source has part in, and which halving would help most.
func (t *TrueWithin) explainBudget() {
	if len(t.Budget) == 0 {
		return
	}
	best := t.Budget[0]
	for _, c := range t.Budget {
		t.step(c.Source, "", "", c.inWords())
		if c.Halved.HalfWidth() < best.Halved.HalfWidth() {
			best = c
		}
	}
	t.step("what would help most", "", "", best.Takes+" ("+best.Source+")")
}

// boundsText writes an interval with what its ends are by themselves.
func boundsText(ci stats.Interval) string {
	return fmt.Sprintf("%s with %g %% confidence; at least %.1f, or at most %.1f, with %g %% each",
		rangeText(ci), percent(ci.Level), floorTenth(ci.Lo), ceilTenth(ci.Hi), percent(0.5+ci.Level/2))
}

func (t *TrueWithin) step(what, formula, numbers, value string) {
	t.Working = append(t.Working, units.Step{What: what, Formula: formula, Numbers: numbers, Value: value, Rounded: value})
}

// String returns the working as lines, with what it is about and what to look at.
func (t TrueWithin) String() string {
	text := "lot " + t.Lot + ", " + t.Plan + ", in " + t.Unit + "\n" + WorkingText(t.Working)
	for _, w := range slices.Concat(t.AsComputed.Warnings, t.Warnings) {
		text += "look at: " + w.String() + "\n"
	}
	return text
}
