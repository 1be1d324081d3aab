package density_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"testing"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/units"
)

// What was written down at a location comes back from JSON as it was; before, its
// readings, its density in place and its coordinates were lost without an error.
func TestRecordsInJSON(t *testing.T) {
	at, err := density.WGS84(44.9537, -1e-7)
	if err != nil {
		t.Fatal(err)
	}
	recorded, err := density.AlreadyCorrected(lb(146.5), `gauge set to "+2.4" (letter: 3 May)`)
	if err != nil {
		t.Fatal(err)
	}
	corrected, err := offset(t, units.LbPerFt3.Difference(2.3)).Apply(density.Uncorrected(lb(144.1)), scope)
	if err != nil {
		t.Fatal(err)
	}
	gravity, err := density.CoreOf(units.SpecificGravityOf(2.368), units.Water62_245)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range []density.InPlace{{}, density.Core(lb(146.5)), gravity, recorded, corrected} {
		want := density.SublotLocation{ID: "A", Characteristic: density.MatDensity, Place: density.Place{Coordinates: at}, Readings: readings(144.1, 144.3), InPlace: p}
		data, err := json.Marshal(want)
		var got density.SublotLocation
		if err != nil || json.Unmarshal(data, &got) != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%s, %v gives %+v", data, err, got)
		}
	}
}

// A file holds the words of a choice, which do not change when a choice is added.
func TestChoicesAreWords(t *testing.T) {
	testWords(t, density.AsCorrected, density.ErrStage)
	testWords(t, density.MatWet, units.ErrRange)
	testWords(t, density.FromRecorded, density.ErrStage)
	testWords(t, density.JointDensity, density.ErrCharacteristic)
	testWords(t, density.Multilaboratory, density.ErrPrecision)
	testWords(t, density.CoarseGraded, density.ErrGradation)
	testWords(t, density.StraightLine, density.ErrModel)
	testWords(t, density.KindControlStrip, density.ErrKind)
	testWords(t, density.Latest, density.ErrRule)
	if data, err := json.Marshal(density.StoppedByTemperature); err != nil || string(data) != `"stopped by temperature"` {
		t.Errorf("an outcome is %s, %v", data, err)
	}
}

func testWords[C interface {
	~uint8
	fmt.Stringer
}](t *testing.T, last C, reason error) {
	t.Helper()
	for want := C(0); want <= last; want++ {
		data, err := json.Marshal(want)
		text := `"` + want.String() + `"`
		if want == 0 {
			text = `""`
		}
		got := last
		if err != nil || string(data) != text || json.Unmarshal(data, &got) != nil || got != want {
			t.Errorf("%T: %s, %v gives %v", want, data, err, got)
		}
	}
	got := last
	if err := json.Unmarshal([]byte(`"nothing known"`), &got); !errors.Is(err, reason) || got != last {
		t.Errorf("%T: %v, %v", last, got, err)
	}
	if err := json.Unmarshal([]byte(`1`), &got); err == nil {
		t.Errorf("%T was read from a number", last)
	}
}

// What is not read back is at least seen.
func TestWrittenForPeople(t *testing.T) {
	set := fieldSets(t)[0]
	data, err := json.Marshal([]any{offset(t, units.LbPerFt3.Difference(2.3)), maximum(t, 2.512, units.Water62_245), set})
	want := `["+2.3 lb/ft3 (core - gauge), gauge G-07, mix A, lift surface","156.35944 lb/ft3 maximum theoretical density (2.512 x 62.245 lb/ft3)","3\"2: mean of 2, 143.65 lb/ft3 uncorrected"]`
	if err != nil || string(data) != want {
		t.Errorf("%s, %v; want %s", data, err, want)
	}
	for _, v := range []any{new(density.Correction), new(density.Reference), new(density.ReadingSet)} {
		if err := json.Unmarshal([]byte(`"146 lb/ft3"`), v); err == nil {
			t.Errorf("%T was read from text", v)
		}
	}
}

func TestTextIsStrict(t *testing.T) {
	for _, tt := range []struct {
		v    interface{ UnmarshalText([]byte) error }
		text string
		want error
	}{
		{new(density.Reading), "144.1 lb/ft3", density.ErrStage},
		{new(density.Reading), "144,1 lb/ft3 uncorrected", units.ErrSyntax},
		{new(density.Reading), " uncorrected", units.ErrNotGiven},
		{new(density.InPlace), "146.5 lb/ft3", density.ErrStage},
		{new(density.InPlace), "146.5 lb/ft3 (core", density.ErrStage},
		{new(density.InPlace), "146.5 lb/ft3 (no origin)", density.ErrStage},
		{new(density.InPlace), "146.5 lb/ft3 (recorded as corrected)", density.ErrNoSource},
		{new(density.InPlace), "146.5 lb/ft3 (core: mine)", density.ErrNoSource},
		{new(density.InPlace), "146.5 (core)", units.ErrUnit},
		{new(density.InPlace), "146.5 lb/ft3 (core: water 62,4 lb/ft3)", units.ErrSyntax},
		{new(density.Coordinates), "44.9537", units.ErrSyntax},
		{new(density.Coordinates), "44.9537,-93.09", units.ErrSyntax},
		{new(density.Coordinates), "0x1p-2, 3", units.ErrSyntax},
		{new(density.Coordinates), "NaN, 3", units.ErrSyntax},
		{new(density.Coordinates), "-93.09, 44.9537", units.ErrRange},
	} {
		if err := tt.v.UnmarshalText([]byte(tt.text)); !errors.Is(err, tt.want) || !reflect.ValueOf(tt.v).Elem().IsZero() {
			t.Errorf("%T of %q: %v, %v; want %v", tt.v, tt.text, tt.v, err, tt.want)
		}
	}
}
