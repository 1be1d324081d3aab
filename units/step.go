package units

import (
	"math/big"

	"github.com/shopspring/decimal"
)

// Step is one line of a calculation as a person would write it on paper, so that
// a result can be redone by hand.
type Step struct {
	What     string // the quantity, such as "mean"
	Formula  string // in symbols, such as "Σx/n"
	Numbers  string // the formula with numbers put in
	Value    string // the result before rounding
	Rounded  string // the result as used, equal to Value where nothing is rounded
	Rounding string // the rule, such as "half-even to 0.01"; "" where none applies
}

// String returns the step in one line.
func (s Step) String() string {
	line := s.What
	last := ""
	for _, part := range []string{s.Formula, s.Numbers, s.Value} {
		if part != "" && part != last {
			line += " = " + part
			last = part
		}
	}
	if s.Rounded != s.Value && s.Rounded != "" {
		line += " → " + s.Rounded
	}
	if s.Rounding != "" {
		line += " (" + s.Rounding + ")"
	}
	return line
}

// ExactText writes an exact number for a working: all digits of a decimal that
// ends within 9 places, otherwise the first 9 places, cut and not rounded, and a mark
// that there is more. It is "" for nil.
func ExactText(x *big.Rat) string {
	const places, scale = 9, 1_000_000_000
	if x == nil {
		return ""
	}
	scaled := new(big.Int).Mul(x.Num(), big.NewInt(scale))
	whole, rest := scaled.QuoRem(scaled, x.Denom(), new(big.Int))
	steps := decimal.NewFromBigInt(whole, -places)
	switch {
	case rest.Sign() == 0:
		return steps.String()
	case whole.Sign() == 0 && x.Sign() < 0:
		return "-" + steps.StringFixed(places) + "…"
	}
	return steps.StringFixed(places) + "…"
}
