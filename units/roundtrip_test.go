package units_test

import (
	"database/sql"
	"database/sql/driver"
	"encoding"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/densilot/densilot/units"
)

// record is what a quantity and the pointer to it can do for storage.
type record interface {
	comparable
	driver.Valuer
	encoding.TextMarshaler
	fmt.Stringer
	IsZero() bool
}

type recordPointer[Q any] interface {
	*Q
	sql.Scanner
	encoding.TextUnmarshaler
}

// survive sends 100000 random records through text, a database column and JSON.
// Half of the numbers are any float64, half have few digits as people write them.
func survive[Q record, P recordPointer[Q]](t *testing.T, name string, parse func(string) (Q, error), of func(x float64, unit int) Q) {
	t.Run(name, func(t *testing.T) {
		t.Parallel()
		rng := rand.New(rand.NewPCG(7, 8))
		var all []Q
		for i := range 100_000 {
			x := math.Float64frombits(rng.Uint64())
			if i%2 == 0 {
				x = math.Round((rng.Float64()-0.5)*1e6) / math.Pow10(rng.IntN(5))
			}
			want := of(x, rng.IntN(5))
			all = append(all, want)
			if back, err := parse(want.String()); !want.IsZero() && (err != nil || back != want) {
				t.Fatalf("text %q came back as %v, %v", want, back, err)
			}
			var got Q
			v, err := want.Value()
			if err == nil {
				err = P(&got).Scan(v)
			}
			if err != nil || got != want {
				t.Fatalf("SQL %v came back as %v, %v", v, got, err)
			}
		}
		var decoded []Q
		b, err := json.Marshal(all)
		if err == nil {
			err = json.Unmarshal(b, &decoded)
		}
		if err != nil || !slices.Equal(decoded, all) {
			t.Fatalf("JSON came back as something else: %v", err)
		}
	})
}

func TestRandomRecordsSurvive(t *testing.T) {
	survive(t, "density", units.ParseDensity, func(x float64, u int) units.Density { return units.DensityUnit(u % 4).Of(x) })
	survive(t, "density difference", units.ParseDensityDifference, func(x float64, u int) units.DensityDifference { return units.DensityUnit(u % 4).Difference(x) })
	survive(t, "temperature", units.ParseTemperature, func(x float64, u int) units.Temperature { return units.TemperatureUnit(u % 4).Of(x) })
	survive(t, "temperature difference", units.ParseTemperatureDifference, func(x float64, u int) units.TemperatureDifference {
		return units.TemperatureUnit(u % 4).Difference(x)
	})
	survive(t, "length", units.ParseLength, func(x float64, u int) units.Length { return units.LengthUnit(u).Of(x) })
	survive(t, "mass", units.ParseMass, func(x float64, u int) units.Mass { return units.MassUnit(u + 1).Of(x) })
	survive(t, "specific gravity", units.ParseSpecificGravity, func(x float64, _ int) units.SpecificGravity { return units.SpecificGravityOf(x) })
	survive(t, "station", units.ParseStation, func(x float64, u int) units.Station { return units.StationSystem(u % 4).Of(math.Mod(x, 1e9)) })
}

// A subnormal float64 has fewer than 15 digits; text with more is refused like any
// other digits that would be lost.
func TestSubnormalDigits(t *testing.T) {
	if d, err := units.ParseDensity("1.23456789e-320 kg/m3"); err == nil {
		t.Errorf("digits were lost: %v", d)
	}
	if d, err := units.ParseDensity("5e-324 kg/m3"); err != nil || d.In(units.KgPerM3) != 5e-324 {
		t.Errorf("the least number: %v, %v", d, err)
	}
}

// A number that only one of the two units can hold is no sum and no conversion.
func TestTooLargeToConvert(t *testing.T) {
	huge, one := units.LbPerFt3.Of(1.7e308), units.KgPerM3.Of(1)
	if d := huge.To(units.KgPerM3); !d.IsZero() {
		t.Errorf("To = %v", d)
	}
	if d := one.Sub(huge); !d.IsZero() {
		t.Errorf("Sub = %v", d)
	}
	if d := one.Add(units.LbPerFt3.Difference(1.7e308)); !d.IsZero() {
		t.Errorf("Add = %v", d)
	}
	if x := huge.In(units.KgPerM3); math.IsInf(x, 0) {
		t.Errorf("In = %v", x)
	}
	if s := huge.Text(units.KgPerM3); s != "" {
		t.Errorf("Text = %q", s)
	}
	if huge.Compare(one) != 1 || one.Compare(huge) != -1 {
		t.Error("the larger one does not compare as larger")
	}
}
