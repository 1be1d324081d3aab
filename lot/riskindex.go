package lot

import (
	"math"
	"slices"

	"github.com/densilot/densilot/units"
)

// mostIndexSteps is the number of steps of a rounded quality index that an integral
// takes one by one.
const mostIndexSteps = 5000

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

// indexRows returns a row for each step of the measure, found by judging one index
// within it. With one limit the estimate rises with the index, so a step starts at
// the estimate of the index where it starts.
func (t *Terms) indexRows(n int) (rows riskRows, err error) {
	c, err := newCountJudge("", t, n)
	if err != nil {
		return rows, err
	}
	most := c.kernel.max
	from := -most
	for _, to := range append(c.indexCuts(), most) {
		if to = min(to, most); to <= from {
			continue
		}
		factor, reject, err := c.read(c.first, c.rounding.measure.of(100-c.tail(from/2+to/2, 1, &drawn{})))
		if err != nil {
			return rows, err
		}
		start := float64(100 * c.kernel.within(from*c.kernel.toY))
		rows.rows = append(rows.rows, riskRow{fastRow: fastRow{from: start, intercept: factor, max: math.MaxFloat64, reject: reject}})
		from = to
	}
	rows.rows = slices.CompactFunc(rows.rows, func(a, b riskRow) bool { return a.intercept == b.intercept && a.reject == b.reject })
	rows.decide(t, nil)
	return rows, nil
}

// indexCuts returns, in order, the indices between which the measure stays the same.
func (c *countJudge) indexCuts() (cuts []float64) {
	if places := c.terms.Rounding.Q.Places; c.terms.Rounding.Q.Method != units.Absolute {
		unit := math.Pow10(-places)
		for k := math.Floor(-c.kernel.max/unit) - 0.5; k*unit < c.kernel.max; k++ {
			cuts = append(cuts, float64(k*unit))
		}
		return cuts
	}
	for _, q := range c.table {
		cuts = append(cuts, q, -q)
	}
	slices.Sort(cuts)
	return cuts
}
