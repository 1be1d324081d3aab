package stats

import (
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"
)

// sink keeps the compiler from dropping what a benchmark computes.
var sink float64

// BenchmarkPercentWithin is the kernel of percent within limits, the mean over
// n = 3 to 30 at mixed places, per value.
func BenchmarkPercentWithin(b *testing.B) {
	us := make([]float64, 1024)
	r := rand.New(rand.NewPCG(1, 2))
	for i := range us {
		us[i] = 2*r.Float64() - 1
	}
	b.Run("ours", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; i < b.N; {
			for n := 3; n <= 30; n++ {
				d, _ := NewSymmetricBeta(float64(n)/2 - 1)
				for _, u := range us {
					p, _ := d.CDF(u)
					sink += p
				}
				i += len(us)
			}
		}
	})
	b.Run("gonum", func(b *testing.B) {
		for i := 0; i < b.N; {
			for n := 3; n <= 30; n++ {
				a := float64(n)/2 - 1
				for _, u := range us {
					sink += mathext.RegIncBeta(a, a, 0.5+0.5*u)
				}
				i += len(us)
			}
		}
	})
}

// BenchmarkTQuantile takes Student's t at Grubbs' probabilities, n = 3 to 100,
// per value.
func BenchmarkTQuantile(b *testing.B) {
	b.Run("ours", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; i < b.N; {
			for n := 3; n <= 100; n++ {
				for _, alpha := range []float64{0.01, 0.05, 0.10} {
					d, _ := NewStudentT(float64(n - 2))
					q, _ := d.UpperQuantile(alpha / float64(2*n))
					sink += q
					i++
				}
			}
		}
	})
	b.Run("gonum", func(b *testing.B) {
		for i := 0; i < b.N; {
			for n := 3; n <= 100; n++ {
				for _, alpha := range []float64{0.01, 0.05, 0.10} {
					sink -= distuv.StudentsT{Sigma: 1, Nu: float64(n - 2)}.Quantile(alpha / float64(2*n))
					i++
				}
			}
		}
	})
}
