package density

import (
	"errors"
	"fmt"
	"math/big"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

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
// with D < E < A + D, in any units. R comes of [units.WaterAt] and is rounded by
// its rule first (0.00001 is usual), the exact product by the rule for the gravity
// (0.001 is usual). The errors are those of [GmmBowl], and [units.ErrRange] for
// water outside 0 to 40 °C.
//
// Source: AASHTO T 209, ASTM D2041, flask method (formula from memory).
func GmmFlask(m FlaskMasses, factor, gravity units.Rounding) (Gravity, error) {
	const fn = "density.GmmFlask"
	s, err := newFlask(fn, m, factor, gravity)
	if err != nil {
		return Gravity{}, err
	}
	v := new(big.Rat).Add(s.a, s.d)
	v.Sub(v, s.e)
	return s.gmm(fn, v, "A/(A + D - E)·R", numbersOf("%s/(%s + %s - %s)", s.a, s.a, s.d, s.e), factor, gravity)
}

// flask is the exact masses of a sample that sinks and has a volume, and the exact
// temperature factor.
type flask struct {
	a, d, e, r *big.Rat
	water      units.Temperature
}

func newFlask(fn string, m FlaskMasses, factor, gravity units.Rounding) (flask, error) {
	if err := errors.Join(places(fn, "factor", factor), places(fn, "gravity", gravity)); err != nil {
		return flask{}, err
	}
	g, err := grams(fn, namedMass{"m.Dry", m.Dry}, namedMass{"m.Filled", m.Filled}, namedMass{"m.WithSample", m.WithSample})
	if err != nil {
		return flask{}, err
	}
	r, err := temperatureFactor(m.Water)
	if err != nil {
		return flask{}, stats.Refuse(fn, "m.Water", m.Water.String(), err)
	}
	inWater := new(big.Rat).Sub(g[2], g[1])
	if inWater.Sign() <= 0 || inWater.Cmp(g[0]) >= 0 {
		return flask{}, impossible(fn, "m.WithSample", m.WithSample, "is not between those of the flask and of flask and dry mix")
	}
	return flask{g[0], g[1], g[2], r, m.Water}, nil
}

// gmm returns a/v·R with its working.
func (s flask) gmm(fn string, v *big.Rat, formula, numbers string, factor, gravity units.Rounding) (Gravity, error) {
	out := Gravity{}
	r := out.step("R", "ρ(t)/ρ(25 °C)", s.water.String(), s.r, factor, "")
	x := new(big.Rat).Quo(s.a, v)
	x = out.step("Gmm", formula, numbers+" x "+units.ExactText(r), x.Mul(x, r), gravity, "")
	return out.complete(fn, x)
}

// temperatureFactor returns ρ(t)/ρ(25 °C) from the recorded densities.
func temperatureFactor(t units.Temperature) (*big.Rat, error) {
	if t.IsZero() {
		return nil, units.ErrNotGiven
	}
	at, err := units.WaterAt(t)
	if err != nil {
		return nil, fmt.Errorf("%v: %w", t, needs("0 to 40 °C"))
	}
	standard, err := units.WaterAt(units.Celsius.Of(25))
	if err != nil {
		return nil, err
	}
	return new(big.Rat).Quo(at.Density().Exact(units.KgPerM3), standard.Density().Exact(units.KgPerM3)), nil
}
