package bias_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// columns makes locations of one reading and cores with the ids 1, 2, 3 ...
func columns(gauge, cores []float64) (ls []bias.Location, cs []bias.Core) {
	for i, g := range gauge {
		id := fmt.Sprint(i + 1)
		ls, cs = append(ls, location(id, g)), append(cs, core(id, cores[i]))
	}
	return ls, cs
}

func waqtcRule() bias.EliminationRule {
	return bias.EliminationRule{Limit: units.LbPerFt3.Difference(2.5), Keep: 5, Mean: absolute, StdDev: absolute}
}

// The print has a standard deviation of 0.53 and keeps all ten; R 4.2.2 sd gives
// 0.526624470884 about the unrounded mean 2.12, which rounds to the 2.1 of the print.
func TestEliminationKeepsAll(t *testing.T) {
	l, c := columns(waqtcGauge, waqtcCore)
	o := options()
	o.Rounding = units.Rounding{Method: units.HalfEven, Places: 1}
	r, err := bias.EliminateWorst(l, c, o, waqtcRule())
	if err != nil || !r.Established || len(r.Steps) != 1 || r.Kept.N != 10 || r.Kept.Offset != units.LbPerFt3.Difference(2.1) {
		t.Fatalf("%+v, %v", r, err)
	}
	if s := r.Steps[0]; !s.Met || s.Dropped != "" || math.Abs(s.StdDev.In(units.LbPerFt3)-0.526624470884) > 5e-13 {
		t.Errorf("step %+v", s)
	}
}

// The same table with core 10 at 152.0, by R 4.2.2: mean 3.02, sd 2.85260115217;
// without site 10 mean 2.13333333333, sd 0.556776436283.
func TestEliminationDropsTheWorst(t *testing.T) {
	cores := append([]float64(nil), waqtcCore...)
	cores[9] = 152.0
	l, c := columns(waqtcGauge, cores)
	r, err := bias.EliminateWorst(l, c, options(), waqtcRule())
	if err != nil || !r.Established || len(r.Steps) != 2 {
		t.Fatalf("%+v, %v", r, err)
	}
	first, second := r.Steps[0], r.Steps[1]
	if first.Met || first.Dropped != "10" || math.Abs(first.StdDev.In(units.LbPerFt3)-2.85260115217) > 5e-12 || math.Abs(first.Mean.In(units.LbPerFt3)-3.02) > 1e-13 {
		t.Errorf("first step %+v", first)
	}
	if !second.Met || second.N != 9 || math.Abs(second.StdDev.In(units.LbPerFt3)-0.556776436283) > 5e-13 {
		t.Errorf("second step %+v", second)
	}
	if math.Abs(r.Kept.Mean-32.0/15) > 1e-14 || math.Abs(r.All.Mean-3.02) > 1e-13 || r.All.N != 10 || !has(r.Kept.Warnings, bias.WarnEliminated) {
		t.Errorf("kept %v, all %v, %v", r.Kept.Mean, r.All.Mean, r.Kept.Warnings)
	}
}

func has(ws []stats.Warning, code stats.WarningCode) bool {
	for _, w := range ws {
		if w.Code == code {
			return true
		}
	}
	return false
}

// Differences -2.5, 0, 2.5 have a standard deviation of exactly 2.5, by hand, which
// meets the limit; those of -9, -3, 0, 3, 9 one of √45 = 6.7, and five must stay.
func TestEliminationLimits(t *testing.T) {
	l, c := pairsOf(-2.5, 0, 2.5)
	rule := waqtcRule()
	rule.Keep = 3
	if r, err := bias.EliminateWorst(l, c, options(), rule); err != nil || !r.Established || len(r.Steps) != 1 {
		t.Errorf("exactly the limit: %+v, %v", r.Steps, err)
	}
	l, c = pairsOf(-9, -3, 0, 3, 9)
	r, err := bias.EliminateWorst(l, c, options(), waqtcRule())
	if err != nil || r.Established || r.Kept.N != 0 || !r.Kept.Correction.IsZero() || r.All.N != 5 || r.Explanation == "" {
		t.Errorf("five far apart: %+v, %v", r, err)
	}
	rule.Keep = 4
	r, err = bias.EliminateWorst(l, c, options(), rule)
	if err != nil || len(r.Steps) != 2 || r.Steps[0].Dropped != "1" || r.Established {
		t.Errorf("of two equally far the first goes: %+v, %v", r.Steps, err)
	}
}

// The print: mean 2.1, Σx² 2.5 about it, standard deviation 0.53, all ten stay; without
// its rounding 2.12 and 0.526624470884 (R 4.2.2). With core 10 at 152.0 by hand about
// the rounded means 3.0 and 2.1: √(73.24/9) = 2.85268 and √(2.49/8) = 0.55790.
func TestEliminationRoundsAsThePrint(t *testing.T) {
	rule := waqtcRule()
	rule.Mean, rule.StdDev = units.Rounding{Method: units.HalfEven, Places: 1}, units.Rounding{Method: units.HalfEven, Places: 2}
	cores := append([]float64(nil), waqtcCore...)
	for _, tt := range []struct {
		last  float64
		steps [][3]float64 // mean, standard deviation, and that without rounding
	}{{143.0, [][3]float64{{2.1, 0.53, 0.526624470884}}}, {152.0, [][3]float64{{3.0, 2.85, 2.85260115217}, {2.1, 0.56, 0.556776436283}}}} {
		cores[9] = tt.last
		l, c := columns(waqtcGauge, cores)
		r, err := bias.EliminateWorst(l, c, options(), rule)
		if err != nil || !r.Established || len(r.Steps) != len(tt.steps) || r.Unrounded != nil || len(r.Warnings) != 0 {
			t.Fatalf("core 10 at %v: %+v, %v", tt.last, r.Steps, err)
		}
		for i, want := range tt.steps {
			s := r.Steps[i]
			if s.Mean != units.LbPerFt3.Difference(want[0]) || s.StdDev != units.LbPerFt3.Difference(want[1]) || math.Abs(s.Unrounded.In(units.LbPerFt3)-want[2]) > 5e-12 {
				t.Errorf("step %+v, want %v", s, want)
			}
		}
	}
}

// Where rounding decides, both answers are shown. By hand: 2.503 rounds to 2.50; about
// 0.0 in place of 0.04 the three give √6.2524 > 2.5; about 5.0 in place of 4.96 the
// farthest is 0, not 10.
func TestEliminationDependsOnRounding(t *testing.T) {
	tenth, hundredth := units.Rounding{Method: units.HalfEven, Places: 1}, units.Rounding{Method: units.HalfEven, Places: 2}
	for _, tt := range []struct {
		name               string
		cores              []float64
		mean, sd           units.Rounding
		met, without       bool
		dropped, unrounded string
	}{
		{"the deviation rounds to the limit", []float64{142.497, 145, 147.503}, absolute, hundredth, true, false, "", "1"},
		{"the deviation is about a rounded mean", []float64{142.54, 145.04, 147.54}, tenth, absolute, false, true, "3", ""},
		{"another pair is farthest", []float64{145, 155, 149.88}, tenth, absolute, false, false, "1", "2"},
	} {
		l, c := columns([]float64{145, 145, 145}, tt.cores)
		r, err := bias.EliminateWorst(l, c, bias.Options{Level: 0.95, Rounding: absolute, Scope: options().Scope, Source: "x", MinPairs: 2},
			bias.EliminationRule{Limit: units.LbPerFt3.Difference(2.5), Keep: 2, Mean: tt.mean, StdDev: tt.sd})
		if err != nil {
			t.Fatal(err)
		}
		if s := r.Steps[0]; s.Met != tt.met || s.MetWithout != tt.without || s.Dropped != tt.dropped {
			t.Errorf("%s: %+v", tt.name, s)
		}
		if r.Unrounded == nil || r.Unrounded.Steps[0].Dropped != tt.unrounded || !has(r.Warnings, bias.WarnRounding) {
			t.Errorf("%s: without rounding %+v, %v", tt.name, r.Unrounded, r.Warnings)
		}
	}
}

func TestEliminateWorstRefuses(t *testing.T) {
	l, c := pairsOf(2.2, 2.5, 1.9)
	for _, tt := range []struct {
		name string
		rule bias.EliminationRule
		want error
	}{
		{"no limit", bias.EliminationRule{Keep: 5, Mean: absolute, StdDev: absolute}, units.ErrNotGiven},
		{"limit 0", bias.EliminationRule{Limit: units.LbPerFt3.Difference(0), Keep: 5, Mean: absolute, StdDev: absolute}, density.ErrNotPositive},
		{"limit in another unit", bias.EliminationRule{Limit: units.KgPerM3.Difference(40), Keep: 5, Mean: absolute, StdDev: absolute}, density.ErrUnitMismatch},
		{"no rounding of the mean", bias.EliminationRule{Limit: units.LbPerFt3.Difference(2.5), Keep: 5, StdDev: absolute}, units.ErrRounding},
		{"no rounding of the deviation", bias.EliminationRule{Limit: units.LbPerFt3.Difference(2.5), Keep: 5, Mean: absolute}, units.ErrRounding},
		{"keep fewer than an offset is made of", bias.EliminationRule{Limit: units.LbPerFt3.Difference(2.5), Keep: 2, Mean: absolute, StdDev: absolute}, stats.ErrParameter},
		{"keep one", bias.EliminationRule{Limit: units.LbPerFt3.Difference(2.5), Keep: 1, Mean: absolute, StdDev: absolute}, stats.ErrParameter},
	} {
		if r, err := bias.EliminateWorst(l, c, options(), tt.rule); !errors.Is(err, tt.want) || r.All.N != 0 {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
	if _, err := bias.EliminateWorst(nil, nil, options(), waqtcRule()); !errors.Is(err, stats.ErrTooFew) {
		t.Errorf("nothing: %v", err)
	}
}

var absolute = units.Rounding{Method: units.Absolute}
