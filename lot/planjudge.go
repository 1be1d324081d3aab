package lot

import (
	"fmt"
	"math"
	"slices"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
)

// planJudge is [Plan.Evaluate] on float64, for simulation: the same steps and
// roundings without the working. What the engineer decides is a rule: with removes,
// each result that the screen flags goes, as far as the plan allows and enough
// results are left.
type planJudge struct {
	terms   *Terms
	value   fastRounding
	removes bool
	weights []float64           // of the first results, nil where all weigh the same
	counts  map[int]*countJudge // by number of results
	screen  *planScreen         // nil for none
}

// newPlanJudge makes what judges lots of n first results; quantities weigh them where
// the plan says so, nil for equal ones.
func newPlanJudge(fn string, p Plan, n int, removes bool, quantities []float64) (*planJudge, error) {
	j := &planJudge{terms: p.terms, value: newFastRounding(p.terms.Rounding.Value), removes: removes, counts: make(map[int]*countJudge)}
	var err error
	if j.counts[n], err = newCountJudge(fn, p.terms, n); err != nil {
		return nil, err
	}
	for k := 1; k <= j.mostRemoved() && n-k > 0; k++ {
		made, err := newCountJudge(fn, p.terms, n-k)
		if err != nil {
			break // too few for the plan, so they are not removed
		}
		j.counts[n-k] = made
	}
	if p.terms.Estimation.Weights == QuantityWeights {
		j.weights = shares(quantities)
	}
	if o := p.terms.Outlier; o != nil && !j.counts[n].own && o.takes(n) {
		j.screen, err = newPlanScreen(fn, o, n, j.mostRemoved())
	}
	return j, err
}

// shares returns quantities as parts of the largest, so that no sum of them or of
// their squares overflows; nil for nil.
func shares(quantities []float64) (shares []float64) {
	if quantities == nil {
		return nil
	}
	most := slices.Max(quantities)
	for _, q := range quantities {
		shares = append(shares, q/most)
	}
	return shares
}

// mostSimulatedRemovals bounds the removals from one lot.
const mostSimulatedRemovals = 20

// mostRemoved returns how many results may go.
func (j *planJudge) mostRemoved() int {
	if j.terms.Outlier == nil || !j.removes {
		return 0
	}
	return min(j.terms.Outlier.MaxRemoved, mostSimulatedRemovals)
}

// judgeMemory is what a goroutine needs to judge lots.
type judgeMemory struct {
	values, used, weights []float64
	removed               []bool
	flagged               []int
}

func newJudgeMemory(n int) judgeMemory {
	return judgeMemory{make([]float64, n), make([]float64, 0, n), make([]float64, 0, n), make([]bool, n), make([]int, 0, n)}
}

// judge takes the results of a lot and further ones of the same sublots, which are
// used where a retest is taken.
func (j *planJudge) judge(results, retests []float64, m *judgeMemory) (lotOutcome, error) {
	for i, x := range results {
		if !isFinite(x) {
			return lotOutcome{}, stats.ErrNotFinite
		}
		m.values[i], m.removed[i] = j.value.of(x), false
	}
	out := lotOutcome{flagged: j.remove(m), samples: 1}
	j.use(retests, m)
	if err := j.counts[len(m.used)].pay(m, &out); err != nil {
		return lotOutcome{}, err
	}
	if in := j.terms.Individual; in != nil && in.Action == RejectLot && !in.Limits.pair().allWithin(m.used) {
		out.rejected = true
	}
	return out, nil
}

// use takes the results that count; a retest weighs as what it repeats.
func (j *planJudge) use(retests []float64, m *judgeMemory) {
	m.used, m.weights = m.used[:0], m.weights[:0]
	for i, x := range m.values {
		if m.removed[i] {
			if !j.terms.Outlier.RetestNeeded {
				continue
			}
			x = j.value.of(retests[i])
		}
		m.used = append(m.used, x)
		if j.weights != nil {
			m.weights = append(m.weights, j.weights[i])
		}
	}
}

// remove marks what is removed, look by look, and reports whether anything is
// flagged.
func (j *planJudge) remove(m *judgeMemory) (flagged bool) {
	if j.screen == nil {
		return false
	}
	for gone, left := 0, len(m.values); j.terms.Outlier.takes(left); {
		m.flagged = j.screen.look(m.flagged[:0], m, left)
		flagged = flagged || len(m.flagged) > 0
		goes := j.mayGo(len(m.flagged), gone, left)
		if goes == 0 {
			break
		}
		for _, i := range m.flagged[:goes] {
			m.removed[i] = true
		}
		gone, left = gone+goes, left-goes
	}
	return flagged
}

// mayGo returns how many of the flagged results are removed, where some are gone.
func (j *planJudge) mayGo(flagged, gone, left int) int {
	count := min(flagged, j.mostRemoved()-gone)
	for count > 0 && !j.terms.Outlier.RetestNeeded && j.counts[left-count] == nil {
		count--
	}
	return count
}

// countJudge judges lots of one number of results.
type countJudge struct {
	terms         *Terms
	own           bool // by the table for small lots
	n             int
	kernel        *kernel
	first, second []fastRow
	table         []float64 // the quality index of each whole percentage
	constant      RangeConstant
	rounding      struct{ mean, stdDev, q, measure, factor fastRounding }
	below, reject float64
}

func newCountJudge(fn string, t *Terms, n int) (*countJudge, error) {
	e := Evaluation{N: n}
	terms, err := e.termsFor(fn, t)
	if err != nil {
		return nil, stats.Renamed(err, fn, "o.N")
	}
	s, err := terms.scheduleFor(fn, n)
	if err != nil {
		return nil, stats.Renamed(err, fn, "o.N")
	}
	c := &countJudge{terms: terms, own: terms != t, n: n, below: math.Inf(-1), reject: math.Inf(-1)}
	c.first = fastRows(s, terms.MaxFactor)
	if t := terms.Second; t != nil {
		c.second, c.below = fastRows(s, lower(&t.Max, terms.MaxFactor)), t.Below.InexactFloat64()
	}
	if terms.RejectBelow != nil {
		c.reject = terms.RejectBelow.InexactFloat64()
	}
	r := terms.Rounding
	c.rounding.mean, c.rounding.stdDev, c.rounding.q = newFastRounding(r.Mean), newFastRounding(r.StdDev), newFastRounding(r.Q)
	c.rounding.measure, c.rounding.factor = newFastRounding(r.Measure), newFastRounding(r.Factor)
	return c, c.prepare(fn)
}

// prepare makes what the method needs.
func (c *countJudge) prepare(fn string) error {
	e := c.terms.Estimation
	if e.Method.within() {
		c.kernel = kernelOf(c.n)
	}
	switch e.Method {
	case TableWithin:
		rows, err := WithinTable(c.n, e.Table.Cell)
		if err != nil {
			return stats.Renamed(err, fn, "o.N")
		}
		for i := range rows {
			c.table = append(c.table, rows[len(rows)-1-i].Q.InexactFloat64())
		}
	case RangeWithin:
		var ok bool
		if c.constant, ok = e.constant(c.n); !ok {
			return stats.Refuse(fn, "o.N", "", fmt.Errorf("%w for %d results", ErrNoConstant, c.n))
		}
	}
	return nil
}

// fastRows returns the rows of a schedule under a further cap.
func fastRows(s Schedule, most *decimal.Decimal) []fastRow {
	rows := make([]fastRow, len(s.rows))
	for i, r := range s.rows {
		r.Max = lower(r.Max, most)
		rows[i] = r.fast()
	}
	return rows
}
