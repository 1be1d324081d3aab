package lot_test

import (
	"math"
	"math/rand/v2"
	"sync"
	"testing"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat"

	"github.com/densilot/densilot/lot"
)

// lotsOfFive are air voids of normal lots, limits 2.8 and 5.2, in one slice, so
// that both tails are cut.
func lotsOfFive(lots int) []float64 {
	rng := rand.New(rand.NewPCG(21, 22))
	xs := make([]float64, 5*lots)
	for i := range xs {
		xs[i] = 4.0 + 1.2*rng.NormFloat64()
	}
	return xs
}

// payOurs estimates and pays every lot, and returns the sum of the factors so that
// no work can be left out.
func payOurs(b *testing.B, dst []lot.Within, xs []float64, l lot.Limits, s lot.Schedule) (sum float64) {
	if err := lot.EstimateLots(dst, xs, 5, l); err != nil {
		b.Error(err)
		return 0
	}
	for i := range dst {
		factor, _, err := s.FactorAt(dst[i].PWL)
		if err != nil {
			b.Error(err)
			return 0
		}
		sum += factor
	}
	return sum
}

// payGonum is what a program without this package would do: it looks for values
// that are no numbers, and for lots without spread by their extremes.
func payGonum(xs []float64, lower, upper float64) (sum float64) {
	for i := 0; i < len(xs); i += 5 {
		values := xs[i : i+5]
		if floats.HasNaN(values) || floats.Min(values) == floats.Max(values) {
			continue
		}
		mean, s := stat.MeanStdDev(values, nil)
		pwl := withinGonum((mean-lower)/s, 5) + withinGonum((upper-mean)/s, 5) - 100
		switch {
		case pwl >= 90:
			sum += 1.02
		case pwl >= 75:
			sum += 0.4 + pwl/150
		case pwl >= 50:
			sum += 0.40 + 0.006*pwl
		}
	}
	return sum
}

func withinGonum(q float64, n float64) float64 {
	x := 0.5 - q*math.Sqrt(n)/(2*(n-1))
	return 100 * (1 - mathext.RegIncBeta(n/2-1, n/2-1, min(max(x, 0), 1)))
}

// BenchmarkLotsOfFive takes 16,000 lots of five results to pay factors: mean, s,
// both quality indices, percent within limits, factor.
func BenchmarkLotsOfFive(b *testing.B) {
	const lots = 16000 // so many that no branch is learnt by heart
	xs, l, s, dst := lotsOfFive(lots), lot.Between(2.8, 5.2), schedule(b), make([]lot.Within, lots)
	if a, c := payOurs(b, dst, xs, l, s), payGonum(xs, 2.8, 5.2); math.Abs(a-c) > 1e-9*lots {
		b.Fatalf("ours %v, gonum %v", a, c)
	}
	b.Run("ours", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			payOurs(b, dst, xs, l, s)
		}
	})
	b.Run("gonum", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			payGonum(xs, 2.8, 5.2)
		}
	})
	b.Run("ours, lot by lot", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			for i := range dst {
				dst[i], _ = lot.EstimateWithin(xs[5*i:5*i+5], l)
			}
		}
	})
	b.Run("two goroutines", func(b *testing.B) {
		for b.Loop() {
			var done sync.WaitGroup
			for h := range 2 {
				done.Add(1)
				go func() {
					defer done.Done()
					payOurs(b, dst[h*lots/2:(h+1)*lots/2], xs[h*len(xs)/2:(h+1)*len(xs)/2], l, s)
				}()
			}
			done.Wait()
		}
	})
}

// BenchmarkPercentWithin runs over n = 3 to 30 and mixed Q.
func BenchmarkPercentWithin(b *testing.B) {
	rng := rand.New(rand.NewPCG(23, 24))
	qs := make([]float64, 280)
	for i := range qs {
		qs[i] = -1 + 3*rng.Float64()
	}
	b.Run("ours", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			for i, q := range qs {
				if _, err := lot.PercentWithin(q, 3+i%28); err != nil {
					b.Fatal(err)
				}
			}
		}
	})
	b.Run("gonum", func(b *testing.B) {
		for b.Loop() {
			for i, q := range qs {
				withinGonum(q, float64(3+i%28))
			}
		}
	})
}

// BenchmarkEvaluate is the audited path for one lot of five, working included.
func BenchmarkEvaluate(b *testing.B) {
	p := plan(b, terms(b, lot.Between(92, 97)))
	l := lotOf("94.2", "92.5", "93.4", "91.9", "93.8")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := p.Evaluate(l); err != nil {
			b.Fatal(err)
		}
	}
}
