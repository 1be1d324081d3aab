package density_test

import (
	"errors"
	"testing"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

func codes(ws []stats.Warning) map[stats.WarningCode]int {
	n := map[stats.WarningCode]int{}
	for _, w := range ws {
		n[w.Code]++
	}
	return n
}

func passes(averages []float64, mat []float64) (ps []density.Pass) {
	for i, a := range averages {
		p := density.Pass{Readings: readings(a)}
		if mat != nil {
			p.Mat = units.Fahrenheit.Of(mat[i])
		}
		ps = append(ps, p)
	}
	return ps
}

// The rule is in the doc comment; the series are invented, and the answers follow
// from it by hand.
func TestRollerPattern(t *testing.T) {
	for _, tt := range []struct {
		name                          string
		averages, mat                 []float64
		outcome                       density.PatternOutcome
		optimum, peak, fellAt, usable int
		dip                           bool
	}{
		{"a plateau with a later, noisy maximum", []float64{138.0, 141.6, 143.9, 145.0, 145.5, 145.4, 145.7, 145.5}, nil, density.Plateau, 5, 7, 0, 8, false},
		{"break-over", []float64{138.0, 142.0, 144.6, 146.0, 146.4, 145.3, 144.2, 143.9}, nil, density.BreakOver, 4, 5, 6, 8, false},
		{"two passes", []float64{140.2, 143.9}, nil, density.NotEstablished, 0, 2, 0, 2, false},
		{"one pass", []float64{140.2}, nil, density.NotEstablished, 0, 1, 0, 1, false},
		{"none", nil, nil, density.NotEstablished, 0, 0, 0, 0, false},
		{"only falling", []float64{146, 145, 144, 143}, nil, density.NotEstablished, 0, 1, 0, 4, false},
		{"flat", []float64{145, 145.2, 145.1, 145.3}, nil, density.NotEstablished, 0, 4, 0, 4, false},
		{"still rising", []float64{138, 141, 143, 144.5, 145.6}, nil, density.NotEstablished, 0, 5, 0, 5, false},
		{"cold before it is shown", []float64{139.5, 142.2, 143.7, 144.2, 144.3, 144.3}, []float64{290, 262, 231, 198, 171, 158}, density.StoppedByTemperature, 0, 5, 0, 4, false},
		{"cold and still rising", []float64{139.5, 142.2, 143.7, 144.2, 144.9, 145.6}, []float64{290, 262, 231, 198, 171, 158}, density.StoppedByTemperature, 0, 6, 0, 4, false},
		{"warm and still rising", []float64{139.5, 142.2, 143.7, 144.2, 144.9, 145.6}, []float64{290, 262, 231, 198, 180, 175}, density.NotEstablished, 0, 6, 0, 6, false},
		{"warm until it is shown", []float64{139.5, 142.2, 143.7, 144.2, 144.3, 144.3}, []float64{290, 262, 231, 198, 180, 175}, density.Plateau, 4, 5, 0, 6, false},
		{"a tender zone that recovers", []float64{139, 142.5, 144.0, 143.1, 143.2, 144.4, 144.6, 144.5, 144.6}, nil, density.Plateau, 6, 7, 0, 9, true},
		{"a drop of exactly the tolerance", []float64{139, 142.5, 144.0, 143.5, 143.5}, nil, density.Plateau, 3, 3, 0, 5, false},
	} {
		o := density.PatternOptions{Tolerance: units.LbPerFt3.Difference(0.5)}
		if tt.mat != nil {
			o.MinMat = units.Fahrenheit.Of(175)
		}
		p, err := density.RollerPattern(passes(tt.averages, tt.mat), o)
		if err != nil {
			t.Fatal(err)
		}
		dip := codes(p.Warnings)[density.WarnDip] > 0
		if p.Outcome != tt.outcome || p.Optimum != tt.optimum || p.Peak != tt.peak || p.FellAt != tt.fellAt || p.Usable != tt.usable || dip != tt.dip ||
			p.Reason == "" || (p.Next == "") != (tt.optimum > 0) {
			t.Errorf("%s: %v, optimum %d, peak %d, fell at %d, usable %d, dip %v, %q; want %v, %d, %d, %d, %d, %v",
				tt.name, p.Outcome, p.Optimum, p.Peak, p.FellAt, p.Usable, dip, p.Reason, tt.outcome, tt.optimum, tt.peak, tt.fellAt, tt.usable, tt.dip)
		}
	}
}

// A fall is not called a rise, and nobody is sent on rolling without a caution.
func TestRollerPatternCautionsAfterAFall(t *testing.T) {
	for _, tt := range []struct {
		name     string
		averages []float64
		mat      []float64
		outcome  density.PatternOutcome
		reason   string
		caution  bool
	}{
		{"one pass below the peak", []float64{138, 142, 146, 143}, nil, density.NotEstablished,
			"density fell by more than the tolerance after pass 3; one pass does not show whether it stays down", true},
		{"one pass within the tolerance", []float64{138, 142, 146, 145.5}, nil, density.NotEstablished, "density was still rising at pass 3", false},
		{"only falling", []float64{146, 145, 144}, nil, density.NotEstablished, "density did not rise by more than the tolerance", true},
		{"fallen on a cold mat", []float64{138, 142, 146, 143, 142}, []float64{290, 260, 230, 170, 160}, density.StoppedByTemperature,
			"3 passes usable; the passes that would show a plateau were made below 175 °F or without a mat temperature", true},
	} {
		o := density.PatternOptions{Tolerance: units.LbPerFt3.Difference(0.5)}
		if tt.mat != nil {
			o.MinMat = units.Fahrenheit.Of(175)
		}
		p, err := density.RollerPattern(passes(tt.averages, tt.mat), o)
		if err != nil || p.Outcome != tt.outcome || p.Reason != tt.reason || hasWarning(p.Warnings, density.WarnOverRolled) != tt.caution {
			t.Errorf("%s: %v, %q, %v, %v", tt.name, p.Outcome, p.Reason, p.Warnings, err)
		}
	}
}

// A common shift and another unit change nothing but the averages.
func TestRollerPatternDoesNotDependOnTheUnit(t *testing.T) {
	averages := []float64{138.0, 142.0, 144.6, 146.0, 146.4, 145.3, 144.2, 143.9}
	inSI := passes(averages, nil)
	for i, a := range averages {
		inSI[i].Readings = []density.Reading{density.Uncorrected(lb(a).To(units.KgPerM3))}
	}
	tolerance := units.LbPerFt3.Difference(0.45) // not the size of any difference, so that recording in kg/m3 decides nothing
	want, err := density.RollerPattern(passes(averages, nil), density.PatternOptions{Tolerance: tolerance})
	if err != nil {
		t.Fatal(err)
	}
	got, err := density.RollerPattern(inSI, density.PatternOptions{Tolerance: tolerance})
	if err != nil || got.Outcome != want.Outcome || got.Optimum != want.Optimum || got.Peak != want.Peak || got.FellAt != want.FellAt {
		t.Errorf("in kg/m3 %+v, %v; in lb/ft3 %+v", got, err, want)
	}
}

func TestRollerPatternRefuses(t *testing.T) {
	three := passes([]float64{140, 143, 144}, nil)
	mixed := append(passes([]float64{140, 143}, nil), density.Pass{Readings: []density.Reading{density.Uncorrected(units.KgPerM3.Of(2300))}})
	for _, tt := range []struct {
		name string
		ps   []density.Pass
		tol  units.DensityDifference
		want error
	}{
		{"no tolerance", three, units.DensityDifference{}, units.ErrNotGiven},
		{"negative tolerance", three, units.LbPerFt3.Difference(-1), units.ErrRange},
		{"a pass without readings", append(passes([]float64{140}, nil), density.Pass{}), units.LbPerFt3.Difference(0.5), nil},
		{"two units", mixed, units.LbPerFt3.Difference(0.5), density.ErrUnitMismatch},
		{"a mat of -999", passes([]float64{140, 143}, []float64{280, -999}), units.LbPerFt3.Difference(0.5), units.ErrRange},
	} {
		_, err := density.RollerPattern(tt.ps, density.PatternOptions{Tolerance: tt.tol})
		if err == nil || tt.want != nil && !errors.Is(err, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
	if _, err := density.RollerPattern(three, density.PatternOptions{Tolerance: units.LbPerFt3.Difference(0.5), MinMat: units.Celsius.Of(-274)}); !errors.Is(err, units.ErrRange) {
		t.Errorf("a least mat temperature below absolute zero: %v", err)
	}
	noMat, err := density.RollerPattern(three, density.PatternOptions{Tolerance: units.LbPerFt3.Difference(0.5), MinMat: units.Fahrenheit.Of(175)})
	if err != nil || noMat.Usable != 0 || codes(noMat.Warnings)[density.WarnNoMatTemp] != 3 {
		t.Errorf("no mat temperatures: %+v, %v", noMat, err)
	}
}
