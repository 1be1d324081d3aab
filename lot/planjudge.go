package lot

import (
	"fmt"
	"math"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
)

// planJudge is [Plan.Evaluate] on float64, for simulation: the same steps and
// roundings without the working. What the engineer decides is a rule: with removes,
// each result that the screen flags goes, as far as the plan allows and enough
// results are left.
type planJudge struct {
	terms    *Terms
	value    fastRounding
	removes  bool
	counts   map[int]*countJudge // by number of results
	first    int
	critical []float64 // of the screen, by the number of results left
}

// newPlanJudge makes what judges lots of n first results.
func newPlanJudge(fn string, p Plan, n int, removes bool) (*planJudge, error) {
	j := &planJudge{terms: p.terms, value: newFastRounding(p.terms.Rounding.Value), removes: removes, counts: make(map[int]*countJudge), first: n}
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
	j.critical = make([]float64, n+1)
	for left := max(3, n-j.mostRemoved()); left <= n && p.terms.Outlier != nil; left++ {
		if j.critical[left], err = stats.GrubbsCritical(left, p.terms.Outlier.Side, p.terms.Outlier.Alpha); err != nil {
			return nil, inName(fn, err)
		}
	}
	return j, nil
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
	values, used []float64
	removed      []bool
}

func newJudgeMemory(n int) judgeMemory {
	return judgeMemory{make([]float64, n), make([]float64, 0, n), make([]bool, n)}
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
	out := lotOutcome{flagged: j.screen(m), samples: 1}
	m.used = m.used[:0]
	for i, x := range m.values {
		switch {
		case !m.removed[i]:
			m.used = append(m.used, x)
		case j.terms.Outlier.RetestNeeded:
			m.used = append(m.used, j.value.of(retests[i]))
		}
	}
	c := j.counts[len(m.used)]
	if err := c.pay(m.used, &out); err != nil {
		return lotOutcome{}, err
	}
	if in := j.terms.Individual; in != nil && in.Action == RejectLot && !in.Limits.pair().allWithin(m.used) {
		out.rejected = true
	}
	return out, nil
}

// screen marks what is removed, and reports whether anything is flagged.
func (j *planJudge) screen(m *judgeMemory) (flagged bool) {
	o := j.terms.Outlier
	if o == nil || j.counts[j.first].own {
		return false
	}
	left := len(m.values)
	for k := 0; left >= o.MinN; k++ {
		i := j.suspect(m, left)
		if i < 0 {
			break
		}
		flagged = true
		if k == j.mostRemoved() || !o.RetestNeeded && j.counts[left-1] == nil {
			break
		}
		m.removed[i] = true
		left--
	}
	return flagged
}

// suspect returns the result that the screen flags among those left, -1 for none.
func (j *planJudge) suspect(m *judgeMemory, left int) int {
	mean, s := momentsLeft(m, left)
	lo, hi := -1, -1
	for i, x := range m.values {
		switch {
		case m.removed[i]:
			continue
		case lo < 0:
			lo, hi = i, i
		}
		if x < m.values[lo] {
			lo = i
		}
		if x > m.values[hi] {
			hi = i
		}
	}
	far := lo
	if side := j.terms.Outlier.Side; side == stats.High || side == stats.TwoSide && m.values[hi]-mean > mean-m.values[lo] {
		far = hi
	}
	if !(s > 0) || math.Abs(m.values[far]-mean) < j.critical[left]*s {
		return -1
	}
	return far
}

func momentsLeft(m *judgeMemory, left int) (mean, s float64) {
	for i, x := range m.values {
		if !m.removed[i] {
			mean += x / float64(left)
		}
	}
	for i, x := range m.values {
		if !m.removed[i] {
			s += float64((x - mean) * (x - mean))
		}
	}
	return mean, math.Sqrt(s / float64(left-1))
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
		return nil, inArg(err, "o.N")
	}
	s, err := terms.scheduleFor(fn, n)
	if err != nil {
		return nil, inArg(err, "o.N")
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
			return inArg(inName(fn, err), "o.N")
		}
		for i := range rows {
			c.table = append(c.table, rows[len(rows)-1-i].Q.InexactFloat64())
		}
	case RangeWithin:
		var ok bool
		if c.constant, ok = e.constant(c.n); !ok {
			return refuse(fn, "o.N", "", fmt.Errorf("%w for %d results", ErrNoConstant, c.n))
		}
	}
	return nil
}

// inArg names another argument in an error.
func inArg(err error, arg string) error {
	e, ok := err.(*stats.InputError)
	if !ok {
		return err
	}
	renamed := *e
	renamed.Arg = arg
	return &renamed
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
