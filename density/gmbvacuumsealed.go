package density

import (
	"errors"
	"fmt"
	"math/big"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// SealedMasses are the weighings of a specimen that was vacuum sealed in a bag, and
// the specific gravity of the bag.
type SealedMasses struct {
	Dry           units.Mass            // A, in air, before sealing
	Sealed        units.Mass            // B, in air, in its bag
	Unsealed      units.Mass            // C, in air, taken out of its bag again
	SealedInWater units.Mass            // E, submerged, in its bag
	Bag           units.SpecificGravity // FT, apparent, of the bag at 25 °C
}

// GmbVacuumSealed returns the bulk specific gravity of a compacted specimen in a
// vacuum sealed bag, for specimens with open or connected voids or more than 2 %
// absorption:
//
//	Gmb = A/(C + (B - A) - E - (B - A)/FT)
//
// with masses A < B and E < B, in any units; what is left of the volume after the
// bag must be more than 0. The result is an exact quotient, rounded by the rule
// (0.001 is usual).
//
// maxChange is how far C may be from A, in percent of A: a specimen that came out
// heavier had a leak in its bag, one that came out lighter lost material. Beyond
// it Warnings holds [WarnMassChange], because the test is to be repeated. The
// number has no default, since editions differ.
//
// Errors are [*stats.InputError] around [units.ErrNotGiven], [ErrNotPositive],
// [ErrImpossibleMass], [units.ErrRange] for a negative maxChange, [units.ErrAbsolute]
// or [units.ErrRounding].
//
// Source: AASHTO T 331, ASTM D6752 (formula from memory; an older form has B in
// the place of C + (B - A) and gives the same where C is A).
func GmbVacuumSealed(m SealedMasses, maxChange decimal.Decimal, gravity units.Rounding) (Gravity, error) {
	const fn = "density.GmbVacuumSealed"
	if err := places(fn, "gravity", gravity); err != nil {
		return Gravity{}, err
	}
	if err := notNegative(fn, "maxChange", maxChange); err != nil {
		return Gravity{}, err
	}
	g, err := grams(fn, namedMass{"m.Dry", m.Dry}, namedMass{"m.Sealed", m.Sealed},
		namedMass{"m.Unsealed", m.Unsealed}, namedMass{"m.SealedInWater", m.SealedInWater})
	if err := errors.Join(err, gravityGiven(fn, "m.Bag", m.Bag)); err != nil {
		return Gravity{}, err
	}
	a, b, c, e, ft := g[0], g[1], g[2], g[3], m.Bag.Exact()
	bag := new(big.Rat).Sub(b, a)
	if bag.Sign() <= 0 {
		return Gravity{}, impossible(fn, "m.Sealed", m.Sealed, "is not above the dry mass, so there is no bag")
	}
	v := new(big.Rat).Add(c, bag)
	v.Sub(v, e)
	if v.Sub(v, new(big.Rat).Quo(bag, ft)).Sign() <= 0 {
		return Gravity{}, impossible(fn, "m.SealedInWater", m.SealedInWater, "leaves the specimen no volume beside its bag")
	}
	out := Gravity{Warnings: massChange(a, c, maxChange)}
	gmb := out.step("Gmb", "A/(C + (B - A) - E - (B - A)/FT)",
		numbersOf("%s/(%s + (%s - %s) - %s - (%s - %s)/%s)", a, c, b, a, e, b, a, ft), new(big.Rat).Quo(a, v), gravity, "")
	return out.complete(fn, gmb)
}

// massChange warns where c is further from a than the limit in percent of a.
func massChange(a, c *big.Rat, limit decimal.Decimal) []stats.Warning {
	change := percentOf(new(big.Rat).Sub(c, a), a)
	if new(big.Rat).Abs(change).Cmp(limit.Rat()) <= 0 {
		return nil
	}
	cause := "material was lost"
	if change.Sign() > 0 {
		cause = "the bag leaked"
	}
	return []stats.Warning{{Code: WarnMassChange, Text: fmt.Sprintf(
		"the mass changed by %s %% in the bag, more than %s %%; repeat the test, %s", units.ExactText(change), limit, cause)}}
}
