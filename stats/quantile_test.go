package stats

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// The values of the nine types for 10 20 40 80 160, by hand from the definitions
// of Hyndman and Fan (1996). For p = 0.3, np = 1.5 and type 8, say,
// h = 1.5 + 1.3/3 = 1.9333, so the value is 10 + 0.9333·10.
func TestQuantileByHand(t *testing.T) {
	xs := []float64{80, 10, 160, 40, 20}
	tests := []struct {
		p    float64
		want [9]float64
	}{
		{0, [9]float64{10, 10, 10, 10, 10, 10, 10, 10, 10}},
		{0.05, [9]float64{10, 10, 10, 10, 10, 10, 12, 10, 10}},
		{0.3, [9]float64{20, 20, 20, 15, 20, 18, 24, 10 + 28.0/3, 19.5}},
		{0.4, [9]float64{20, 30, 20, 20, 30, 28, 32, 20 + 28.0/3, 29.5}},
		{0.5, [9]float64{40, 40, 20, 30, 40, 40, 40, 40, 40}},
		{0.9, [9]float64{160, 160, 80, 120, 160, 160, 128, 160, 160}},
		{1, [9]float64{160, 160, 160, 160, 160, 160, 160, 160, 160}},
	}
	for _, tt := range tests {
		for i, want := range tt.want {
			kind := Quantile1 + QuantileType(i)
			if got, err := Quantile(xs, tt.p, kind); err != nil || math.Abs(got-want) > 1e-14*want {
				t.Errorf("p = %v, %v: %v, %v, want %v", tt.p, kind, got, err, want)
			}
		}
	}
	if !slices.Equal(xs, []float64{80, 10, 160, 40, 20}) {
		t.Errorf("xs was changed to %v", xs)
	}
}

// A whole np must be seen as whole although p is no float64: 0.07·100 is computed
// as 7.000000000000001 and 0.29·100 as 28.999999999999996.
func TestQuantileWholeNP(t *testing.T) {
	xs := make([]float64, 100)
	for i := range xs {
		xs[i] = float64(i + 1)
	}
	for k := range 101 {
		got, err := Quantile(xs, float64(k)/100, Quantile1)
		if want := float64(max(k, 1)); err != nil || got != want {
			t.Errorf("p = %d/100: %v, %v, want %v", k, got, err, want)
		}
	}
}

// TestQuantileAgainstSort tries lengths and data that are hard for a selection.
func TestQuantileAgainstSort(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 20))
	kinds := map[string]func(i, n int) float64{
		"random":     func(int, int) float64 { return r.NormFloat64() },
		"many ties":  func(int, int) float64 { return float64(r.IntN(3)) },
		"rising":     func(i, _ int) float64 { return float64(i) },
		"falling":    func(i, _ int) float64 { return float64(-i) },
		"organ pipe": func(i, n int) float64 { return float64(min(i, n-i)) },
		"saw":        func(i, _ int) float64 { return float64(i * 7919 % 101) },
		"equal":      func(int, int) float64 { return 0.1 },
	}
	scratch := make([]float64, 1000)
	for name, kind := range kinds {
		for _, n := range []int{1, 2, 3, 12, 13, 14, 64, 65, 257, 1000} {
			xs := make([]float64, n)
			for i := range xs {
				xs[i] = kind(i, n)
			}
			sorted := slices.Sorted(slices.Values(xs))
			for range 20 {
				k := r.IntN(n)
				p := (float64(k) + 0.5) / float64(n)
				got, err := QuantileInto(scratch, xs, p, Quantile1)
				if err != nil || got != sorted[k] {
					t.Fatalf("%s, n = %d: place %d is %v, %v, want %v", name, n, k, got, err, sorted[k])
				}
			}
		}
	}
}

func TestQuantileRisesWithP(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	for kind := Quantile1; kind <= Quantile9; kind++ {
		xs := anyFloats(r, 17)
		last := slices.Min(xs)
		for i := range 1001 {
			got, err := Quantile(xs, float64(i)/1000, kind)
			if err != nil || got < last {
				t.Fatalf("%v at %d/1000: %v, %v after %v", kind, i, got, err, last)
			}
			last = got
		}
	}
}

func TestMedianAndMAD(t *testing.T) {
	tests := []struct {
		name        string
		xs          []float64
		median, mad float64 // by hand
	}{
		{"one", []float64{7}, 7, 0},
		{"two", []float64{4, 1}, 2.5, 1.5},
		{"odd, with a mistyped value", []float64{94.25, 92.5, 949, 93, 93.5}, 93.5, 0.75},
		{"even", []float64{1, 2, 4, 8}, 3, 1.5},
		{"largest values", []float64{math.MaxFloat64, math.MaxFloat64}, math.MaxFloat64, 0},
		{"far ends", []float64{-math.MaxFloat64, math.MaxFloat64}, 0, math.MaxFloat64},
	}
	for _, tt := range tests {
		if got, err := Median(tt.xs); err != nil || got != tt.median {
			t.Errorf("%s: median %v, %v, want %v", tt.name, got, err, tt.median)
		}
		if got, err := MAD(tt.xs); err != nil || got != tt.mad {
			t.Errorf("%s: MAD %v, %v, want %v", tt.name, got, err, tt.mad)
		}
	}
}

func TestNamesOfEnums(t *testing.T) {
	for want, got := range map[string]string{
		"type 7": Quantile7.String(), "QuantileType(0)": QuantileType(0).String(),
		"percentile": BootstrapPercentile.String(), "BCa": BootstrapBCa.String(), "BootstrapMethod(3)": BootstrapMethod(3).String(),
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestQuantileRefuses(t *testing.T) {
	q := func(xs []float64, p float64, kind QuantileType) error { _, err := Quantile(xs, p, kind); return err }
	into := func(scratch, xs []float64) error { _, err := QuantileInto(scratch, xs, 0.5, Quantile7); return err }
	deviation := func(xs []float64) error { _, err := MAD(xs); return err }
	deviationInto := func(scratch, xs []float64) error { _, err := MADInto(scratch, xs); return err }
	median := func(xs []float64) error { _, err := Median(xs); return err }
	one := []float64{1}
	tests := []struct {
		name      string
		err, want error
	}{
		{"no values", q(nil, 0.5, Quantile7), ErrTooFew},
		{"median of none", median(nil), ErrTooFew},
		{"MAD of none", deviation(nil), ErrTooFew},
		{"NaN", median([]float64{1, math.NaN()}), ErrNotFinite},
		{"p below 0", q(one, -1e-9, Quantile7), ErrParameter},
		{"p as percent", q(one, 50, Quantile7), ErrParameter},
		{"p NaN", q(one, math.NaN(), Quantile7), ErrParameter},
		{"no type", q(one, 0.5, 0), ErrParameter},
		{"type 10", q(one, 0.5, 10), ErrParameter},
		{"short scratch", into(nil, one), ErrLength},
		{"short scratch of MAD", deviationInto(nil, one), ErrLength},
	}
	for _, tt := range tests {
		if !errors.Is(tt.err, tt.want) {
			t.Errorf("%s: error %v, want %v", tt.name, tt.err, tt.want)
		}
	}
}

func TestQuantilesAllocateNothing(t *testing.T) {
	short, long, scratch := percentCompaction(64), percentCompaction(500), make([]float64, 500)
	if allocs := testing.AllocsPerRun(10, func() {
		_, err1 := Quantile(short, 0.1, Quantile8)
		_, err2 := QuantileInto(scratch, long, 0.1, Quantile8)
		_, err3 := MAD(short)
		_, err4 := MADInto(scratch, long)
		if err := errors.Join(err1, err2, err3, err4); err != nil {
			t.Fatal(err)
		}
	}); allocs != 0 {
		t.Errorf("%v allocations", allocs)
	}
}

func BenchmarkMedian(b *testing.B) {
	xs := percentCompaction(1e5)
	scratch := make([]float64, len(xs))
	b.Run("ours", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; i < b.N; i++ {
			if _, err := QuantileInto(scratch, xs, 0.5, Quantile7); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("naive", func(b *testing.B) {
		for i := 0; i < b.N; i++ {
			copy(scratch, xs)
			slices.Sort(scratch)
		}
	})
}
