package density_test

import (
	"errors"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/units"
)

func plain(t *testing.T, averages, mat []float64, o density.PatternOptions) density.Pattern {
	t.Helper()
	p, err := density.RollerPattern(passes(averages, mat), o)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func required(percent string, k density.ReferenceKind) density.Requirement {
	return density.Requirement{Percent: decimal.RequireFromString(percent), Kind: k}
}

// A plateau at (144.2 + 144.3 + 144.3)/3 = 144.2666…, + 2.0 = 146.2666…, rounded
// 146.3, over 2.512 · 62.245 = 156.35944 → 156.4: 93.542199…, by hand; 93.54 meets
// 93.5 and misses 94.
func TestPlateauIsNotTheLimit(t *testing.T) {
	p := plain(t, []float64{139.5, 142.2, 143.7, 144.2, 144.3, 144.3}, nil, halfPound)
	rounding := density.RoundingPolicy{Mean: absolute, Density: half, Maximum: half, Percentage: units.Rounding{Method: units.HalfEven, Places: 2}}
	c, ref := offset(t, units.LbPerFt3.Difference(2)), maximum(t, 2.512, units.Water62_245)
	for _, tt := range []struct {
		percent string
		met     bool
	}{{"93.5", true}, {"93.54", true}, {"93.55", false}, {"94", false}} {
		level, err := p.AuditLevel(c, scope, ref, rounding, required(tt.percent, density.KindMaximumTheoretical))
		if err != nil || level.Met != tt.met || level.Percentage.String() != "93.54" || level.Density != lb(146.3) {
			t.Errorf("required %s: %+v, %v; want met %v", tt.percent, level, err, tt.met)
		}
		if got, want := level.Working[0].String(), "mean of the plateau = Σa/n = (144.2 + 144.3 + 144.3)/3 = 144.266666666… lb/ft3"; got != want {
			t.Errorf("the working begins %q, want %q", got, want)
		}
	}
}

func TestAuditLevelRefuses(t *testing.T) {
	p := plain(t, []float64{139.5, 142.2, 143.7, 144.2, 144.3, 144.3}, nil, halfPound)
	rising := plain(t, []float64{139.5, 142.2, 143.7}, nil, halfPound)
	rounding := density.RoundingPolicy{Mean: absolute, Density: half, Maximum: half, Percentage: half}
	c, ref := offset(t, units.LbPerFt3.Difference(2)), maximum(t, 2.512, units.Water62_245)
	inSI := offset(t, units.KgPerM3.Difference(32))
	ofGmm := required("92", density.KindMaximumTheoretical)
	for _, tt := range []struct {
		name     string
		p        density.Pattern
		c        density.Correction
		ref      density.Reference
		rounding density.RoundingPolicy
		required density.Requirement
		want     error
	}{
		{"still rising", rising, c, ref, rounding, ofGmm, density.ErrNotEstablished},
		{"the zero pattern", density.Pattern{}, c, ref, rounding, ofGmm, density.ErrNotEstablished},
		{"a limit of another kind", p, c, ref, rounding, required("96.3", density.KindLaboratoryBulk), density.ErrKind},
		{"no limit", p, c, ref, rounding, required("0", density.KindMaximumTheoretical), units.ErrRange},
		{"a fraction", p, c, ref, rounding, density.Requirement{Percent: decimal.RequireFromString("0.92"), Kind: density.KindMaximumTheoretical}, density.ErrPercentage},
		{"an absurd limit", p, c, ref, rounding, density.Requirement{Percent: decimal.New(1, 2_000_000_000), Kind: density.KindMaximumTheoretical}, units.ErrDigits},
		{"no rounding", p, c, ref, density.RoundingPolicy{}, ofGmm, units.ErrRounding},
		{"another unit", p, inSI, ref, rounding, ofGmm, density.ErrUnitMismatch},
		{"no correction", p, density.Correction{}, ref, rounding, ofGmm, units.ErrNotGiven},
		{"no reference", p, c, density.Reference{}, rounding, density.Requirement{Percent: decimal.NewFromInt(92)}, units.ErrNotGiven},
	} {
		if _, err := tt.p.AuditLevel(tt.c, scope, tt.ref, tt.rounding, tt.required); !errors.Is(err, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}

// What was reached is the mean from the optimum on, before a break-over and only
// of passes warm enough; the window is that of the passes up to the optimum. By
// hand from the series.
func TestReachedAndWindow(t *testing.T) {
	f := units.Fahrenheit.Of
	warm := halfPound
	warm.MinMat = f(175)
	for _, tt := range []struct {
		name      string
		p         density.Pattern
		reached   units.Density
		low, high units.Temperature
	}{
		{"break-over", plain(t, []float64{138.0, 142.0, 144.6, 146.0, 146.4, 145.3, 144.2, 143.9}, nil, halfPound), lb(146.2), units.Temperature{}, units.Temperature{}},
		{"plateau", plain(t, []float64{139.5, 142.2, 143.7, 144.2, 144.3, 144.5}, []float64{290, 262, 231, 198, 180, 175}, warm), lb(144.33333333333334), f(198), f(290)},
		{"a cold last pass", plain(t, []float64{139.5, 142.2, 143.7, 144.2, 144.3, 144.4, 144.0}, []float64{290, 262, 231, 198, 180, 175, 150}, warm), lb(144.3), f(198), f(290)},
		{"stopped by temperature", plain(t, []float64{139.5, 142.2, 143.7, 144.2, 144.3, 144.3}, []float64{290, 262, 231, 198, 171, 158}, warm), units.Density{}, f(198), f(290)},
	} {
		if tt.p.Reached != tt.reached || tt.p.Window.Low != tt.low || tt.p.Window.High != tt.high {
			t.Errorf("%s: reached %v, window %v to %v; want %v, %v to %v", tt.name, tt.p.Reached, tt.p.Window.Low, tt.p.Window.High, tt.reached, tt.low, tt.high)
		}
	}
}

// A fall in the tender range that nobody followed below it is doubted, one that
// came back is named a tender zone, and neither changes the rule's outcome.
func TestTenderZoneAndBreakOver(t *testing.T) {
	o := halfPound
	o.Tender = density.TemperatureRange{Low: units.Fahrenheit.Of(190), High: units.Fahrenheit.Of(240)}
	fell := []float64{139, 142.5, 144.0, 143.1, 143.2, 143.2}
	back := []float64{139, 142.5, 144.0, 143.1, 143.2, 144.4, 144.3, 144.2}
	again := []float64{139, 142.5, 144.0, 143.1, 144.0, 143.0, 143.0}
	for _, tt := range []struct {
		name          string
		averages, mat []float64
		outcome       density.PatternOutcome
		tender, over  int
		dip           string
	}{
		{"fell while tender, not followed", fell, []float64{290, 270, 250, 235, 215, 200}, density.BreakOver, 1, 1, ""},
		{"fell while tender, followed below", fell, []float64{290, 270, 250, 235, 215, 185}, density.BreakOver, 0, 1, ""},
		{"fell while hot", fell, []float64{310, 300, 290, 280, 270, 260}, density.BreakOver, 0, 1, ""},
		{"fell, nobody measured the mat", fell, nil, density.BreakOver, 0, 1, ""},
		{"came back below", back, []float64{290, 270, 250, 235, 215, 185, 180, 178}, density.Plateau, 0, 0, "a tender zone, with the mat from 235 °F to 215 °F"},
		{"came back, partly hot", back, []float64{290, 270, 255, 245, 215, 185, 180, 178}, density.Plateau, 0, 0, "a tender mix or a shifted spot"},
		{"came back and fell again", again, nil, density.Plateau, 0, 1, "a tender mix or a shifted spot"},
	} {
		p := plain(t, tt.averages, tt.mat, o)
		n, dip := codes(p.Warnings), ""
		for _, w := range p.Warnings {
			if w.Code == density.WarnDip {
				dip = w.Text
			}
		}
		if p.Outcome != tt.outcome || n[density.WarnTender] != tt.tender || n[density.WarnOverRolled] != tt.over || !strings.Contains(dip, tt.dip) || (dip == "") != (tt.dip == "") {
			t.Errorf("%s: %v, warnings %q", tt.name, p.Outcome, p.Warnings)
		}
	}
	for _, bad := range []density.TemperatureRange{{Low: o.Tender.Low}, {High: o.Tender.High}, {Low: o.Tender.High, High: o.Tender.Low}} {
		o.Tender = bad
		if _, err := density.RollerPattern(nil, o); !errors.Is(err, units.ErrNotGiven) && !errors.Is(err, units.ErrRange) {
			t.Errorf("tender range %v: %v", bad, err)
		}
	}
}
