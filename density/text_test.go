package density_test

import (
	"encoding/json"
	"errors"
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
	for _, p := range []density.InPlace{{}, density.Core(lb(146.5)), recorded, corrected} {
		want := density.SublotLocation{ID: "A", Characteristic: density.MatDensity, Place: density.Place{Coordinates: at}, Readings: readings(144.1, 144.3), InPlace: p}
		data, err := json.Marshal(want)
		var got density.SublotLocation
		if err != nil || json.Unmarshal(data, &got) != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%s, %v gives %+v", data, err, got)
		}
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
