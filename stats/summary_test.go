package stats

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestDescribeByHand(t *testing.T) {
	tests := []struct {
		name string
		xs   []float64
		want Description
		why  string
	}{
		{"large common part", []float64{1e9 + 4, 1e9 + 7, 1e9 + 13, 1e9 + 16},
			Description{Summary{4, 1e9 + 10, math.Sqrt(30)}, 1e9 + 4, 1e9 + 16}, "deviations -6 -3 3 6, squares 90, variance 90/3"},
		{"percent compaction", []float64{92, 93, 94, 95, 96},
			Description{Summary{5, 94, math.Sqrt(2.5)}, 92, 96}, "squares 4+1+0+1+4, variance 10/4"},
		{"equal tenths, whose sum is not three tenths", []float64{0.1, 0.1, 0.1},
			Description{Summary{3, 0.1, 0}, 0.1, 0.1}, "no spread"},
		{"squares beyond the range", []float64{-0x1p1000, 0x1p1000},
			Description{Summary{2, 0, 0x1p1000 * math.Sqrt2}, -0x1p1000, 0x1p1000}, "s is √2 times the half range"},
		{"squares below the range", []float64{-0x1p-1000, 0x1p-1000},
			Description{Summary{2, 0, 0x1p-1000 * math.Sqrt2}, -0x1p-1000, 0x1p-1000}, "the same, small"},
		{"a spread that no float64 is small enough for", []float64{0, 0, 0, 0, math.SmallestNonzeroFloat64},
			Description{Summary{5, 0, math.SmallestNonzeroFloat64}, 0, math.SmallestNonzeroFloat64}, "s is 0.45 of the smallest number, but not 0"},
		{"sum beyond the range", []float64{math.MaxFloat64, math.MaxFloat64},
			Description{Summary{2, math.MaxFloat64, 0}, math.MaxFloat64, math.MaxFloat64}, "no spread"},
		{"negative zero", []float64{math.Copysign(0, -1), 0, 3},
			Description{Summary{3, 1, math.Sqrt(3)}, 0, 3}, "squares 1+1+4, variance 6/2"},
	}
	for _, tt := range tests {
		got, err := Describe(tt.xs)
		if diff := cmp.Diff(tt.want, got); err != nil || diff != "" {
			t.Errorf("%s (%s): %v (-want +got)\n%s", tt.name, tt.why, err, diff)
		}
		if s, err := Summarize(tt.xs); err != nil || s != got.Summary {
			t.Errorf("%s: summary %v, %v, with extremes %v", tt.name, s, err, got.Summary)
		}
	}
}

// A million values alternating between 2399.99 and 2400.01: every deviation is
// half the distance h of the two float64 values, so the variance is h²·n/(n-1).
func TestDescribeMillion(t *testing.T) {
	const n = 1_000_000
	xs := make([]float64, n)
	for i := range xs {
		xs[i] = []float64{2399.99, 2400.01}[i%2]
	}
	lo, hi := xs[0], xs[1]
	h := (hi - lo) / 2 // exact: the values are within a factor of 2
	d, err := Describe(xs)
	want := h * math.Sqrt(float64(n)/(n-1))
	if err != nil || d.Mean != 2400 || relative(d.StdDev, want) > 3e-16 {
		t.Errorf("mean %v, s %.17g, %v, want 2400 and %.17g", d.Mean, d.StdDev, err, want)
	}
	if v := d.StdDev * d.StdDev; fmt.Sprintf("%.6e", v) != "1.000001e-04" {
		t.Errorf("variance %v, want 1.000001e-04", v)
	}
}

func relative(got, want float64) float64 { return math.Abs(got-want) / math.Abs(want) }

// bigDescribe computes with 4400 bits, enough for the square of any difference.
func bigDescribe(xs []float64) (mean, s float64) {
	newBig := func() *big.Float { return new(big.Float).SetPrec(4400) }
	n := newBig().SetInt64(int64(len(xs)))
	sum, ss := newBig(), newBig()
	for _, x := range xs {
		sum.Add(sum, newBig().SetFloat64(x))
	}
	m := newBig().Quo(sum, n)
	for _, x := range xs {
		d := newBig().Sub(newBig().SetFloat64(x), m)
		ss.Add(ss, d.Mul(d, d))
	}
	variance := ss.Quo(ss, n.Sub(n, newBig().SetInt64(1)))
	s, _ = variance.Sqrt(variance).Float64()
	mean, _ = m.Float64()
	return mean, s
}

// TestDescribeAgainstBig tries the lengths around the change of method and of
// block, with data that are hard in different ways.
func TestDescribeAgainstBig(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	kinds := map[string]func(i, n int) float64{
		"field data":             func(int, int) float64 { return math.Round(10*(94+1.5*r.NormFloat64())) / 10 },
		"spread of one in 1e9":   func(int, int) float64 { return 1e9 + r.Float64() },
		"wild first value":       func(i, _ int) float64 { return []float64{1e15, 1, 2, 3}[min(i, 1+i%3)] },
		"wild last value":        func(i, n int) float64 { return []float64{float64(i), -1e15}[i/(n-1)] },
		"one ulp up":             func(i, n int) float64 { return []float64{145.1, math.Nextafter(145.1, 200)}[i/(n-1)] },
		"a drift":                func(i, _ int) float64 { return 1e6 + float64(i) },
		"jump after first block": func(i, _ int) float64 { return float64(min(i/blockSize, 1))*1e9 + r.Float64() },
	}
	for name, kind := range kinds {
		for _, n := range []int{2, 3, 5, 30, shortSample, shortSample + 1, 51, blockSize - 1, blockSize + 1, 3000} {
			xs := make([]float64, n)
			for i := range xs {
				xs[i] = kind(i, n)
			}
			mean, s := bigDescribe(xs)
			d, err := Describe(xs)
			if err != nil || math.Abs(d.Mean-mean) > max(2.3e-16*math.Abs(mean), 3e-16*s) || relative(d.StdDev, s) > 2e-15 {
				t.Errorf("%s, n = %d: mean %v, s %v, %v, want %v and %v by math/big", name, n, d.Mean, d.StdDev, err, mean, s)
			}
			if d.Min != slices.Min(xs) || d.Max != slices.Max(xs) {
				t.Errorf("%s, n = %d: extremes %v and %v", name, n, d.Min, d.Max)
			}
		}
	}
}

// FuzzDescribe holds short samples from the whole range against math/big.
func FuzzDescribe(f *testing.F) {
	f.Add(92.0, 93.5, 94.1, 95.0, 1e9)
	f.Add(1e308, -1e308, 1e-308, 5e-324, 0.0)
	f.Add(math.NaN(), math.Inf(1), 1.0, 2.0, 3.0)
	f.Fuzz(func(t *testing.T, a, b, c, d, e float64) {
		xs := []float64{a, b, c, d, e}
		got, err := Describe(xs)
		if i := slices.IndexFunc(xs, func(x float64) bool { return !isFinite(x) }); i >= 0 {
			var input *InputError
			if !errors.Is(err, ErrNotFinite) || !errors.As(err, &input) || input.Index != i {
				t.Fatalf("%v: error %v, want not finite at %d", xs, err, i)
			}
			return
		}
		mean, s := bigDescribe(xs)
		if errors.Is(err, ErrOverflow) && s > math.MaxFloat64/2 {
			return
		}
		scale := max(math.Abs(got.Min), math.Abs(got.Max))
		if err != nil || math.Abs(got.Mean-mean) > 4e-16*scale+5e-324 || math.Abs(got.StdDev-s) > 2e-15*s+5e-324 {
			t.Fatalf("%v: mean %v, s %v, %v, want %v and %v by math/big", xs, got.Mean, got.StdDev, err, mean, s)
		}
	})
}

func TestDescribeAllocatesNothing(t *testing.T) {
	for _, n := range []int{5, 5000} {
		xs := percentCompaction(n)
		if allocs := testing.AllocsPerRun(10, func() {
			if _, err := Describe(xs); err != nil {
				t.Fatal(err)
			}
		}); allocs != 0 {
			t.Errorf("n = %d: %v allocations", n, allocs)
		}
	}
}
