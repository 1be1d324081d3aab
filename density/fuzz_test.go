package density_test

import (
	"encoding"
	"encoding/json"
	"testing"
	"time"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/units"
)

// An instant reads back the same, its offset too.
func FuzzParseInstant(f *testing.F) {
	for _, seed := range []string{"2026-05-12T14:05:00-05:00", "2026-05-12T14:05:00.25Z", "2026-05-12T4:05:00Z", "2026-05-12", ""} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		at, err := density.ParseInstant(text)
		if err != nil {
			return
		}
		written := at.Format(time.RFC3339Nano)
		back, err := density.ParseInstant(written)
		if err != nil || !back.Equal(at) || back.Format(time.RFC3339Nano) != written {
			t.Fatalf("%q is written %q and reads back as %v, %v", text, written, back, err)
		}
	})
}

// The words of a rule of the maximum density and of a kind of reference read back
// the same.
func FuzzWords(f *testing.F) {
	for _, seed := range []string{`"mean of the day"`, `"moving average"`, `""`, `"latest "`} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var first, second density.MaximumBasis
		if json.Unmarshal([]byte(text), &first) == nil {
			written, err := json.Marshal(first)
			if err != nil || json.Unmarshal(written, &second) != nil || second != first {
				t.Fatalf("%s is written %s and reads back as %v, %v", text, written, second, err)
			}
		}
		if kind, err := density.ParseReferenceKind(text); err == nil {
			if back, err := density.ParseReferenceKind(kind.String()); err != nil || back != kind {
				t.Fatalf("%q: %v, %v", text, back, err)
			}
		}
	})
}

// Text that is read as a record is written so that it reads back the same.
func FuzzRecordText(f *testing.F) {
	for _, seed := range []string{"144.1 lb/ft3 uncorrected", "146.5 lb/ft3 (core)", "147.39616 lb/ft3 (core: water 62.245 lb/ft3)", "146.5 lb/ft3 (recorded as corrected: a (b): c))", "44.9537, -93.09", "-0, .5"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		readsBack[density.Reading](t, text)
		readsBack[density.InPlace](t, text)
		readsBack[density.Coordinates](t, text)
	})
}

func readsBack[T comparable, P interface {
	*T
	encoding.TextUnmarshaler
	encoding.TextMarshaler
}](t *testing.T, text string) {
	var first, second T
	if P(&first).UnmarshalText([]byte(text)) != nil {
		return
	}
	written, err := P(&first).MarshalText()
	if err == nil {
		err = P(&second).UnmarshalText(written)
	}
	if err != nil || second != first {
		t.Fatalf("%q is written %q and reads back as %v, %v", text, written, second, err)
	}
}

// Whatever a set is called and wherever it is, what is written of it is JSON.
func FuzzReadingsGeoJSON(f *testing.F) {
	f.Add("1-1", "a note, \"quoted\"", 45.25, -93.5, 146.2)
	f.Add("=1+1", "\x00\xff", -90.0, 180.0, 1e-300)
	f.Fuzz(func(t *testing.T, id, pattern string, latitude, longitude, x float64) {
		at, err := density.WGS84(latitude, longitude)
		if err != nil {
			return
		}
		set, err := density.NewReadingSet(density.SetRecord{ID: id, Place: density.Place{Coordinates: at},
			Entries: []density.Entry{{Value: units.LbPerFt3.Of(x), Stage: density.AsShown, Pattern: pattern}}})
		if err != nil {
			return
		}
		written, err := density.ReadingsGeoJSON([]density.ReadingSet{set})
		if err == nil && !json.Valid(written) {
			t.Fatalf("%s", written)
		}
		if sheet, err := density.ReadingsSheet([]density.ReadingSet{set}); err == nil && sheet == "" {
			t.Fatal("an empty sheet")
		}
	})
}
