package stats

import (
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"
)

// BenchmarkMoments compares mean, s, min and max of one sample, per value.
func BenchmarkMoments(b *testing.B) {
	for _, size := range []struct {
		name string
		n    int
	}{{"five", 5}, {"thirty", 30}, {"hundred", 100}, {"1e7", 1e7}} {
		samples := percentCompaction(max(size.n, 1<<16/size.n*size.n))
		b.Run(size.name+"/ours", func(b *testing.B) { benchSamples(b, samples, size.n, oursMoments) })
		b.Run(size.name+"/gonum", func(b *testing.B) { benchSamples(b, samples, size.n, gonumMoments) })
	}
}

func oursMoments(xs []float64) float64 {
	d, err := Describe(xs)
	if err != nil {
		panic(err)
	}
	return d.Mean + d.StdDev + d.Min + d.Max
}

func gonumMoments(xs []float64) float64 {
	mean, s := stat.MeanStdDev(xs, nil)
	return mean + s + floats.Min(xs) + floats.Max(xs)
}

func benchSamples(b *testing.B, xs []float64, n int, f func([]float64) float64) {
	b.ReportAllocs()
	var sum float64
	for i, at := 0, 0; i < b.N; i++ {
		sum += f(xs[at : at+n])
		if at += n; at+n > len(xs) {
			at = 0
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/value")
	if sum == 0 {
		b.Fatal("no sum")
	}
}

// percentCompaction makes n results around 94 % with s = 1.5 %.
func percentCompaction(n int) []float64 {
	r := rand.New(rand.NewPCG(1, 2))
	xs := make([]float64, n)
	for i := range xs {
		xs[i] = 94 + 1.5*r.NormFloat64()
	}
	return xs
}
