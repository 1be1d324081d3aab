package density

import (
	"math/big"

	"github.com/densilot/densilot/units"
)

// GmmFlaskDryBack returns the theoretical maximum specific gravity by weighing in
// air, for a mix whose particles took up water under vacuum:
//
//	Gmm = A/(A2 + D - E) · R,   R = ρ(t)/ρ(25 °C) of water
//
// where A2 is the mass in air after the mix was dried back to a surface-dry state,
// A ≤ A2 < A + E - D, in any units. Rounding and R are as in [GmmFlask], which is
// the result where A2 is A; otherwise it is less. The errors are those of
// [GmmFlask].
//
// Source: AASHTO T 209, ASTM D2041, supplemental procedure for mixtures with
// porous aggregate, flask (formula from memory; the factor R taken over from the
// procedure without dry-back).
func GmmFlaskDryBack(m FlaskMasses, surfaceDry units.Mass, factor, gravity units.Rounding) (Gravity, error) {
	const fn = "density.GmmFlaskDryBack"
	s, err := newFlask(fn, m, factor, gravity)
	if err != nil {
		return Gravity{}, err
	}
	a2, err := driedBack(fn, surfaceDry, s.a, new(big.Rat).Sub(s.e, s.d))
	if err != nil {
		return Gravity{}, err
	}
	v := new(big.Rat).Add(a2, s.d)
	v.Sub(v, s.e)
	return s.gmm(fn, v, "A/(A2 + D - E)·R", numbersOf("%s/(%s + %s - %s)", s.a, a2, s.d, s.e), factor, gravity)
}
