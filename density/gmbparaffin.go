package density

import (
	"math/big"

	"github.com/densilot/densilot/units"
)

// CoatedMasses are the weighings of a specimen that was coated to keep the water
// out, and the specific gravity of the coating.
type CoatedMasses struct {
	Dry           units.Mass            // A, in air, bare
	Coated        units.Mass            // D, in air, with its coating
	CoatedInWater units.Mass            // E, submerged, with its coating
	Coating       units.SpecificGravity // F, of the coating at 25 °C
}

// GmbParaffin returns the bulk specific gravity of a compacted specimen with a
// coating of paraffin or a film, for specimens with open or connected voids or
// more than 2 % absorption:
//
//	Gmb = A/(D - E - (D - A)/F)
//
// with masses A < D and E < D, in any units; what is left of the volume after the
// coating must be more than 0. The result is an exact quotient, rounded by the
// rule (0.001 is usual). It assumes water at 25 °C and a coating without gaps or
// bubbles; F is measured on the coating in use.
//
// Errors are [*stats.InputError] around [units.ErrNotGiven], [ErrNotPositive],
// [ErrImpossibleMass], [units.ErrAbsolute], [units.ErrRounding] or [units.ErrRange].
//
// Source: AASHTO T 275, ASTM D1188 (formula from memory).
func GmbParaffin(m CoatedMasses, gravity units.Rounding) (Gravity, error) {
	const fn = "density.GmbParaffin"
	if err := places(fn, "gravity", gravity); err != nil {
		return Gravity{}, err
	}
	g, err := grams(fn, namedMass{"m.Dry", m.Dry}, namedMass{"m.Coated", m.Coated}, namedMass{"m.CoatedInWater", m.CoatedInWater})
	if err != nil {
		return Gravity{}, err
	}
	if err := gravityGiven(fn, "m.Coating", m.Coating); err != nil {
		return Gravity{}, err
	}
	a, d, e, f := g[0], g[1], g[2], m.Coating.Exact()
	if d.Cmp(a) <= 0 {
		return Gravity{}, impossible(fn, "m.Coated", m.Coated, "is not above the dry mass, so there is no coating")
	}
	coating := new(big.Rat).Sub(d, a)
	v := new(big.Rat).Sub(d, e)
	if v.Sub(v, coating.Quo(coating, f)).Sign() <= 0 {
		return Gravity{}, impossible(fn, "m.CoatedInWater", m.CoatedInWater, "leaves the specimen no volume beside its coating")
	}
	out := Gravity{}
	gmb := out.step("Gmb", "A/(D - E - (D - A)/F)", numbersOf("%s/(%s - %s - (%s - %s)/%s)", a, d, e, d, a, f), new(big.Rat).Quo(a, v), gravity, "")
	return out.complete(fn, gmb)
}
