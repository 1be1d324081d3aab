package bias_test

import (
	"errors"
	"math"
	"testing"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

func nestedParts(t *testing.T) (bias.OffsetEstimate, bias.Components) {
	t.Helper()
	l, c := nestedStrip()
	e, err := bias.EstimateOffset(l, c, options())
	if err != nil {
		t.Fatal(err)
	}
	v, err := bias.StripComponents(l, c, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	return e, v
}

func readings(xs ...float64) (rs []density.Reading) { return location("", xs...).Readings }

// R 4.2.2, from the variances by hand, 0.03 of a reading, 0.806 of a location and 0.812/5
// of the offset: a <- 0.03/k; l <- 0.806; o <- 0.812/5; dfL <- 0.806^2/(0.812^2/4 + 0.006^2/20);
// df <- (a+l+o)^2/(a^2/20 + (l/sqrt(dfL) + o/sqrt(4))^2); qt(.975, df)*sqrt(a+l+o).
func TestUncertaintyOf(t *testing.T) {
	e, parts := nestedParts(t)
	at := options().Scope
	for _, tt := range []struct {
		readings     []density.Reading
		u, df, halfW float64
	}{{readings(145, 145, 145, 145, 145), 0.9871170143, 3.9999332681, 2.7406942352}, {readings(144.9, 145.1), 0.9916652661, 4.0740027109, 2.7336918670}} {
		r, err := bias.UncertaintyOf(tt.readings, e.Correction, at, parts, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(r.Combined.StdDev-tt.u) > 5e-11 || math.Abs(r.Combined.DF-tt.df) > 5e-9 || math.Abs(r.CI.HalfWidth()-tt.halfW) > 5e-9 {
			t.Errorf("combined %v, half-width %v; want %v, %v, %v", r.Combined, r.CI.HalfWidth(), tt.u, tt.df, tt.halfW)
		}
		if r.Corrected.Density() != units.LbPerFt3.Of(147.42) || r.Correction.DF != 4 || r.Repeatability.DF != 20 {
			t.Errorf("%+v", r)
		}
	}
	// with the strip's own number of readings u is that of the prediction of one more location
	r, err := bias.UncertaintyOf(readings(145, 145, 145, 145, 145), e.Correction, at, parts, 0.95)
	if want := e.StdDev * math.Sqrt(1.2); err != nil || math.Abs(r.Combined.StdDev-want) > 1e-13 {
		t.Errorf("u %v, s√(1+1/n) %v, %v", r.Combined.StdDev, want, err)
	}
}

// A location term that is hardly above 0 has next to no degrees of freedom, and hardly
// counts. R 4.2.2 as above, with a <- 0.5^2/2, l <- 0.04^2 and o <- 0.2^2 of 8, 0.0008
// and 2 degrees of freedom.
func TestUncertaintyOfASmallTerm(t *testing.T) {
	lb, at := units.LbPerFt3, options().Scope
	c, err := density.NewOffset(density.Offset{Offset: lb.Difference(2), StdErr: 0.2, DF: 2, Scope: at, Source: "strip"})
	if err != nil {
		t.Fatal(err)
	}
	r, err := bias.UncertaintyOf(readings(145, 145.2), c, at, bias.Components{Unit: lb, Reading: 0.5, ReadingDF: 8, Location: 0.04, LocationDF: 0.0008}, 0.95)
	if err != nil || math.Abs(r.Combined.DF-3.032358893820) > 5e-12 || math.Abs(r.CI.HalfWidth()-1.291161723381) > 5e-10 {
		t.Errorf("%+v, %v", r, err)
	}
}

// The slope of a line passes on only a part of the scatter of the readings. R 4.2.2 as
// above, with a <- (0.8*0.5)^2/2, l <- 0.6^2 and o <- 0.3^2 + (0.1*(147-145))^2 of 8, 4
// and 5 degrees of freedom.
func TestUncertaintyOfALine(t *testing.T) {
	lb, at := units.LbPerFt3, options().Scope
	c, err := density.NewLine(density.Line{Slope: 0.8, Intercept: lb.Difference(31), Low: lb.Of(143), High: lb.Of(148), Centre: lb.Of(145), StdErr: 0.3, SlopeStdErr: 0.1, DF: 5, Scope: at, Source: "strip"})
	if err != nil {
		t.Fatal(err)
	}
	r, err := bias.UncertaintyOf(readings(146.9, 147.1), c, at, bias.Components{Unit: lb, Reading: 0.5, ReadingDF: 8, Location: 0.6, LocationDF: 4}, 0.95)
	if err != nil || math.Abs(r.Repeatability.StdDev-0.282842712475) > 5e-13 || math.Abs(r.Combined.StdDev-0.754983443527) > 5e-13 ||
		math.Abs(r.Combined.DF-5.649491929626) > 5e-12 || math.Abs(r.CI.HalfWidth()-1.875520052216) > 5e-10 {
		t.Errorf("%+v, %v", r, err)
	}
}

func TestUncertaintyOfRefuses(t *testing.T) {
	e, parts := nestedParts(t)
	onPaper, err := density.NewOffset(density.Offset{Offset: units.LbPerFt3.Difference(2.4), Scope: options().Scope, Source: "letter"})
	if err != nil {
		t.Fatal(err)
	}
	noDF, negative := parts, parts
	noDF.LocationDF, negative.Reading = 0, -1
	for _, tt := range []struct {
		name     string
		readings []density.Reading
		c        density.Correction
		at       density.Scope
		parts    bias.Components
		level    float64
		want     error
	}{
		{"no readings", nil, e.Correction, options().Scope, parts, 0.95, stats.ErrTooFew},
		{"no correction", readings(145), density.Correction{}, options().Scope, parts, 0.95, units.ErrNotGiven},
		{"no standard error", readings(145), onPaper, options().Scope, parts, 0.95, units.ErrNotGiven},
		{"another scope", readings(145), e.Correction, density.Scope{Gauge: "1", Mix: "2", Lift: "3"}, parts, 0.95, density.ErrScope},
		{"no parts", readings(145), e.Correction, options().Scope, bias.Components{}, 0.95, units.ErrNotGiven},
		{"no degrees of freedom", readings(145), e.Correction, options().Scope, noDF, 0.95, stats.ErrParameter},
		{"a negative part", readings(145), e.Correction, options().Scope, negative, 0.95, stats.ErrParameter},
		{"level", readings(145), e.Correction, options().Scope, parts, 95, stats.ErrLevel},
		{"another unit", []density.Reading{density.Uncorrected(units.KgPerM3.Of(2300))}, e.Correction, options().Scope, parts, 0.95, density.ErrUnitMismatch},
	} {
		if r, err := bias.UncertaintyOf(tt.readings, tt.c, tt.at, tt.parts, tt.level); !errors.Is(err, tt.want) || !r.Corrected.IsZero() {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}
