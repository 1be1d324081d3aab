package bias_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/units"
)

// In numbers: a common shift of both changes nothing, a shift of the gauge moves the
// offset the other way, a common factor scales all of it.
func TestOffsetOfLaws(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for range 200 {
		gauge, core := column(rng, 3+rng.IntN(300))
		a, err := bias.OffsetOf(gauge, core, 0.9)
		if err != nil {
			t.Fatal(err)
		}
		for _, law := range []struct {
			name                string
			factor, gauge, core float64 // of both, then added
		}{{"shift both", 1, 25, 25}, {"shift the gauge", 1, 1.5, 0}, {"scale", 3, 0, 0}} {
			var g, c []float64
			for i := range gauge {
				g, c = append(g, law.factor*gauge[i]+law.gauge), append(c, law.factor*core[i]+law.core)
			}
			b, err := bias.OffsetOf(g, c, 0.9)
			if err != nil {
				t.Fatal(err)
			}
			moved := law.core - law.gauge
			for _, v := range [][2]float64{{law.factor*a.Mean + moved, b.Mean}, {law.factor * a.StdErr, b.StdErr}, {law.factor*a.CI.Lo + moved, b.CI.Lo}, {law.factor*a.Prediction.Hi + moved, b.Prediction.Hi}} {
				if math.Abs(v[0]-v[1]) > 1e-11 {
					t.Errorf("%s: %v, want %v", law.name, v[1], v[0])
				}
			}
		}
	}
}

// inSI records a strip anew in kg/m3.
func inSI(ls []bias.Location, cs []bias.Core) ([]bias.Location, []bias.Core) {
	var locations []bias.Location
	var cores []bias.Core
	for _, l := range ls {
		to := bias.Location{ID: l.ID}
		for _, r := range l.Readings {
			to.Readings = append(to.Readings, density.Uncorrected(r.Density().To(units.KgPerM3)))
		}
		locations = append(locations, to)
	}
	for _, c := range cs {
		to := bias.Core{ID: c.ID}
		for _, d := range c.Densities {
			to.Densities = append(to.Densities, density.Core(d.Density().To(units.KgPerM3)))
		}
		cores = append(cores, to)
	}
	return locations, cores
}

// Another unit changes nothing but the unit: intervals, components, influence, plan.
func TestStripInAnotherUnit(t *testing.T) {
	const factor = 16.01846337396014 // lb/ft3 to kg/m3, NIST SP 811 exact definitions
	l, c := nestedStrip()
	lSI, cSI := inSI(l, c)
	a, errA := bias.EstimateOffset(l, c, options())
	b, errB := bias.EstimateOffset(lSI, cSI, options())
	va, errVA := bias.StripComponents(l, c, 0.95)
	vb, errVB := bias.StripComponents(lSI, cSI, 0.95)
	if err := errors.Join(errA, errB, errVA, errVB); err != nil {
		t.Fatal(err)
	}
	for _, v := range [][2]float64{{factor * a.Mean, b.Mean}, {factor * a.Prediction.Lo, b.Prediction.Lo}, {a.Pairs[2].Influence, b.Pairs[2].Influence},
		{factor * va.Reading, vb.Reading}, {factor * va.Location, vb.Location}, {va.LocationDF, vb.LocationDF}, {factor * va.LocationCI.Hi, vb.LocationCI.Hi}} {
		if math.Abs(v[0]-v[1]) > 1e-9*math.Max(1, math.Abs(v[0])) {
			t.Errorf("%v in lb/ft3 terms, %v in kg/m3", v[0], v[1])
		}
	}
	if b.Unit != units.KgPerM3 || vb.Unit != units.KgPerM3 || b.Screen.G-a.Screen.G > 1e-9 || a.Screen.G-b.Screen.G > 1e-9 {
		t.Errorf("units %v, %v; G %v, %v", b.Unit, vb.Unit, a.Screen.G, b.Screen.G)
	}
}

// The exact path and the columns agree.
func TestExactAndColumnsAgree(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	for range 100 {
		g, c := column(rng, 3+rng.IntN(10))
		for i := range c {
			c[i] = math.Round(10*c[i]) / 10
		}
		ls, cs := columns(g, c)
		a, errA := bias.EstimateOffset(ls, cs, options())
		b, errB := bias.OffsetOf(g, c, options().Level)
		if err := errors.Join(errA, errB); err != nil {
			t.Fatal(err)
		}
		if math.Abs(a.Mean-b.Mean) > 1e-12 || math.Abs(a.CI.Hi-b.CI.Hi) > 1e-11 || math.Abs(a.Prediction.Lo-b.Prediction.Lo) > 1e-11 {
			t.Errorf("exact %v, columns %v", a.Estimate, b.Estimate)
		}
	}
}

// What the other pairs give scales with the unit, also where squares leave float64.
func TestLeaveOneOutAtAnyScale(t *testing.T) {
	at := func(scale float64) bias.OffsetEstimate {
		l, c := columns([]float64{145 * scale, 146 * scale, 147 * scale, 148 * scale}, []float64{147 * scale, 149 * scale, 149 * scale, 153 * scale})
		e, err := bias.EstimateOffset(l, c, options())
		if err != nil {
			t.Fatal(err)
		}
		return e
	}
	one := at(1)
	for _, scale := range []float64{1e-300, 1e-12, 1e12, 1e300} {
		for i, p := range at(scale).Pairs {
			want := one.Pairs[i]
			if got := p.WithoutCI.HalfWidth() / scale; math.Abs(got-want.WithoutCI.HalfWidth()) > 1e-9*want.WithoutCI.HalfWidth() || p.Apart != want.Apart {
				t.Errorf("scale %g, pair %s: ± %v, want ± %v", scale, p.ID, got, want.WithoutCI.HalfWidth())
			}
		}
	}
}
