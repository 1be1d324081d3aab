package lot

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"github.com/densilot/densilot/stats"
)

// farAlpha is the two-sided significance at which a result is named as making
// much of the spread. It steers a warning, never a number.
const farAlpha = 0.05

// fewestFar is the fewest results one of which can be far: of three, of which two are
// nearly equal, the third always is.
const fewestFar = 4

// diagnose adds what a person should look at. It changes no number.
func (e *Evaluation) diagnose(est exactEstimate, d doubt) {
	e.warnWeights()
	e.warnOrigins(d.results)
	if est.constant || !d.terms.Estimation.Method.within() {
		return
	}
	e.warnGroups(d.floats)
	if e.Screen == nil || e.Screen.Flagged == nil {
		e.warnFar(d)
	}
}

// doubt is what the diagnostics look at.
type doubt struct {
	terms   *Terms
	results []Result
	sample
	floats []float64
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

// screen runs the outlier test of the plan.
func (e *Evaluation) screen(d doubt, w *working) error {
	o := d.terms.Outlier
	if o == nil {
		return nil
	}
	if !o.takes(len(d.values)) {
		e.warn(WarnScreenSkipped, "", "the outlier screen of the plan is not made of %d results", len(d.values))
		return nil
	}
	s, err := o.screen(d.results, d.values)
	if err != nil {
		return err
	}
	e.Screen = s.screen()
	e.Warnings = append(e.Warnings, s.warnings...)
	if !d.constant() {
		w.steps = append(w.steps, s.working...)
	}
	if s.flagged == nil {
		return nil
	}
	e.WithoutResult = d.without(s.flagged)
	for _, i := range s.flagged {
		e.warn(WarnOutlier, d.results[i].ID, "%s is flagged and kept (%s)%s; find the cause before anything is removed",
			digits(d.results[i].Value), e.Screen.comparisons(), d.withoutText(e.WithoutResult))
	}
	return nil
}

// constant reports whether all values are equal.
func (d doubt) constant() bool {
	for _, v := range d.values {
		if v.Cmp(d.values[0]) != 0 {
			return false
		}
	}
	return true
}

// warnFar names a result that makes much of the spread, whatever the screen of
// the plan looks at: a high result lowers the estimate for a lower limit.
func (e *Evaluation) warnFar(d doubt) {
	if e.N < fewestFar || e.PWL.Exact == 100 {
		return
	}
	far := (&OutlierPolicy{Side: stats.TwoSide}).furthest(d.values)
	if !far.nearly(farAlpha) {
		return
	}
	if _, verdict := far.against(farAlpha); verdict > 0 {
		return
	}
	e.warn(WarnFarResult, d.results[far.at].ID, "%s is far from the others and makes much of the standard deviation, which lowers PWL even where the result is good%s",
		digits(d.results[far.at].Value), d.withoutText(d.without([]int{far.at})))
}

// without returns the measure without some results; nil if too few are left.
func (d doubt) without(positions []int) *Number {
	return d.terms.measureOf(d.only(func(i int) bool { return !slices.Contains(positions, i) }))
}

// measureOf returns the measure of another sample, nil where there is none.
func (t *Terms) measureOf(x sample) *Number {
	j := t.judgement("")
	if len(x.values) < j.estimator.fewest() {
		return nil
	}
	est, err := j.estimate(x, nil)
	if err != nil {
		return nil
	}
	return &est.number
}

func (d doubt) withoutText(n *Number) string {
	if n == nil {
		return ""
	}
	return "; without what is flagged " + d.terms.Estimation.Method.short() + " would be " + n.Used
}
