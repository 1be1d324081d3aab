package lot

import (
	"fmt"
	"math/big"
	"strings"

	"github.com/densilot/densilot/units"
)

// side is what one limit contributes.
type side struct {
	q, within  Number
	beyond     real // fraction beyond the limit, by the formula
	usedBeyond real // the same as the plan reads it
}

func (j judgement) sideOf(name, formula string, distance *big.Rat, s root, sText string, n int, w *working) side {
	q := rootOf(distance).over(s)
	exact := q.real()
	used, usedReal := q.apply(exact, j.rounding.Q)
	y := toY(used, n)
	beyond := fractionBelow(y.negative(), n)
	out := side{q: number(exact, usedReal, j.rounding.Q), beyond: beyond, usedBeyond: beyond}
	w.add(units.Step{What: "Q_" + name, Formula: "(" + formula + ")/s", Numbers: units.ExactText(distance) + "/" + sText,
		Value: textOf(exact), Rounded: out.q.Used, Rounding: j.rounding.Q.Rule()})
	within := beyond.linear(hundred, minusHundred)
	if j.estimator.Method == TableWithin {
		row := int64(j.estimator.Table.row(used, n))
		out.usedBeyond = rational(big.NewRat(100-row, 100))
		out.within = Number{within.float(), fmt.Sprint(row)}
		w.add(units.Step{What: "PWL_" + name, Formula: fmt.Sprintf("table for n = %d, next higher row, cells %s", n, j.estimator.Table.Cell), Value: out.within.Used})
		return out
	}
	out.within = number(within, within, units.Rounding{Method: units.Absolute})
	w.addSide(name, n, out, y)
	return out
}

// addSide notes y, which the closed forms are written in, and the percentage.
func (w *working) addSide(name string, n int, s side, y root) {
	if w == nil {
		return
	}
	yText := textOf(y.real())
	w.add(units.Step{What: "y_" + name, Formula: fmt.Sprintf("Q_%s·√n/(n - 1)", name), Numbers: fmt.Sprintf("%s·√%d/%d", s.q.Used, n, n-1), Value: yText})
	formula, numbers := "", ""
	switch {
	case y.square.Cmp(big.NewRat(1, 1)) < 0:
		formula = closedForm(n)
		numbers = inserted(formula, yText)
	case y.sign > 0:
		formula = "100 because y is at least 1"
	default:
		formula = "0 because y is at most -1"
	}
	w.add(units.Step{What: "PWL_" + name, Formula: formula, Numbers: numbers, Value: s.within.Used})
}

// inserted writes a number in the place of y, in parentheses where its sign or a square
// needs them.
func inserted(formula, y string) string {
	alone, enclosed := y, "("+y+")"
	if strings.HasPrefix(y, "-") {
		alone = enclosed
	}
	return strings.NewReplacer("(y)", enclosed, "y²", enclosed+"²", "y", alone).Replace(formula)
}

// closedForm writes the estimate for n results in y. From 9 results on the form is
// too long for a line and the incomplete beta function stands for it.
func closedForm(n int) string {
	switch n {
	case 3:
		return "50 + 100/π·asin(y)"
	case 4:
		return "50 + 50·y"
	case 5:
		return "50 + 100/π·(asin(y) + y·√(1 - y²))"
	case 6:
		return "50 + 50·y·(1 + (1 - y²)/2)"
	case 7:
		return "50 + 100/π·(asin(y) + y·√(1 - y²)·(1 + 2/3·(1 - y²)))"
	case 8:
		return "50 + 50·y·(1 + (1 - y²)/2 + 3/8·(1 - y²)²)"
	}
	return fmt.Sprintf("100·I_x(%g, %g) at x = (1 + y)/2", float64(n)/2-1, float64(n)/2-1)
}

// apply rounds r by a rule; absolute leaves it.
func (r real) apply(rule units.Rounding) real {
	if rule.Method == units.Absolute {
		return r
	}
	return rational(r.round(rule))
}

// apply rounds a root, which is known as a real too, by a rule; absolute leaves both.
func (r root) apply(x real, rule units.Rounding) (root, real) {
	if rule.Method == units.Absolute {
		return r, x
	}
	rounded := x.round(rule)
	return rootOf(rounded), rational(rounded)
}

// number describes a number before and after rounding.
func number(exact, used real, rule units.Rounding) Number {
	n := Number{Exact: exact.float(), Used: textOf(used)}
	if rule.Method != units.Absolute {
		n.Used = used.exact.FloatString(max(0, rule.Places))
	}
	return n
}
