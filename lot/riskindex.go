package lot

import (
	"math"
	"slices"

	"github.com/densilot/densilot/units"
)

// mostIndexSteps is the number of steps of a rounded quality index that an integral
// takes one by one.
const mostIndexSteps = 5000

// indexStep is what a plan of one limit does to lots from one quality index on.
type indexStep struct {
	y, percent float64 // of the index: its y and the estimate
	does       riskSums
}

// stepsOfIndex reports whether the measure is a step function of the quality index of
// one limit, because that is rounded or a table is read by whole rows, with few enough
// steps.
func (t *Terms) stepsOfIndex(n int) bool {
	l := t.Limits.pair()
	if (l.lower == nil) == (l.upper == nil) {
		return false
	}
	rounded := t.Rounding.Q.Method != units.Absolute
	if rounded && !(2*kernelOf(n).max*math.Pow10(t.Rounding.Q.Places) < mostIndexSteps) {
		return false
	}
	return t.Estimation.Method == TableWithin || t.Estimation.Method == ExactWithin && rounded
}

// indexSteps returns the steps, found by judging one index within each. An index may be
// beyond that of 100 percent.
func (t *Terms) indexSteps(n int) (steps []indexStep, err error) {
	c, err := newCountJudge("", t, n)
	if err != nil {
		return nil, err
	}
	cuts := c.indexCuts()
	last := len(cuts) - 1
	from := math.Inf(-1)
	for i := range len(cuts) + 1 {
		inside := cuts[last] + 1
		switch {
		case i == 0:
			inside = cuts[0] - 1
		case i <= last:
			inside = cuts[i-1]/2 + cuts[i]/2
		}
		does, err := c.doesAt(inside)
		if err != nil {
			return nil, err
		}
		y := from * c.kernel.toY
		steps = append(steps, indexStep{y, float64(100 * c.kernel.within(y)), does})
		from = cuts[min(i, last)]
	}
	return slices.CompactFunc(steps, func(a, b indexStep) bool { return a.does == b.does }), nil
}

// doesAt judges a lot of a quality index.
func (c *countJudge) doesAt(q float64) (does riskSums, err error) {
	factor, rejected, err := c.read(c.first, c.rounding.measure.of(100-c.tail(q, 1, &drawn{})))
	switch {
	case rejected || factor < c.reject:
		does.rejected = 1
	case factor >= 1:
		does.full = 1
		fallthrough
	default:
		does.factor = factor
	}
	return does, err
}

// indexCuts returns, in order, the indices between which the measure stays the same.
func (c *countJudge) indexCuts() (cuts []float64) {
	if rule := c.terms.Rounding.Q; rule.Method != units.Absolute {
		unit := math.Pow10(-rule.Places)
		most := math.Ceil(c.kernel.max / unit)
		for k := -most; k <= most+1; k++ {
			cuts = append(cuts, float64((k-0.5)*unit))
		}
		return cuts
	}
	for _, q := range c.table {
		cuts = append(cuts, q, -q)
	}
	slices.Sort(cuts)
	return slices.Compact(cuts)
}

// fillByIndex adds up what changes from step to step by the chance to get there.
func (r *riskIntegral) fillByIndex(e *Estimator, c *chances, point *RiskPoint) {
	var before, sums riskSums
	for _, s := range r.steps {
		reached := 1.0
		if !math.IsInf(s.y, -1) {
			_, atLeast := e.tails(s.y)
			reached = c.atLeast(s.percent, atLeast)
		}
		sums.add(s.does, reached)
		sums.add(before, -reached)
		before = s.does
	}
	point.Factor, point.Rejected, point.Full = sums.factor, min(1, max(0, sums.rejected)), min(1, max(0, sums.full))
}
