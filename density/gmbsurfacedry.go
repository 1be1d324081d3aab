package density

import (
	"errors"
	"math/big"

	"github.com/densilot/densilot/units"
)

// SurfaceDryMasses are the three weighings of a core or specimen.
type SurfaceDryMasses struct {
	Dry        units.Mass // A, in air
	SurfaceDry units.Mass // B, in air, saturated and surface-dry
	InWater    units.Mass // C, submerged
}

// GmbSurfaceDry returns the bulk specific gravity of a compacted specimen by the
// saturated surface-dry method, and its water absorption:
//
//	Gmb = A/(B - C),   absorption = 100 · (B - A)/(B - C)
//
// with masses A ≤ B and C < A, in any units. The results are exact quotients,
// rounded by the rules (0.001 and 0.01 % are usual). It assumes a specimen dried to
// constant mass and 4 ± 1 minutes in water of 25 ± 1 °C before C and B (AASHTO
// T 166-16, 6.1 and 6.2, seen). Above 2 % absorption, before rounding, Warnings holds [WarnAbsorption] with the
// methods that serve instead.
//
// Errors are [*stats.InputError] around [units.ErrNotGiven], [ErrImpossibleMass],
// [units.ErrAbsolute], [units.ErrRounding] or [units.ErrRange].
//
// Source: AASHTO T 166 method A, ASTM D2726 (formulas from memory; the limit of
// 2 % as read in a field procedure for T 166).
func GmbSurfaceDry(m SurfaceDryMasses, gravity, absorption units.Rounding) (BulkGravity, error) {
	const fn = "density.GmbSurfaceDry"
	if err := errors.Join(places(fn, "gravity", gravity), places(fn, "absorption", absorption)); err != nil {
		return BulkGravity{}, err
	}
	g, err := grams(fn, namedMass{"m.Dry", m.Dry}, namedMass{"m.SurfaceDry", m.SurfaceDry}, namedMass{"m.InWater", m.InWater})
	if err != nil {
		return BulkGravity{}, err
	}
	a, b, c := g[0], g[1], g[2]
	switch {
	case b.Cmp(a) < 0:
		return BulkGravity{}, impossible(fn, "m.SurfaceDry", m.SurfaceDry, "is below the dry mass")
	case c.Cmp(a) >= 0:
		return BulkGravity{}, impossible(fn, "m.InWater", m.InWater, "is not below the dry mass, so the specimen would have no volume")
	}
	v := volume{new(big.Rat).Sub(b, c), "B - C", numbersOf("%s - %s", b, c)}
	return bulk(fn, a, b, v, gravity, absorption)
}
