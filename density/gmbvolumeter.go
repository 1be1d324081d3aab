package density

import (
	"errors"
	"math/big"

	"github.com/densilot/densilot/units"
)

// VolumeterMasses are the four weighings of a specimen whose volume is measured by
// the water it drives out of a volumeter.
type VolumeterMasses struct {
	Dry        units.Mass // A, in air
	SurfaceDry units.Mass // B, in air, saturated and surface-dry
	Filled     units.Mass // D, volumeter filled with water
	WithSample units.Mass // E, volumeter with the specimen, filled with water
}

// GmbVolumeter returns the bulk specific gravity of a compacted specimen by the
// volumeter, and its water absorption:
//
//	Gmb = A/(B + D - E),   absorption = 100 · (B - A)/(B + D - E)
//
// with masses A ≤ B, D < E and E - D < A, in any units: E - D is what the specimen
// weighs in water. The results are exact quotients, rounded by the rules (0.001
// and 0.01 % are usual). The water is at 25 °C in both fillings. The warning of
// absorption and the errors are those of [GmbSurfaceDry].
//
// Source: AASHTO T 166 method B (formula from memory).
func GmbVolumeter(m VolumeterMasses, gravity, absorption units.Rounding) (BulkGravity, error) {
	const fn = "density.GmbVolumeter"
	if err := errors.Join(places(fn, "gravity", gravity), places(fn, "absorption", absorption)); err != nil {
		return BulkGravity{}, err
	}
	g, err := grams(fn, namedMass{"m.Dry", m.Dry}, namedMass{"m.SurfaceDry", m.SurfaceDry},
		namedMass{"m.Filled", m.Filled}, namedMass{"m.WithSample", m.WithSample})
	if err != nil {
		return BulkGravity{}, err
	}
	a, b, d, e := g[0], g[1], g[2], g[3]
	inWater := new(big.Rat).Sub(e, d)
	switch {
	case b.Cmp(a) < 0:
		return BulkGravity{}, impossible(fn, "m.SurfaceDry", m.SurfaceDry, "is below the dry mass")
	case inWater.Sign() <= 0 || inWater.Cmp(a) >= 0:
		return BulkGravity{}, impossible(fn, "m.WithSample", m.WithSample, "is not between those of the volumeter and of volumeter and dry specimen")
	}
	v := volume{new(big.Rat).Sub(b, inWater), "B + D - E", numbersOf("%s + %s - %s", b, d, e)}
	return bulk(fn, a, b, v, gravity, absorption)
}
