package bias_test

import (
	"errors"
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
)

// The ten sites of the WAQTC worked example (from memory; every sum of the print
// fits): core and the mean of two readings, lb/ft3.
var (
	waqtcCore  = []float64{144.9, 142.8, 143.1, 140.7, 145.1, 144.2, 143.8, 142.8, 144.8, 143.0}
	waqtcGauge = []float64{142.1, 140.9, 140.7, 138.9, 143.6, 142.4, 141.3, 139.8, 143.3, 141.0}
)

// R 4.2.2: t.test(core - gauge); predict(lm(core - gauge ~ 1), interval = "prediction").
func TestOffsetOf(t *testing.T) {
	e, err := bias.OffsetOf(waqtcGauge, waqtcCore, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		what      string
		got, want float64
	}{
		{"mean", e.Mean, 2.12}, {"sd", e.StdDev, 0.526624470884}, {"standard error", e.StdErr, 0.166533279957},
		{"lower", e.CI.Lo, 1.7432755479}, {"upper", e.CI.Hi, 2.4967244521},
		{"new lower", e.Prediction.Lo, 0.870546343033}, {"new upper", e.Prediction.Hi, 3.36945365697},
	} {
		if math.Abs(tt.got-tt.want) > 5e-11 {
			t.Errorf("%s %v, want %v", tt.what, tt.got, tt.want)
		}
	}
}

// The blocks agree with exact arithmetic on the same float64 differences.
func TestOffsetOfIsAccurate(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{2, 3, 255, 256, 257, 5000} {
		gauge, core := column(rng, n)
		e, err := bias.OffsetOf(gauge, core, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		mean, sd := exactMoments(gauge, core)
		if math.Abs(e.Mean-mean) > 1e-15*math.Abs(mean) || math.Abs(e.StdDev-sd) > 1e-14*sd {
			t.Errorf("n = %d: mean %v, want %v; s %v, want %v", n, e.Mean, mean, e.StdDev, sd)
		}
	}
}

func column(rng *rand.Rand, n int) (gauge, core []float64) {
	for range n {
		g := 140 + float64(rng.IntN(80))/10
		gauge, core = append(gauge, g), append(core, g+float64(rng.IntN(50))/10)
	}
	return gauge, core
}

func exactMoments(gauge, core []float64) (mean, sd float64) {
	n := big.NewRat(int64(len(gauge)), 1)
	sum, ss := new(big.Rat), new(big.Rat)
	for i, g := range gauge {
		d := new(big.Rat).SetFloat64(core[i] - g)
		sum.Add(sum, d)
		ss.Add(ss, new(big.Rat).Mul(d, d))
	}
	m := new(big.Rat).Quo(sum, n)
	ss.Sub(ss, new(big.Rat).Mul(sum, m))
	mean, _ = m.Float64()
	v, _ := ss.Quo(ss, new(big.Rat).Sub(n, big.NewRat(1, 1))).Float64()
	return mean, math.Sqrt(v)
}

func TestOffsetOfEqualDifferences(t *testing.T) {
	gauge, core := make([]float64, 600), make([]float64, 600)
	for i := range gauge {
		gauge[i], core[i] = 144.5, 146.75
	}
	e, err := bias.OffsetOf(gauge, core, 0.95)
	if err != nil || e.Mean != 2.25 || e.StdDev != 0 || e.CI.Lo != 2.25 || len(e.Warnings) != 1 {
		t.Errorf("%+v, %v", e, err)
	}
}

func TestOffsetOfRefuses(t *testing.T) {
	three := []float64{145, 146, 147}
	for _, tt := range []struct {
		name        string
		gauge, core []float64
		level       float64
		want        error
		index       int
	}{
		{"nothing", nil, nil, 0.95, stats.ErrTooFew, -1},
		{"one", three[:1], three[:1], 0.95, stats.ErrTooFew, -1},
		{"lengths", three, three[:2], 0.95, stats.ErrLength, -1},
		{"NaN", []float64{145, math.NaN(), 147}, three, 0.95, stats.ErrNotFinite, 1},
		{"an infinite core", three, []float64{145, 146, math.Inf(1)}, 0.95, stats.ErrNotFinite, 2},
		{"a sentinel", three, []float64{-999, 146, 147}, 0.95, density.ErrNotPositive, 0},
		{"level in percent", three, []float64{146, 148, 149}, 95, stats.ErrLevel, -1},
		{"level NaN", three, three, math.NaN(), stats.ErrLevel, -1},
		{"squares too large", []float64{1, 1}, []float64{1e300, 1.7e308}, 0.95, stats.ErrOverflow, -1},
	} {
		e, err := bias.OffsetOf(tt.gauge, tt.core, tt.level)
		var bad *stats.InputError
		if !errors.Is(err, tt.want) || !errors.As(err, &bad) || bad.Index != tt.index || e.N != 0 {
			t.Errorf("%s: %v, want %v at %d", tt.name, err, tt.want, tt.index)
		}
	}
}

func TestOffsetOfAllocatesNothing(t *testing.T) {
	gauge, core := column(rand.New(rand.NewPCG(3, 4)), 1000)
	if n := testing.AllocsPerRun(100, func() { _, _ = bias.OffsetOf(gauge, core, 0.95) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

// A million locations: the summary form against what one would write with gonum, and
// against one pass that only adds.
func BenchmarkOffsetOf(b *testing.B) {
	gauge, core := column(rand.New(rand.NewPCG(3, 4)), 1e6)
	b.Run("OffsetOf", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := bias.OffsetOf(gauge, core, 0.95); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("gonum", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			differences := make([]float64, len(gauge))
			for i, g := range gauge {
				differences[i] = core[i] - g
			}
			mean, sd := stat.MeanStdDev(differences, nil)
			n := float64(len(gauge))
			quantile := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: n - 1}.Quantile(0.975)
			sink = mean + quantile*sd/math.Sqrt(n)
		}
	})
	b.Run("plain pass", func(b *testing.B) {
		for b.Loop() {
			var sum float64
			for i, g := range gauge {
				sum += core[i] - g
			}
			sink = sum
		}
	})
}

var sink float64
