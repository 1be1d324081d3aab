package density

import (
	"math/big"

	"github.com/densilot/densilot/units"
)

// BowlMasses are the weighings of a maximum specific gravity test in a bowl that
// hangs in water.
type BowlMasses struct {
	Dry           units.Mass // A, loose mix in air
	BowlInWater   units.Mass // B, empty bowl submerged
	SampleInWater units.Mass // C, bowl and mix submerged, air removed
}

// GmmBowl returns the theoretical maximum specific gravity by weighing in water:
//
//	Gmm = A/(A + B - C)
//
// with B < C < A + B, in any units. The result is an exact quotient, rounded by
// the rule (0.001 is usual). The water is at 25 °C and all air is removed. A mix
// whose aggregate is not fully coated takes up water while the air is drawn off:
// see [GmmBowlDryBack].
//
// Errors are [*stats.InputError] around [units.ErrNotGiven], [ErrImpossibleMass],
// [units.ErrAbsolute], [units.ErrRounding] or [units.ErrRange].
//
// Source: AASHTO T 209, ASTM D2041, bowl method (formula from memory).
func GmmBowl(m BowlMasses, gravity units.Rounding) (Gravity, error) {
	const fn = "density.GmmBowl"
	if err := places(fn, "gravity", gravity); err != nil {
		return Gravity{}, err
	}
	g, err := bowlGrams(fn, m)
	if err != nil {
		return Gravity{}, err
	}
	a, b, c := g[0], g[1], g[2]
	v := new(big.Rat).Add(a, b)
	v.Sub(v, c)
	out := Gravity{}
	gmm := out.step("Gmm", "A/(A + B - C)", numbersOf("%s/(%s + %s - %s)", a, a, b, c), new(big.Rat).Quo(a, v), gravity, "")
	return out.complete(fn, gmm)
}

// bowlGrams returns the masses A, B and C of a sample that sinks and has a volume.
func bowlGrams(fn string, m BowlMasses) ([]*big.Rat, error) {
	g, err := grams(fn, namedMass{"m.Dry", m.Dry}, namedMass{"m.BowlInWater", m.BowlInWater}, namedMass{"m.SampleInWater", m.SampleInWater})
	if err != nil {
		return nil, err
	}
	inWater := new(big.Rat).Sub(g[2], g[1])
	if inWater.Sign() <= 0 || inWater.Cmp(g[0]) >= 0 {
		return nil, impossible(fn, "m.SampleInWater", m.SampleInWater, "is not between those of the bowl and of bowl and dry mix")
	}
	return g, nil
}
