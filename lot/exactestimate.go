package lot

import (
	"errors"
	"fmt"
	"math/big"
	"strings"

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

// exactEstimate is the estimate with its numbers still exact.
type exactEstimate struct {
	mean, stdDev Number
	ql, qu       *Number
	lower, upper *Number
	pwl          real // as used further
	pwlNumber    Number
	constant     bool
	atLimit      bool
}

// estimateExact is EstimateWithin in exact arithmetic, with the rounding of a
// plan. values are at least 3.
func estimateExact(fn string, values []*big.Rat, limits Limits, r RoundingPolicy, w *working) (exactEstimate, error) {
	l := limits.pair()
	mean, variance := momentsOf(values)
	e := exactEstimate{constant: variance.Sign() == 0}
	usedMean := rational(mean).apply(r.Mean)
	e.mean = number(rational(mean), usedMean, r.Mean)
	w.add(units.Step{What: "mean", Formula: "Σx/n", Numbers: sumText(values), Value: units.ExactText(mean), Rounded: e.mean.Used, Rounding: r.Mean.Rule()})
	s := root{sign: variance.Sign(), square: variance}
	usedS := s.apply(r.StdDev)
	e.stdDev = number(s.real(), usedS.real(), r.StdDev)
	w.add(units.Step{What: "standard deviation", Formula: "√(Σ(x - mean)²/(n - 1))", Numbers: fmt.Sprintf("√(%s/%d)", units.ExactText(new(big.Rat).Mul(variance, big.NewRat(int64(len(values)-1), 1))), len(values)-1),
		Value: textOf(s.real()), Rounded: e.stdDev.Used, Rounding: r.StdDev.Rule()})
	if e.constant {
		e.ofConstant(values[0], l, r, w)
		return e, nil
	}
	if usedS.sign == 0 {
		return exactEstimate{}, refuse(fn, "standard deviation", textOf(s.real()), ErrRoundedAway)
	}
	e.ofSpread(usedMean.exact, usedS, len(values), l, r, w)
	return e, nil
}

// ofConstant compares the one value with the limits, so that no rounding of a
// mean can put it on the wrong side.
func (e *exactEstimate) ofConstant(x *big.Rat, l *limitPair, r RoundingPolicy, w *working) {
	pwl := integer(0)
	if l.contains(x) {
		pwl = integer(100)
	}
	e.atLimit = l.lower != nil && x.Cmp(l.lower.exact) == 0 || l.upper != nil && x.Cmp(l.upper.exact) == 0
	e.finish(pwl, r, w, "all results are equal and "+map[bool]string{true: "within", false: "outside"}[pwl.exact.Sign() > 0]+" the limits ("+Limits{l}.String()+")", "")
}

// ofSpread takes off the tail beyond each limit.
func (e *exactEstimate) ofSpread(mean *big.Rat, s root, n int, l *limitPair, r RoundingPolicy, w *working) {
	beyond := integer(0)
	var names, numbers []string
	if l.lower != nil {
		side := sideOf("L", "mean - L", new(big.Rat).Sub(mean, l.lower.exact), s, n, r, w)
		e.ql, e.lower = &side.q, &side.within
		beyond = beyond.plus(side.beyond)
		names, numbers = append(names, "PWL_L"), append(numbers, side.within.Used)
	}
	if l.upper != nil {
		side := sideOf("U", "U - mean", new(big.Rat).Sub(l.upper.exact, mean), s, n, r, w)
		e.qu, e.upper = &side.q, &side.within
		beyond = beyond.plus(side.beyond)
		names, numbers = append(names, "PWL_U"), append(numbers, side.within.Used)
	}
	formula := strings.Join(names, " + ")
	if len(names) == 2 {
		formula += " - 100"
		numbers = []string{numbers[0], "+", numbers[1], "- 100"}
	}
	e.finish(beyond.linear(big.NewRat(100, 1), big.NewRat(-100, 1)), r, w, formula, strings.Join(numbers, " "))
}

func (e *exactEstimate) finish(pwl real, r RoundingPolicy, w *working, formula, numbers string) {
	e.pwl = pwl.apply(r.PWL)
	e.pwlNumber = number(pwl, e.pwl, r.PWL)
	w.add(units.Step{What: "percent within limits", Formula: formula, Numbers: numbers, Value: textOf(pwl), Rounded: e.pwlNumber.Used, Rounding: r.PWL.Rule()})
}

// side is what one limit contributes.
type side struct {
	q, within Number
	beyond    real // fraction beyond the limit
}

func sideOf(name, formula string, distance *big.Rat, s root, n int, r RoundingPolicy, w *working) side {
	q := rootOf(distance).over(s)
	used := q.apply(r.Q)
	y := root{used.sign, new(big.Rat).Mul(used.square, big.NewRat(int64(n), int64(n-1)*int64(n-1)))}
	out := side{q: number(q.real(), used.real(), r.Q), beyond: fractionBelow(y.negative(), n)}
	w.add(units.Step{What: "Q_" + name, Formula: "(" + formula + ")/s", Numbers: fmt.Sprintf("%s/%s", units.ExactText(distance), textOf(s.real())),
		Value: textOf(q.real()), Rounded: out.q.Used, Rounding: r.Q.Rule()})
	within := out.beyond.linear(big.NewRat(100, 1), big.NewRat(-100, 1))
	out.within = number(within, within, units.Rounding{Method: units.Absolute})
	w.addSide(name, n, out, y)
	return out
}

// addSide notes y, which the closed forms are written in, and the percentage.
func (w *working) addSide(name string, n int, s side, y root) {
	yText := textOf(y.real())
	w.add(units.Step{What: "y_" + name, Formula: fmt.Sprintf("Q_%s·√n/(n - 1)", name), Numbers: fmt.Sprintf("%s·√%d/%d", s.q.Used, n, n-1), Value: yText})
	formula, numbers := "", ""
	switch {
	case y.square.Cmp(big.NewRat(1, 1)) < 0:
		formula = closedForm(n)
		numbers = strings.ReplaceAll(formula, "y", yText)
	case y.sign > 0:
		formula = "100 because y is at least 1"
	default:
		formula = "0 because y is at most -1"
	}
	w.add(units.Step{What: "PWL_" + name, Formula: formula, Numbers: numbers, Value: s.within.Used})
}

// closedForm writes the estimate for n results in y. From 9 results on the form is
// too long for a line and the incomplete beta function stands for it.
func closedForm(n int) string {
	switch n {
	case 3:
		return "50 + 100/π·asin(y)"
	case 4:
		return "50 + 50·(y)"
	case 5:
		return "50 + 100/π·(asin(y) + (y)·√(1 - (y)²))"
	case 6:
		return "50 + 50·(y)·(1 + (1 - (y)²)/2)"
	case 7:
		return "50 + 100/π·(asin(y) + (y)·√(1 - (y)²)·(1 + 2/3·(1 - (y)²)))"
	case 8:
		return "50 + 50·(y)·(1 + (1 - (y)²)/2 + 3/8·(1 - (y)²)²)"
	}
	return fmt.Sprintf("100·I_x(%g, %g) at x = (1 + (y))/2", float64(n)/2-1, float64(n)/2-1)
}

// apply rounds r by a rule; absolute leaves it.
func (r real) apply(rule units.Rounding) real {
	if rule.Method == units.Absolute {
		return r
	}
	return rational(r.round(rule))
}

// apply rounds a root by a rule; absolute leaves it.
func (r root) apply(rule units.Rounding) root {
	if rule.Method == units.Absolute {
		return r
	}
	return rootOf(r.real().round(rule))
}

// number describes a number before and after rounding.
func number(exact, used real, rule units.Rounding) Number {
	n := Number{Exact: exact.float(), Used: textOf(used)}
	if rule.Method != units.Absolute {
		n.Used = used.exact.FloatString(max(0, rule.Places))
	}
	return n
}

// momentsOf returns the mean and the variance (divisor n-1). It counts in whole
// numbers of the smallest step that all values are multiples of, so that common
// factors are looked for twice and not at every sum.
func momentsOf(values []*big.Rat) (mean, variance *big.Rat) {
	step := big.NewInt(1)
	for _, v := range values {
		step = leastMultiple(step, v.Denom())
	}
	sum, squares, x := new(big.Int), new(big.Int), new(big.Int)
	for _, v := range values {
		x.Mul(v.Num(), x.Quo(step, v.Denom()))
		sum.Add(sum, x)
		squares.Add(squares, x.Mul(x, x))
	}
	n := big.NewInt(int64(len(values)))
	mean = new(big.Rat).SetFrac(sum, new(big.Int).Mul(n, step))
	if len(values) < 2 {
		return mean, new(big.Rat)
	}
	squares.Sub(squares.Mul(squares, n), sum.Mul(sum, sum))
	step.Mul(step, step).Mul(step, n).Mul(step, big.NewInt(int64(len(values)-1)))
	return mean, new(big.Rat).SetFrac(squares, step)
}

// leastMultiple returns the least common multiple of a and b.
func leastMultiple(a, b *big.Int) *big.Int {
	if new(big.Int).Rem(a, b).Sign() == 0 {
		return a
	}
	common := new(big.Int).GCD(nil, nil, a, b)
	return common.Mul(b, common.Quo(a, common))
}

func sumText(values []*big.Rat) string {
	if len(values) > 12 {
		return fmt.Sprintf("sum of %d results/%d", len(values), len(values))
	}
	var all []string
	for _, v := range values {
		all = append(all, units.ExactText(v))
	}
	return fmt.Sprintf("(%s)/%d", strings.Join(all, " + "), len(values))
}
