package stats

import (
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// BenchmarkTails takes one upper tail, per value, at places a test would.
func BenchmarkTails(b *testing.B) {
	t4, _ := NewStudentT(4)
	t60, _ := NewStudentT(60)
	chi, _ := NewChiSquared(9)
	f, _ := NewFDistribution(4, 19)
	normal, _ := NewNormal(0, 1)
	for _, c := range []struct {
		name  string
		ours  func(x float64) (float64, error)
		gonum func(x float64) float64
	}{
		{"StudentT4", t4.Survival, distuv.StudentsT{Sigma: 1, Nu: 4}.Survival},
		{"StudentT60", t60.Survival, distuv.StudentsT{Sigma: 1, Nu: 60}.Survival},
		{"ChiSquared", chi.Survival, distuv.ChiSquared{K: 9}.Survival},
		{"F", f.Survival, distuv.F{D1: 4, D2: 19}.Survival},
		{"Normal", normal.Survival, distuv.UnitNormal.Survival},
	} {
		b.Run(c.name+"/ours", func(b *testing.B) {
			b.ReportAllocs()
			for i := range b.N {
				p, _ := c.ours(0.1 + 0.01*float64(i&511))
				sink += p
			}
		})
		b.Run(c.name+"/gonum", func(b *testing.B) {
			for i := range b.N {
				sink += c.gonum(0.1 + 0.01*float64(i&511))
			}
		})
	}
}

// BenchmarkQuantiles takes upper quantiles at 0.1 to 5 %, per value.
func BenchmarkQuantiles(b *testing.B) {
	chi, _ := NewChiSquared(9)
	f, _ := NewFDistribution(4, 19)
	nct, _ := NewNoncentralT(4)
	for _, c := range []struct {
		name  string
		ours  func(q float64) (float64, error)
		gonum func(q float64) float64
	}{
		{"ChiSquared", chi.UpperQuantile, func(q float64) float64 { return distuv.ChiSquared{K: 9}.Quantile(1 - q) }},
		{"F", f.UpperQuantile, func(q float64) float64 { return distuv.F{D1: 4, D2: 19}.Quantile(1 - q) }},
		{"NoncentralT", func(q float64) (float64, error) { return nct.UpperQuantile(q, 2.87) },
			func(q float64) float64 { return distuv.NoncentralT{Nu: 4, Mu: 2.87}.Quantile(1 - q) }},
		{"ToleranceOneSided", func(q float64) (float64, error) { return ToleranceOneSided(5, 0.9, 1-q) }, nil},
		{"ToleranceTwoSided", func(q float64) (float64, error) { return ToleranceTwoSided(5, 0.9, 1-q) }, nil},
	} {
		b.Run(c.name+"/ours", func(b *testing.B) {
			b.ReportAllocs()
			for i := range b.N {
				x, _ := c.ours(0.001 * float64(1+i%50))
				sink += x
			}
		})
		if c.gonum == nil {
			continue
		}
		b.Run(c.name+"/gonum", func(b *testing.B) {
			for i := range b.N {
				sink += c.gonum(0.001 * float64(1+i%50))
			}
		})
	}
}
