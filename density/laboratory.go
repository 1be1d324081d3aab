package density

import (
	"errors"
	"fmt"
	"math/big"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// ErrImpossibleMass is the reason for refusing masses that no specimen has.
var ErrImpossibleMass = errors.New("impossible mass")

// Codes of the warnings that the laboratory methods give.
const (
	WarnAbsorption stats.WarningCode = "absorption"  // too much water for the surface-dry volume to be trusted
	WarnMassChange stats.WarningCode = "mass-change" // a sealed specimen came out with another mass
)

// Gravity is a specific gravity with the working that leads to it.
type Gravity struct {
	Value    units.SpecificGravity // as rounded
	Working  []units.Step
	Warnings []stats.Warning
}

// BulkGravity is a bulk specific gravity Gmb and the water that the specimen
// absorbed.
type BulkGravity struct {
	Gravity
	Absorption decimal.Decimal // percent by volume, as rounded
}

// maxAbsorption is the percentage by volume beyond which the surface-dry method
// does not hold.
const maxAbsorption = 2

// volume is an exact volume in grams of water, with the formula it comes of.
type volume struct {
	exact            *big.Rat
	formula, numbers string // "B - C" and "1529.4 - 885.7"
}

// bulk finishes the methods that weigh the specimen dry and surface-dry:
//
//	Gmb = A/volume,   absorption = 100 · (B - A)/volume
func bulk(fn string, a, b *big.Rat, v volume, gravity, absorption units.Rounding) (BulkGravity, error) {
	out := BulkGravity{}
	gmb := out.step("Gmb", "A/("+v.formula+")", units.ExactText(a)+"/("+v.numbers+")", new(big.Rat).Quo(a, v.exact), gravity, "")
	percent := percentOf(new(big.Rat).Sub(b, a), v.exact)
	absorbed := out.step("absorption", "100·(B - A)/("+v.formula+")",
		fmt.Sprintf("100 x (%s - %s)/(%s)", units.ExactText(b), units.ExactText(a), v.numbers), percent, absorption, " %")
	out.Absorption = toDecimal(absorbed, absorption)
	if percent.Cmp(big.NewRat(maxAbsorption, 1)) > 0 {
		out.Warnings = append(out.Warnings, stats.Warning{Code: WarnAbsorption, Text: fmt.Sprintf(
			"absorption %s %% is more than %d %%; measure the volume with a paraffin coating (AASHTO T 275) or vacuum sealing (AASHTO T 331)",
			units.ExactText(percent), maxAbsorption)})
	}
	complete, err := out.complete(fn, gmb)
	if err != nil {
		return BulkGravity{}, err
	}
	out.Gravity = complete
	return out, nil
}

// complete sets the value, which must be more than 0 as rounded and fit a number.
func (g Gravity) complete(fn string, x *big.Rat) (Gravity, error) {
	f, _ := x.Float64()
	g.Value = units.SpecificGravityOf(f)
	if g.Value.Float64() <= 0 {
		return Gravity{}, stats.Refuse(fn, "m", "", fmt.Errorf("%w: the specific gravity is nothing, or more than a number can hold", ErrImpossibleMass))
	}
	return g, nil
}

// step rounds by a rule that is valid and notes the working.
func (g *Gravity) step(what, formula, numbers string, x *big.Rat, r units.Rounding, unit string) *big.Rat {
	rounded, _ := r.Rat(x)
	g.Working = append(g.Working, units.Step{What: what, Formula: formula, Numbers: numbers, Value: units.ExactText(x) + unit,
		Rounded: fixed(rounded, r) + unit, Rounding: r.Rule()})
	return rounded
}

type namedMass struct {
	name string
	mass units.Mass
}

// grams checks masses and returns them exactly in grams.
func grams(fn string, ms ...namedMass) ([]*big.Rat, error) {
	var out []*big.Rat
	for _, m := range ms {
		x := m.mass.Exact(units.Gram)
		switch {
		case x == nil:
			return nil, stats.Refuse(fn, m.name, "", units.ErrNotGiven)
		case x.Sign() <= 0:
			return nil, stats.Refuse(fn, m.name, m.mass.String(), fmt.Errorf("%w: a mass must be more than 0", ErrImpossibleMass))
		}
		out = append(out, x)
	}
	return out, nil
}

// gravityGiven refuses a specific gravity that is missing or not positive.
func gravityGiven(fn, arg string, g units.SpecificGravity) error {
	switch {
	case g.IsZero():
		return stats.Refuse(fn, arg, "", units.ErrNotGiven)
	case g.Float64() <= 0:
		return stats.Refuse(fn, arg, g.String(), ErrNotPositive)
	}
	return nil
}

// checkExponent refuses a decimal that would fill the memory when it is printed or
// compared.
func checkExponent(x decimal.Decimal) error {
	_, err := units.Rounding{Method: units.Absolute}.Decimal(x)
	return err
}

// notNegative refuses a decimal below 0 or with an absurd exponent.
func notNegative(fn, arg string, x decimal.Decimal) error {
	if err := checkExponent(x); err != nil {
		return stats.Refuse(fn, arg, "", err)
	}
	if x.IsNegative() {
		return stats.Refuse(fn, arg, x.String(), units.ErrRange)
	}
	return nil
}

func impossible(fn, arg string, m units.Mass, why string) error {
	return stats.Refuse(fn, arg, m.String(), fmt.Errorf("%w: %s", ErrImpossibleMass, why))
}

// places checks a rule that must name a number of places.
func places(fn, arg string, r units.Rounding) error {
	if err := r.ValidatePlaces(); err != nil {
		return stats.Refuse(fn, arg, "", err)
	}
	return nil
}

// numbersOf writes masses into a formula, each %s one of them.
func numbersOf(format string, xs ...*big.Rat) string {
	var texts []any
	for _, x := range xs {
		texts = append(texts, units.ExactText(x))
	}
	return fmt.Sprintf(format, texts...)
}
