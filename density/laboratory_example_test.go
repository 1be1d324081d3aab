package density_test

import (
	"fmt"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/units"
)

var (
	toThousandth = units.Rounding{Method: units.HalfEven, Places: 3}
	toTenth      = units.Rounding{Method: units.HalfEven, Places: 1}
)

func ExampleGmbSurfaceDry() {
	r, err := density.GmbSurfaceDry(density.SurfaceDryMasses{Dry: units.Gram.Of(1524.6), SurfaceDry: units.Gram.Of(1529.4), InWater: units.Gram.Of(885.7)},
		units.Rounding{Method: units.HalfEven, Places: 3}, units.Rounding{Method: units.HalfEven, Places: 2})
	fmt.Println(r.Value, r.Absorption, err)
	fmt.Println(r.Working[0])
	// Output:
	// 2.368 0.75 <nil>
	// Gmb = A/(B - C) = 1524.6/(1529.4 - 885.7) = 2.368494640… → 2.368 (half-even to 0.001)
}

func ExampleGmmBowl() {
	r, err := density.GmmBowl(density.BowlMasses{Dry: units.Gram.Of(1521.4), BowlInWater: units.Gram.Of(301.2), SampleInWater: units.Gram.Of(1217.4)},
		units.Rounding{Method: units.HalfEven, Places: 3})
	fmt.Println(r.Value, err)
	// Output: 2.514 <nil>
}

func ExampleGmmFlask() {
	r, err := density.GmmFlask(density.FlaskMasses{Dry: units.Gram.Of(1203.1), Filled: units.Gram.Of(7480.2), WithSample: units.Gram.Of(8204.9), Water: units.Celsius.Of(24)},
		units.Rounding{Method: units.HalfEven, Places: 5}, units.Rounding{Method: units.HalfEven, Places: 3})
	fmt.Println(r.Value, err)
	fmt.Println(r.Working[0])
	// Output:
	// 2.515 <nil>
	// R = ρ(t)/ρ(25 °C) = 24 °C = 1.000252504… → 1.00025 (half-even to 0.00001)
}

func ExampleGmbVolumeter() {
	r, err := density.GmbVolumeter(density.VolumeterMasses{Dry: units.Gram.Of(1524.6), SurfaceDry: units.Gram.Of(1529.4),
		Filled: units.Gram.Of(6250.0), WithSample: units.Gram.Of(7135.7)}, toThousandth, units.Rounding{Method: units.HalfEven, Places: 2})
	fmt.Println(r.Value, r.Absorption, err)
	fmt.Println(r.Working[0])
	// Output:
	// 2.368 0.75 <nil>
	// Gmb = A/(B + D - E) = 1524.6/(1529.4 + 6250 - 7135.7) = 2.368494640… → 2.368 (half-even to 0.001)
}

func ExampleGmbParaffin() {
	r, err := density.GmbParaffin(density.CoatedMasses{Dry: units.Gram.Of(1520.3), Coated: units.Gram.Of(1563.8),
		CoatedInWater: units.Gram.Of(862.1), Coating: units.SpecificGravityOf(0.903)}, toThousandth)
	fmt.Println(r.Working[0], err)
	// Output: Gmb = A/(D - E - (D - A)/F) = 1520.3/(1563.8 - 862.1 - (1563.8 - 1520.3)/0.903) = 2.326299350… → 2.326 (half-even to 0.001) <nil>
}

func ExampleGmbVacuumSealed() {
	m := density.SealedMasses{Dry: units.Gram.Of(1520.3), Sealed: units.Gram.Of(1546.9), Unsealed: units.Gram.Of(1523.9),
		SealedInWater: units.Gram.Of(871.4), Bag: units.SpecificGravityOf(0.916)}
	r, err := density.GmbVacuumSealed(m, decimal.RequireFromString("0.08"), toThousandth)
	fmt.Println(r.Value, err)
	fmt.Println(r.Warnings[0])
	// Output:
	// 2.339 <nil>
	// the mass changed by 0.236795369… % in the bag, more than 0.08 %; repeat the test, the bag leaked
}

func ExampleGmmBowlDryBack() {
	m := density.BowlMasses{Dry: units.Gram.Of(1521.4), BowlInWater: units.Gram.Of(301.2), SampleInWater: units.Gram.Of(1217.4)}
	r, err := density.GmmBowlDryBack(m, units.Gram.Of(1523.9), toThousandth)
	fmt.Println(r.Working[0], err)
	// Output: Gmm = A/(A2 + B - C) = 1521.4/(1523.9 + 301.2 - 1217.4) = 2.503537929… → 2.504 (half-even to 0.001) <nil>
}

func ExampleGmmFlaskDryBack() {
	m := density.FlaskMasses{Dry: units.Gram.Of(1203.1), Filled: units.Gram.Of(7480.2), WithSample: units.Gram.Of(8204.9), Water: units.Celsius.Of(24)}
	r, err := density.GmmFlaskDryBack(m, units.Gram.Of(1205.6), units.Rounding{Method: units.HalfEven, Places: 5}, toThousandth)
	fmt.Println(r.Value, err)
	// Output: 2.502 <nil>
}

func ExampleVMA() {
	vma, err := density.VMA(units.SpecificGravityOf(2.368), units.SpecificGravityOf(2.637), 94.7)
	fmt.Printf("%.2f %% %v\n", vma, err)
	// Output: 14.96 % <nil>
}

func ExampleVFA() {
	vfa, err := density.VFA(14.96, 5.81)
	fmt.Printf("%.1f %% %v\n", vfa, err)
	// Output: 61.2 % <nil>
}

func ExampleAuditVoids() {
	v, err := density.AuditVoids(density.Mix{Gmb: units.SpecificGravityOf(2.368), Gmm: units.SpecificGravityOf(2.514),
		Gsb: units.SpecificGravityOf(2.637), Aggregate: decimal.RequireFromString("94.7")},
		density.VoidsRounding{AirVoids: toTenth, VMA: toTenth, VFA: toTenth})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, step := range v.Working {
		fmt.Println(step)
	}
	// Output:
	// air voids = 100·(Gmm - Gmb)/Gmm = 100 x (2.514 - 2.368)/2.514 = 5.807478122… % → 5.8 % (half-even to 0.1)
	// VMA = 100 - Gmb·Ps/Gsb = 100 - 2.368 x 94.7/2.637 = 14.960333712… % → 15.0 % (half-even to 0.1)
	// VFA = 100·(VMA - Va)/VMA = 100 x (15 - 5.8)/15 = 61.333333333… % → 61.3 % (half-even to 0.1)
}

func ExamplePlausible() {
	expected := density.Plausible[units.SpecificGravity]{Low: units.SpecificGravityOf(2.48), High: units.SpecificGravityOf(2.53)}
	for _, w := range expected.Warnings("bucket 14", units.SpecificGravityOf(2.541)) {
		fmt.Println(w)
	}
	// Output: bucket 14: 2.541 is not within the range that the project expects (2.48 to 2.53); check the record for a slip
}

func ExamplePrecision() {
	p := density.Precision{Standard: "AASHTO T 209", Edition: "2012", Property: "Gmm", Operators: density.SingleOperator,
		StdDev: decimal.RequireFromString("0.0051"), D2S: decimal.RequireFromString("0.014"), Note: "from memory"}
	d, err := p.GravityDuplicates(units.SpecificGravityOf(2.512), units.SpecificGravityOf(2.529))
	fmt.Println(d.Difference, d.Within, err)
	fmt.Println(d.Warnings[0])
	// Output:
	// 0.017 false <nil>
	// 2.512 and 2.529 differ by 0.017, more than the d2s of 0.014 for Gmm by AASHTO T 209 (2012, single operator); test again before either is used
}

func ExampleRememberedPrecision() {
	for _, p := range density.RememberedPrecision() {
		if p.Standard == "ASTM D2726" {
			fmt.Println(p, "-", p.Note)
		}
	}
	// Output:
	// ASTM D2726 (not known), Gmb surface-dry, single operator: s 0.0124, d2s 0.035 - from memory
	// ASTM D2726 (not known), Gmb surface-dry, multilaboratory: s 0.0269, d2s 0.076 - from memory
}
