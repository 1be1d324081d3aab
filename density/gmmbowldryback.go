package density

import (
	"math/big"

	"github.com/densilot/densilot/units"
)

// GmmBowlDryBack returns the theoretical maximum specific gravity by weighing in
// water, for a mix whose particles took up water under vacuum:
//
//	Gmm = A/(A2 + B - C)
//
// where A2 is the mass in air after the mix was dried back to a surface-dry state,
// A ≤ A2 < A + C - B, in any units. The result is an exact quotient, rounded by
// the rule (0.001 is usual). Where A2 is A it is that of [GmmBowl], and otherwise
// it is less. The errors are those of [GmmBowl].
//
// Source: AASHTO T 209, ASTM D2041, supplemental procedure for mixtures with
// porous aggregate, bowl (formula A/(A2 - (C - B)) from memory).
func GmmBowlDryBack(m BowlMasses, surfaceDry units.Mass, gravity units.Rounding) (Gravity, error) {
	const fn = "density.GmmBowlDryBack"
	if err := places(fn, "gravity", gravity); err != nil {
		return Gravity{}, err
	}
	g, err := bowlGrams(fn, m)
	if err != nil {
		return Gravity{}, err
	}
	a, b, c := g[0], g[1], g[2]
	a2, err := driedBack(fn, surfaceDry, a, new(big.Rat).Sub(c, b))
	if err != nil {
		return Gravity{}, err
	}
	v := new(big.Rat).Add(a2, b)
	v.Sub(v, c)
	out := Gravity{}
	gmm := out.step("Gmm", "A/(A2 + B - C)", numbersOf("%s/(%s + %s - %s)", a, a2, b, c), new(big.Rat).Quo(a, v), gravity, "")
	return out.complete(fn, gmm)
}

// driedBack returns the surface-dry mass A2 of a sample with dry mass a that weighs
// inWater submerged. Absorbed water of the mass of the sample in water or more
// would make the mix lighter than water.
func driedBack(fn string, surfaceDry units.Mass, a, inWater *big.Rat) (*big.Rat, error) {
	g, err := grams(fn, namedMass{"surfaceDry", surfaceDry})
	if err != nil {
		return nil, err
	}
	absorbed := new(big.Rat).Sub(g[0], a)
	switch {
	case absorbed.Sign() < 0:
		return nil, impossible(fn, "surfaceDry", surfaceDry, "is below the dry mass")
	case absorbed.Cmp(inWater) >= 0:
		return nil, impossible(fn, "surfaceDry", surfaceDry, "holds as much water as the sample weighs submerged")
	}
	return g[0], nil
}
