package stats_test

import (
	"errors"
	"math"
	"testing"

	"github.com/densilot/densilot/stats"
)

func TestEqualVariances(t *testing.T) {
	of := func(n int, s float64) stats.Summary { return stats.Summary{N: n, Mean: 93, StdDev: s} }
	for _, tt := range []struct {
		name             string
		test             func() (stats.FTest, error)
		xLarger          bool
		df1, df2         float64
		f, p, lo, hi     float64
		tolF, tolP, tolI float64
		source           string
	}{
		{"agency over contractor", func() (stats.FTest, error) { return stats.EqualVariances(contractor, []float64{91, 94}, 0.95) },
			false, 1, 9, 49.0909090909, 1.25591999476e-4, 6.80940218402, 47288.5156937, 5e-11, 5e-16, 5e-8, "R 4.2.2, var.test(agency, contractor)"},
		{"two results close together", func() (stats.FTest, error) { return stats.EqualVariances(contractor, []float64{93, 93.02}, 0.95) },
			true, 9, 1, 458.333333333, 0.072471063754, 0.475802627127, 3304.25482178, 5e-9, 5e-12, 5e-9, "R 4.2.2, var.test; its F carries the rounding of 93.02 - 93"},
		{"three wild results", func() (stats.FTest, error) { return stats.EqualVariances([]float64{91, 93.1, 91.3}, steady, 0.95) },
			true, 2, 11, 70.95, 1.033829e-6, math.NaN(), math.NaN(), 5e-3, 5e-13, 0, "R 4.2.2, var.test"},
		{"equal", func() (stats.FTest, error) { return stats.EqualVariancesOf(of(5, 2), of(5, 2), 0.95) },
			true, 4, 4, 1, 1, 1 / 9.604529883, 9.604529883, 1e-15, 1e-15, 5e-9, "by definition; R 4.2.2, qf(0.975, 4, 4)"},
	} {
		r, err := tt.test()
		if err != nil || r.Status != stats.Tested {
			t.Errorf("%s: %v, %v", tt.name, r.Status, err)
			continue
		}
		if r.XLarger != tt.xLarger || r.DF1 != tt.df1 || r.DF2 != tt.df2 {
			t.Errorf("%s: x larger %v, df %v and %v", tt.name, r.XLarger, r.DF1, r.DF2)
		}
		if !near(r.F.Value, tt.f, tt.tolF) || !near(r.F.P, tt.p, tt.tolP) {
			t.Errorf("%s: F %v, want %v, %v (%s)", tt.name, *r.F, tt.f, tt.p, tt.source)
		}
		if !math.IsNaN(tt.lo) && (!near(r.CI.Lo, tt.lo, tt.tolI*tt.lo) || !near(r.CI.Hi, tt.hi, tt.tolI*tt.hi)) {
			t.Errorf("%s: interval %v, want %v to %v (%s)", tt.name, r.CI, tt.lo, tt.hi, tt.source)
		}
	}
}

// The upper α/2 points with which verification of 10 results by 5 compares, by R
// 4.2.2, qf(1-alpha/2, df1, df2) and qt(1-alpha/2, 13): just beyond the point p is
// below alpha, just before it above.
func TestCriticalRatios(t *testing.T) {
	for _, tt := range []struct {
		n1, n2      int
		alpha, want float64
	}{{10, 5, 0.01, 21.1391}, {5, 10, 0.01, 7.9559}, {10, 5, 0.05, 8.9047}, {5, 10, 0.05, 4.7181}} {
		for _, side := range []float64{-1, 1} {
			s := math.Sqrt(tt.want + side*5e-5)
			r, err := stats.EqualVariancesOf(stats.Summary{N: tt.n1, StdDev: s}, stats.Summary{N: tt.n2, StdDev: 1}, 0.95)
			if err != nil || (r.F.P < tt.alpha) != (side > 0) {
				t.Errorf("%d and %d: p %v next to the %v point, %v", tt.n1, tt.n2, r.F, tt.alpha, err)
			}
		}
	}
	for alpha, want := range map[float64]float64{0.01: 3.0123, 0.05: 2.1604} {
		for _, side := range []float64{-1, 1} {
			x := stats.Summary{N: 10, Mean: (want + side*5e-5) * math.Sqrt(1./10+1./5), StdDev: 1}
			r, err := stats.PooledTOf(x, stats.Summary{N: 5, StdDev: 1}, 0.95)
			if err != nil || (r.T.P < alpha) != (side > 0) {
				t.Errorf("t %v: p %v next to the %v point, %v", r.T, r.T, alpha, err)
			}
		}
	}
}

func TestVariancesWithoutSpread(t *testing.T) {
	for _, tt := range []struct {
		xs, ys []float64
		want   stats.Status
	}{
		{[]float64{93, 93}, []float64{94, 94, 94}, stats.NoVarianceEqual},
		{[]float64{93, 93}, contractor, stats.NoVarianceDifferent},
	} {
		r, err := stats.EqualVariances(tt.xs, tt.ys, 0.95)
		if err != nil || r.Status != tt.want || r.F != nil || !has(r.Warnings, stats.WarnNoVariance) {
			t.Errorf("%v, %v: %+v, %v", tt.xs, tt.ys, r, err)
		}
	}
	for _, tt := range []struct {
		xs, ys []float64
		level  float64
		want   error
	}{
		{[]float64{93}, contractor, 0.95, stats.ErrTooFew},
		{contractor, []float64{93}, 0.95, stats.ErrTooFew},
		{contractor, contractor, 0, stats.ErrLevel},
		{contractor, []float64{math.Inf(1), 3}, 0.95, stats.ErrNotFinite},
		{[]float64{0, 1e300}, []float64{0, 1e-300}, 0.95, stats.ErrOverflow},
	} {
		if _, err := stats.EqualVariances(tt.xs, tt.ys, tt.level); !errors.Is(err, tt.want) {
			t.Errorf("%v, %v: %v, want %v", tt.xs, tt.ys, err, tt.want)
		}
	}
}
