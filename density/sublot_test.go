package density_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

var sublotRounding = density.SublotPolicy{
	RoundingPolicy: density.RoundingPolicy{Mean: absolute, Density: half, Maximum: half, Percentage: units.Rounding{Method: units.HalfEven, Places: 2}},
	Locations:      absolute,
}

func matAt(id string, core units.Density, values ...float64) density.SublotLocation {
	return density.SublotLocation{ID: id, Characteristic: density.MatDensity, Readings: readings(values...), InPlace: density.Core(core)}
}

// By hand, offset +2.4, Gmm 2.514 x 62.245 = 156.48393 → 156.5:
//
//	A  (143.5 + 143.8)/2 = 143.65     + 2.4 = 146.05   → 146.0, a tie to the even digit
//	B  (144 + 143.9 + 143.9)/3        + 2.4 = 146.333… → 146.3
//	C  core 147.4, its reading 144.9 kept and not used
//	mean 439.7/3 = 146.5666…, 100 · 146.5666…/156.5 = 93.65282… → 93.65
func TestAuditSublot(t *testing.T) {
	s := density.Sublot{ID: "3-2", Locations: []density.SublotLocation{matAt("A", units.Density{}, 143.5, 143.8), matAt("B", units.Density{}, 144, 143.9, 143.9), matAt("C", lb(147.4), 144.9)}}
	r, err := density.AuditSublot(s, offset(t, units.LbPerFt3.Difference(2.4)), scope, maximum(t, 2.514, units.Water62_245), sublotRounding)
	if err != nil {
		t.Fatal(err)
	}
	if r.Percentage.String() != "93.65" || r.AirVoids.String() != "6.35" || r.Unit != "% of maximum theoretical density" || r.N != 5 || r.Maximum != lb(156.5) {
		t.Errorf("result %+v", r)
	}
	for i, want := range []density.LocationResult{
		{ID: "A", Origin: density.FromReading, Source: "letter of 3 May", Readings: 2, Gauge: lb(143.65), Density: lb(146.0)},
		{ID: "B", Origin: density.FromReading, Source: "letter of 3 May", Readings: 3, Gauge: lb(143.93333333333334), Density: lb(146.3)},
		{ID: "C", Origin: density.FromCore, Readings: 1, Gauge: lb(144.9), Density: lb(147.4)},
	} {
		if r.Locations[i] != want {
			t.Errorf("%s: %+v, want %+v", want.ID, r.Locations[i], want)
		}
	}
	if codes(r.Warnings)[density.WarnMixedMethod] != 1 || !strings.Contains(r.Warnings[0].Text, "core at C; corrected reading at A, B") {
		t.Errorf("warnings %v", r.Warnings)
	}
	var working []string
	for _, step := range r.Working {
		working = append(working, step.What)
	}
	if got, want := strings.Join(working, "; "), "A: mean reading; A: corrected density; B: mean reading; B: corrected density; C: mean reading; C: core; mean of the locations; maximum theoretical density; percent compaction; air voids"; got != want {
		t.Errorf("working %q, want %q", got, want)
	}
}

// A sublot of one location is what that location gives alone.
func TestSublotOfOneLocation(t *testing.T) {
	c, ref := offset(t, units.LbPerFt3.Difference(2.4)), maximum(t, 2.514, units.Water62_245)
	for _, values := range [][]float64{{143.5, 143.8}, {144, 143.9, 143.9}, {144.9}} {
		want, err := density.AuditReadings(readings(values...), c, scope, ref, sublotRounding.RoundingPolicy)
		if err != nil {
			t.Fatal(err)
		}
		got, err := density.AuditSublot(density.Sublot{ID: "1", Locations: []density.SublotLocation{matAt("A", units.Density{}, values...)}}, c, scope, ref, sublotRounding)
		if err != nil || !got.Percentage.Equal(want.Percentage) || got.Density != want.Density || got.N != want.N {
			t.Errorf("%v: %v, %v; want %v", values, got.Percentage, err, want.Percentage)
		}
	}
	// cores alone need no correction
	if r, err := density.AuditSublot(density.Sublot{ID: "1", Locations: []density.SublotLocation{matAt("A", lb(147.4))}}, density.Correction{}, density.Scope{}, ref, sublotRounding); err != nil || r.N != 0 || len(r.Warnings) != 0 {
		t.Errorf("cores alone: %+v, %v", r, err)
	}
}

// The order of the locations changes no number.
func TestSublotOrder(t *testing.T) {
	c, ref := offset(t, units.LbPerFt3.Difference(2.4)), maximum(t, 2.514, units.Water62_245)
	a, b, d := matAt("A", units.Density{}, 143.5, 143.8), matAt("B", units.Density{}, 144, 143.9, 143.9), matAt("C", lb(147.4), 144.9)
	for _, order := range [][]density.SublotLocation{{a, b, d}, {d, a, b}, {b, d, a}} {
		r, err := density.AuditSublot(density.Sublot{ID: "1", Locations: order}, c, scope, ref, sublotRounding)
		if err != nil || r.Percentage.String() != "93.65" {
			t.Errorf("%v, %v", r.Percentage, err)
		}
	}
}

func TestAuditSublotRefuses(t *testing.T) {
	c, ref := offset(t, units.LbPerFt3.Difference(2.4)), maximum(t, 2.514, units.Water62_245)
	gauge, core := matAt("A", units.Density{}, 143.5), matAt("C", lb(147.4))
	joint := core
	joint.ID, joint.Characteristic = "J", density.JointDensity
	nowhere := core
	nowhere.ID, nowhere.Characteristic = "N", 0
	recorded, err := density.AlreadyCorrected(lb(146), "gauge set to +2.4")
	if err != nil {
		t.Fatal(err)
	}
	both := gauge
	both.InPlace = recorded
	away := gauge
	away.Place.Offset = units.Foot.Of(2)
	inSI := density.SublotLocation{ID: "S", Characteristic: density.MatDensity, InPlace: density.Core(units.KgPerM3.Of(2360))}
	far := offset(t, units.LbPerFt3.Difference(-200))
	for _, tt := range []struct {
		name      string
		id        string
		locations []density.SublotLocation
		c         density.Correction
		ref       density.Reference
		p         density.SublotPolicy
		want      error
		where     string
	}{
		{"no id", "", []density.SublotLocation{gauge}, c, ref, sublotRounding, units.ErrNotGiven, "s.ID"},
		{"no locations", "1", nil, c, ref, sublotRounding, stats.ErrTooFew, "s.Locations"},
		{"a repeated location", "1", []density.SublotLocation{gauge, core, gauge}, c, ref, sublotRounding, density.ErrRepeatedID, `[2] "A"`},
		{"a location without an id", "1", []density.SublotLocation{gauge, {Characteristic: density.MatDensity}}, c, ref, sublotRounding, units.ErrNotGiven, "[1]"},
		{"joint among mat", "1", []density.SublotLocation{gauge, joint}, c, ref, sublotRounding, density.ErrCharacteristic, `[1] "J"`},
		{"neither joint nor mat", "1", []density.SublotLocation{nowhere}, c, ref, sublotRounding, units.ErrNotGiven, `[0] "N"`},
		{"corrected beside uncorrected", "1", []density.SublotLocation{core, both}, c, ref, sublotRounding, density.ErrMixedStages, `[1] "A"`},
		{"an offset from nowhere", "1", []density.SublotLocation{away}, c, ref, sublotRounding, density.ErrEdge, `[0] "A": Offset = 2 ft`},
		{"nothing measured", "1", []density.SublotLocation{{ID: "E", Characteristic: density.MatDensity}}, c, ref, sublotRounding, stats.ErrTooFew, `[0] "E"`},
		{"two units", "1", []density.SublotLocation{core, inSI}, c, ref, sublotRounding, density.ErrUnitMismatch, `[1] "S"`},
		{"readings without a correction", "1", []density.SublotLocation{gauge}, density.Correction{}, ref, sublotRounding, units.ErrNotGiven, `[0] "A"`},
		{"a code for missing", "1", []density.SublotLocation{matAt("A", units.Density{}, 143, -999)}, c, ref, sublotRounding, density.ErrNotPositive, `[0] "A": Readings[1] = -999`},
		{"an offset below nothing", "1", []density.SublotLocation{gauge}, far, ref, sublotRounding, density.ErrNotPositive, `[0] "A"`},
		{"no reference", "1", []density.SublotLocation{gauge}, c, density.Reference{}, sublotRounding, units.ErrNotGiven, "ref"},
		{"no rounding of the mean", "1", []density.SublotLocation{gauge}, c, ref, density.SublotPolicy{RoundingPolicy: sublotRounding.RoundingPolicy}, units.ErrRounding, "Locations"},
		{"no rounding", "1", []density.SublotLocation{gauge}, c, ref, density.SublotPolicy{}, units.ErrRounding, "Mean"},
	} {
		_, err := density.AuditSublot(density.Sublot{ID: tt.id, Locations: tt.locations}, tt.c, scope, tt.ref, tt.p)
		if !errors.Is(err, tt.want) || !strings.Contains(err.Error(), tt.where) {
			t.Errorf("%s: %v, want %v at %s", tt.name, err, tt.want, tt.where)
		}
	}
}

func result(t *testing.T, id string, c density.Characteristic, ref density.Reference, core bool) density.SublotResult {
	t.Helper()
	l := density.SublotLocation{ID: "A", Characteristic: c, Readings: readings(143.5)}
	if core {
		l.InPlace = density.Core(lb(147.4))
	}
	r, err := density.AuditSublot(density.Sublot{ID: id, Locations: []density.SublotLocation{l}}, offset(t, units.LbPerFt3.Difference(2.4)), scope, ref, sublotRounding)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Joint results carry another unit, so that limits for the mat refuse them, and do
// not enter a lot of mat results; nor does a percentage of another reference.
func TestCheckSublots(t *testing.T) {
	gmm := maximum(t, 2.514, units.Water62_245)
	gmb, err := density.LaboratoryBulk(units.SpecificGravityOf(2.402), units.Water62_245)
	if err != nil {
		t.Fatal(err)
	}
	gauge, core := result(t, "1", density.MatDensity, gmm, false), result(t, "2", density.MatDensity, gmm, true)
	joint, bulk := result(t, "3", density.JointDensity, gmm, true), result(t, "4", density.MatDensity, gmb, true)
	if joint.Unit != "% of maximum theoretical density at the joint" {
		t.Errorf("unit of a joint: %q", joint.Unit)
	}
	for _, tt := range []struct {
		name     string
		results  []density.SublotResult
		want     error
		warnings int
	}{
		{"none", nil, nil, 0},
		{"one method", []density.SublotResult{core}, nil, 0},
		{"two methods", []density.SublotResult{gauge, core}, nil, 1},
		{"mat and joint", []density.SublotResult{core, joint}, density.ErrCharacteristic, 0},
		{"two references", []density.SublotResult{core, bulk}, density.ErrKind, 0},
		{"a repeated id", []density.SublotResult{core, gauge, core}, density.ErrRepeatedID, 0},
		{"the zero result", []density.SublotResult{{}}, units.ErrNotGiven, 0},
	} {
		ws, err := density.CheckSublots(tt.results)
		if !errors.Is(err, tt.want) || codes(ws)[density.WarnMixedMethod] != tt.warnings {
			t.Errorf("%s: %v, %v", tt.name, ws, err)
		}
	}
	third := gauge
	third.ID = "5"
	ws, err := density.CheckSublots([]density.SublotResult{gauge, core, third})
	if err != nil || len(ws) != 1 || !strings.HasSuffix(ws[0].Text, ": corrected reading at 1, 5; core at 2") {
		t.Errorf("two methods: %v, %v", ws, err)
	}
	// on a map and on a sheet mat and joint may stand together
	same := joint
	same.ID = core.ID
	if _, err := density.ResultsGeoJSON([]density.SublotResult{core, same}); err != nil {
		t.Error(err)
	}
	for _, write := range []func([]density.SublotResult) error{
		func(r []density.SublotResult) error { _, err := density.ResultsGeoJSON(r); return err },
		func(r []density.SublotResult) error { _, err := density.ResultsSheet(r); return err },
	} {
		if err := write([]density.SublotResult{core, core}); !errors.Is(err, density.ErrRepeatedID) {
			t.Errorf("written twice: %v", err)
		}
	}
}

// A set that was recorded as corrected enters a sublot as it is, an uncorrected one
// through its readings.
func TestSetsFeedASublot(t *testing.T) {
	shownSet := shown(t, "A", 143.5, 143.8)
	corrected, err := density.NewReadingSet(density.SetRecord{ID: "B", Entries: entries(density.AsCorrected, 146.2, 146.5), Corrected: "gauge set to +2.4"})
	if err != nil {
		t.Fatal(err)
	}
	var locations []density.SublotLocation
	for _, s := range []density.ReadingSet{shownSet, corrected} {
		l, err := s.Location(density.MatDensity, half)
		if err != nil {
			t.Fatal(err)
		}
		locations = append(locations, l)
	}
	r, err := density.AuditSublot(density.Sublot{ID: "1", Locations: locations}, offset(t, units.LbPerFt3.Difference(2.4)), scope, maximum(t, 2.514, units.Water62_245), sublotRounding)
	// A 146.05 → 146.0, B 146.35 → 146.4 (to even)
	if err != nil || r.Locations[0].Density != lb(146.0) || r.Locations[1].Density != lb(146.4) || r.Locations[1].Source != "gauge set to +2.4" {
		t.Errorf("%+v, %v", r, err)
	}
	if fmt.Sprint(r.Origins()) != "[corrected reading recorded as corrected]" || codes(r.Warnings)[density.WarnMixedMethod] != 1 {
		t.Errorf("%v, %v", r.Origins(), r.Warnings)
	}
}
