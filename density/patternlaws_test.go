package density_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/units"
)

// A common shift of all readings, as an offset that is still unknown makes, changes
// neither outcome nor noise nor probability, and moves averages and fit by itself.
// Numbers of tenths, so that every shift is exact.
func TestPatternShift(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	for range 300 {
		var ps, moved []density.Pass
		for range 3 + rng.IntN(6) {
			var here, there []float64
			for range 3 {
				tenths := 1400 + rng.IntN(30)
				here, there = append(here, float64(tenths)/10), append(there, float64(tenths+37)/10)
			}
			ps = append(ps, density.Pass{Readings: readings(here...), Spots: abc})
			moved = append(moved, density.Pass{Readings: readings(there...), Spots: abc})
		}
		a, err := density.RollerPattern(ps, halfPound)
		if err != nil {
			t.Fatal(err)
		}
		b, err := density.RollerPattern(moved, halfPound)
		if err != nil {
			t.Fatal(err)
		}
		if a.Outcome != b.Outcome || a.Optimum != b.Optimum || a.Peak != b.Peak || a.FellAt != b.FellAt || a.Fit.Mode != b.Fit.Mode ||
			*a.Noise != *b.Noise || a.Fit.RMS != b.Fit.RMS || (a.PeakTest == nil) != (b.PeakTest == nil) || a.PeakTest != nil && *a.PeakTest != *b.PeakTest {
			t.Fatalf("%+v moved by 3.7 gives %+v", a, b)
		}
		for i := range ps {
			if d := b.Fit.Fitted[i].In(units.LbPerFt3) - a.Fit.Fitted[i].In(units.LbPerFt3); math.Abs(d-3.7) > 1e-12 {
				t.Fatalf("the fit of pass %d moved by %v", i+1, d)
			}
		}
	}
}

// The fit rises to its mode
// and falls from it and keeps the mean; the order of the readings of a pass does
// not matter.
func TestPatternFitLaws(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 14))
	for range 300 {
		var ps, turned []density.Pass
		for range 2 + rng.IntN(8) {
			a, b := 140+float64(rng.IntN(60))/10, 140+float64(rng.IntN(60))/10
			ps, turned = append(ps, density.Pass{Readings: readings(a, b)}), append(turned, density.Pass{Readings: readings(b, a)})
		}
		p, err := density.RollerPattern(ps, halfPound)
		if err != nil {
			t.Fatal(err)
		}
		var sum float64
		for i, f := range p.Fit.Fitted {
			sum += f.Sub(p.Averages[i]).In(units.LbPerFt3)
			if i > 0 && (i < p.Fit.Mode) != (f.Compare(p.Fit.Fitted[i-1]) >= 0) && f != p.Fit.Fitted[i-1] {
				t.Fatalf("%v is no rise and fall about pass %d", p.Fit.Fitted, p.Fit.Mode)
			}
		}
		if math.Abs(sum) > 1e-10 {
			t.Fatalf("the fit %v moves the mean of %v by %v", p.Fit.Fitted, p.Averages, sum)
		}
		if q, err := density.RollerPattern(turned, halfPound); err != nil || *q.Noise != *p.Noise || q.Fit.RMS != p.Fit.RMS || q.Outcome != p.Outcome {
			t.Fatalf("turned readings: %+v, %v; want %+v", q, err, p)
		}
	}
}
