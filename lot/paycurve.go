package lot

import (
	"math/big"
	"strings"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Curve is a pay factor as a function of a quality measure x,
//
//	factor = c0 + c1·x + c2·x²
//
// with 1 for full pay. The zero value pays nothing. It is exact: a line through
// two points keeps a slope that no decimal holds. Make one with [Step],
// [Formula], [Through] or [Quadratic].
type Curve struct {
	recorded []decimal.Decimal // the coefficients, or two points one after the other
	through  bool              // recorded holds points
	exact    []*big.Rat        // the coefficients, at least one
	bad      bool              // made of a number with too many digits
}

// Step returns a factor that does not depend on the measure.
func Step(factor decimal.Decimal) Curve { return curveOf(factor) }

// Formula returns intercept + slope·x as contracts print it, such as
// 0.55 + 0.005·PWL.
func Formula(intercept, slope decimal.Decimal) Curve { return curveOf(intercept, slope) }

// Quadratic returns c0 + c1·x + c2·x². Where a contract writes the formula in
// x/100, c1.Shift(-2) and c2.Shift(-4) are its coefficients exactly.
func Quadratic(c0, c1, c2 decimal.Decimal) Curve { return curveOf(c0, c1, c2) }

func curveOf(coefficients ...decimal.Decimal) Curve {
	c := Curve{recorded: coefficients}
	for _, x := range coefficients {
		if !fewDigits(x) {
			return Curve{bad: true} // NewSchedule says so
		}
		c.exact = append(c.exact, x.Rat())
	}
	return c
}

// Through returns the straight line through two break points (x, factor). Equal
// or falling x make no line; the error wraps [ErrOrder], or [ErrDigits].
func Through(x1, factor1, x2, factor2 decimal.Decimal) (Curve, error) {
	if !fewDigits(x1) || !fewDigits(x2) || !fewDigits(factor1) || !fewDigits(factor2) {
		return Curve{}, stats.Refuse("lot.Through", "points", "", ErrDigits)
	}
	if !x1.LessThan(x2) {
		return Curve{}, stats.Refuse("lot.Through", "x2", x2.String(), ErrOrder)
	}
	slope := new(big.Rat).Quo(factor2.Sub(factor1).Rat(), x2.Sub(x1).Rat())
	intercept := new(big.Rat).Sub(factor1.Rat(), new(big.Rat).Mul(slope, x1.Rat()))
	return Curve{recorded: []decimal.Decimal{x1, factor1, x2, factor2}, through: true, exact: []*big.Rat{intercept, slope}}, nil
}

// coefficients returns those of 1, x and x², as many as matter; 0 for the zero
// value.
func (c Curve) coefficients() []*big.Rat {
	for n := len(c.exact); n > 0; n-- {
		if c.exact[n-1].Sign() != 0 || n == 1 {
			return c.exact[:n]
		}
	}
	return []*big.Rat{new(big.Rat)}
}

// of returns the factor at a measure.
func (c Curve) of(x real) real { return x.polynomial(c.coefficients()) }

// String returns the formula, such as "0.55 + 0.005·x".
func (c Curve) String() string { return c.in("x") }

// in writes the formula with its variable named or put in.
func (c Curve) in(x string) string {
	var b strings.Builder
	for k, a := range c.coefficients() {
		if k == 0 {
			b.WriteString(units.ExactText(a))
			continue
		}
		b.WriteString([]string{" - ", " + ", " + "}[a.Sign()+1])
		b.WriteString(units.ExactText(new(big.Rat).Abs(a)) + "·" + x + []string{"", "", "²"}[k])
	}
	return b.String()
}
