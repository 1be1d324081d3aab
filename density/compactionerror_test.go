package density_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// offsetWith is an invented correction of +2.3 lb/ft3 with that standard error.
func offsetWith(t *testing.T, stdErr, df float64) density.Correction {
	t.Helper()
	c, err := density.NewOffset(density.Offset{Offset: units.LbPerFt3.Difference(2.3), StdErr: stdErr, DF: df,
		Scope: density.Scope{Gauge: "7", Mix: "B", Lift: "surface"}, Source: "invented"})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func referenceOf(t *testing.T, gmm float64, w units.Water) density.Reference {
	t.Helper()
	r, err := density.MaximumTheoretical(units.SpecificGravityOf(gmm), w)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// With Gmm 2.5 and water of 62.4 lb/ft3 the reference is 156 lb/ft3, so that 0.39
// lb/ft3 are a quarter of a percent, 0.78 half a percent, and 0.005 of a Gmm of 2.5
// is 0.002 of 93.75, 0.1875 percent: by hand.
func TestErrorOfCompaction(t *testing.T) {
	ref := referenceOf(t, 2.5, units.Water62_4)
	at := density.Compaction{Percent: 93.75, Kind: density.KindMaximumTheoretical}
	e, err := density.ErrorOfCompaction(at, offsetWith(t, 0.39, 9), ref, density.Doubt{StdErr: 0.005, DF: 12}, density.Doubt{StdErr: 0.78, DF: 20})
	want := density.CompactionError{
		Offset:        density.ErrorComponent{Source: "offset of the gauge", StdErr: 0.25, DF: 9},
		Reference:     density.ErrorComponent{Source: "reference density", StdErr: 0.1875, DF: 12},
		Repeatability: density.ErrorComponent{Source: "repeatability", StdErr: 0.5, DF: 20}}
	if err != nil || !cmp.Equal(e, want, cmpopts.EquateApprox(1e-14, 0)) {
		t.Errorf("%+v, %v", e, err)
	}
}

// The formulas are the derivatives of 100·(reading + offset)/(gravity·water): a
// small step in each gives the same.
func TestErrorOfCompactionIsTheDerivative(t *testing.T) {
	const reading, offset, gravity, water, step = 143.1, 2.3, 2.514, 62.245, 1e-6
	percent := func(o, g float64) float64 { return 100 * (reading + o) / (g * water) }
	ref := referenceOf(t, gravity, units.Water62_245)
	at := density.Compaction{Percent: percent(offset, gravity), Kind: density.KindMaximumTheoretical}
	e, err := density.ErrorOfCompaction(at, offsetWith(t, 1, 9), ref, density.Doubt{StdErr: 1, DF: 5}, density.Doubt{})
	byOffset := (percent(offset+step, gravity) - percent(offset-step, gravity)) / (2 * step)
	byGravity := (percent(offset, gravity-step) - percent(offset, gravity+step)) / (2 * step)
	if err != nil || math.Abs(e.Offset.StdErr-byOffset) > 1e-7 || math.Abs(e.Reference.StdErr-byGravity) > 1e-6 || e.Repeatability.StdErr != 0 {
		t.Errorf("%+v, %v; want %v and %v", e, err, byOffset, byGravity)
	}
}

func TestErrorOfCompactionRefuses(t *testing.T) {
	ref := referenceOf(t, 2.5, units.Water62_4)
	metric := referenceOf(t, 2.5, units.Water1000)
	strip, err := density.ControlStrip(density.Core(units.LbPerFt3.Of(148)))
	if err != nil {
		t.Fatal(err)
	}
	at := density.Compaction{Percent: 93, Kind: density.KindMaximumTheoretical}
	onStrip := density.Compaction{Percent: 98, Kind: density.KindControlStrip}
	known, some := offsetWith(t, 0.3, 9), density.Doubt{StdErr: 0.01, DF: 8}
	for _, tt := range []struct {
		name          string
		at            density.Compaction
		c             density.Correction
		ref           density.Reference
		gravity, each density.Doubt
		want          error
	}{
		{"no reference", at, known, density.Reference{}, some, some, units.ErrNotGiven},
		{"no correction", at, density.Correction{}, ref, some, some, units.ErrNotGiven},
		{"an offset without standard error", at, offsetWith(t, 0, 0), ref, some, some, units.ErrNotGiven},
		{"an offset without degrees of freedom", at, offsetWith(t, 0.3, 0), ref, some, some, units.ErrNotGiven},
		{"an offset with half a degree of freedom", at, offsetWith(t, 0.3, 0.5), ref, some, some, units.ErrRange},
		{"another unit", at, known, metric, some, some, density.ErrUnitMismatch},
		{"another kind", onStrip, known, ref, some, some, density.ErrKind},
		{"a strip with a gravity", onStrip, known, strip, some, some, density.ErrKind},
		{"no percentage", density.Compaction{Kind: at.Kind}, known, ref, some, some, units.ErrRange},
		{"NaN percent", density.Compaction{Percent: math.NaN(), Kind: at.Kind}, known, ref, some, some, units.ErrRange},
		{"NaN of the gravity", at, known, ref, density.Doubt{StdErr: math.NaN(), DF: 8}, some, units.ErrRange},
		{"negative repeatability", at, known, ref, some, density.Doubt{StdErr: -0.1, DF: 8}, units.ErrRange},
		{"repeatability without degrees of freedom", at, known, ref, some, density.Doubt{StdErr: 0.1}, units.ErrRange},
		{"infinite repeatability", at, known, ref, some, density.Doubt{StdErr: math.Inf(1), DF: 8}, units.ErrRange},
		{"no error with NaN degrees of freedom", at, known, ref, some, density.Doubt{DF: math.NaN()}, units.ErrRange},
	} {
		e, err := density.ErrorOfCompaction(tt.at, tt.c, tt.ref, tt.gravity, tt.each)
		var bad *stats.InputError
		if !errors.Is(err, tt.want) || !errors.As(err, &bad) || bad.Func != "density.ErrorOfCompaction" || e != (density.CompactionError{}) {
			t.Errorf("%s: %+v, %v; want %v", tt.name, e, err, tt.want)
		}
	}
}

func TestErrorOfCompactionOnAStrip(t *testing.T) {
	strip, err := density.ControlStrip(density.Core(units.LbPerFt3.Of(150)))
	if err != nil {
		t.Fatal(err)
	}
	at := density.Compaction{Percent: 98, Kind: density.KindControlStrip}
	e, err := density.ErrorOfCompaction(at, offsetWith(t, 0.3, 9), strip, density.Doubt{}, density.Doubt{StdErr: 0.6, DF: math.Inf(1)})
	// 100·0.3/150 and 100·0.6/150, by hand
	if err != nil || math.Abs(e.Offset.StdErr-0.2) > 1e-15 || e.Reference.StdErr != 0 || math.Abs(e.Repeatability.StdErr-0.4) > 1e-15 {
		t.Errorf("%+v, %v", e, err)
	}
}

func ExampleErrorOfCompaction() {
	// Invented data: an offset from ten cores, a Gmm that is the mean of two tests,
	// a gauge whose mean of four readings repeats to 0.5 lb/ft3.
	correction, err := density.NewOffset(density.Offset{Offset: units.LbPerFt3.Difference(2.3), StdErr: 0.38, DF: 9,
		Scope: density.Scope{Gauge: "G-07", Mix: "TC-12.5-A", Lift: "surface"}, Source: "invented test strip"})
	if err != nil {
		fmt.Println(err)
		return
	}
	maximum, err := density.MaximumTheoretical(units.SpecificGravityOf(2.514), units.Water62_245)
	if err != nil {
		fmt.Println(err)
		return
	}
	mean := density.Compaction{Percent: 93.4, Kind: density.KindMaximumTheoretical}
	e, err := density.ErrorOfCompaction(mean, correction, maximum,
		density.Doubt{StdErr: 0.0036, DF: 20}, density.Doubt{StdErr: 0.5, DF: 30})
	fmt.Printf("offset %.2f %%, Gmm %.2f %%, repeatability %.2f %% %v\n", e.Offset.StdErr, e.Reference.StdErr, e.Repeatability.StdErr, err)
	// Output: offset 0.24 %, Gmm 0.13 %, repeatability 0.32 % <nil>
}
