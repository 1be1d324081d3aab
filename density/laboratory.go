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

// WarnAbsorption warns that a specimen absorbed so much water that its
// surface-dry volume is not to be trusted.
const WarnAbsorption stats.WarningCode = "absorption"

// Gravity is a specific gravity with the working that leads to it.
type Gravity struct {
	Value    units.SpecificGravity // as rounded
	Working  []units.Step
	Warnings []stats.Warning
}

// SurfaceDryMasses are the three weighings of a core or specimen.
type SurfaceDryMasses struct {
	Dry        units.Mass // A, in air
	SurfaceDry units.Mass // B, in air, saturated and surface-dry
	InWater    units.Mass // C, submerged
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

// GmbSurfaceDry returns the bulk specific gravity of a compacted specimen by the
// saturated surface-dry method, and its water absorption:
//
//	Gmb = A/(B - C),   absorption = 100 · (B - A)/(B - C)
//
// with masses A ≤ B and C < A. The results are exact quotients, rounded by the
// rules (0.001 and 0.01 % are usual). Above 2 % absorption Warnings holds
// [WarnAbsorption].
//
// Errors are [*stats.InputError] around [units.ErrNotGiven], [ErrNotPositive],
// [ErrImpossibleMass], [ErrAbsolute] or [units.ErrRounding].
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
		return BulkGravity{}, impossible(fn, "m.InWater", m.InWater, "is not below the dry mass, so the specimen would float")
	}
	volume := new(big.Rat).Sub(b, c)
	out := BulkGravity{}
	gmb := out.step("Gmb", "A/(B - C)", fmt.Sprintf("%s/(%s - %s)", units.ExactText(a), units.ExactText(b), units.ExactText(c)), new(big.Rat).Quo(a, volume), gravity, "")
	percent := new(big.Rat).Sub(b, a)
	percent.Mul(percent, big.NewRat(100, 1)).Quo(percent, volume)
	absorbed := out.step("absorption", "100·(B - A)/(B - C)", fmt.Sprintf("100 x (%s - %s)/(%s - %s)", units.ExactText(b), units.ExactText(a), units.ExactText(b), units.ExactText(c)),
		percent, absorption, " %")
	out.Value, out.Absorption = gravityOf(gmb), toDecimal(absorbed, absorption)
	if percent.Cmp(big.NewRat(maxAbsorption, 1)) > 0 {
		out.Warnings = append(out.Warnings, stats.Warning{Code: WarnAbsorption, Text: fmt.Sprintf(
			"absorption %s %% is more than %d %%; measure the volume with a paraffin coating (AASHTO T 275) or vacuum sealing (AASHTO T 331)", fixed(absorbed, absorption), maxAbsorption)})
	}
	return out, nil
}

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
// The result is an exact quotient, rounded by the rule (0.001 is usual). The
// errors are those of [GmbSurfaceDry].
//
// Source: AASHTO T 209, ASTM D2041, bowl method (formula from memory).
func GmmBowl(m BowlMasses, gravity units.Rounding) (Gravity, error) {
	const fn = "density.GmmBowl"
	if err := places(fn, "gravity", gravity); err != nil {
		return Gravity{}, err
	}
	g, err := grams(fn, namedMass{"m.Dry", m.Dry}, namedMass{"m.BowlInWater", m.BowlInWater}, namedMass{"m.SampleInWater", m.SampleInWater})
	if err != nil {
		return Gravity{}, err
	}
	a, b, c := g[0], g[1], g[2]
	volume := new(big.Rat).Add(a, b)
	if volume.Sub(volume, c).Sign() <= 0 || c.Cmp(b) <= 0 {
		return Gravity{}, impossible(fn, "m.SampleInWater", m.SampleInWater, "is not between those of the bowl and of bowl and dry mix")
	}
	out := Gravity{}
	gmm := out.step("Gmm", "A/(A + B - C)", fmt.Sprintf("%s/(%s + %s - %s)", units.ExactText(a), units.ExactText(a), units.ExactText(b), units.ExactText(c)),
		new(big.Rat).Quo(a, volume), gravity, "")
	out.Value = gravityOf(gmm)
	return out, nil
}

// FlaskMasses are the weighings of a maximum specific gravity test in a flask, and
// the temperature of the water at the last one.
type FlaskMasses struct {
	Dry        units.Mass        // A, loose mix in air
	Filled     units.Mass        // D, flask filled with water at 25 °C
	WithSample units.Mass        // E, flask with mix, filled with water
	Water      units.Temperature // at the weighing of E
}

// GmmFlask returns the theoretical maximum specific gravity by weighing in air:
//
//	Gmm = A/(A + D - E) · R,   R = ρ(t)/ρ(25 °C) of water
//
// R comes of [units.WaterAt] and is rounded by its rule first (0.00001 is usual),
// the exact product by the rule for the gravity (0.001 is usual). The errors are
// those of [GmbSurfaceDry], and [units.ErrRange] for water outside 0 to 40 °C.
//
// Source: AASHTO T 209, ASTM D2041, flask method (formula from memory).
func GmmFlask(m FlaskMasses, factor, gravity units.Rounding) (Gravity, error) {
	const fn = "density.GmmFlask"
	if err := errors.Join(places(fn, "factor", factor), places(fn, "gravity", gravity)); err != nil {
		return Gravity{}, err
	}
	g, err := grams(fn, namedMass{"m.Dry", m.Dry}, namedMass{"m.Filled", m.Filled}, namedMass{"m.WithSample", m.WithSample})
	if err != nil {
		return Gravity{}, err
	}
	exact, err := temperatureFactor(m.Water)
	if err != nil {
		return Gravity{}, refuse(fn, "m.Water", m.Water.String(), err)
	}
	a, d, e := g[0], g[1], g[2]
	volume := new(big.Rat).Add(a, d)
	if volume.Sub(volume, e).Sign() <= 0 || e.Cmp(d) <= 0 {
		return Gravity{}, impossible(fn, "m.WithSample", m.WithSample, "is not between those of the flask and of flask and dry mix")
	}
	out := Gravity{}
	r := out.step("R", "ρ(t)/ρ(25 °C)", m.Water.String(), exact, factor, "")
	gmm := new(big.Rat).Quo(a, volume)
	gmm = out.step("Gmm", "A/(A + D - E)·R", fmt.Sprintf("%s/(%s + %s - %s) x %s", units.ExactText(a), units.ExactText(a), units.ExactText(d), units.ExactText(e), units.ExactText(r)),
		gmm.Mul(gmm, r), gravity, "")
	out.Value = gravityOf(gmm)
	return out, nil
}

// temperatureFactor returns ρ(t)/ρ(25 °C) from the recorded densities.
func temperatureFactor(t units.Temperature) (*big.Rat, error) {
	at, err := units.WaterAt(t)
	if err != nil {
		return nil, err
	}
	standard, err := units.WaterAt(units.Celsius.Of(25))
	if err != nil {
		return nil, err
	}
	return new(big.Rat).Quo(at.Density().Exact(units.KgPerM3), standard.Density().Exact(units.KgPerM3)), nil
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
			return nil, refuse(fn, m.name, "", units.ErrNotGiven)
		case x.Sign() <= 0:
			return nil, refuse(fn, m.name, m.mass.String(), fmt.Errorf("%w: a mass must be more than 0", ErrImpossibleMass))
		}
		out = append(out, x)
	}
	return out, nil
}

func impossible(fn, arg string, m units.Mass, why string) error {
	return refuse(fn, arg, m.String(), fmt.Errorf("%w: %s", ErrImpossibleMass, why))
}

// places checks a rule that must name a number of places.
func places(fn, arg string, r units.Rounding) error {
	if err := r.Validate(); err != nil {
		return refuse(fn, arg, "", err)
	}
	if r.Method == units.Absolute {
		return refuse(fn, arg, "", ErrAbsolute)
	}
	return nil
}

func gravityOf(x *big.Rat) units.SpecificGravity {
	f, _ := x.Float64()
	return units.SpecificGravityOf(f)
}
