package stats

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

func accumulate(xs ...float64) *Accumulator {
	var a Accumulator
	a.AddSlice(xs)
	return &a
}

// The sample 1 2 3 4 10 has mean 4 and deviations -3 -2 -1 0 6, so by hand
// m2 = 50/5, m3 = 180/5 and m4 = 1394/5: g1 = 36/10^1.5, G1 = g1·√20/3 = 12·√0.02,
// g2 = 2.788 - 3 and G2 = 4/6·(6·g2 + 6).
func TestShapeByHand(t *testing.T) {
	a := accumulate(1, 2, 3, 4, 10)
	tests := []struct {
		name string
		f    func() (float64, error)
		want float64
	}{
		{"skewness by moments", a.SkewnessMoment, 36 / math.Pow(10, 1.5)},
		{"skewness adjusted", a.SkewnessAdjusted, 12 * math.Sqrt(0.02)},
		{"kurtosis by moments", a.KurtosisMoment, -0.212},
		{"kurtosis adjusted", a.KurtosisAdjusted, 3.152},
	}
	for _, tt := range tests {
		if got, err := tt.f(); err != nil || math.Abs(got-tt.want) > 5e-15 {
			t.Errorf("%s = %.16g, %v, want %.16g", tt.name, got, err, tt.want)
		}
	}
}

// TestAccumulatorMerges cuts samples in two anywhere: the parts merged must
// agree with the whole, and both with the batch functions.
func TestAccumulatorMerges(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	near := cmpopts.EquateApprox(1e-14, 0)
	for range 300 {
		xs := make([]float64, 2+r.IntN(200))
		centre := math.Ldexp(1, r.IntN(20))
		for i := range xs {
			xs[i] = centre + r.ExpFloat64()
		}
		cut := r.IntN(len(xs) + 1)
		whole, merged := accumulate(xs...), accumulate(xs[:cut]...)
		merged.Merge(accumulate(xs[cut:]...))
		want, err := Describe(xs)
		if err != nil {
			t.Fatal(err)
		}
		for _, a := range []*Accumulator{whole, merged} {
			got, err := a.Description()
			if diff := cmp.Diff(want, got, near); err != nil || diff != "" {
				t.Fatalf("cut at %d of %d: %v (-batch +stream)\n%s", cut, len(xs), err, diff)
			}
		}
		checkShape(t, xs, merged)
	}
}

// checkShape compares with moments formed from deviations held in pairs.
func checkShape(t *testing.T, xs []float64, a *Accumulator) {
	t.Helper()
	mean := pairMean(xs)
	var m [5]float64
	for _, x := range xs {
		d := pair{hi: x}.sub(mean).value()
		m[2] += d * d / float64(len(xs))
		m[3] += d * d * d / float64(len(xs))
		m[4] += d * d * d * d / float64(len(xs))
	}
	skewness, err := a.SkewnessMoment()
	if want := m[3] / math.Pow(m[2], 1.5); err != nil || math.Abs(skewness-want) > 1e-12*(1+math.Abs(want)) {
		t.Fatalf("skewness %v, %v, want %v for %v", skewness, err, want, xs)
	}
	kurtosis, err := a.KurtosisMoment()
	if want := m[4]/(m[2]*m[2]) - 3; err != nil || math.Abs(kurtosis-want) > 1e-12*(4+want) {
		t.Fatalf("kurtosis %v, %v, want %v for %v", kurtosis, err, want, xs)
	}
}

func TestAccumulatorRemembersBadValue(t *testing.T) {
	for _, tt := range []struct {
		x    float64
		want error
	}{{math.NaN(), ErrNotFinite}, {math.Inf(-1), ErrNotFinite}, {-math.MaxFloat64, ErrOverflow}} {
		a := accumulate(math.MaxFloat64, tt.x, 1, 2)
		var e *InputError
		if err := a.Err(); !errors.Is(err, tt.want) || !errors.As(err, &e) || e.Index != 1 {
			t.Errorf("after %v: error %v, want %v at index 1", tt.x, err, tt.want)
		}
		b := accumulate(1, 2, 3)
		b.Merge(a)
		for name, f := range shapes(b) {
			if _, err := f(); !errors.Is(err, tt.want) {
				t.Errorf("%s after %v: error %v, want %v", name, tt.x, err, tt.want)
			}
		}
	}
}

func TestMergeOfFarParts(t *testing.T) {
	a, b := accumulate(-math.MaxFloat64), accumulate(math.MaxFloat64)
	if a.Merge(b); !errors.Is(a.Err(), ErrOverflow) || a.N() != 1 {
		t.Errorf("error %v, n = %d, want overflow and 1", a.Err(), a.N())
	}
	c := accumulate()
	c.Merge(accumulate())
	if c.Merge(accumulate(2, 4)); c.Err() != nil || c.N() != 2 {
		t.Errorf("error %v, n = %d, want none and 2", c.Err(), c.N())
	}
}

func shapes(a *Accumulator) map[string]func() (float64, error) {
	return map[string]func() (float64, error){
		"Mean":             a.Mean,
		"Description":      func() (float64, error) { d, err := a.Description(); return d.Mean + d.StdDev, err },
		"SkewnessMoment":   a.SkewnessMoment,
		"SkewnessAdjusted": a.SkewnessAdjusted,
		"KurtosisMoment":   a.KurtosisMoment,
		"KurtosisAdjusted": a.KurtosisAdjusted,
	}
}

// TestAccumulatorNeverNotFinite feeds values from the whole float64 range.
func TestAccumulatorNeverNotFinite(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for range 3000 {
		a, b := accumulate(anyFloats(r, r.IntN(6))...), accumulate(anyFloats(r, r.IntN(6))...)
		a.Merge(b)
		for name, f := range shapes(a) {
			if x, err := f(); err == nil && !isFinite(x) {
				t.Fatalf("%s = %v of %+v", name, x, a)
			}
		}
	}
}

func TestAccumulatorRefuses(t *testing.T) {
	tests := []struct {
		name string
		a    *Accumulator
		f    string
		want error
	}{
		{"mean of none", accumulate(), "Mean", ErrTooFew},
		{"spread of one", accumulate(1), "Description", ErrTooFew},
		{"adjusted kurtosis of three", accumulate(1, 2, 4), "KurtosisAdjusted", ErrTooFew},
		{"skewness of equal values", accumulate(7, 7, 7), "SkewnessMoment", ErrNoSpread},
		{"squares below the range", accumulate(1e-200, 2e-200), "Description", ErrUnderflow},
		{"fourth powers below the range", accumulate(1e-90, 2e-90), "KurtosisMoment", ErrUnderflow},
		{"squares beyond the range", accumulate(1e200, 2e200), "Description", ErrOverflow},
	}
	for _, tt := range tests {
		if _, err := shapes(tt.a)[tt.f](); !errors.Is(err, tt.want) {
			t.Errorf("%s: error %v, want %v", tt.name, err, tt.want)
		}
	}
	if d, err := accumulate(0.1, 0.1, 0.1).Description(); err != nil || d.Mean != 0.1 || d.StdDev != 0 {
		t.Errorf("three equal values: %+v, %v, want mean 0.1 and no spread", d, err)
	}
}

func BenchmarkAccumulator(b *testing.B) {
	xs := percentCompaction(1 << 16)
	b.ReportAllocs()
	for i := 0; i < b.N; i++ {
		var a Accumulator
		a.AddSlice(xs)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(xs)), "ns/value")
}

// Merging with itself doubles the count until an int does not hold it, which is an error.
func TestAccumulatorMergesWithItself(t *testing.T) {
	a := accumulate(93, 94)
	a.Merge(nil)
	if a.N() != 2 || a.Err() != nil {
		t.Errorf("after nil: %d values, %v", a.N(), a.Err())
	}
	before := 0
	for a.Err() == nil {
		if before = a.N(); before < 2 {
			t.Fatalf("%d values", before)
		}
		a.Merge(a)
	}
	if !errors.Is(a.Err(), ErrOverflow) || before != math.MaxInt/2+1 {
		t.Errorf("%v after %d values", a.Err(), before)
	}
}
