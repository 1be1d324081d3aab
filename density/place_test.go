package density_test

import (
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/units"
)

func TestWGS84(t *testing.T) {
	for _, tt := range []struct {
		lat, lon float64
		want     error
	}{{44.9537, -93.09, nil}, {90, 180, nil}, {-90, -180, nil}, {0, 0, nil}, {-93.09, 44.9537, units.ErrRange}, {90.0001, 0, units.ErrRange},
		{0, -180.0001, units.ErrRange}, {math.NaN(), 0, units.ErrRange}, {0, math.NaN(), units.ErrRange}, {math.Inf(1), 0, units.ErrRange}} {
		c, err := density.WGS84(tt.lat, tt.lon)
		if !errors.Is(err, tt.want) || c.IsZero() != (tt.want != nil) {
			t.Errorf("%v, %v: %v, %v", tt.lat, tt.lon, c, err)
		}
	}
	c, _ := density.WGS84(math.Copysign(0, -1), 1e-7)
	if c.String() != "0, 0.0000001" {
		t.Errorf("small numbers: %q", c)
	}
}

// The offset is kept whatever the zone of the machine, and text without one or out
// of the grammar of RFC 3339 5.6 is refused.
func TestParseInstant(t *testing.T) {
	for _, text := range []string{"2026-05-12T14:05:00-05:00", "2026-05-12T19:05:00Z", "2026-05-12T14:05:00.25+05:30"} {
		at, err := density.ParseInstant(text)
		if err != nil || at.Format(time.RFC3339Nano) != text || at.Location() == time.Local {
			t.Errorf("%s: %v, %v", text, at, err)
		}
	}
	for _, text := range []string{"", "2026-05-12", "2026-05-12T14:05:00", "2026-05-12 14:05:00-05:00", "12/05/2026 14:05", "2026-02-30T14:05:00Z", "2026-05-12T24:05:00Z", "0000-05-12T14:05:00Z", "2026-05-12T4:05:00Z", "2026-05-12T14:05:00,25Z", "2026-05-12T14:05:00+24:00", "2026-05-12T14:05:00+05:60", "2026-05-12T14:05:00Z "} {
		if at, err := density.ParseInstant(text); err == nil || !at.IsZero() {
			t.Errorf("%q accepted as %v", text, at)
		}
	}
}

func TestPlaceRefuses(t *testing.T) {
	for _, tt := range []struct {
		name string
		p    density.Place
		want error
	}{
		{"nothing given", density.Place{}, nil},
		{"from an edge", density.Place{Offset: units.Foot.Of(3), Edge: "right edge"}, nil},
		{"on the edge", density.Place{Offset: units.Foot.Of(0), Edge: "right edge"}, nil},
		{"from nowhere", density.Place{Offset: units.Foot.Of(3)}, density.ErrEdge},
		{"beyond the edge", density.Place{Offset: units.Foot.Of(-3), Edge: "right edge"}, units.ErrRange},
		{"two lines", density.Place{Edge: "right\nedge"}, density.ErrText},
	} {
		if err := tt.p.Validate(); !errors.Is(err, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}

// fieldSets are two locations, one without coordinates, ids with characters that
// JSON has to escape or that are not ASCII.
func fieldSets(t *testing.T) []density.ReadingSet {
	t.Helper()
	c, err := density.WGS84(44.9537, -93.09)
	if err != nil {
		t.Fatal(err)
	}
	at, err := density.ParseInstant("2026-05-12T14:05:00-05:00")
	if err != nil {
		t.Fatal(err)
	}
	job := density.Place{Project: "TH 5", Lot: "3"}
	first, second := job, job
	first.Station, first.Offset, first.Edge, first.Coordinates = units.Station100Ft.Of(1234.5), units.Foot.Of(6.5), "right edge", c
	second.Station = units.Station100Ft.Of(10500)
	var sets []density.ReadingSet
	for _, r := range []density.SetRecord{
		{ID: `3"2`, Entries: []density.Entry{{Value: lb(143.5), Stage: density.AsShown, Pattern: "centre"}, {Value: lb(143.8), Stage: density.AsShown, Pattern: "turned 90°"}},
			Place: first, At: at, Mat: units.Fahrenheit.Of(148), Moisture: density.MatDamp},
		{ID: "Süd", Entries: entries(density.AsShown, 144, 143.9, 143.9), Place: second},
	} {
		s, err := density.NewReadingSet(r)
		if err != nil {
			t.Fatal(err)
		}
		sets = append(sets, s)
	}
	return sets
}

// The bytes follow by hand from RFC 7946 and the order in the doc comment; the mean
// (144 + 143.9 + 143.9)/3 = 143.9333….
func TestReadingsGeoJSON(t *testing.T) {
	want := `{"type":"FeatureCollection","features":[
{"type":"Feature","id":"3\"2","geometry":{"type":"Point","coordinates":[-93.09,44.9537]},"properties":{"project":"TH 5","lot":"3","station":"12+34.5 ft","offset":"6.5 ft","edge":"right edge","time":"2026-05-12T14:05:00-05:00","stage":"uncorrected","readings":["143.5 lb/ft3","143.8 lb/ft3"],"patterns":["centre","turned 90°"],"count":2,"mean (lb/ft3)":143.65,"mat":"148 °F","moisture":"damp"}},
{"type":"Feature","id":"Süd","geometry":null,"properties":{"project":"TH 5","lot":"3","station":"105+00 ft","stage":"uncorrected","readings":["144 lb/ft3","143.9 lb/ft3","143.9 lb/ft3"],"count":3,"mean (lb/ft3)":143.933333333}}
]}
`
	for range 3 {
		got, err := density.ReadingsGeoJSON(fieldSets(t))
		if err != nil || string(got) != want {
			t.Fatalf("got %s, %v; want %s", got, err, want)
		}
	}
}

// No sets are a collection of no features, not null (RFC 7946 3.3).
func TestEmptyGeoJSON(t *testing.T) {
	for _, write := range []func() ([]byte, error){func() ([]byte, error) { return density.ReadingsGeoJSON(nil) }, func() ([]byte, error) { return density.ResultsGeoJSON(nil) }} {
		b, err := write()
		var c struct {
			Type     string
			Features []json.RawMessage
			Crs      any
		}
		if err != nil || json.Unmarshal(b, &c) != nil || c.Type != "FeatureCollection" || c.Features == nil || len(c.Features) != 0 || c.Crs != nil {
			t.Errorf("%s, %v", b, err)
		}
	}
}

// By hand: columns as wide as their widest cell, two blanks between, numbers to the
// right, empty columns left out (set with ljust and rjust in Python).
func TestReadingsSheet(t *testing.T) {
	want := strings.TrimPrefix(`
project TH 5, lot 3
location  station (ft)  offset (ft)  edge        latitude (°)  longitude (°)  time                       stage        pattern             readings (lb/ft3)  n  mean (lb/ft3)  mat (°F)  moisture
3"2            12+34.5          6.5  right edge       44.9537         -93.09  2026-05-12T14:05:00-05:00  uncorrected  centre, turned 90°  143.5, 143.8       2         143.65       148  damp
Süd             105+00                                                                                   uncorrected                      144, 143.9, 143.9  3         143.93
`, "\n")
	got, err := density.ReadingsSheet(fieldSets(t))
	if err != nil || got != want {
		t.Errorf("got\n%s%v\nwant\n%s", got, err, want)
	}
}

// Where a column holds two units they stand in its cells.
func TestSheetKeepsMixedUnits(t *testing.T) {
	var sets []density.ReadingSet
	for i, mat := range []units.Temperature{units.Fahrenheit.Of(148), units.Celsius.Of(64)} {
		s, err := density.NewReadingSet(density.SetRecord{ID: string(rune('a' + i)), Entries: entries(density.AsShown, 144), Mat: mat})
		if err != nil {
			t.Fatal(err)
		}
		sets = append(sets, s)
	}
	got, err := density.ReadingsSheet(sets)
	want := "location  stage        readings (lb/ft3)  n  mean (lb/ft3)     mat\n" +
		"a         uncorrected  144                1         144.00  148 °F\n" +
		"b         uncorrected  144                1         144.00   64 °C\n"
	if err != nil || got != want {
		t.Errorf("got\n%s%v\nwant\n%s", got, err, want)
	}
	if empty, err := density.ReadingsSheet(nil); empty != "" || err != nil {
		t.Errorf("no sets: %q, %v", empty, err)
	}
}
