package lot

import (
	"errors"
	"fmt"
	"math/big"
	"strings"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// ErrRoundedAway is the reason for refusing a lot whose standard deviation the
// plan rounds to 0 although the results differ.
var ErrRoundedAway = errors.New("the rounding of the standard deviation leaves no spread; keep more places")

// working collects the steps; a nil working takes none.
type working struct{ steps []units.Step }

func (w *working) add(s units.Step) {
	if w != nil {
		w.steps = append(w.steps, s)
	}
}

// judgement is what an estimate needs of a plan.
type judgement struct {
	fn        string // for errors
	limits    *limitPair
	estimator Estimation
	rounding  RoundingPolicy
}

func (t *Terms) judgement(fn string) judgement {
	return judgement{fn, t.Limits.pair(), t.Estimation, t.Rounding}
}

// exactEstimate is the estimate with its numbers still exact.
type exactEstimate struct {
	mean, stdDev Number
	ql, qu       *Number
	lower, upper *Number
	measure      real // as used further
	number       Number
	constant     bool
	atLimit      bool
}

// estimate works out the measure of a sample, which has as many values as the
// estimator needs.
func (j judgement) estimate(x sample, w *working) (exactEstimate, error) {
	mean, variance := x.moments()
	e := exactEstimate{constant: variance.Sign() == 0}
	usedMean := rational(mean).apply(j.rounding.Mean)
	e.mean = number(rational(mean), usedMean, j.rounding.Mean)
	if w != nil {
		step := x.meanStep()
		step.Value, step.Rounded, step.Rounding = units.ExactText(mean), e.mean.Used, j.rounding.Mean.Rule()
		w.add(step)
	}
	switch j.estimator.Method {
	case MeanDeviation:
		j.deviation(&e, x, w)
		return e, nil
	case AverageWithin:
		j.averages(&e, x.values, w)
		return e, nil
	}
	usedS, err := j.spread(&e, x, mean, variance, w)
	if err != nil {
		return exactEstimate{}, err
	}
	if e.constant {
		j.ofConstant(&e, x.values[0], w)
		return e, nil
	}
	j.ofSpread(&e, usedMean.exact, usedS, len(x.values), w)
	return e, nil
}

// spread works out the standard deviation.
func (j judgement) spread(e *exactEstimate, x sample, mean, variance *big.Rat, w *working) (root, error) {
	s, step := root{variance.Sign(), variance}, units.Step{}
	if j.estimator.Method == RangeWithin {
		var err error
		if s, step, err = j.ofRanges(x.values); err != nil {
			return root{}, err
		}
	} else if w != nil {
		step = x.spreadStep(mean, variance)
	}
	exact := s.real()
	used, usedReal := s.apply(exact, j.rounding.StdDev)
	e.stdDev = number(exact, usedReal, j.rounding.StdDev)
	step.Value, step.Rounded, step.Rounding = textOf(exact), e.stdDev.Used, j.rounding.StdDev.Rule()
	w.add(step)
	switch {
	case e.constant || used.sign > 0:
		return used, nil
	case s.sign == 0:
		return root{}, stats.Refuse(j.fn, "l.Results", "", ErrNoRange)
	}
	return root{}, stats.Refuse(j.fn, "standard deviation", textOf(exact), ErrRoundedAway)
}

// ofConstant compares the one value with the limits, so that no rounding of a
// mean can put it on the wrong side.
func (j judgement) ofConstant(e *exactEstimate, x *big.Rat, w *working) {
	l := j.limits
	pwl, where := integer(0), "outside"
	if l.contains(x) {
		pwl, where = integer(100), "within"
	}
	e.atLimit = l.lower != nil && x.Cmp(l.lower.exact) == 0 || l.upper != nil && x.Cmp(l.upper.exact) == 0
	j.finish(e, pwl, pwl, units.Step{What: "percent within limits", Formula: "all results are equal and " + where + " the limits (" + Limits{l}.String() + ")"}, w)
}

// ofSpread takes off the tail beyond each limit.
func (j judgement) ofSpread(e *exactEstimate, mean *big.Rat, s root, n int, w *working) {
	var sides []side
	var names, numbers []string
	if l := j.limits.lower; l != nil {
		side := j.sideOf("L", "mean - L", new(big.Rat).Sub(mean, l.exact), s, e.stdDev.Used, n, w)
		e.ql, e.lower = &side.q, &side.within
		sides, names, numbers = append(sides, side), append(names, "PWL_L"), append(numbers, side.within.Used)
	}
	if u := j.limits.upper; u != nil {
		side := j.sideOf("U", "U - mean", new(big.Rat).Sub(u.exact, mean), s, e.stdDev.Used, n, w)
		e.qu, e.upper = &side.q, &side.within
		sides, names, numbers = append(sides, side), append(names, "PWL_U"), append(numbers, side.within.Used)
	}
	beyond, usedBeyond := sides[0].beyond, sides[0].usedBeyond
	formula := names[0]
	if len(sides) == 2 {
		beyond, usedBeyond = beyond.plus(sides[1].beyond), usedBeyond.plus(sides[1].usedBeyond)
		formula += " + " + names[1] + " - 100"
		numbers = []string{numbers[0], "+", numbers[1], "- 100"}
	}
	exact := percentLess(beyond)
	used := exact
	if j.estimator.Method == TableWithin {
		used = percentLess(usedBeyond)
	}
	j.finish(e, exact, used, units.Step{What: "percent within limits", Formula: formula, Numbers: strings.Join(numbers, " ")}, w)
}

var hundred, minusHundred = big.NewRat(100, 1), big.NewRat(-100, 1)

// percentLess returns 100·(1 - x), at least 0: with a table whose indices are
// rounded, or with a rounded mean, the tails may add up to more than all.
func percentLess(x real) real {
	if x.compare(big.NewRat(1, 1)) >= 0 {
		return integer(0)
	}
	return x.linear(hundred, minusHundred)
}

// finish rounds the measure. exact is what the formula gives, used what the method
// of the plan makes of it before rounding.
func (j judgement) finish(e *exactEstimate, exact, used real, step units.Step, w *working) {
	e.measure = used.apply(j.rounding.Measure)
	e.number = number(exact, e.measure, j.rounding.Measure)
	step.Value, step.Rounded, step.Rounding = textOf(used), e.number.Used, j.rounding.Measure.Rule()
	w.add(step)
}

func sumText(values []*big.Rat) string {
	if len(values) > 12 {
		return fmt.Sprintf("sum of %d results/%d", len(values), len(values))
	}
	return fmt.Sprintf("(%s)/%d", strings.Join(inColumn(values), " + "), len(values))
}

// inColumn writes decimal numbers with as many places each, 93.0 beside 92.4, as they
// stand in a record.
func inColumn(values []*big.Rat) []string {
	places := 0
	for _, v := range values {
		n, _ := v.FloatPrec()
		places = max(places, n)
	}
	all := make([]string, len(values))
	for i, v := range values {
		all[i] = v.FloatString(places)
	}
	return all
}
