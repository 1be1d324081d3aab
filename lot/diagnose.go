package lot

import (
	"fmt"
	"math/big"
	"strings"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// farAlpha is the two-sided significance at which a result is named as making
// much of the spread. It steers a warning, never a number.
const farAlpha = 0.05

// diagnose adds what a person should look at. It changes no number.
func (e *Evaluation) diagnose(fn string, s Schedule, est exactEstimate, d doubt) error {
	t := d.terms
	e.warnRounding(t, s, est, d.values)
	e.warnOrigins(d.results)
	if est.constant {
		return nil
	}
	if t.Estimation.Method.within() {
		e.warnGroups(d.floats)
	}
	if err := e.screen(d); err != nil {
		return inName(fn, err)
	}
	if t.Estimation.Method.within() && (e.Screen == nil || !e.Screen.Outlier) {
		e.warnFar(d)
	}
	return nil
}

// doubt is what the diagnostics look at.
type doubt struct {
	terms   *Terms
	results []Result
	values  []*big.Rat
	floats  []float64
}

func floatsOf(values []*big.Rat) []float64 {
	floats := make([]float64, len(values))
	for i, v := range values {
		floats[i], _ = v.Float64()
	}
	return floats
}

func (e *Evaluation) warn(code stats.WarningCode, where, format string, args ...any) {
	e.Warnings = append(e.Warnings, stats.Warning{Code: code, Where: where, Text: fmt.Sprintf(format, args...)})
}

func (e *Evaluation) warnGroups(floats []float64) {
	gap, err := stats.LargestGap(floats)
	if err == nil && gap.SplitsInTwo(e.StdDev.Exact) {
		e.warn(WarnTwoGroups, "", "a gap from %g to %g parts the results in %d and %d; %d of %d are within the limits, and the estimate assumes one normal population",
			gap.Lo, gap.Hi, gap.Below, gap.Above, e.WithinCount, e.N)
	}
}

// warnOrigins looks whether the results of one lot were measured in different
// ways, as cores and gauge readings are: their spread is then not that of the mat.
func (e *Evaluation) warnOrigins(used []Result) {
	count := make(map[string]int)
	var order []string
	for _, r := range used {
		if count[r.Origin] == 0 {
			order = append(order, r.Origin)
		}
		count[r.Origin]++
	}
	if len(order) < 2 {
		return
	}
	parts := make([]string, len(order))
	for i, o := range order {
		name := o
		if o == "" {
			name = "not recorded"
		}
		parts[i] = fmt.Sprintf("%d %s", count[o], name)
	}
	e.warn(WarnMixedOrigins, "", "the lot mixes results of different origin (%s); one standard deviation does not describe them", strings.Join(parts, ", "))
}

// warnRounding looks whether the plan's rounding of intermediate values, or its
// table, moved the lot to another row of the schedule.
func (e *Evaluation) warnRounding(t *Terms, s Schedule, est exactEstimate, values []*big.Rat) {
	r, none := t.Rounding, units.Rounding{Method: units.Absolute}
	table := t.Estimation.Method == TableWithin
	if !table && r.Mean.Method == none.Method && r.StdDev.Method == none.Method && r.Q.Method == none.Method && r.Measure.Method == none.Method {
		return
	}
	j := t.judgement("")
	j.rounding.Mean, j.rounding.StdDev, j.rounding.Q, j.rounding.Measure = none, none, none, none
	if table {
		j.estimator = Estimation{Method: ExactWithin}
	}
	unrounded, err := j.estimate(values, nil)
	if err != nil {
		return
	}
	exact, err := s.row("", unrounded.measure)
	if err != nil {
		return
	}
	used, err := s.row("", est.measure)
	if err == nil && exact != used {
		e.warn(WarnRounding, "", "the pay row depends on rounding: without it %s is %s, with it %s", t.Estimation.Method.short(), unrounded.number.Used, est.number.Used)
	}
}

// screen runs the outlier test of the plan.
func (e *Evaluation) screen(d doubt) error {
	o := d.terms.Outlier
	if o == nil {
		return nil
	}
	if len(d.floats) < o.MinN {
		e.warn(WarnScreenSkipped, "", "%d results are too few for the outlier screen, which the plan starts at %d", len(d.floats), o.MinN)
		return nil
	}
	r, err := stats.Grubbs(d.floats, o.Side, o.Alpha)
	if err != nil {
		return err
	}
	e.Screen = &r
	e.Warnings = append(e.Warnings, r.Warnings...)
	if r.Outlier {
		e.WithoutResult = d.without(r.Index)
		e.warn(WarnOutlier, d.results[r.Index].ID, "%s is flagged (G = %.3f, critical %.3f, %s, alpha %g) and kept%s; find the cause before anything is removed",
			digits(d.results[r.Index].Value), r.G, r.Critical, r.Side, r.Alpha, d.withoutText(e.WithoutResult))
	}
	return nil
}

// warnFar names a result that makes much of the spread, whatever the screen of
// the plan looks at: a high result lowers the estimate for a lower limit.
func (e *Evaluation) warnFar(d doubt) {
	r, err := stats.Grubbs(d.floats, stats.TwoSide, farAlpha)
	if err != nil || !r.Outlier {
		return
	}
	e.warn(WarnFarResult, d.results[r.Index].ID, "%s is far from the others and makes much of the standard deviation, which lowers PWL even where the result is good%s",
		digits(d.results[r.Index].Value), d.withoutText(d.without(r.Index)))
}

// without returns the measure without one result; nil if too few are left.
func (d doubt) without(index int) *Number {
	j := d.terms.judgement("")
	if len(d.values)-1 < j.estimator.fewest() {
		return nil
	}
	rest := append(append([]*big.Rat(nil), d.values[:index]...), d.values[index+1:]...)
	est, err := j.estimate(rest, nil)
	if err != nil {
		return nil
	}
	return &est.number
}

func (d doubt) withoutText(n *Number) string {
	if n == nil {
		return ""
	}
	return "; " + d.terms.Estimation.Method.short() + " without it would be " + n.Used
}
