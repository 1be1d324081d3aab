package stats_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"github.com/densilot/densilot/stats"
)

func TestMeanIntervalOf(t *testing.T) {
	for _, tt := range []struct {
		name string
		s    stats.Summary
		want stats.Interval
		tol  float64 // half a unit of the last printed digit
		from string
	}{
		{"ten gauge-core differences", stats.Summary{N: 10, Mean: 2.12, StdDev: 0.526624470884}, stats.Interval{Lo: 1.7432755479, Hi: 2.4967244521, Level: 0.95}, 5e-11,
			"R 4.2.2 t.test of the correlation example of AASHTO T 355"},
		{"three differences", stats.Summary{N: 3, Mean: 2.8, StdDev: 0.953939201416946}, stats.Interval{Lo: 0.430284, Hi: 5.169716, Level: 0.95}, 5e-7,
			"R 4.2.2 t.test(c(1.8, 2.9, 3.7))"},
	} {
		e, err := stats.MeanIntervalOf(tt.s, tt.want.Level)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(tt.want, e.CI, cmpopts.EquateApprox(0, tt.tol)); diff != "" {
			t.Errorf("%s (%s): %s", tt.name, tt.from, diff)
		}
	}
}

func TestMeanIntervalAgreesWithItsSummary(t *testing.T) {
	xs := []float64{145.1, 144.8, 146.0, 145.3, 144.9}
	a, err := stats.MeanInterval(xs, 0.9)
	if err != nil {
		t.Fatal(err)
	}
	b, err := stats.MeanIntervalOf(a.Summary, 0.9)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(a, b); diff != "" {
		t.Error(diff)
	}
}

func TestConstantValuesHaveNoSpread(t *testing.T) {
	for _, x := range []float64{92.1, 92.4, 94.3, 0.1, 1e300} {
		for n := 2; n < 20; n++ {
			xs := make([]float64, n)
			for i := range xs {
				xs[i] = x
			}
			e, err := stats.MeanInterval(xs, 0.95)
			if err != nil || e.Mean != x || e.StdDev != 0 || !has(e.Warnings, stats.WarnConstant) {
				t.Errorf("%d times %v: mean %v, s %v, %v, %v", n, x, e.Mean, e.StdDev, e.Warnings, err)
			}
		}
	}
}

func TestMeanIntervalRefuses(t *testing.T) {
	for _, tt := range []struct {
		name  string
		xs    []float64
		level float64
		want  error
	}{
		{"none", nil, 0.95, stats.ErrTooFew},
		{"one", []float64{1}, 0.95, stats.ErrTooFew},
		{"a NaN", []float64{1, math.NaN()}, 0.95, stats.ErrNotFinite},
		{"an infinity", []float64{math.Inf(-1), 1}, 0.95, stats.ErrNotFinite},
		{"level in percent", []float64{1, 2}, 95, stats.ErrLevel},
		{"level 1", []float64{1, 2}, 1, stats.ErrLevel},
		{"level NaN", []float64{1, 2}, math.NaN(), stats.ErrLevel},
		{"the end of the range", []float64{math.MaxFloat64, -math.MaxFloat64}, 0.95, stats.ErrOverflow},
	} {
		_, err := stats.MeanInterval(tt.xs, tt.level)
		var bad *stats.InputError
		if !errors.Is(err, tt.want) || !errors.As(err, &bad) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
	_, err := stats.MeanInterval([]float64{1, math.NaN()}, 0.95)
	if want := "stats.MeanInterval: xs[1] = NaN: value is NaN or infinite"; err.Error() != want {
		t.Errorf("message %q, want %q", err, want)
	}
	for _, s := range []stats.Summary{{N: 1, Mean: 1, StdDev: 1}, {N: 3, Mean: math.NaN(), StdDev: 1}, {N: 3, Mean: 1, StdDev: -1}, {N: 3, Mean: 1, StdDev: math.Inf(1)}} {
		if _, err := stats.MeanIntervalOf(s, 0.95); err == nil {
			t.Errorf("%+v was taken", s)
		}
	}
}

// The interval covers the true mean as often as it says.
func TestMeanIntervalCoverage(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	const trials, level = 20000, 0.95
	for _, n := range []int{2, 3, 5, 10} {
		covered := 0
		xs := make([]float64, n)
		for range trials {
			for i := range xs {
				xs[i] = 145 + 0.8*rng.NormFloat64()
			}
			e, err := stats.MeanInterval(xs, level)
			if err != nil {
				t.Fatal(err)
			}
			if e.CI.Contains(145) {
				covered++
			}
		}
		got, se := float64(covered)/trials, math.Sqrt(level*(1-level)/trials)
		t.Logf("n = %d: covers %.2f %%", n, 100*got)
		if math.Abs(got-level) > 4*se {
			t.Errorf("n = %d: covers %.4f, want %.4f ± %.4f", n, got, level, 4*se)
		}
	}
}
