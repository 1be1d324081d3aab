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
// of the offset: a <- 0.03/k; b <- 0.806 + 0.812/5; dfL <- 0.806^2/(0.812^2/4 + 0.006^2/20);
// df <- (a+b)^2/(a^2/20 + b^2/dfL); qt(.975, df)*sqrt(a+b).
func TestUncertaintyOf(t *testing.T) {
	e, parts := nestedParts(t)
	at := options().Scope
	for _, tt := range []struct {
		readings     []density.Reading
		u, df, halfW float64
	}{{readings(145, 145, 145, 145, 145), 0.9871170143, 3.9900191297, 2.7433820688}, {readings(144.9, 145.1), 0.9916652661, 4.0639053867, 2.7363128502}} {
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
