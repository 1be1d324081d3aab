package lot_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/densilot/densilot/lot"
)

// pivotalInterval is what a program without this package would do: it draws means and
// spreads that the five results leave possible, and sorts the shares they give. It
// covers less than it says; 100,000 draws leave an error of a few tenths of a percent.
func pivotalInterval(mean, s, lower, upper float64, rng *rand.Rand, shares []float64) (lo, hi float64) {
	for i := range shares {
		square := 0.0
		for range 4 {
			z := rng.NormFloat64()
			square += z * z
		}
		sigma := s * math.Sqrt(4/square)
		mu := mean + sigma/math.Sqrt(5)*rng.NormFloat64()
		shares[i] = 50 * (math.Erfc((lower-mu)/sigma/math.Sqrt2) - math.Erfc((upper-mu)/sigma/math.Sqrt2))
	}
	slices.Sort(shares)
	return shares[len(shares)/20], shares[len(shares)*19/20]
}

// BenchmarkWithinInterval is one lot of five results.
func BenchmarkWithinInterval(b *testing.B) {
	one, two := lot.AtLeast(92), lot.Between(92, 97)
	b.Run("one limit", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := lot.WithinInterval(fiveSublots, one, 0.9); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("two limits", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := lot.WithinInterval(fiveSublots, two, 0.9); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("two limits, 100000 draws", func(b *testing.B) {
		rng, shares := rand.New(rand.NewPCG(1, 2)), make([]float64, 100000)
		for b.Loop() {
			pivotalInterval(93.16, math.Sqrt(0.893), 92, 97, rng, shares)
		}
	})
	b.Run("measured, with its budget", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := lot.WithinMeasured(fiveSublots, two, 0.9, gaugeError()); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// The interval itself allocates nothing, whatever the number of results.
func TestWithinIntervalAllocations(t *testing.T) {
	for _, l := range []lot.Limits{lot.AtLeast(92), lot.Between(92, 97)} {
		if allocs := testing.AllocsPerRun(3, func() {
			if _, err := lot.WithinInterval(fiveSublots, l, 0.9); err != nil {
				t.Error(err)
			}
		}); allocs != 0 {
			t.Errorf("%v: %v allocations", l, allocs)
		}
	}
}
