package lot

import (
	"math"
	"slices"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
)

// riskIntegral works out the risk of a plan by integration.
type riskIntegral struct {
	terms    *Terms
	o        *RiskOptions
	again    Retesting    // by the estimate from which on the rounded measure is high enough
	flagged  float64      // probability that the screen flags
	branches []riskBranch // more than one with removal
	flat     bool         // a function of the estimate alone, which takes one integral
	steps    []indexStep  // of the quality index, instead of branches
}

// riskBranch is a course that a lot can take: all results count, or one was removed.
type riskBranch struct {
	n             int
	first, second riskRows
	smallest      *smallestResult
	screen        float64 // y that the smallest result may not pass, more than 1 for none
	share         float64 // probability of the branch given mean and s, where it is constant
	removed       float64 // D, with the removed result beyond x̄ ∓ D·s; 0 for none
}

func newRiskIntegral(q *riskQuestion) (*riskIntegral, error) {
	t, n := q.plan.terms, q.o.N
	r := &riskIntegral{terms: t, o: q.o, again: q.o.Retesting, flat: q.flat()}
	if t.Outlier != nil && t.Outlier.takes(n) {
		r.flagged = t.Outlier.flagProbability(n)
	}
	if q.byIndex() {
		var err error
		r.steps, err = t.indexSteps(n)
		return r, stats.Renamed(err, q.fn, "")
	}
	if r.again.repeats() {
		r.again.below = reachedAt(t.Rounding.Measure, decimal.NewFromFloat(r.again.below).Rat(), false)
	}
	all := r.branch(n)
	if q.removes() {
		critical, _ := stats.GrubbsCritical(n, t.Outlier.Side, t.Outlier.Alpha) // NewPlan has checked them
		all.screen, all.share = critical*kernelOf(n).toY, 1-r.flagged
		rest := r.branch(n - 1)
		rest.removed = removedBeyond(n, critical)
		r.branches = append(r.branches, rest)
	}
	r.branches = append(r.branches, all)
	return r, nil
}

// flagProbability is exact for one suspect where two results cannot be flagged at
// once, and on one side to mostSmallest results, by the distribution of the smallest;
// otherwise a bound. It is alpha for two outliers, and 0, unknown, for several
// suspects.
func (o *OutlierPolicy) flagProbability(n int) float64 {
	switch {
	case o.Test == TwoOutliersTest:
		return o.Alpha
	case !o.single():
		return 0
	}
	critical, _ := stats.GrubbsCritical(n, o.Side, o.Alpha) // NewPlan has checked them
	y := critical * kernelOf(n).toY
	if o.Side != stats.TwoSide && n <= mostSmallest {
		return 1 - newSmallestResult(n).below(y)
	}
	sides := map[bool]float64{true: 2, false: 1}[o.Side == stats.TwoSide]
	return min(1, sides*float64(n)*kernelOf(n).within(-y))
}

// removedBeyond takes the critical deviation of a result from the mean of all n, in
// units of their s, to that from the mean of the others, in units of theirs.
func removedBeyond(n int, critical float64) float64 {
	size := float64(n)
	square := critical * critical
	part := (size - 1) / size
	return math.Sqrt(square * (size - 2) / (size - 1) / (part*part - square/size))
}

func (r *riskIntegral) branch(n int) riskBranch {
	t := r.terms
	s, _ := t.scheduleFor("", n) // newCountJudge has asked for it
	b := riskBranch{n: n, screen: math.Inf(1), share: 1}
	if t.Second == nil {
		b.first = t.riskRows(s, t.MaxFactor, nil, r.flat)
	} else {
		b.first = t.riskRows(s, t.MaxFactor, &t.Second.Below, false)
		b.second = t.riskRows(s, lower(&t.Second.Max, t.MaxFactor), nil, false)
	}
	if t.rejectsSingles() {
		b.smallest = newSmallestResult(n)
	}
	return b
}

// fill works out a point.
func (r *riskIntegral) fill(fn string, point *RiskPoint) error {
	e, err := newEstimator(fn, r.o.N, point.Quality)
	if err != nil {
		return err
	}
	c := r.chances(&e)
	point.Samples = c.tests
	switch {
	case r.steps != nil:
		r.fillByIndex(&e, &c, point)
		return nil
	case r.flat:
		return r.fillFlat(fn, &e, point)
	}
	all := &r.branches[len(r.branches)-1]
	var sums riskSums
	for i := range r.branches {
		sums.add(r.over(&r.branches[i], point.Population, &c), 1)
	}
	point.Factor, point.Full, point.Off = sums.factor, min(1, max(0, sums.full)), sums.off
	if r.terms.rejectsSingles() {
		point.Off += all.mostPaid() * outsideBoth(r.terms.Individual.Limits.pair(), point.Population, all.n)
	}
	point.Rejected = min(1, max(0, sums.rejected))
	if !isFinite(point.Factor) {
		return stats.Refuse(fn, "p", "", stats.ErrOverflow)
	}
	return nil
}

// fillFlat takes the estimator's own distribution.
func (r *riskIntegral) fillFlat(fn string, e *Estimator, point *RiskPoint) error {
	rows := &r.branches[0].first
	paid, err := e.pay(fn, rows.schedule(false), r.again)
	if err != nil {
		return err
	}
	full, err := e.pay(fn, rows.schedule(true), r.again)
	if err != nil {
		return err
	}
	point.Factor, point.Rejected, point.Full, point.Off = paid.Factor, paid.Rejected, min(1, max(0, full.Factor)), rows.off
	return nil
}

// over integrates one branch.
func (r *riskIntegral) over(b *riskBranch, population Population, c *chances) riskSums {
	e, _ := newEstimator("", b.n, Quality{}) // for the density of the spread
	p := planIntegral{estimator: e}
	p.look(b, &b.first, r.terms.Limits.pair(), population, c.rule)
	if r.terms.Second != nil {
		p.look(b, &b.second, r.terms.Second.Limits.pair(), population, Retesting{})
	}
	if b.smallest != nil {
		p.results = resultLimits(r.terms.Individual.Limits.pair(), population, b)
	}
	if b.removed > 0 { // a few of the places where Φ(m-D·w) goes from a half to 0
		for _, far := range []float64{0.25, 1, 4, 16} {
			p.spreads = append(p.spreads, far/b.removed)
		}
	}
	p.effect = func(m, w float64) riskSums { return r.effect(&p, b, m, w, c) }
	return p.sum()
}

// look adds an estimate and the places where the rows over it change.
func (p *planIntegral) look(b *riskBranch, rows *riskRows, l *limitPair, population Population, rule Retesting) {
	s := withinSurface{kernel: kernelOf(b.n), n: b.n, lower: math.Inf(-1), upper: math.Inf(1)}
	if l.lower != nil {
		s.lower = (l.lower.float - population.Mean) / population.StdDev
	}
	if l.upper != nil {
		s.upper = (l.upper.float - population.Mean) / population.StdDev
	}
	var levels []estimateLevel
	add := func(x float64) {
		if x > 0 && x < 100 {
			levels = append(levels, s.level(x))
		}
	}
	for i := range rows.rows {
		row := &rows.rows[i]
		add(row.from)
		if row.max < math.MaxFloat64 {
			for _, x := range row.atMax() {
				add(x)
			}
		}
	}
	if rule.samples > 1 {
		add(rule.below)
	}
	p.surfaces, p.levels = append(p.surfaces, s), append(p.levels, levels)
}

func resultLimits(l *limitPair, population Population, b *riskBranch) (rs []resultLimit) {
	for _, one := range []struct {
		limit *limit
		sign  float64
	}{{l.lower, 1}, {l.upper, -1}} {
		if one.limit == nil {
			continue
		}
		at := one.sign * (one.limit.float - population.Mean) / population.StdDev
		places := b.smallest.places(nil)
		if b.screen <= 1 {
			places = append(places, b.screen)
			slices.Sort(places)
		}
		rs = append(rs, resultLimit{at: at, sign: one.sign, smallest: b.smallest, places: places})
	}
	return rs
}

// effect is what happens to samples of mean m and spread w.
func (r *riskIntegral) effect(p *planIntegral, b *riskBranch, m, w float64, c *chances) riskSums {
	share := b.share
	if b.removed > 0 {
		share = b.removal(r.terms.Outlier.Side, m, w)
	}
	good := b.withinSingles(p.results, m, w)
	if b.smallest != nil && b.screen <= 1 && share > 0 {
		good = min(1, good/share)
	}
	percent := p.surfaces[0].percent(m, w)
	row, rows, measure := b.first.row(percent), &b.first, percent
	if row.again {
		measure = p.surfaces[1].percent(m, w)
		row, rows = b.second.row(measure), &b.second
	}
	share *= c.weight(percent)
	factor, rejected := row.at(measure), 0.0
	if row.reject {
		factor, rejected = 0, 1
	}
	sums := riskSums{factor: share * good * factor, rejected: share * (1 - good*(1-rejected)), off: share * rows.off}
	if row.full {
		sums.full = share * good
	}
	return sums
}

// weight returns how often samples of an estimate count among all samples, for
// further ones while the estimate is below a level.
func (c *chances) weight(percent float64) float64 {
	switch {
	case c.rule.samples <= 1 || c.rule.best:
		return 1
	case percent >= c.rule.below:
		return c.tests
	}
	return c.last
}

// removal returns the probability, given mean and spread of the others, that there
// is a result that far beyond; n results could be the one.
func (b *riskBranch) removal(side stats.Side, m, w float64) (p float64) {
	if side != stats.High {
		p += normalBelow(m - b.removed*w)
	}
	if side != stats.Low {
		p += normalBelow(-m - b.removed*w)
	}
	return p * float64(b.n+1)
}

// withinSingles returns the probability, given mean and spread, that no single
// result is outside its limits, and, in a branch with a screen, that the screen
// flags none besides. For two limits that counts lots twice which are outside both;
// [outsideBoth] is how many those are.
func (b *riskBranch) withinSingles(rs []resultLimit, m, w float64) float64 {
	good := 1.0
	for i := range rs {
		one := rs[i].within(m, w)
		if b.screen <= 1 {
			one = min(one, b.smallest.below(b.screen))
		}
		good += one - 1
	}
	return max(0, good)
}

// outsideBoth returns the probability that some of n results are below the lower and
// some above the upper limit, 1 - (1-a)^n - (1-b)^n + (1-a-b)^n.
func outsideBoth(l *limitPair, population Population, n int) float64 {
	q := l.quality(population.Mean, population.StdDev)
	a, b, size := q.Below/100, q.Above/100, float64(n)
	if a+b >= 1 {
		return 1
	}
	return max(0, -math.Expm1(size*math.Log1p(-a))+math.Exp(size*math.Log1p(-b))*math.Expm1(size*math.Log1p(-a/(1-b))))
}

// mostPaid bounds the factor of any lot.
func (b *riskBranch) mostPaid() (most float64) {
	for _, rows := range [][]riskRow{b.first.rows, b.second.rows} {
		for i := range rows {
			row := &rows[i]
			lo, hi := max(0, row.from), end(rows, i)
			most = max(most, math.Abs(row.at(lo)), math.Abs(row.at(hi)))
			if turn := -row.slope / (2 * row.square); turn > lo && turn < hi {
				most = max(most, math.Abs(row.at(turn)))
			}
		}
	}
	return most
}
