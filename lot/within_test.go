package lot_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
)

func has(ws []stats.Warning, code stats.WarningCode) bool {
	return slices.ContainsFunc(ws, func(w stats.Warning) bool { return w.Code == code })
}

// Expected values: R 4.2.2 pbeta and SciPy 1.10, which agree to the digits given,
// unless the row follows from the formula by itself.
func TestEstimateWithin(t *testing.T) {
	for _, tt := range []struct {
		name string
		xs   []float64
		l    lot.Limits
		want float64
		tol  float64
	}{
		{"past saturation, n = 3", []float64{92.4, 94.0, 95.6}, lot.AtLeast(92), 100, 0},
		{"mean below the limit", []float64{90.6, 91.4, 91.9, 92.5}, lot.AtLeast(92), 33.419467, 5e-7},
		{"two limits", []float64{2.6, 5.3, 4.1, 3.2, 4.9}, lot.Between(2.8, 5.2), 70.868231, 5e-7},
		{"just below a step", []float64{94.2, 92.5, 93.4, 91.9, 93.8}, lot.AtLeast(92), 89.961194, 5e-7},
		{"two groups", []float64{91.2, 91.3, 91.4, 95.6, 95.7, 95.8}, lot.AtLeast(92), 72.145859, 5e-7},
		{"four results", []float64{93.4, 92.8, 94.1, 92.2}, lot.AtLeast(92), 96.072134, 5e-7},
		{"with two more", []float64{93.4, 92.8, 94.1, 92.2, 91.6, 92.3}, lot.AtLeast(92), 78.275847, 5e-7},
		{"a high result lowers it", []float64{92.8, 93.0, 93.1, 92.9, 97.5}, lot.AtLeast(92), 81.011379, 5e-7},
		{"without the high result", []float64{92.8, 93.0, 93.1, 92.9, 93.2}, lot.AtLeast(92), 100, 0},
		{"one bad core", []float64{95.1, 95.3, 94.9, 95.2, 91.1}, lot.AtLeast(92), 91.405457, 5e-7},
		{"lb/ft3", []float64{144.2, 145.1, 146.0, 143.6, 144.9}, lot.AtLeast(143.85), 83.549219, 5e-7},
		{"masked pair", []float64{93.1, 93.4, 93.2, 93.3, 88.0, 88.2}, lot.AtLeast(92), 43.574844, 5e-7},
		{"an outlier", []float64{93.3, 92.9, 93.6, 93.1, 90.2}, lot.AtLeast(92), 65.849306, 5e-7},
		{"without it", []float64{93.3, 92.9, 93.6, 93.1}, lot.AtLeast(92), 100, 0},
		{"four of a file", []float64{93.2, 92.1, 94.3, 91.8}, lot.AtLeast(92), 74.881898, 5e-7},
		{"exactly saturated, n = 3", []float64{92.3, 92.3, 92.6}, lot.AtLeast(92.2), 100, 0},
		{"an upper limit mirrors a lower one", []float64{-90.6, -91.4, -91.9, -92.5}, lot.AtMost(-92), 33.419467, 5e-7},
	} {
		before := slices.Clone(tt.xs)
		w, err := lot.EstimateWithin(tt.xs, tt.l)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		if math.Abs(w.PWL-tt.want) > tt.tol {
			t.Errorf("%s: PWL %.9f, want %v", tt.name, w.PWL, tt.want)
		}
		if !slices.Equal(before, tt.xs) {
			t.Errorf("%s: the caller's slice changed", tt.name)
		}
	}
}

func TestBothTails(t *testing.T) {
	w, err := lot.EstimateWithin([]float64{2.6, 5.3, 4.1, 3.2, 4.9}, lot.Between(2.8, 5.2))
	if err != nil {
		t.Fatal(err)
	}
	// R 4.2.2 and SciPy 1.10.
	for _, v := range []struct{ got, want float64 }{{w.QL, 1.079604}, {w.QU, 1.044207}, {100 - w.Below, 85.940966}, {100 - w.Above, 84.927265}} {
		if math.Abs(v.got-v.want) > 6e-7 {
			t.Errorf("got %v, want %v", v.got, v.want)
		}
	}
}

func TestEqualResults(t *testing.T) {
	for _, tt := range []struct {
		x    float64
		n    int
		l    lot.Limits
		want float64
		at   bool
	}{
		{93.0, 4, lot.AtLeast(92), 100, false},
		{91.0, 4, lot.AtLeast(92), 0, false},
		{94.0, 4, lot.Between(92, 97), 100, false},
		{98.0, 4, lot.Between(92, 97), 0, false},
		{92.1, 3, lot.AtLeast(92.1), 100, true},
		{92.1, 6, lot.AtLeast(92.1), 100, true},
		{92.4, 3, lot.AtLeast(92.4), 100, true},
		{94.3, 7, lot.AtLeast(94.3), 100, true},
		{97.7, 9, lot.AtMost(97.7), 100, true},
	} {
		xs := slices.Repeat([]float64{tt.x}, tt.n)
		w, err := lot.EstimateWithin(xs, tt.l)
		if err != nil || w.PWL != tt.want || w.Below+w.Above+w.PWL != 100 || !has(w.Warnings, lot.WarnZeroSpread) || has(w.Warnings, lot.WarnAtLimit) != tt.at {
			t.Errorf("%d times %v, %v: %+v, %v; want %v", tt.n, tt.x, tt.l, w, err, tt.want)
		}
	}
}

func TestEstimateWithinRefuses(t *testing.T) {
	ok := []float64{93.4, 92.8, 94.1, 92.2}
	for _, tt := range []struct {
		name string
		xs   []float64
		l    lot.Limits
		want error
	}{
		{"none", nil, lot.AtLeast(92), stats.ErrTooFew},
		{"one", ok[:1], lot.AtLeast(92), stats.ErrTooFew},
		{"two", ok[:2], lot.AtLeast(92), stats.ErrTooFew},
		{"a NaN", []float64{93, math.NaN(), 94}, lot.AtLeast(92), stats.ErrNotFinite},
		{"an infinity", []float64{93, 94, math.Inf(1)}, lot.AtLeast(92), stats.ErrNotFinite},
		{"no limit", ok, lot.Limits{}, lot.ErrNoLimit},
		{"a limit that is NaN", ok, lot.AtLeast(math.NaN()), stats.ErrNotFinite},
		{"one of two limits NaN", ok, lot.Between(math.NaN(), 97), stats.ErrNotFinite},
		{"a limit with too many digits", ok, lot.AtMost(1e300), lot.ErrDigits},
		{"limits the wrong way round", ok, lot.Between(97, 92), lot.ErrLimitOrder},
		{"limit as a fraction", ok, lot.AtLeast(0.92), lot.ErrScale},
		{"values as fractions", []float64{0.934, 0.928, 0.941, 0.922}, lot.AtLeast(92), lot.ErrScale},
		{"two limits as fractions", []float64{4.1, 3.9, 4.0}, lot.Between(0.028, 0.052), lot.ErrScale},
		{"hardly any spread", []float64{0, 5e-324, 0}, lot.AtLeast(-1), stats.ErrOverflow},
	} {
		w, err := lot.EstimateWithin(tt.xs, tt.l)
		var bad *stats.InputError
		if !errors.Is(err, tt.want) || !errors.As(err, &bad) || w.PWL != 0 || bad.Func != "lot.EstimateWithin" {
			t.Errorf("%s: %+v, %v; want %v", tt.name, w, err, tt.want)
		}
	}
	if _, err := lot.EstimateWithin(ok[:2], lot.AtLeast(92)); err.Error() != "lot.EstimateWithin: xs: too few values (have 2, need 3)" {
		t.Errorf("message %q", err)
	}
	if w, err := lot.EstimateWithin([]float64{0.934, 0.928, 0.941, 0.922}, lot.AtLeast(0.92)); err != nil || math.Abs(w.PWL-96.072134) > 5e-7 {
		t.Errorf("both as fractions: %+v, %v", w, err)
	}
}

func TestPercentWithinAndBack(t *testing.T) {
	for _, n := range []int{3, 4, 5, 6, 7, 10, 15, 30, 200} {
		last := -1.0
		for q := -3.0; q <= 3; q += 0.01 {
			p, err := lot.PercentWithin(q, n)
			if err != nil || p < 0 || p > 100 || p < last {
				t.Fatalf("n = %d, Q = %v: %v after %v, %v", n, q, p, last, err)
			}
			last = p
			mirror, _ := lot.PercentWithin(-q, n)
			if math.Abs(p+mirror-100) > 1e-11 {
				t.Fatalf("n = %d, Q = ±%v: %v and %v", n, q, p, mirror)
			}
			if p > 0.001 && p < 99.999 {
				back, err := lot.QualityIndex(p, n)
				if err != nil || math.Abs(back-q) > 1e-9 {
					t.Fatalf("n = %d: Q(%v) = %v, %v; want %v", n, p, back, err, q)
				}
			}
		}
		full, err := lot.QualityIndex(100, n)
		if want := float64(n-1) / math.Sqrt(float64(n)); err != nil || math.Abs(full-want) > 1e-15*want {
			t.Errorf("n = %d: Q(100) = %v, %v; want %v", n, full, err, want)
		}
	}
	for _, f := range []func() error{
		func() error { _, err := lot.PercentWithin(1, 2); return err },
		func() error { _, err := lot.PercentWithin(math.NaN(), 5); return err },
		func() error { _, err := lot.QualityIndex(0.92, 2); return err },
		func() error { _, err := lot.QualityIndex(101, 5); return err },
		func() error { _, err := lot.QualityIndex(math.NaN(), 5); return err },
	} {
		if f() == nil {
			t.Error("nonsense was answered")
		}
	}
}

// Order and scale do not matter, two limits leave at least what both tails
// overlap, and any result beyond a limit keeps the estimate below 100.
func TestEstimateWithinLaws(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 14))
	for range 5000 {
		n := 3 + rng.IntN(8)
		xs := make([]float64, n)
		for i := range xs {
			xs[i] = float64(900+rng.IntN(60)) / 10
		}
		l := lot.Between(92, 94.5)
		a, err := lot.EstimateWithin(xs, l)
		if err != nil {
			t.Fatal(err)
		}
		shuffled, scaled := slices.Clone(xs), make([]float64, n)
		rng.Shuffle(n, func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
		for i, x := range xs {
			scaled[i] = x * 16.01846337
		}
		b, errB := lot.EstimateWithin(shuffled, l)
		c, errC := lot.EstimateWithin(scaled, lot.Between(92*16.01846337, 94.5*16.01846337))
		if err := errors.Join(errB, errC); err != nil {
			t.Fatal(err)
		}
		// For n = 3 the slope at saturation is infinite, which costs half the digits.
		tol := 1e-9
		if n == 3 {
			tol = 1e-5
		}
		if math.Abs(a.PWL-b.PWL) > tol || math.Abs(a.PWL-c.PWL) > tol {
			t.Errorf("%v: %v, in another order %v, in another unit %v", xs, a.PWL, b.PWL, c.PWL)
		}
		outside := slices.Min(xs) < 92 || slices.Max(xs) > 94.5
		if a.PWL < 0 || a.PWL > 100 || outside && a.PWL == 100 || a.Below+a.Above > 100+1e-9 {
			t.Errorf("%v: %+v", xs, a)
		}
	}
}

func TestEstimateWithinDoesNotAllocate(t *testing.T) {
	xs, l := []float64{94.2, 92.5, 93.4, 91.9, 93.8}, lot.Between(92, 97)
	if n := testing.AllocsPerRun(100, func() { _, _ = lot.EstimateWithin(xs, l) }); n != 0 {
		t.Errorf("EstimateWithin allocates %v times", n)
	}
}

func ExampleEstimateWithin() {
	// Percent compaction of five sublots of an invented lot, lower limit 92.0.
	w, err := lot.EstimateWithin([]float64{94.2, 92.5, 93.4, 91.9, 93.8}, lot.AtLeast(92.0))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("n %d, mean %.2f %%, s %.3f, Q_L %.4f, PWL %.2f %%\n", w.N, w.Mean, w.StdDev, w.QL, w.PWL)
	// Output: n 5, mean 93.16 %, s 0.945, Q_L 1.2275, PWL 89.96 %
}

func ExamplePercentWithin() {
	pwl, err := lot.PercentWithin(1.20, 4)
	fmt.Printf("%.2f %v\n", pwl, err)
	// Output: 90.00 <nil>
}

func ExampleQualityIndex() {
	// One row of a PWL table: the quality index for 90 percent within limits.
	for n := 3; n <= 7; n++ {
		q, err := lot.QualityIndex(90, n)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("n = %d: %.4f\n", n, q)
	}
	// Output:
	// n = 3: 1.0982
	// n = 4: 1.2000
	// n = 5: 1.2290
	// n = 6: 1.2419
	// n = 7: 1.2492
}

// The form M of ANSI/ASQ Z1.9 (from MIL-STD-414), the largest percentage beyond a limit
// that is accepted with s unknown, is the estimate at its form k, the least quality
// index. k by SciPy 1.10's inverse beta from M as read in the vignette of the R package
// AQLSchemes. The last but one is its
// example of lower limit 225, mean 255, s 15, n = 42, whose value is that of SciPy; the
// last its plan for n = 75, M = 0.0317.
func TestAcceptanceSampling(t *testing.T) {
	for _, tt := range []struct {
		n         int
		beyond, q float64
		places    float64
	}{
		{3, 18.86, 0.9579, 5e-5}, {4, 16.41, 1.0077, 5e-5}, {5, 14.37, 1.0687, 5e-5}, {7, 12.19, 1.1533, 5e-5}, {10, 10.53, 1.2341, 5e-5},
		{3, 26.94, 0.7652, 5e-5}, {4, 22.84, 0.8148, 5e-5}, {5, 3.33, 1.5247, 5e-5}, {50, 2.47, 1.9362, 5e-5}, {15, 2.09, 1.9185, 5e-5},
		{42, 2.069563, 2, 5e-7}, {75, 3.17, 1.840970, 5e-7},
	} {
		q, err := lot.QualityIndex(100-tt.beyond, tt.n)
		if err != nil || math.Abs(q-tt.q) > tt.places {
			t.Errorf("n = %d, %v %%: %v, %v, want %v", tt.n, tt.beyond, q, err, tt.q)
		}
	}
}
