package stats

import (
	"math/rand/v2"
	"testing"
)

// BenchmarkCosts prints the fastest run of the functions whose comments say what they cost.
func BenchmarkCosts(b *testing.B) {
	r := rand.New(rand.NewPCG(113, 114))
	xs, ys := make([]float64, 5000), make([]float64, 5000)
	var subgroups [][]float64
	for i := range xs {
		xs[i] = 94 + r.NormFloat64()
		ys[i] = xs[i] + r.NormFloat64()
		if i%5 == 4 {
			subgroups = append(subgroups, xs[i-4:i+1])
		}
	}
	for _, bb := range []struct {
		name string
		of   float64 // what the time is divided by
		f    func() error
	}{
		{"Dixon/n=10", 1, func() error { _, err := Dixon(xs[:10], DixonR11, TwoSide, 0.05); return err }},
		{"Dixon/n=300", 1, func() error { _, err := Dixon(xs[:300], DixonR22, TwoSide, 0.05); return err }},
		{"NewChartConstants/n=5", 1, func() error { _, err := NewChartConstants(5, 3); return err }},
		{"NewSubgroupChart/s,a_value", 5000, func() error { _, err := NewSubgroupChart(subgroups, SpreadStdDev, 3); return err }},
		{"NewSubgroupChart/R", 1, func() error { _, err := NewSubgroupChart(subgroups[:20], SpreadRange, 3); return err }},
		{"RunSignals/a_point_looked_at", 5000 * (1 + 3 + 5 + 8), func() error { _, err := RunSignals(xs, 94, 1, WesternElectricRules()); return err }},
		{"ShapiroWilk/n=10", 1, func() error { _, err := ShapiroWilk(xs[:10]); return err }},
		{"ShapiroWilk/n=5000", 1, func() error { _, err := ShapiroWilk(xs); return err }},
		{"AndersonDarling/a_value", 5000, func() error { _, err := AndersonDarling(xs); return err }},
		{"FitTheilSen/exact,n=50", 1, func() error {
			_, err := FitTheilSen(xs[:50], ys[:50], TheilSenOptions{Level: 0.95, Method: RankExact})
			return err
		}},
		{"FitTheilSen/a_pair_on_a_line", 5000 * 4999 / 2, func() error {
			_, err := FitTheilSen(xs, xs, TheilSenOptions{Level: 0.95, Method: RankNormal})
			return err
		}},
	} {
		b.Run(bb.name, func(b *testing.B) {
			best := fastest(b, func() {
				if err := bb.f(); err != nil {
					b.Fatal(err)
				}
			})
			b.ReportMetric(float64(best.Nanoseconds())/bb.of, "fastest-ns")
			b.ReportMetric(0, "ns/op")
		})
	}
}
