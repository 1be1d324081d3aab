package density_test

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/units"
)

// The fitted values follow by hand from pooling the averages that are out of
// order; the squares are of what is left.
func TestUnimodalFit(t *testing.T) {
	for _, tt := range []struct {
		name     string
		averages []float64
		fitted   []float64
		mode     int
		rms      float64
	}{
		{"rises and falls", []float64{138, 142, 146, 145, 143}, []float64{138, 142, 146, 145, 143}, 3, 0},
		{"one pair out of order", []float64{138.0, 141.6, 143.9, 145.0, 145.5, 145.4, 145.7, 145.5},
			[]float64{138.0, 141.6, 143.9, 145.0, 145.45, 145.45, 145.7, 145.5}, 7, 0.025}, // √((0.05²+0.05²)/8)
		{"a dip before the peak", []float64{139, 144, 142, 146, 145}, []float64{139, 143, 143, 146, 145}, 4, math.Sqrt(2.0 / 5)},
		{"equally near, the first turn is taken", []float64{144, 143, 144}, []float64{144, 143.5, 143.5}, 1, math.Sqrt(0.5 / 3)},
		{"only falling", []float64{146, 145, 143}, []float64{146, 145, 143}, 1, 0},
		{"only rising", []float64{141, 143, 145}, []float64{141, 143, 145}, 3, 0},
		{"level", []float64{145, 145, 145}, []float64{145, 145, 145}, 1, 0},
		{"one pass", []float64{145}, []float64{145}, 1, 0},
	} {
		p, err := density.RollerPattern(passes(tt.averages, nil), halfPound)
		if err != nil {
			t.Fatal(err)
		}
		var want []units.Density
		for _, f := range tt.fitted {
			want = append(want, lb(f))
		}
		if diff := cmp.Diff(want, p.Fit.Fitted); diff != "" || p.Fit.Mode != tt.mode || math.Abs(p.Fit.RMS-tt.rms) > 1e-15 {
			t.Errorf("%s: mode %d, rms %v, fitted (-want +got) %s", tt.name, p.Fit.Mode, p.Fit.RMS, diff)
		}
	}
}

// A pass with more readings pulls the pool towards itself: (144 + 3·142)/4 = 142.5.
func TestUnimodalFitWeighs(t *testing.T) {
	ps := []density.Pass{{Readings: readings(139)}, {Readings: readings(144)}, {Readings: readings(142, 142, 142)}, {Readings: readings(146)}, {Readings: readings(145)}}
	p, err := density.RollerPattern(ps, halfPound)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]units.Density{lb(139), lb(142.5), lb(142.5), lb(146), lb(145)}, p.Fit.Fitted); diff != "" {
		t.Errorf("-want +got %s", diff)
	}
}

// A second, slow route: for every mode the max-min formula of isotonic regression,
//
//	f_i = max over s ≤ i of min over t ≥ i of the mean of a_s…a_t
//
// (Barlow, Bartholomew, Bremner and Brunk 1972, section 1.4, from memory), the
// fall by the same on the mirror image.
func TestUnimodalFitAgainstMaxMin(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for range 400 {
		k := 1 + rng.IntN(7)
		var ps []density.Pass
		var averages, weights []int64
		for range k {
			a, n := int64(140+rng.IntN(6)), 1+rng.IntN(3)
			pass := density.Pass{}
			for range n {
				pass.Readings = append(pass.Readings, density.Uncorrected(lb(float64(a))))
			}
			averages, weights, ps = append(averages, a), append(weights, int64(n)), append(ps, pass)
		}
		p, err := density.RollerPattern(ps, halfPound)
		if err != nil {
			t.Fatal(err)
		}
		fit, squares := slowUnimodal(averages, weights)
		for i, f := range fit {
			if want, _ := f.Float64(); p.Fit.Fitted[i] != lb(want) {
				t.Fatalf("%v weighted %v: fitted %v, want %v at %d", averages, weights, p.Fit.Fitted, want, i)
			}
		}
		if math.Abs(p.Fit.RMS-math.Sqrt(squares)) > 1e-14 {
			t.Fatalf("%v weighted %v: rms %v, want %v", averages, weights, p.Fit.RMS, math.Sqrt(squares))
		}
	}
}

// slowUnimodal tries every number of rising passes and keeps the first of the
// nearest; it returns the fit and its mean square.
func slowUnimodal(a, w []int64) (best []*big.Rat, squares float64) {
	var least *big.Rat
	var total int64
	for _, n := range w {
		total += n
	}
	for split := 1; split <= len(a); split++ {
		fit := append(maxMin(a[:split], w[:split]), mirror(maxMin(mirror(a[split:]), mirror(w[split:])))...)
		sum := new(big.Rat)
		for i, f := range fit {
			d := new(big.Rat).Sub(big.NewRat(a[i], 1), f)
			sum.Add(sum, d.Mul(d, d).Mul(d, big.NewRat(w[i], 1)))
		}
		if least == nil || sum.Cmp(least) < 0 {
			best, least = fit, sum
		}
	}
	squares, _ = new(big.Rat).Quo(least, big.NewRat(total, 1)).Float64()
	return best, squares
}

func maxMin(a, w []int64) (fit []*big.Rat) {
	for i := range a {
		var highest *big.Rat
		for s := 0; s <= i; s++ {
			var lowest *big.Rat
			for t := i; t < len(a); t++ {
				var sum, weight int64
				for j := s; j <= t; j++ {
					sum, weight = sum+a[j]*w[j], weight+w[j]
				}
				if mean := big.NewRat(sum, weight); lowest == nil || mean.Cmp(lowest) < 0 {
					lowest = mean
				}
			}
			if highest == nil || lowest.Cmp(highest) > 0 {
				highest = lowest
			}
		}
		fit = append(fit, highest)
	}
	return fit
}

func mirror[T any](xs []T) (out []T) {
	for i := len(xs) - 1; i >= 0; i-- {
		out = append(out, xs[i])
	}
	return out
}
