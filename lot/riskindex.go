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
	y, measure float64 // y of the index, and the measure from there on
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
		measure := c.rounding.measure.of(100 - c.tail(inside, 1, &drawn{}))
		does, err := c.doesAt(measure)
		if err != nil {
			return nil, err
		}
		steps = append(steps, indexStep{from * c.kernel.toY, measure, does})
		from = cuts[min(i, last)]
	}
	return steps, nil
}

// doesAt judges a lot of a rounded measure.
func (c *countJudge) doesAt(measure float64) (does riskSums, err error) {
	factor, rejected, err := c.read(c.first, measure)
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
		for k := 1 - most; k <= most; k++ {
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

// chances are those of the samples of a lot. Where the index is rounded, the first step
// of a measure that is high enough decides on a further one.
func (r *riskIntegral) chances(e *Estimator) chances {
	c := r.again.chances(e)
	if r.steps == nil || !r.again.repeats() {
		return c
	}
	for i := range r.steps {
		if r.steps[i].measure >= r.again.below {
			c.repeat(r.steps[i].atLeast(e))
			return c
		}
	}
	c.repeat(0)
	return c
}

// atLeast returns the probability of an index that is at least that of the step.
func (s *indexStep) atLeast(e *Estimator) float64 {
	if math.IsInf(s.y, -1) {
		return 1
	}
	_, atLeast := e.tails(s.y)
	return atLeast
}

// fillByIndex adds up what changes from step to step by the chance to get there.
func (r *riskIntegral) fillByIndex(e *Estimator, c *chances, point *RiskPoint) {
	var before, sums riskSums
	for i := range r.steps {
		s := &r.steps[i]
		if s.does == before {
			continue
		}
		reached := 1.0
		if i > 0 {
			reached = c.atLeast(s.measure, s.atLeast(e))
		}
		sums.add(s.does, reached)
		sums.add(before, -reached)
		before = s.does
	}
	point.Factor, point.Rejected, point.Full = sums.factor, min(1, max(0, sums.rejected)), min(1, max(0, sums.full))
}
