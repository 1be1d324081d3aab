package lot_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
)

// samples of invented results, 3 to 12 of them, around two limits.
func someLots(seed uint64, count int) [][]float64 {
	rng := rand.New(rand.NewPCG(seed, 1))
	out := make([][]float64, count)
	for i := range out {
		out[i] = make([]float64, 3+rng.IntN(10))
		mean, spread := 91.5+6*rng.Float64(), math.Exp(2*rng.Float64()-1.5)
		for j := range out[i] {
			out[i][j] = mean + spread*rng.NormFloat64()
		}
	}
	return out
}

// Five results -1, -1, 0, 1, 1 have mean 0 and standard deviation 1, so a lower
// limit at -q gives the quality index q. Bounds from R 4.2.2:
//
//	f <- function(q, n, p) pnorm(uniroot(function(d) pt(sqrt(n)*q, n-1, d) - p, c(-20, 60), tol = 1e-13)$root/sqrt(n))
//	100*c(f(1.5, 5, .95), f(1.5, 5, .05)); 100*c(f(-0.4, 5, .975), f(-0.4, 5, .025))
func TestWithinIntervalOneLimit(t *testing.T) {
	xs := []float64{-1, -1, 0, 1, 1}
	for _, tt := range []struct{ q, level, lo, hi float64 }{
		{1.5, 0.9, 62.840529, 99.479405},
		{-0.4, 0.95, 9.771583, 70.478283},
	} {
		for _, l := range []lot.Limits{lot.AtLeast(-tt.q), lot.AtMost(tt.q)} {
			w, err := lot.WithinInterval(xs, l, tt.level)
			if err != nil || math.Abs(w.CI.Lo-tt.lo) > 1e-5 || math.Abs(w.CI.Hi-tt.hi) > 1e-5 || w.CI.Level != tt.level {
				t.Errorf("%v: %+v, %v; want %v to %v", l, w.CI, err, tt.lo, tt.hi)
			}
		}
	}
}

// With the other limit out of reach the bounds are the exact ones.
func TestWithinIntervalBecomesThatOfOneLimit(t *testing.T) {
	for _, xs := range someLots(1, 60) {
		for _, level := range []float64{0.5, 0.9, 0.99} {
			one, err := lot.WithinInterval(xs, lot.AtLeast(92), level)
			two, err2 := lot.WithinInterval(xs, lot.Between(92, 9000), level)
			if err != nil || err2 != nil || math.Abs(one.CI.Lo-two.CI.Lo) > 1e-4 || math.Abs(one.CI.Hi-two.CI.Hi) > 1e-4 {
				t.Errorf("%v at %v: %+v and %+v, %v, %v", xs, level, one.CI, two.CI, err, err2)
			}
		}
	}
}

// below allows what has reached 100 to stay there.
func below(a, b float64) bool { return a < b || a == b && b == 100 }

func TestWithinIntervalLaws(t *testing.T) {
	for _, xs := range someLots(2, 60) {
		w, err := lot.WithinInterval(xs, lot.Between(92, 97), 0.9)
		wide, err2 := lot.WithinInterval(xs, lot.Between(92, 97), 0.95)
		if err != nil || err2 != nil || !(below(wide.CI.Lo, w.CI.Lo) && below(w.CI.Lo, w.CI.Hi) && below(w.CI.Hi, wide.CI.Hi)) {
			t.Errorf("%v: 0.9 gives %+v, 0.95 %+v, %v, %v", xs, w.CI, wide.CI, err, err2)
		}
		mirror, scaled := make([]float64, len(xs)), make([]float64, len(xs))
		for i, x := range xs {
			mirror[i], scaled[i] = -x, 1024*x
		}
		m, err := lot.WithinInterval(mirror, lot.Between(-97, -92), 0.9)
		s, err2 := lot.WithinInterval(scaled, lot.Between(92*1024, 97*1024), 0.9)
		if err != nil || err2 != nil || math.Abs(m.CI.Lo-w.CI.Lo) > 1e-6 || math.Abs(m.CI.Hi-w.CI.Hi) > 1e-6 ||
			math.Abs(s.CI.Lo-w.CI.Lo) > 1e-6 || math.Abs(s.CI.Hi-w.CI.Hi) > 1e-6 {
			t.Errorf("%v: %+v, mirrored %+v, scaled %+v, %v, %v", xs, w.CI, m.CI, s.CI, err, err2)
		}
	}
}

// An estimate of 100 from three results is no certainty: with one limit and Q = 2
// the 95 % lower bound is that of R 4.2.2, f(2, 3, .95) of the function above.
func TestWithinIntervalSaturated(t *testing.T) {
	w, err := lot.WithinInterval([]float64{-1, 0, 1}, lot.AtLeast(-2), 0.9)
	if err != nil || w.PWL != 100 || !has(w.Warnings, stats.WarnSaturated) || math.Abs(w.CI.Lo-54.640456) > 1e-5 {
		t.Errorf("%+v, %v", w, err)
	}
	both, err := lot.WithinInterval([]float64{-1, 0, 1}, lot.Between(-2, 2), 0.9)
	if err != nil || both.PWL != 100 || !(both.CI.Lo < w.CI.Lo && both.CI.Hi <= 100) {
		t.Errorf("%+v, %v", both, err)
	}
}

func TestWithinIntervalWithoutSpread(t *testing.T) {
	for _, l := range []lot.Limits{lot.AtLeast(92), lot.Between(92, 97), lot.AtMost(90)} {
		w, err := lot.WithinInterval([]float64{93.4, 93.4, 93.4, 93.4}, l, 0.9)
		if err != nil || w.CI != (stats.Interval{Lo: 0, Hi: 100, Level: 0.9}) || !has(w.Warnings, lot.WarnNothingKnown) || !has(w.Warnings, lot.WarnZeroSpread) {
			t.Errorf("%v: %+v, %v", l, w, err)
		}
	}
}

func TestWithinIntervalRefuses(t *testing.T) {
	ok := []float64{93.4, 92.8, 94.1, 92.2}
	for _, tt := range []struct {
		name  string
		xs    []float64
		l     lot.Limits
		level float64
		want  error
	}{
		{"two", ok[:2], lot.AtLeast(92), 0.9, stats.ErrTooFew},
		{"a NaN", []float64{93, math.NaN(), 94}, lot.AtLeast(92), 0.9, stats.ErrNotFinite},
		{"no limit", ok, lot.Limits{}, 0.9, lot.ErrNoLimit},
		{"limits the wrong way round", ok, lot.Between(97, 92), 0.9, lot.ErrLimitOrder},
		{"limit as a fraction", ok, lot.AtLeast(0.92), 0.9, lot.ErrScale},
		{"level in percent", ok, lot.AtLeast(92), 90, stats.ErrLevel},
		{"no level", ok, lot.AtLeast(92), 0, stats.ErrLevel},
		{"a level of 1", ok, lot.AtLeast(92), 1, stats.ErrLevel},
		{"a level beyond the integrals", ok, lot.Between(92, 97), 0.9991, stats.ErrLevel},
		{"a level that is NaN", ok, lot.AtLeast(92), math.NaN(), stats.ErrLevel},
	} {
		w, err := lot.WithinInterval(tt.xs, tt.l, tt.level)
		var bad *stats.InputError
		if !errors.Is(err, tt.want) || !errors.As(err, &bad) || bad.Func != "lot.WithinInterval" || w.N != 0 {
			t.Errorf("%s: %+v, %v; want %v", tt.name, w, err, tt.want)
		}
	}
}

// Values of any size give numbers in order, or an error.
func TestWithinIntervalOfAnything(t *testing.T) {
	for _, xs := range [][]float64{
		{93, 93, 93.000000000001}, {-1e300, 1e300, 0, 1}, {1e-300, 2e-300, 4e-300}, {92, 97, 94.5}, {94.5, 94.6, 94.4},
		{1e15, 1e15 + 1, 1e15 + 2}, {92, 92, 92.00001}, {60, 120, 94.5}, {94.5 - 1e-9, 94.5, 94.5 + 1e-9}, {0, 5e-324, 0, 0},
	} {
		for _, l := range []lot.Limits{lot.AtLeast(92), lot.Between(92, 97), lot.Between(-1e25, 97), lot.Between(94.4999999, 94.5), lot.AtMost(97)} {
			for _, level := range []float64{1e-9, 0.9, 0.999} {
				w, err := lot.WithinInterval(xs, l, level)
				if err == nil && !(w.CI.Lo >= 0 && w.CI.Lo <= w.CI.Hi && w.CI.Hi <= 100) {
					t.Errorf("%v, %v, %v: %+v", xs, l, level, w.CI)
				}
			}
		}
	}
}

func ExampleWithinInterval() {
	// Five invented sublots, in percent of maximum theoretical density.
	w, err := lot.WithinInterval([]float64{94.2, 92.5, 93.4, 91.9, 93.8}, lot.Between(92.0, 97.0), 0.90)
	fmt.Printf("mean %.2f %%, standard deviation %.3f %%, PWL %.2f, 90 %% confidence %.0f to %.0f, %v\n", w.Mean, w.StdDev, w.PWL, w.CI.Lo, w.CI.Hi, err)
	// Output: mean 93.16 %, standard deviation 0.945 %, PWL 89.96, 90 % confidence 57 to 99, <nil>
}
