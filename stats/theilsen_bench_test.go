package stats

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"
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

// BenchmarkTheilSen compares the fit with its interval with sorting all slopes, which
// gives the same three numbers.
func BenchmarkTheilSen(b *testing.B) {
	xs, ys := scatteredLine(5000)
	b.Run("ours", func(b *testing.B) {
		for range b.N {
			if _, err := FitTheilSen(xs, ys, TheilSenOptions{Level: 0.95, Method: RankNormal}); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("naive", func(b *testing.B) {
		for range b.N {
			all := sortedSlopes(xs, ys)
			sink += middleOf(int64(len(all)), func(place int64) float64 { return all[place-1] })
		}
	})
}

// BenchmarkTheilSenGrowth shows how the time grows, as nanoseconds over n·log₂n.
func BenchmarkTheilSenGrowth(b *testing.B) {
	for _, n := range []int{1000, 10000, 100000} {
		xs, ys := scatteredLine(n)
		b.Run("n="+strconv.Itoa(n), func(b *testing.B) {
			for range b.N {
				if _, err := FitTheilSen(xs, ys, TheilSenOptions{Level: 0.95, Method: RankNormal}); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/(float64(n)*math.Log2(float64(n))), "ns/(n·log₂n)")
		})
	}
}
