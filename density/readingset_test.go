package density_test

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"testing"
	"time"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

func entries(stage density.Stage, values ...float64) (es []density.Entry) {
	for _, x := range values {
		es = append(es, density.Entry{Value: lb(x), Stage: stage})
	}
	return es
}

func shown(t *testing.T, id string, values ...float64) density.ReadingSet {
	t.Helper()
	s, err := density.NewReadingSet(density.SetRecord{ID: id, Entries: entries(density.AsShown, values...)})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestReadingSetRefuses(t *testing.T) {
	zoned := time.FixedZone("", 3601)
	good := entries(density.AsShown, 143.5, 143.8)
	for _, tt := range []struct {
		name string
		r    density.SetRecord
		want error
	}{
		{"no id", density.SetRecord{Entries: good}, units.ErrNotGiven},
		{"a tab in the id", density.SetRecord{ID: "3\t2", Entries: good}, density.ErrText},
		{"broken text", density.SetRecord{ID: "3\xff", Entries: good}, density.ErrText},
		{"no readings", density.SetRecord{ID: "1"}, stats.ErrTooFew},
		{"no stage", density.SetRecord{ID: "1", Entries: []density.Entry{{Value: lb(143)}}}, density.ErrStage},
		{"an unknown stage", density.SetRecord{ID: "1", Entries: entries(9, 143)}, density.ErrStage},
		{"corrected and uncorrected", density.SetRecord{ID: "1", Entries: append(entries(density.AsShown, 143.5), entries(density.AsCorrected, 146)...)}, density.ErrMixedStages},
		{"uncorrected among corrected", density.SetRecord{ID: "1", Corrected: "gauge set to +2.4", Entries: append(entries(density.AsCorrected, 146), good...)}, density.ErrMixedStages},
		{"corrected by nobody", density.SetRecord{ID: "1", Entries: entries(density.AsCorrected, 146)}, density.ErrNoSource},
		{"uncorrected, yet corrected by somebody", density.SetRecord{ID: "1", Corrected: "gauge set to +2.4", Entries: good}, density.ErrStage},
		{"a missing value", density.SetRecord{ID: "1", Entries: []density.Entry{{Stage: density.AsShown}}}, units.ErrNotGiven},
		{"NaN", density.SetRecord{ID: "1", Entries: entries(density.AsShown, 143, math.NaN())}, units.ErrNotGiven},
		{"a code for missing", density.SetRecord{ID: "1", Entries: entries(density.AsShown, 143, -999)}, density.ErrNotPositive},
		{"a mat of -999", density.SetRecord{ID: "1", Entries: good, Mat: units.Fahrenheit.Of(-999)}, units.ErrRange},
		{"two units", density.SetRecord{ID: "1", Entries: []density.Entry{good[0], {Value: units.KgPerM3.Of(2300), Stage: density.AsShown}}}, density.ErrUnitMismatch},
		{"an unknown moisture", density.SetRecord{ID: "1", Entries: good, Moisture: 9}, units.ErrRange},
		{"an offset from nowhere", density.SetRecord{ID: "1", Entries: good, Place: density.Place{Offset: units.Foot.Of(3)}}, density.ErrEdge},
		{"a zone with seconds", density.SetRecord{ID: "1", Entries: good, At: time.Date(2026, 5, 12, 8, 0, 0, 0, zoned)}, units.ErrRange},
		{"the year 10000", density.SetRecord{ID: "1", Entries: good, At: time.Date(10000, 1, 1, 0, 0, 0, 0, time.UTC)}, units.ErrRange},
	} {
		s, err := density.NewReadingSet(tt.r)
		var place *stats.InputError
		if !errors.Is(err, tt.want) || !errors.As(err, &place) || !s.IsZero() || place.ID != tt.r.ID && !errors.Is(err, density.ErrText) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}

// The mean of a and b = a + 0.1, 0.3, … 0.9 is an exact tie at 0.1 for every a from
// 130.0 to 169.9. The right answer follows in whole hundredths: half-even of
// 10a + 10b over 2, decided on integers.
func TestMeanOfTwoIsATie(t *testing.T) {
	for tenths := 1300; tenths < 1700; tenths++ {
		for step := 1; step <= 9; step += 2 {
			a, b := float64(tenths)/10, float64(tenths+step)/10
			s, err := density.NewReadingSet(density.SetRecord{ID: "1", Entries: entries(density.AsCorrected, a, b), Corrected: "gauge set to +2.4"})
			if err != nil {
				t.Fatal(err)
			}
			sum := 2*tenths + step // in tenths, odd
			want := sum / 2
			want += want % 2 // the even neighbour of a half
			p, err := s.InPlace(half)
			if err != nil || p.Density() != lb(float64(want)/10) || p.Origin() != density.FromRecorded {
				t.Fatalf("%v and %v: %v, %v; want %v", a, b, p, err, float64(want)/10)
			}
		}
	}
}

// A difference of exactly the limit is never more than it.
func TestSpreadOfExactlyTheLimit(t *testing.T) {
	policy := density.SpreadPolicy{Limit: units.LbPerFt3.Difference(0.5)}
	for tenths := 1300; tenths < 1600; tenths++ {
		r, err := shown(t, "1", float64(tenths)/10, float64(tenths+5)/10).CheckSpread(policy)
		if err != nil || r.Exceeded || r.Range != units.LbPerFt3.Difference(0.5) {
			t.Fatalf("%v: %+v, %v", tenths, r, err)
		}
	}
	// 40 kg/m3 is 2.4971 lb/ft3, so that 2.5 is more
	r, err := shown(t, "1", 142.5, 145.0).CheckSpread(density.SpreadPolicy{Limit: units.KgPerM3.Difference(40)})
	if err != nil || !r.Exceeded {
		t.Errorf("2.5 lb/ft3 against 40 kg/m3: %+v, %v", r, err)
	}
}

func TestSpreadAsksForMore(t *testing.T) {
	for _, tt := range []struct {
		name            string
		values          []float64
		enough          int
		exceeded, more  bool
		low, high       int
		want, wantRange string
	}{
		{"close", []float64{143.5, 144.0}, 4, false, false, 0, 1, "", "0.5 lb/ft3"},
		{"far", []float64{145.2, 142.5}, 4, true, true, 1, 0,
			"reading 1 (145.2 lb/ft3) and reading 2 (142.5 lb/ft3) are 2.7 lb/ft3 apart, more than 2.5 lb/ft3; read both again and, if they stay apart, turn the gauge further until 4 are averaged", "2.7 lb/ft3"},
		{"far, no end", []float64{142.5, 145.2}, 0, true, true, 0, 1,
			"reading 2 (145.2 lb/ft3) and reading 1 (142.5 lb/ft3) are 2.7 lb/ft3 apart, more than 2.5 lb/ft3; read both again", "2.7 lb/ft3"},
		{"four stand", []float64{142.5, 145.2, 143.9, 144.0}, 4, true, false, 0, 1,
			"reading 2 (145.2 lb/ft3) and reading 1 (142.5 lb/ft3) are 2.7 lb/ft3 apart, more than 2.5 lb/ft3; the mean of 4 readings stands", "2.7 lb/ft3"},
		{"one", []float64{142.5}, 4, false, false, 0, 0, "", "0 lb/ft3"},
	} {
		r, err := shown(t, "1", tt.values...).CheckSpread(density.SpreadPolicy{Limit: units.LbPerFt3.Difference(2.5), Enough: tt.enough})
		if err != nil || r.Exceeded != tt.exceeded || r.MoreWanted != tt.more || r.Low != tt.low || r.High != tt.high || r.Explanation != tt.want || r.Range.String() != tt.wantRange {
			t.Errorf("%s: %+v, %v", tt.name, r, err)
		}
	}
	for _, bad := range []density.SpreadPolicy{{}, {Limit: units.LbPerFt3.Difference(-1)}, {Limit: units.LbPerFt3.Difference(1), Enough: -1}} {
		if _, err := shown(t, "1", 144).CheckSpread(bad); err == nil {
			t.Errorf("%+v accepted", bad)
		}
	}
	if _, err := (density.ReadingSet{}).CheckSpread(density.SpreadPolicy{Limit: units.LbPerFt3.Difference(1)}); !errors.Is(err, units.ErrNotGiven) {
		t.Errorf("the zero set: %v", err)
	}
}

// Unequal numbers of readings: each location counts once. The offset is
// (2.7 + 2.7 + 1.0)/3 = 2.1333…, by hand from the means 145.2, 146.2 and 150.2.
func TestSetsFeedTheOffset(t *testing.T) {
	sets := []density.ReadingSet{shown(t, "A", 145.0, 145.4), shown(t, "B", 146.2, 146.0, 146.4, 146.2), shown(t, "C", 150.1, 150.3, 150.2, 150.0, 150.4, 150.2)}
	var gauge []bias.Location
	for _, s := range sets {
		gauge = append(gauge, bias.Location{ID: s.ID(), Readings: s.Readings()})
	}
	cores := []bias.Core{cutAt("C", 151.2), cutAt("A", 147.9), cutAt("B", 148.9)}
	e, err := bias.EstimateOffset(gauge, cores, bias.Options{Level: 0.95, Rounding: absolute, Scope: scope, Source: "strip"})
	if err != nil || e.Correction.Exact().Cmp(big.NewRat(64, 30)) != 0 {
		t.Errorf("offset %v, %v; want 2.1333…", e.Correction, err)
	}
}

func TestReadingSetKeepsItsRecord(t *testing.T) {
	r := density.SetRecord{ID: "1", Entries: entries(density.AsShown, 143.5, 143.9)}
	s, err := density.NewReadingSet(r)
	if err != nil {
		t.Fatal(err)
	}
	r.Entries[0].Value = lb(1)
	s.Record().Entries[1].Value = lb(2)
	mean, unit := s.Exact()
	mean.SetInt64(3)
	if mean, _ = s.Exact(); mean.Cmp(big.NewRat(1437, 10)) != 0 || unit != units.LbPerFt3 || s.Mean() != lb(143.7) || s.N() != 2 || s.Readings()[0].Density() != lb(143.5) {
		t.Errorf("the set changed: %v", s)
	}
	corrected, err := density.NewReadingSet(density.SetRecord{ID: "1", Entries: entries(density.AsCorrected, 146), Corrected: "gauge set to +2.4"})
	if err != nil || corrected.Readings() != nil || corrected.Stage() != density.AsCorrected {
		t.Errorf("a corrected set gives readings: %v, %v", corrected, err)
	}
	if _, err := s.InPlace(half); !errors.Is(err, density.ErrStage) {
		t.Errorf("uncorrected as in place: %v", err)
	}
	if _, err := corrected.InPlace(units.Rounding{}); !errors.Is(err, units.ErrRounding) {
		t.Errorf("no rounding: %v", err)
	}
}

var setPolicy = density.SetPolicy{Spread: density.SpreadPolicy{Limit: units.LbPerFt3.Difference(2.5)}, Copied: 2, Stuck: 4}

func TestCheckSets(t *testing.T) {
	for _, tt := range []struct {
		name string
		sets [][]float64
		want []string // code and place
	}{
		{"nothing", [][]float64{{143.5, 143.8}, {144.1, 144.0}}, nil},
		{"no sets", nil, nil},
		{"a copied block", [][]float64{{143.5, 143.8}, {144.1, 144.0}, {143.5, 143.8}, {144.1, 144.0}}, []string{"copied-readings 2", "copied-readings 3"}},
		{"the same numbers in another order", [][]float64{{143.5, 143.8}, {143.8, 143.5}}, nil},
		{"single readings are too few to be a copy", [][]float64{{143.5}, {143.5}}, nil},
		{"a stuck gauge over three locations", [][]float64{{143.1, 143.5}, {143.5, 143.5}, {143.5, 143.0}}, []string{"stuck-gauge 0"}},
		{"three in a row are not four", [][]float64{{143.1, 143.5}, {143.5, 143.5}}, nil},
		{"stuck to the end", [][]float64{{143.1, 142.0}, {143.5, 143.5}, {143.5, 143.5}}, []string{"stuck-gauge 1", "copied-readings 2"}},
		{"apart", [][]float64{{141.0, 143.6}}, []string{"spread 0"}},
	} {
		var sets []density.ReadingSet
		for i, values := range tt.sets {
			sets = append(sets, shown(t, fmt.Sprint(i), values...))
		}
		warnings, err := density.CheckSets(sets, setPolicy)
		var got []string
		for _, w := range warnings {
			got = append(got, string(w.Code)+" "+w.Where)
		}
		if err != nil || fmt.Sprint(got) != fmt.Sprint(tt.want) {
			t.Errorf("%s: %v, %v; want %v", tt.name, warnings, err, tt.want)
		}
	}
}

func TestCheckSetsRefuses(t *testing.T) {
	a, b := shown(t, "a", 143), shown(t, "b", 144)
	corrected, err := density.NewReadingSet(density.SetRecord{ID: "c", Entries: entries(density.AsCorrected, 146), Corrected: "gauge set to +2.4"})
	if err != nil {
		t.Fatal(err)
	}
	inSI, err := density.NewReadingSet(density.SetRecord{ID: "d", Entries: []density.Entry{{Value: units.KgPerM3.Of(2300), Stage: density.AsShown}}})
	if err != nil {
		t.Fatal(err)
	}
	few := setPolicy
	few.Stuck = 1
	for _, tt := range []struct {
		name string
		sets []density.ReadingSet
		p    density.SetPolicy
		want error
	}{
		{"a repeated id", []density.ReadingSet{a, b, a}, setPolicy, density.ErrRepeatedID},
		{"corrected among uncorrected", []density.ReadingSet{a, corrected}, setPolicy, density.ErrMixedStages},
		{"two units", []density.ReadingSet{a, inSI}, setPolicy, density.ErrUnitMismatch},
		{"the zero set", []density.ReadingSet{a, {}}, setPolicy, units.ErrNotGiven},
		{"no policy", []density.ReadingSet{a}, density.SetPolicy{}, units.ErrNotGiven},
		{"a run of one", []density.ReadingSet{a}, few, units.ErrRange},
	} {
		if _, err := density.CheckSets(tt.sets, tt.p); !errors.Is(err, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
		if tt.p == setPolicy {
			if _, err := density.ReadingsGeoJSON(tt.sets); !errors.Is(err, tt.want) {
				t.Errorf("as GeoJSON, %s: %v, want %v", tt.name, err, tt.want)
			}
			if _, err := density.ReadingsSheet(tt.sets); !errors.Is(err, tt.want) {
				t.Errorf("as a sheet, %s: %v, want %v", tt.name, err, tt.want)
			}
		}
	}
}

func cutAt(id string, x float64) bias.Core {
	return bias.Core{ID: id, Densities: []density.InPlace{density.Core(lb(x))}}
}
