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
	rule.Keep = 2
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
