package units_test

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"github.com/densilot/densilot/units"
)

func TestDensityKeepsTheRecord(t *testing.T) {
	d := units.LbPerFt3.Of(147.2)
	if got := d.String(); got != "147.2 lb/ft3" {
		t.Errorf("String = %q", got)
	}
	if got := d.In(units.LbPerFt3); got != 147.2 {
		t.Errorf("In own unit = %v", got)
	}
	// 147.2 · 28349523125/1769802912, the factor from the pound and the foot of
	// NIST SP 811, as fractions in Python: float(F(28349523125, 1769802912)*F(1472, 10)).
	if got, want := d.In(units.KgPerM3), 2357.9178086469324; got != want {
		t.Errorf("In kg/m3 = %v, want %v", got, want)
	}
	if got := d.Text(units.KgPerM3); got != "2357.91780865 kg/m3" {
		t.Errorf("Text = %q", got)
	}
}

// In is the float64 nearest to the exact conversion, whatever was recorded: 1001 for
// 1.001 g/cm3, where a product of two floats gives 1000.9999999999999.
func TestInIsNearest(t *testing.T) {
	if got := units.GPerCm3.Of(1.001).In(units.KgPerM3); got != 1001 {
		t.Errorf("1.001 g/cm3 is %v kg/m3", got)
	}
	rng := rand.New(rand.NewPCG(1, 2))
	all := []units.DensityUnit{units.LbPerFt3, units.KgPerM3, units.GPerCm3}
	for range 30_000 {
		places := math.Pow10(rng.IntN(18))
		x := math.Round((2*rng.Float64()-1)*1000*places) / places
		if rng.IntN(20) == 0 {
			x *= math.Pow10(rng.IntN(600) - 300)
		}
		d := all[rng.IntN(3)].Of(x)
		for _, u := range all {
			if want, _ := d.Exact(u).Float64(); d.In(u) != want && !math.IsInf(want, 0) {
				t.Fatalf("%v is %v %v, nearest %v", d, d.In(u), u, want)
			}
		}
	}
}

func TestNotGiven(t *testing.T) {
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if d := units.LbPerFt3.Of(x); !d.IsZero() || d.String() != "" {
			t.Errorf("Of(%v) = %v, want not given", x, d)
		}
	}
	if d := units.DensityUnit(99).Of(1); !d.IsZero() {
		t.Errorf("unknown unit made %v", d)
	}
	var none units.Density
	if !none.Sub(units.LbPerFt3.Of(1)).IsZero() || !units.LbPerFt3.Of(1).Sub(none).IsZero() || none.In(units.KgPerM3) != 0 || none.Exact(units.KgPerM3) != nil {
		t.Error("arithmetic with a density that is not given gave one")
	}
	if units.LbPerFt3.Of(0).IsZero() {
		t.Error("a recorded 0 counts as not given")
	}
	if none.Compare(units.LbPerFt3.Of(-1)) != -1 {
		t.Error("not given does not come first")
	}
}

func TestEqualAcrossUnits(t *testing.T) {
	if !units.GPerCm3.Of(2.343).Equal(units.KgPerM3.Of(2343)) {
		t.Error("2.343 g/cm3 is not 2343 kg/m3")
	}
	if !units.Fahrenheit.Of(212).Equal(units.Celsius.Of(100)) || !units.Kelvin.Of(273.15).Equal(units.Celsius.Of(0)) {
		t.Error("fixed points of the temperature scales differ")
	}
	if !units.Fahrenheit.Difference(36).Equal(units.Celsius.Difference(20)) {
		t.Error("a step of 36 °F is not one of 20 °C")
	}
	if units.LbPerFt3.Of(62.245).Equal(units.KgPerM3.Of(997.1)) {
		t.Error("62.245 lb/ft3 is not 997.1 kg/m3")
	}
	if !units.Foot.Of(1).Equal(units.Millimetre.Of(304.8)) || !units.ShortTon.Of(1).Equal(units.Pound.Of(2000)) {
		t.Error("foot or short ton is off")
	}
}

// The differences of recorded readings are those of the decimals: of 300
// differences of exactly 0.5 lb/ft3, 45 came out above 0.5 when held in kg/m3.
func TestDifferencesAreDecimal(t *testing.T) {
	half := units.LbPerFt3.Difference(0.5)
	for i := 1300; i < 1600; i++ {
		a, b := units.LbPerFt3.Of(float64(i)/10), units.LbPerFt3.Of(float64(i+5)/10)
		if d := b.Sub(a); d != half {
			t.Errorf("%v - %v = %v", b, a, d)
		}
		if back := b.Add(units.LbPerFt3.Difference(-0.5)); back != a {
			t.Errorf("%v - 0.5 = %v", b, back)
		}
	}
	if got := units.LbPerFt3.Of(148.3).Sub(units.LbPerFt3.Of(146)); got.String() != "2.3 lb/ft3" {
		t.Errorf("148.3 - 146.0 = %v", got)
	}
	if got := units.LbPerFt3.Of(1e300).Sub(units.LbPerFt3.Of(1e-300)); got.In(units.LbPerFt3) != 1e300 {
		t.Errorf("far apart: %v", got)
	}
}

func TestParseDensity(t *testing.T) {
	for _, tt := range []struct {
		text, want string
		err        error
	}{
		{"147.2 lb/ft3", "147.2 lb/ft3", nil},
		{" 147.20  pcf ", "147.2 lb/ft3", nil},
		{"2343kg/m³", "2343 kg/m3", nil},
		{"2.343 g/cm3", "2.343 g/cm3", nil},
		{"-0 kg/m3", "0 kg/m3", nil},
		{"12 stone", "", units.ErrUnit},
		{"147.2", "", units.ErrUnit},
		{"lb/ft3", "", units.ErrSyntax},
		{"", "", units.ErrNotGiven},
		{"  ", "", units.ErrNotGiven},
		{"92,4 kg/m3", "", units.ErrSyntax},
		{"92.4\u00a0kg/m3", "", units.ErrSyntax},
		{"+92.4 kg/m3", "", units.ErrSyntax},
		{"nan kg/m3", "", units.ErrSyntax},
		{"Inf kg/m3", "", units.ErrSyntax},
		{"0x1p-2 kg/m3", "", units.ErrUnit},
		{"1_000 kg/m3", "", units.ErrSyntax},
		{".5 kg/m3", "", units.ErrSyntax},
		{"5. kg/m3", "", units.ErrSyntax},
		{"1e400 kg/m3", "", units.ErrRange},
		{"1e-400 kg/m3", "", units.ErrDigits},
		{"147.20000000000000001 lb/ft3", "", units.ErrDigits},
		{"1234567890123456789012345678901 kg/m3", "", units.ErrDigits},
	} {
		d, err := units.ParseDensity(tt.text)
		var pe *units.ParseError
		if !errors.Is(err, tt.err) || tt.err != nil && !errors.As(err, &pe) {
			t.Errorf("ParseDensity(%q): error %v, want %v", tt.text, err, tt.err)
		}
		if d.String() != tt.want {
			t.Errorf("ParseDensity(%q) = %q, want %q", tt.text, d, tt.want)
		}
	}
}

// A message says what is at fault, and of what form the text should have been.
func TestParseErrorsSayWhatIsWrong(t *testing.T) {
	gravity := func(text string) error { _, err := units.ParseSpecificGravity(text); return err }
	density := func(text string) error { _, err := units.ParseDensity(text); return err }
	_, noWater := units.NewWaterByContract(units.Density{}, "the contract")
	for _, tt := range []struct {
		err  error
		want string
	}{
		{gravity("2,512"), `units.ParseSpecificGravity "2,512": not a plain decimal number; need a number like 2.512 without a unit`},
		{gravity("x"), `units.ParseSpecificGravity "x": not a plain decimal number; need a number like 2.512 without a unit`},
		{gravity("2.512 g/cm3"), `units.ParseSpecificGravity "2.512 g/cm3": unknown unit; need none`},
		{density("147,2 lb/ft3"), `units.ParseDensity "147,2 lb/ft3": not a plain decimal number; need a number like 147.2 and its unit (lb/ft3, kg/m3 or g/cm3)`},
		{density("147.2"), `units.ParseDensity "147.2": unknown unit; need lb/ft3, kg/m3 or g/cm3`},
		{noWater, `units.NewWaterByContract: d = not given, source = "the contract": no value given`},
	} {
		if tt.err == nil || tt.err.Error() != tt.want {
			t.Errorf("%v, want %s", tt.err, tt.want)
		}
	}
}

// A text of a million digits does not make a message of a million.
func TestParseErrorIsShort(t *testing.T) {
	_, err := units.ParseDecimal(strings.Repeat("9", 1_000_000))
	if want := `units.ParseDecimal "` + strings.Repeat("9", 80) + `": more digits than can be kept; need a number like 92.4`; err == nil || err.Error() != want {
		t.Errorf("%.300v, want %s", err, want)
	}
}

// Whatever is recorded reads back as the same record, number and unit.
func FuzzDensityRoundTrip(f *testing.F) {
	f.Add(147.2, uint8(1))
	f.Add(1e-320, uint8(2))
	f.Add(-1.7976931348623157e308, uint8(3))
	f.Fuzz(func(t *testing.T, x float64, u uint8) {
		d := units.DensityUnit(u).Of(x)
		if d.IsZero() {
			return
		}
		back, err := units.ParseDensity(d.String())
		if err != nil || back != d {
			t.Fatalf("%q read back as %v, %v", d, back, err)
		}
		var viaJSON units.Density
		b, err := json.Marshal(d)
		if err == nil {
			err = json.Unmarshal(b, &viaJSON)
		}
		if err != nil || viaJSON != d {
			t.Fatalf("JSON %s read back as %v, %v", b, viaJSON, err)
		}
	})
}

func FuzzParseDensity(f *testing.F) {
	for _, s := range []string{"147.2 lb/ft3", "1e5kg/m3", "--1 pcf", "1.5e g/cm3", "\ufeff1 pcf"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		d, err := units.ParseDensity(s)
		if (err == nil) == d.IsZero() {
			t.Fatalf("ParseDensity(%q) = %v, %v", s, d, err)
		}
		if err == nil {
			if back, err := units.ParseDensity(d.String()); err != nil || back != d {
				t.Fatalf("%q → %q → %v, %v", s, d, back, err)
			}
		}
	})
}

func TestScanRefusesNumbers(t *testing.T) {
	var d units.Density
	if err := d.Scan(147.2); !errors.Is(err, units.ErrUnit) {
		t.Errorf("a bare number from a database was taken: %v, %v", d, err)
	}
	if err := d.Scan([]byte("147.2 pcf")); err != nil || d != units.LbPerFt3.Of(147.2) {
		t.Errorf("bytes: %v, %v", d, err)
	}
	if err := d.Scan(nil); err != nil || !d.IsZero() {
		t.Errorf("NULL: %v, %v", d, err)
	}
}

func TestFlag(t *testing.T) {
	var d units.Density
	fs := flag.NewFlagSet("x", flag.ContinueOnError)
	fs.TextVar(&d, "d", units.LbPerFt3.Of(1), "density")
	if err := fs.Parse([]string{"-d", "2343 kg/m3"}); err != nil || d != units.KgPerM3.Of(2343) {
		t.Errorf("flag gave %v, %v", d, err)
	}
}

func TestFormat(t *testing.T) {
	d, step := units.LbPerFt3.Of(146.25), units.LbPerFt3.Difference(2.3)
	for _, tt := range []struct{ got, want string }{
		{fmt.Sprintf("%v|%s", d, d), "146.25 lb/ft3|146.25 lb/ft3"},
		{fmt.Sprintf("%.1f", d), "146.2 lb/ft3"}, // a tie goes to the even digit
		{fmt.Sprintf("%.0f", d), "146 lb/ft3"},
		{fmt.Sprintf("%.3f", d), "146.250 lb/ft3"},
		{fmt.Sprintf("%15.1f|%-15.1f|", d, d), "   146.2 lb/ft3|146.2 lb/ft3   |"},
		{fmt.Sprintf("%+v|%+.2f", step, step), "+2.3 lb/ft3|+2.30 lb/ft3"},
		{fmt.Sprintf("%+v", units.LbPerFt3.Difference(-2.3)), "-2.3 lb/ft3"},
		{fmt.Sprintf("%v", units.Density{}), "not given"},
		{fmt.Sprintf("%d", d), "%!d(units.Density=146.25 lb/ft3)"},
		{fmt.Sprintf("%v %.1f", units.SpecificGravityOf(2.512), units.SpecificGravityOf(2.55)), "2.512 2.6"},
		{fmt.Sprintf("%v", units.Fahrenheit.Of(285)), "285 °F"},
	} {
		if tt.got != tt.want {
			t.Errorf("got %q, want %q", tt.got, tt.want)
		}
	}
}

// The quantities are written out one by one, so that each has its own
// documentation; this keeps them alike.
func TestQuantitiesHaveTheSameMethods(t *testing.T) {
	all := []any{new(units.Density), new(units.DensityDifference), new(units.Temperature), new(units.TemperatureDifference),
		new(units.Length), new(units.Mass), new(units.SpecificGravity), new(units.Station)}
	common := []string{"AppendText", "Compare", "Equal", "Format", "IsZero", "MarshalText", "Scan", "String", "UnmarshalText", "Value"}
	withUnit := []string{"Add", "Exact", "In", "Sub", "Text", "To", "Unit"}
	for _, q := range all {
		names := common
		switch q.(type) {
		case *units.SpecificGravity, *units.Station:
		default:
			names = append(append([]string(nil), common...), withUnit...)
		}
		for _, name := range names {
			if _, ok := reflect.TypeOf(q).MethodByName(name); !ok {
				t.Errorf("%T has no %s", q, name)
			}
		}
	}
}
