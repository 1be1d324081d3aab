package lot

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Codes of the warnings of [Plan.TrueWithin] that say why an interval may be right
// less often than its level.
const (
	WarnChosen     stats.WarningCode = "chosen"      // which results count was settled after a look at them
	WarnPooled     stats.WarningCode = "pooled"      // results of several lots, or retests beside what they repeat, are taken for one sample
	WarnSecondPass stats.WarningCode = "second-pass" // the pay rests on other limits than the interval
	WarnCoarse     stats.WarningCode = "coarse"      // results are rounded coarsely for how they vary
)

// coarse is how many standard deviations a step of rounding may have.
const coarse = 0.5

// ofOnePopulation are the doubts of an evaluation that weigh more with an interval
// than with an estimate, which is right on average in some such lots too.
var ofOnePopulation = []stats.WarningCode{WarnTwoGroups, WarnOutlier, WarnFarResult, WarnMixedOrigins, WarnWeights}

// doubt says what the results have been through that the interval does not know of.
func (t *TrueWithin) doubt(p *Terms, e Evaluation) {
	for _, w := range e.Warnings {
		if slices.Contains(ofOnePopulation, w.Code) {
			t.Warnings = append(t.Warnings, w)
		}
	}
	t.doubtChoice(p, e)
	if len(e.Joined) > 0 {
		t.warn(WarnPooled, "lots %s were judged as one; the interval takes their results for those of one normal population, and a common error for the same in all",
			strings.Join(e.Joined, ", "))
	}
	if e.Second != nil {
		t.warn(WarnSecondPass, "the pay rests on a second pass by %v; the interval is that of the first, by %v", p.Second.Limits, p.Limits)
	}
	if r := p.Rounding.Value; r.Method != units.Absolute && e.StdDev.Exact > 0 && math.Pow10(-r.Places) > coarse*e.StdDev.Exact {
		t.warn(WarnCoarse, "results are rounded %v, which is coarse for a standard deviation of %.3g; upper bounds are too low more often than they say", r, e.StdDev.Exact)
	}
}

// doubtChoice warns of results that others would count in place of.
func (t *TrueWithin) doubtChoice(p *Terms, e Evaluation) {
	if len(e.LeftOut) > 0 {
		left := make([]string, len(e.LeftOut))
		for i, o := range e.LeftOut {
			left[i] = o.ID + " (" + o.Why + ")"
		}
		t.warn(WarnChosen, "the interval takes the %d results that count for all there were; if what is left out was of the lot, the lower bound is too high: %s",
			e.N, strings.Join(left, ", "))
	}
	if p.Retest == PoolResults {
		t.warn(WarnPooled, "the plan counts a retest beside what it repeats; if one is among the %d results, the interval takes it for a place of its own, chosen at random", e.N)
	}
}

func (t *TrueWithin) warn(code stats.WarningCode, format string, args ...any) {
	t.Warnings = append(t.Warnings, stats.Warning{Code: code, Text: fmt.Sprintf(format, args...)})
}
