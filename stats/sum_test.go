package stats

import (
	"errors"
	"math"
	"math/big"
	"math/rand/v2"
	"testing"
)

// bigSum adds with 2300 bits, enough for every sum of float64 values here
// without rounding, and rounds once at the end.
func bigSum(xs []float64) *big.Float {
	sum := new(big.Float).SetPrec(2300)
	for _, x := range xs {
		sum.Add(sum, new(big.Float).SetFloat64(x))
	}
	return sum
}

// anyFloats makes n finite values from all over the float64 range, so that
// cancellation and subnormal results occur.
func anyFloats(r *rand.Rand, n int) []float64 {
	spread := uint64(1 + r.IntN(2046))
	xs := make([]float64, 0, n)
	for len(xs) < n {
		x := math.Float64frombits(r.Uint64()&^(0x7ff<<52) | (r.Uint64N(spread) << 52))
		xs = append(xs, x)
		if r.IntN(3) == 0 && len(xs) < n {
			xs = append(xs, -x)
		}
	}
	return xs
}

func TestSumIsRoundedOnce(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 2000 {
		xs := anyFloats(r, r.IntN(40))
		want, _ := bigSum(xs).Float64()
		got, err := Sum(xs)
		if math.IsInf(want, 0) {
			if !errors.Is(err, ErrOverflow) {
				t.Fatalf("Sum(%v): error %v, want overflow", xs, err)
			}
			continue
		}
		if err != nil || got != want {
			t.Fatalf("Sum(%v) = %v, %v, want %v by math/big", xs, got, err, want)
		}
	}
}

func TestMeanIsNearest(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 2000 {
		xs := anyFloats(r, 1+r.IntN(40))
		if r.IntN(2) == 0 {
			xs = percentCompaction(1 + r.IntN(40))
		}
		sum := bigSum(xs)
		want, _ := sum.Quo(sum, new(big.Float).SetInt64(int64(len(xs)))).Float64()
		got, err := Mean(xs)
		if err != nil || got != want && math.Abs(want) >= 0x1p-1022 {
			t.Fatalf("Mean(%v) = %v, %v, want %v by math/big", xs, got, err, want)
		}
	}
}

// TestCompensatedSumKnowsItsError has sums near a tie, of many lengths, and of field data:
// wherever the quick sum is sure it must be right, and for field data it must
// mostly be sure.
func TestCompensatedSumKnowsItsError(t *testing.T) {
	r := rand.New(rand.NewPCG(29, 30))
	sure := 0
	for i := range 4000 {
		xs := percentCompaction(1 + r.IntN(50))
		switch i % 4 {
		case 1: // half a unit of the last place of a number below 2^53, and a hair
			xs = []float64{1<<53 + 2*float64(r.IntN(4)), 1, math.Ldexp(float64(r.IntN(3)-1), -r.IntN(300))}
		case 2:
			xs = append(xs, 1e17, -1e17, 1e-17)
		case 3:
			xs = anyFloats(r, r.IntN(30))
		}
		r.Shuffle(len(xs), func(i, j int) { xs[i], xs[j] = xs[j], xs[i] })
		got, bound := compensatedSum(xs)
		ok := got.isNearest(bound)
		if want, _ := bigSum(xs).Float64(); ok && got.hi != want {
			t.Fatalf("compensatedSum(%v) = %v, want %v by math/big", xs, got, want)
		}
		if ok && i%4 == 0 {
			sure++
		}
	}
	if sure < 850 { // a sum of two or three such values is a true tie quite often
		t.Errorf("sure of %d sums of 1000", sure)
	}
}

func TestSum(t *testing.T) {
	const huge, tiny = math.MaxFloat64, math.SmallestNonzeroFloat64
	tests := []struct {
		name string
		xs   []float64
		want float64 // by hand
	}{
		{"none", nil, 0},
		{"ten tenths, the nearest to 1.0000000000000000555", []float64{.1, .1, .1, .1, .1, .1, .1, .1, .1, .1}, 1},
		{"a one between large values that cancel", []float64{1e100, 1, -1e100}, 1},
		{"beyond the range and back", []float64{huge, huge, -huge, -huge, -tiny}, -tiny},
		{"a tie goes to the even neighbour", []float64{1 << 53, 1}, 1 << 53},
		{"the smallest value breaks a tie", []float64{1 << 53, 1, tiny}, 1<<53 + 2},
		{"less than half a unit short of the largest", []float64{huge, 0x1p969}, huge},
	}
	for _, tt := range tests {
		if got, err := Sum(tt.xs); err != nil || got != tt.want {
			t.Errorf("%s: Sum = %v, %v, want %v", tt.name, got, err, tt.want)
		}
	}
	if _, err := Sum([]float64{huge, 0x1p970}); !errors.Is(err, ErrOverflow) {
		t.Errorf("half a unit above the largest float64: error %v, want overflow", err)
	}
}

func TestSumOfManyValues(t *testing.T) {
	// 3 000 000 · 0.1 + 1: fl(0.1) is 0.1 + 5.55e-18, so the exact sum is
	// 300001 + 1.67e-11 and the nearest float64 (spacing 5.8e-11) is 300001.
	xs := make([]float64, 3_000_001)
	for i := range xs {
		xs[i] = 0.1
	}
	xs[1_234_567] = 1
	if got, err := Sum(xs); err != nil || got != 300001 {
		t.Errorf("Sum = %.12f, %v, want 300001", got, err)
	}
}

func BenchmarkSum(b *testing.B) {
	xs := percentCompaction(1e6)
	b.Run("ours", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; i < b.N; i++ {
			if _, err := Sum(xs); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("naive", func(b *testing.B) {
		var sum float64
		for i := 0; i < b.N; i++ {
			for _, x := range xs {
				sum += x
			}
		}
		if sum == 0 {
			b.Fatal("no sum")
		}
	})
}
