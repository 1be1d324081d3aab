package units_test

import (
	"encoding/json"
	"fmt"
	"math/big"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/units"
)

func Example() {
	gauge, core := units.LbPerFt3.Of(146.0), units.LbPerFt3.Of(148.3)
	fmt.Println(core.Text(units.KgPerM3))
	fmt.Printf("%+v\n", core.Sub(gauge))
	// Output:
	// 2375.53811836 kg/m3
	// +2.3 lb/ft3
}

func ExampleDensity() {
	d, err := units.ParseDensity("147.2 pcf")
	if err != nil {
		fmt.Println(err)
		return
	}
	b, err := json.Marshal(d)
	fmt.Println(string(b), err)
	fmt.Printf("%.0f\n", d.To(units.KgPerM3))
	// Output:
	// "147.2 lb/ft3" <nil>
	// 2358 kg/m3
}

func ExampleParseDensity() {
	_, err := units.ParseDensity("12 stone")
	fmt.Println(err)
	// Output: units.ParseDensity "12 stone": unknown unit; need lb/ft3, kg/m3 or g/cm3
}

func ExampleParseDensityDifference() {
	d, err := units.ParseDensityDifference("-2.3 lb/ft3")
	fmt.Println(d, err)
	// Output: -2.3 lb/ft3 <nil>
}

func ExampleParseDensityUnit() {
	u, err := units.ParseDensityUnit("kg/m³")
	fmt.Println(u.Of(2343), err)
	// Output: 2343 kg/m3 <nil>
}

func ExampleTemperature() {
	mat := units.Fahrenheit.Of(285)
	fmt.Println(mat.Text(units.Celsius), mat.Sub(units.Fahrenheit.Of(175)))
	// Output: 140.555555556 °C 110 °F
}

func ExampleParseTemperature() {
	t, err := units.ParseTemperature("285 °F")
	fmt.Println(t, err)
	// Output: 285 °F <nil>
}

func ExampleParseTemperatureDifference() {
	d, err := units.ParseTemperatureDifference("20 °C")
	fmt.Println(d.Text(units.Fahrenheit), err)
	// Output: 36 °F <nil>
}

func ExampleParseTemperatureUnit() {
	u, err := units.ParseTemperatureUnit("degF")
	fmt.Println(u, err)
	// Output: °F <nil>
}

func ExampleParseLength() {
	l, err := units.ParseLength("50 mm")
	fmt.Println(l.Text(units.Inch), err)
	// Output: 1.96850393701 in <nil>
}

func ExampleParseLengthUnit() {
	u, err := units.ParseLengthUnit("ft")
	fmt.Println(u.Of(12.5), err)
	// Output: 12.5 ft <nil>
}

func ExampleParseMass() {
	m, err := units.ParseMass("1432.7 g")
	fmt.Println(m, err)
	// Output: 1432.7 g <nil>
}

func ExampleParseMassUnit() {
	_, err := units.ParseMassUnit("ton")
	fmt.Println(err)
	// Output: units.ParseMassUnit "ton": unknown unit; need g, kg, t, lb or short ton
}

func ExampleSpecificGravityOf() {
	gmm := units.SpecificGravityOf(2.512)
	fmt.Println(gmm.Density(units.Water62_245))
	fmt.Println(gmm.Density(units.Water997_1))
	// Output:
	// 156.35944 lb/ft3
	// 2504.7152 kg/m3
}

func ExampleParseSpecificGravity() {
	g, err := units.ParseSpecificGravity("2.512")
	fmt.Println(g, err)
	// Output: 2.512 <nil>
}

func ExampleParseWaterConvention() {
	w, err := units.ParseWaterConvention("997.1 kg/m3")
	fmt.Println(w.Density(), err)
	// Output: 997.1 kg/m3 <nil>
}

func ExampleWaterAt() {
	w, err := units.WaterAt(units.Celsius.Of(25))
	fmt.Println(w, err)
	// Output: CIPM water at 25 °C, 997.047022 kg/m3 <nil>
}

func ExampleRounding() {
	tie := decimal.RequireFromString("92.45")
	for _, r := range []units.Rounding{{Method: units.HalfEven, Places: 1}, {Method: units.HalfUp, Places: 1}, {Method: units.Absolute}} {
		d, err := r.Decimal(tie)
		fmt.Println(r, d, err)
	}
	// Output:
	// half-even to 0.1 92.4 <nil>
	// half-up to 0.1 92.5 <nil>
	// absolute 92.45 <nil>
}

func ExampleRounding_Float() {
	// The sum of two readings carries binary noise; the mean is a tie all the same.
	mean := (130.1 + 130.2) / 2
	d, err := units.Rounding{Method: units.HalfEven, Places: 1}.Float(mean)
	fmt.Println(d, err)
	// Output: 130.2 <nil>
}

func ExampleParseDecimal() {
	_, err := units.ParseDecimal("92,4")
	fmt.Println(err)
	// Output: units.ParseDecimal "92,4": not a plain decimal number; need a number like 92.4
}

func ExampleExactText() {
	fmt.Println(units.ExactText(big.NewRat(5, 2)), units.ExactText(big.NewRat(1, 3)))
	// Output: 2.5 0.333333333…
}

func ExampleNewWaterByContract() {
	w, err := units.NewWaterByContract(units.LbPerFt3.Of(62.3), "special provision 402")
	fmt.Println(w, err)
	fmt.Println(units.SpecificGravityOf(2.512).Density(w))
	// Output:
	// 62.3 lb/ft3 (special provision 402) <nil>
	// 156.4976 lb/ft3
}
