package density_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

var (
	twelfth = units.Rounding{Method: units.HalfEven, Places: 12}
	anyMass = decimal.NewFromInt(100)
)

// near compares a number of few digits with what a script printed.
func near(t *testing.T, name string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.12f, want %.12f", name, got, want)
	}
}

// The formulas in Python 3 fractions, such as for the coating
//
//	from fractions import Fraction as F
//	A, D, E, f = F("1520.3"), F("1563.8"), F("862.1"), F("0.903"); print(float(A/(D-E-(D-A)/f)))
func TestLaboratoryValues(t *testing.T) {
	sg := units.SpecificGravityOf
	volumeter, err := density.GmbVolumeter(density.VolumeterMasses{Dry: g(1524.6), SurfaceDry: g(1529.4), Filled: g(6250), WithSample: g(7135.7)}, twelfth, twelfth)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "volumeter", volumeter.Value.Float64(), 2.368494640360, 1e-12)
	near(t, "absorption", volumeter.Absorption.InexactFloat64(), 0.745688985552, 1e-12)

	bowl := density.BowlMasses{Dry: g(1521.4), BowlInWater: g(301.2), SampleInWater: g(1217.4)}
	flask := density.FlaskMasses{Dry: g(1203.1), Filled: g(7480.2), WithSample: g(8204.9), Water: units.Celsius.Of(24)}
	for _, tt := range []struct {
		name string
		run  func() (density.Gravity, error)
		want float64
	}{
		{"paraffin", func() (density.Gravity, error) {
			return density.GmbParaffin(density.CoatedMasses{Dry: g(1520.3), Coated: g(1563.8), CoatedInWater: g(862.1), Coating: sg(0.903)}, twelfth)
		}, 2.326299350776},
		{"vacuum sealed", func() (density.Gravity, error) {
			return density.GmbVacuumSealed(density.SealedMasses{Dry: g(1520.3), Sealed: g(1546.9), Unsealed: g(1520.6), SealedInWater: g(871.4), Bag: sg(0.916)}, anyMass, twelfth)
		}, 2.350637574422},
		{"bowl", func() (density.Gravity, error) { return density.GmmBowl(bowl, twelfth) }, 2.513879709187},
		{"bowl, dried back", func() (density.Gravity, error) { return density.GmmBowlDryBack(bowl, g(1523.9), twelfth) }, 2.503537929900},
		// R of water at 24 °C, 997.298769/997.047022 by the same formula, is 1.00025.
		{"flask, dried back", func() (density.Gravity, error) { return density.GmmFlaskDryBack(flask, g(1205.6), fifth, twelfth) }, 2.502392961115},
	} {
		r, err := tt.run()
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
		}
		near(t, tt.name, r.Value.Float64(), tt.want, 1e-12)
	}
}

// One specimen of known mass and volume, weighed as each method asks, has one bulk
// specific gravity: A/V. The masses are to 0.1 g, so that nothing is rounded on the
// way and the results must be equal to the last digit. F = 0.5 and FT = 2 make the
// volumes of coating and bag such masses.
func TestMethodsAgreeOnOneSpecimen(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	tenth := func(n int) units.Mass { return units.Kilogram.Of(float64(n) / 1e4).To(units.Gram) } // weighed in kg, recorded in g
	for range 2000 {
		a, v := 8000+rng.IntN(40000), 0 // in 0.1 g
		v = a*100/(200+rng.IntN(60)) + 1
		water, vessel, coat, bag := rng.IntN(200), 60000+rng.IntN(9), 1+rng.IntN(500), 2*(1+rng.IntN(200))
		dry, err1 := density.GmbSurfaceDry(density.SurfaceDryMasses{Dry: tenth(a), SurfaceDry: tenth(a + water), InWater: tenth(a + water - v)}, twelfth, twelfth)
		volumeter, err2 := density.GmbVolumeter(density.VolumeterMasses{Dry: tenth(a), SurfaceDry: tenth(a + water), Filled: tenth(vessel), WithSample: tenth(vessel + a + water - v)}, twelfth, twelfth)
		paraffin, err3 := density.GmbParaffin(density.CoatedMasses{Dry: tenth(a), Coated: tenth(a + coat), CoatedInWater: tenth(a + coat - v - 2*coat), Coating: units.SpecificGravityOf(0.5)}, twelfth)
		sealed, err4 := density.GmbVacuumSealed(density.SealedMasses{Dry: tenth(a), Sealed: tenth(a + bag), Unsealed: tenth(a), SealedInWater: tenth(a + bag - v - bag/2), Bag: units.SpecificGravityOf(2)}, decimal.Zero, twelfth)
		if err := errors.Join(err1, err2, err3, err4); err != nil {
			t.Fatalf("A %d, V %d: %v", a, v, err)
		}
		near(t, "Gmb", dry.Value.Float64(), float64(a)/float64(v), 1e-12)
		if volumeter.Value != dry.Value || !volumeter.Absorption.Equal(dry.Absorption) || paraffin.Value != dry.Value || sealed.Value != dry.Value {
			t.Fatalf("A %d, V %d: %v surface-dry, %v volumeter, %v paraffin, %v sealed", a, v, dry.Value, volumeter.Value, paraffin.Value, sealed.Value)
		}
		if len(sealed.Warnings) != 0 {
			t.Fatalf("no change of mass was warned of: %v", sealed.Warnings)
		}
	}
}

// The unit of the balance changes nothing: kilograms are the same decimals, and
// pounds with 9 decimals agree to 1e-9 of the result.
func TestUnitOfTheBalance(t *testing.T) {
	sg := units.SpecificGravityOf
	for name, f := range map[string]func(m func(grams float64) units.Mass) (density.Gravity, error){
		"surface-dry": func(m func(float64) units.Mass) (density.Gravity, error) {
			r, err := density.GmbSurfaceDry(density.SurfaceDryMasses{Dry: m(1524.6), SurfaceDry: m(1529.4), InWater: m(885.7)}, twelfth, twelfth)
			return r.Gravity, err
		},
		"volumeter": func(m func(float64) units.Mass) (density.Gravity, error) {
			r, err := density.GmbVolumeter(density.VolumeterMasses{Dry: m(1524.6), SurfaceDry: m(1529.4), Filled: m(6250), WithSample: m(7135.7)}, twelfth, twelfth)
			return r.Gravity, err
		},
		"paraffin": func(m func(float64) units.Mass) (density.Gravity, error) {
			return density.GmbParaffin(density.CoatedMasses{Dry: m(1520.3), Coated: m(1563.8), CoatedInWater: m(862.1), Coating: sg(0.903)}, twelfth)
		},
		"vacuum sealed": func(m func(float64) units.Mass) (density.Gravity, error) {
			return density.GmbVacuumSealed(density.SealedMasses{Dry: m(1520.3), Sealed: m(1546.9), Unsealed: m(1520.6), SealedInWater: m(871.4), Bag: sg(0.916)}, anyMass, twelfth)
		},
		"bowl": func(m func(float64) units.Mass) (density.Gravity, error) {
			return density.GmmBowlDryBack(density.BowlMasses{Dry: m(1521.4), BowlInWater: m(301.2), SampleInWater: m(1217.4)}, m(1523.9), twelfth)
		},
		"flask": func(m func(float64) units.Mass) (density.Gravity, error) {
			return density.GmmFlaskDryBack(density.FlaskMasses{Dry: m(1203.1), Filled: m(7480.2), WithSample: m(8204.9), Water: units.Celsius.Of(24)}, m(1205.6), fifth, twelfth)
		},
	} {
		inGrams, err1 := f(g)
		inKilograms, err2 := f(func(x float64) units.Mass { return g(x).To(units.Kilogram) })
		inPounds, err3 := f(func(x float64) units.Mass { return units.Pound.Of(math.Round(x/453.59237*1e9) / 1e9) })
		if err := errors.Join(err1, err2, err3); err != nil || inKilograms.Value != inGrams.Value {
			t.Errorf("%s: %v from g, %v from kg: %v", name, inGrams.Value, inKilograms.Value, err)
		}
		near(t, name+" from lb", inPounds.Value.Float64(), inGrams.Value.Float64(), 3e-9)
	}
}

// Bowl and flask on one sample: E - D = C - B is its mass in water, and at 25 °C R
// is 1. Dried back to the dry mass it is the same, and any water taken up lowers it.
func TestMaximumMethodsAgree(t *testing.T) {
	bowl := density.BowlMasses{Dry: g(1521.4), BowlInWater: g(301.2), SampleInWater: g(1217.4)}
	flask := density.FlaskMasses{Dry: g(1521.4), Filled: g(7480.2), WithSample: g(7480.2 + 916.2), Water: units.Celsius.Of(25)}
	want, err := density.GmmBowl(bowl, twelfth)
	if err != nil {
		t.Fatal(err)
	}
	inFlask, err1 := density.GmmFlask(flask, twelfth, twelfth)
	bowlBack, err2 := density.GmmBowlDryBack(bowl, g(1521.4), twelfth)
	flaskBack, err3 := density.GmmFlaskDryBack(flask, g(1521.4), twelfth, twelfth)
	if err := errors.Join(err1, err2, err3); err != nil || inFlask.Value != want.Value || bowlBack.Value != want.Value || flaskBack.Value != want.Value {
		t.Errorf("bowl %v, flask %v, dried back %v and %v: %v", want.Value, inFlask.Value, bowlBack.Value, flaskBack.Value, err)
	}
	last := want.Value
	for _, a2 := range []float64{1521.5, 1523, 1540, 2400} {
		b, err1 := density.GmmBowlDryBack(bowl, g(a2), twelfth)
		f, err2 := density.GmmFlaskDryBack(flask, g(a2), twelfth, twelfth)
		if err := errors.Join(err1, err2); err != nil || b.Value != f.Value || b.Value.Compare(last) >= 0 {
			t.Errorf("dried back to %v g: %v in the bowl, %v in the flask, %v before: %v", a2, b.Value, f.Value, last, err)
		}
		last = b.Value
	}
}

func TestImpossibleMassesOfTheOtherMethods(t *testing.T) {
	sg := units.SpecificGravityOf
	sealed := func(a, b, c, e float64, bag units.SpecificGravity) error {
		_, err := density.GmbVacuumSealed(density.SealedMasses{Dry: g(a), Sealed: g(b), Unsealed: g(c), SealedInWater: g(e), Bag: bag}, anyMass, thousandth)
		return err
	}
	coated := func(a, d, e float64, f units.SpecificGravity) error {
		_, err := density.GmbParaffin(density.CoatedMasses{Dry: g(a), Coated: g(d), CoatedInWater: g(e), Coating: f}, thousandth)
		return err
	}
	volumeter := func(a, b, d, e float64) error {
		_, err := density.GmbVolumeter(density.VolumeterMasses{Dry: g(a), SurfaceDry: g(b), Filled: g(d), WithSample: g(e)}, thousandth, hundredth)
		return err
	}
	back := func(a2 units.Mass) error {
		_, err1 := density.GmmBowlDryBack(density.BowlMasses{Dry: g(1521.4), BowlInWater: g(301.2), SampleInWater: g(1217.4)}, a2, thousandth)
		_, err2 := density.GmmFlaskDryBack(density.FlaskMasses{Dry: g(1521.4), Filled: g(7480.2), WithSample: g(8396.4), Water: units.Celsius.Of(25)}, a2, fifth, thousandth)
		if (err1 == nil) != (err2 == nil) {
			t.Errorf("dried back to %v: bowl %v, flask %v", a2, err1, err2)
		}
		return err1
	}
	for _, tt := range []struct {
		name string
		err  error
		want error
	}{
		{"a good volumeter", volumeter(1524.6, 1529.4, 6250, 7135.7), nil},
		{"lighter when wet", volumeter(1524.6, 1524.5, 6250, 7135.7), density.ErrImpossibleMass},
		{"it floats", volumeter(1524.6, 1529.4, 6250, 6250), density.ErrImpossibleMass},
		{"no volume", volumeter(1524.6, 1529.4, 6250, 7774.6), density.ErrImpossibleMass},
		{"no filled volumeter", volumeter(1524.6, 1529.4, math.NaN(), 7774.6), units.ErrNotGiven},
		{"a good coating", coated(1520.3, 1563.8, 862.1, sg(0.903)), nil},
		{"no coating", coated(1520.3, 1520.3, 862.1, sg(0.903)), density.ErrImpossibleMass},
		{"no volume left", coated(1520.3, 1563.8, 1515.7, sg(0.903)), density.ErrImpossibleMass},
		{"coating not given", coated(1520.3, 1563.8, 862.1, units.SpecificGravity{}), units.ErrNotGiven},
		{"coating of nothing", coated(1520.3, 1563.8, 862.1, sg(0)), density.ErrNotPositive},
		{"a negative mass", coated(-1520.3, 1563.8, 862.1, sg(0.903)), density.ErrImpossibleMass},
		{"a good bag", sealed(1520.3, 1546.9, 1520.6, 871.4, sg(0.916)), nil},
		{"no bag", sealed(1520.3, 1520.3, 1520.6, 871.4, sg(0.916)), density.ErrImpossibleMass},
		{"no volume in the bag", sealed(1520.3, 1546.9, 1520.6, 1520.1, sg(0.916)), density.ErrImpossibleMass},
		{"bag not given", sealed(1520.3, 1546.9, 1520.6, 871.4, units.SpecificGravity{}), units.ErrNotGiven},
		{"bag below nothing", sealed(1520.3, 1546.9, 1520.6, 871.4, sg(-0.9)), density.ErrNotPositive},
		{"a good dry-back", back(g(1523.9)), nil},
		{"dried to less than dry", back(g(1521.3)), density.ErrImpossibleMass},
		{"wetter than it sinks", back(g(1521.4 + 916.2)), density.ErrImpossibleMass},
		{"dry-back not given", back(units.Mass{}), units.ErrNotGiven},
	} {
		if !errors.Is(tt.err, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, tt.err, tt.want)
		}
	}
}

// A rule is needed, with places, before a mass is looked at.
func TestLaboratoryMethodsNeedRules(t *testing.T) {
	for name, err := range map[string]error{
		"volumeter":       second(density.GmbVolumeter(density.VolumeterMasses{}, absolute, hundredth)),
		"absorption":      second(density.GmbVolumeter(density.VolumeterMasses{}, thousandth, absolute)),
		"paraffin":        second(density.GmbParaffin(density.CoatedMasses{}, absolute)),
		"vacuum sealed":   second(density.GmbVacuumSealed(density.SealedMasses{}, anyMass, absolute)),
		"bowl dry-back":   second(density.GmmBowlDryBack(density.BowlMasses{}, units.Mass{}, absolute)),
		"flask dry-back":  second(density.GmmFlaskDryBack(density.FlaskMasses{}, units.Mass{}, absolute, thousandth)),
		"flask dry-back ": second(density.GmmFlaskDryBack(density.FlaskMasses{}, units.Mass{}, fifth, absolute)),
	} {
		if !errors.Is(err, units.ErrAbsolute) {
			t.Errorf("%s without places: %v", name, err)
		}
	}
	if _, err := density.GmbVacuumSealed(density.SealedMasses{}, decimal.NewFromInt(-1), thousandth); !errors.Is(err, units.ErrRange) {
		t.Errorf("a negative change: %v", err)
	}
	if _, err := density.GmbVacuumSealed(density.SealedMasses{}, decimal.New(1, math.MaxInt32), thousandth); !errors.Is(err, units.ErrDigits) {
		t.Errorf("a change that fills the memory: %v", err)
	}
}

func second[T any](_ T, err error) error { return err }

// The limit itself is no more than the limit: 0.8 g of 1000 g are 0.08 % exactly.
func TestMassChangeInTheBag(t *testing.T) {
	for _, tt := range []struct {
		c    float64
		warn bool
	}{{1000.8, false}, {999.2, false}, {1000, false}, {1000.9, true}, {999.1, true}} {
		r, err := density.GmbVacuumSealed(density.SealedMasses{Dry: g(1000), Sealed: g(1030), Unsealed: g(tt.c), SealedInWater: g(570), Bag: units.SpecificGravityOf(0.9)},
			decimal.RequireFromString("0.08"), thousandth)
		if err != nil || hasWarning(r.Warnings, density.WarnMassChange) != tt.warn {
			t.Errorf("%v g after sealing: %v, %v", tt.c, r.Warnings, err)
		}
	}
}

func hasWarning(ws []stats.Warning, code stats.WarningCode) bool {
	for _, w := range ws {
		if w.Code == code {
			return true
		}
	}
	return false
}

// Whatever the balance is said to have shown, a method answers with a gravity of
// more than 0 or with an error, and never panics.
func FuzzLaboratory(f *testing.F) {
	f.Add(1524.6, 1529.4, 885.7, 7135.7, 0.9, 25.0)
	f.Add(1e308, 1.1e308, 1.0, 5e-324, 1e-300, 0.0)
	f.Add(1e-9, 1.0, 1e-10, 0.5, 2.0, 40.0)
	f.Fuzz(func(t *testing.T, a, b, c, d, gravity, celsius float64) {
		sg := units.SpecificGravityOf(gravity)
		check := func(name string, r density.Gravity, err error) {
			if (err == nil) != (r.Value.Float64() > 0) {
				t.Errorf("%s of %v, %v, %v, %v, %v: %v, %v", name, a, b, c, d, gravity, r.Value, err)
			}
		}
		dry, err := density.GmbSurfaceDry(density.SurfaceDryMasses{Dry: g(a), SurfaceDry: g(b), InWater: g(c)}, thousandth, hundredth)
		check("surface-dry", dry.Gravity, err)
		volumeter, err := density.GmbVolumeter(density.VolumeterMasses{Dry: g(a), SurfaceDry: g(b), Filled: g(c), WithSample: g(d)}, thousandth, hundredth)
		check("volumeter", volumeter.Gravity, err)
		r, err := density.GmbParaffin(density.CoatedMasses{Dry: g(a), Coated: g(b), CoatedInWater: g(c), Coating: sg}, thousandth)
		check("paraffin", r, err)
		r, err = density.GmbVacuumSealed(density.SealedMasses{Dry: g(a), Sealed: g(b), Unsealed: g(c), SealedInWater: g(d), Bag: sg}, anyMass, thousandth)
		check("vacuum sealed", r, err)
		r, err = density.GmmBowlDryBack(density.BowlMasses{Dry: g(a), BowlInWater: g(c), SampleInWater: g(d)}, g(b), thousandth)
		check("bowl", r, err)
		r, err = density.GmmFlaskDryBack(density.FlaskMasses{Dry: g(a), Filled: g(c), WithSample: g(d), Water: units.Celsius.Of(celsius)}, g(b), fifth, thousandth)
		check("flask", r, err)
	})
}
