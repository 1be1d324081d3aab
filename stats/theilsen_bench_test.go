package stats

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"
	"time"
)

// scatteredLine draws n gauge readings and cores, unrounded.
func scatteredLine(n int) (xs, ys []float64) {
	r := rand.New(rand.NewPCG(91, uint64(n)))
	for range n {
		x := 145 + 2*r.NormFloat64()
		xs, ys = append(xs, x), append(ys, x+2.5+0.8*r.NormFloat64())
	}
	return xs, ys
}

// sortedSlopes forms the slopes of all pairs and sorts them.
func sortedSlopes(xs, ys []float64) []float64 {
	all := make([]float64, 0, len(xs)*(len(xs)-1)/2)
	for i, x := range xs {
		for j := range i {
			if x != xs[j] {
				all = append(all, (ys[i]-ys[j])/(x-xs[j])+0)
			}
		}
	}
	slices.Sort(all)
	return all
}

// fastest runs f b.N times and returns the shortest time, which other work on the machine
// disturbs least.
func fastest(b *testing.B, f func()) time.Duration {
	best := time.Duration(math.MaxInt64)
	for range b.N {
		start := time.Now()
		f()
		best = min(best, time.Since(start))
	}
	return best
}

func fitScattered(b *testing.B, xs, ys []float64) func() {
	return func() {
		if _, err := FitTheilSen(xs, ys, TheilSenOptions{Level: 0.95, Method: RankNormal}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkTheilSen compares the fit with its interval with sorting all slopes, which
// gives the same three numbers; naive reports how many times as long it takes.
func BenchmarkTheilSen(b *testing.B) {
	xs, ys := scatteredLine(5000)
	var ours time.Duration
	b.Run("ours", func(b *testing.B) { ours = fastest(b, fitScattered(b, xs, ys)) })
	b.Run("naive", func(b *testing.B) {
		naive := fastest(b, func() {
			all := sortedSlopes(xs, ys)
			sink += middleOf(int64(len(all)), func(place int64) float64 { return all[place-1] })
		})
		if ours > 0 {
			b.ReportMetric(float64(naive)/float64(ours), "times-ours")
		}
	})
}

// BenchmarkTheilSenGrowth shows how the time grows, as nanoseconds over n·log₂n and as
// times what n·log n makes of the time at the n before.
func BenchmarkTheilSenGrowth(b *testing.B) {
	var before float64
	for _, n := range []int{1000, 10000, 100000} {
		xs, ys := scatteredLine(n)
		var scaled float64
		b.Run("n="+strconv.Itoa(n), func(b *testing.B) {
			scaled = float64(fastest(b, fitScattered(b, xs, ys))) / (float64(n) * math.Log2(float64(n)))
			b.ReportMetric(scaled, "ns/(n·log₂n)")
			if before > 0 {
				b.ReportMetric(scaled/before, "growth/(n·log₂n)")
			}
		})
		before = scaled
	}
}
