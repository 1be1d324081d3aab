package density_test

import (
	"errors"
	"math"
	"testing"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/units"
)

func testLine() density.Line {
	return density.Line{Slope: 0.896, Intercept: units.LbPerFt3.Difference(16.8), Low: lb(138.9), High: lb(143.6), Centre: lb(141.4),
		StdErr: 0.3, SlopeStdErr: 0.2, DF: 8, Scope: scope, Source: "letter of 3 May"}
}

func corrections(t *testing.T) (ratio, line density.Correction) {
	t.Helper()
	ratio, err := density.NewRatio(density.Ratio{Ratio: 1.015, StdErr: 0.001, DF: 9, Scope: scope, Source: "letter of 3 May"})
	if err != nil {
		t.Fatal(err)
	}
	line, err = density.NewLine(testLine())
	if err != nil {
		t.Fatal(err)
	}
	return ratio, line
}

// By hand: 1.015 x 140.8 = 142.912 and 0.896 x 140.8 + 16.8 = 142.9568.
func TestRatioAndLineApply(t *testing.T) {
	ratio, line := corrections(t)
	for _, tt := range []struct {
		c    density.Correction
		want float64
		text string
	}{
		{ratio, 142.912, "x 1.015 (core/gauge), gauge G-07, mix A, lift surface"},
		{line, 142.9568, "x 0.896 +16.8 lb/ft3 (core on gauge), gauge G-07, mix A, lift surface"},
	} {
		p, err := tt.c.Apply(density.Uncorrected(lb(140.8)), scope)
		if err != nil || p.Density() != lb(tt.want) || p.Origin() != density.FromReading {
			t.Errorf("%v: %v, %v; want %v", tt.c.Model(), p, err, tt.want)
		}
		if tt.c.String() != tt.text || !tt.c.Offset().IsZero() || tt.c.Exact() != nil {
			t.Errorf("%v: %q, offset %v", tt.c.Model(), tt.c, tt.c.Offset())
		}
	}
	if p, err := ratio.Apply(density.Uncorrected(units.KgPerM3.Of(2000)), scope); err != nil || p.Density() != units.KgPerM3.Of(2030) {
		t.Errorf("a ratio holds in any unit: %v, %v", p, err)
	}
}

// By hand: (141.5 + 140.1)/2 = 140.8; corrected 142.912 and 142.9568, both to 0.1;
// 2.466 x 62.245 = 153.49617 to 153.5; 142.9/153.5 = 0.930945 and 143.0/153.5 = 0.931596.
func TestAuditReadingsAppliesEveryModel(t *testing.T) {
	ratio, line := corrections(t)
	tenth := units.Rounding{Method: units.HalfEven, Places: 1}
	policy := density.RoundingPolicy{Mean: absolute, Density: tenth, Maximum: tenth, Percentage: units.Rounding{Method: units.HalfEven, Places: 2}}
	for _, tt := range []struct {
		c       density.Correction
		percent string
		step    string
	}{
		{ratio, "93.09", "corrected density = ratio·mean = 1.015 x 140.8 = 142.912 lb/ft3 → 142.9 lb/ft3 (half-even to 0.1)"},
		{line, "93.16", "corrected density = slope·mean + intercept = 0.896 x 140.8 + 16.8 = 142.9568 lb/ft3 → 143 lb/ft3 (half-even to 0.1)"},
	} {
		a, err := density.AuditReadings(readings(141.5, 140.1), tt.c, scope, maximum(t, 2.466, units.Water62_245), policy)
		if err != nil || a.Percentage.String() != tt.percent || a.Working[1].String() != tt.step || len(a.Warnings) != 0 {
			t.Errorf("%v: %v %%, %v, %v\n%v", tt.c.Model(), a.Percentage, err, a.Warnings, a.Working)
		}
	}
	a, err := density.AuditReadings(readings(138.8), line, scope, maximum(t, 2.466, units.Water62_245), policy)
	if err != nil || len(a.Warnings) != 1 || a.Warnings[0].Code != density.WarnExtrapolated {
		t.Errorf("below the line: %v, %v", a.Warnings, err)
	}
}

// By hand: √(0.3² + (0.2·3)²) = 0.670820 three from the centre; a ratio of standard
// error 0.001 at 140.8 brings 0.1408.
func TestStdErrAt(t *testing.T) {
	ratio, line := corrections(t)
	for _, tt := range []struct {
		c    density.Correction
		x    units.Density
		want float64
	}{
		{line, lb(141.4), 0.3}, {line, lb(144.4), math.Sqrt(0.45)}, {ratio, lb(140.8), 0.1408},
		{line, units.KgPerM3.Of(2250), 0}, {line, units.Density{}, 0}, {density.Correction{}, lb(140), 0},
	} {
		if got, _ := tt.c.StdErrAt(tt.x); math.Abs(got-tt.want) > 1e-12 {
			t.Errorf("%v at %v: %v, want %v", tt.c.Model(), tt.x, got, tt.want)
		}
	}
}

func TestRatioAndLineRefuse(t *testing.T) {
	change := func(f func(o *density.Line)) density.Line {
		o := testLine()
		f(&o)
		return o
	}
	for _, tt := range []struct {
		name string
		o    density.Line
		want error
	}{
		{"no slope", change(func(o *density.Line) { o.Slope = 0 }), units.ErrRange},
		{"an endless slope", change(func(o *density.Line) { o.Slope = math.Inf(1) }), units.ErrRange},
		{"a NaN slope", change(func(o *density.Line) { o.Slope = math.NaN() }), units.ErrRange},
		{"no intercept", change(func(o *density.Line) { o.Intercept = units.DensityDifference{} }), units.ErrNotGiven},
		{"no range", change(func(o *density.Line) { o.High = units.Density{} }), units.ErrNotGiven},
		{"range upside down", change(func(o *density.Line) { o.Low, o.High = o.High, o.Low }), units.ErrRange},
		{"range in another unit", change(func(o *density.Line) { o.Low = units.KgPerM3.Of(2200) }), density.ErrUnitMismatch},
		{"a slope's error without a centre", change(func(o *density.Line) { o.Centre = units.Density{} }), units.ErrNotGiven},
		{"a centre outside", change(func(o *density.Line) { o.Centre = lb(150) }), units.ErrRange},
		{"a NaN error of the slope", change(func(o *density.Line) { o.SlopeStdErr = math.NaN() }), units.ErrRange},
		{"no scope", change(func(o *density.Line) { o.Scope.Mix = "" }), units.ErrNotGiven},
		{"no source", change(func(o *density.Line) { o.Source = "" }), density.ErrNoSource},
	} {
		if c, err := density.NewLine(tt.o); !errors.Is(err, tt.want) || !c.IsZero() {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
	if _, err := density.NewRatio(density.Ratio{Ratio: -1, Scope: scope, Source: "x"}); !errors.Is(err, units.ErrRange) {
		t.Errorf("a negative ratio: %v", err)
	}
}

func TestOverrideIsRecorded(t *testing.T) {
	c := offset(t, units.LbPerFt3.Difference(2.3))
	to := density.Scope{Gauge: "G-07", Mix: "B", Lift: "surface"}
	used, err := c.Override(to, "same aggregate, engineer's letter of 4 May")
	if err != nil || used.Scope() != to || len(used.Overrides()) != 1 || len(c.Overrides()) != 0 {
		t.Fatalf("%v, %v, %v", used, used.Overrides(), err)
	}
	want := "letter of 3 May; made for gauge G-07, mix A, lift surface, used for gauge G-07, mix B, lift surface: same aggregate, engineer's letter of 4 May"
	if used.Source() != want {
		t.Errorf("source %q", used.Source())
	}
	policy := density.RoundingPolicy{Mean: absolute, Density: absolute, Maximum: absolute, Percentage: third}
	a, err := density.AuditReadings(readings(141.5), used, to, maximum(t, 2.466, units.Water62_245), policy)
	if err != nil || len(a.Warnings) != 1 || a.Warnings[0].Code != density.WarnOverridden {
		t.Errorf("warnings %v, %v", a.Warnings, err)
	}
	for _, tt := range []struct {
		name   string
		c      density.Correction
		to     density.Scope
		reason string
		want   error
	}{
		{"none", density.Correction{}, to, "x", units.ErrNotGiven}, {"no reason", c, to, "", density.ErrNoSource},
		{"its own scope", c, scope, "x", density.ErrScope}, {"half a scope", c, density.Scope{Mix: "B"}, "x", units.ErrNotGiven},
	} {
		if _, err := tt.c.Override(tt.to, tt.reason); !errors.Is(err, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
	onBase := scope
	onBase.Base = "milled asphalt"
	if _, err := c.Apply(density.Uncorrected(lb(141)), onBase); !errors.Is(err, density.ErrScope) {
		t.Errorf("another base: %v", err)
	}
}
