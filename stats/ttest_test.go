package stats_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/densilot/densilot/stats"
)

var (
	contractor = []float64{93.1, 92.8, 93.4, 92.6, 93.0, 93.3, 92.9, 93.2, 92.7, 93.5}
	steady     = []float64{92.8, 93.1, 92.9, 93.0, 93.2, 92.9, 93.1, 93.0, 92.8, 93.2, 93.0, 93.0}
	splitHalf  = []float64{93.2, 92.1, 94.4, 91.5, 93.8, 92.7}
	otherHalf  = []float64{92.9, 91.7, 94.0, 91.0, 93.5, 92.4}
)

// near compares to half a unit of the last digit printed, or to 10 digits where the
// value comes from a program.
func near(got, want, half float64) bool { return math.Abs(got-want) <= half }

func TestTTests(t *testing.T) {
	const r = "R 4.2.2, t.test"
	type outcome struct{ t, df, p, lo, hi float64 }
	nan := math.NaN() // not stated by the source
	for _, tt := range []struct {
		name   string
		test   func() (stats.TTest, error)
		want   outcome
		half   outcome // tolerance, half a unit of the last digit
		source string
	}{
		{"AUTO83B, Welch", func() (stats.TTest, error) {
			return stats.WelchTOf(stats.Summary{N: 249, Mean: 20.14458, StdDev: 6.4147}, stats.Summary{N: 79, Mean: 30.48101, StdDev: 6.10771}, 0.95)
		}, outcome{-12.946273, 136.874977, nan, nan, nan}, outcome{5e-5, 5e-4, 0, 0, 0}, "NIST/SEMATECH e-Handbook 1.3.5.3, all data, SciPy 1.10.1 ttest_ind(equal_var=False)"},
		{"two agency results, Welch", func() (stats.TTest, error) { return stats.WelchT(contractor, []float64{91, 94}, 0.95) },
			outcome{0.365922027602, 1.008162886942, 0.776296402401, -18.186525206291, 19.286525206291}, outcome{5e-12, 5e-12, 5e-12, 5e-12, 5e-12}, r},
		{"two agency results, pooled", func() (stats.TTest, error) { return stats.PooledT(contractor, []float64{91, 94}, 0.95) },
			outcome{0.973032302796, 10, 0.353485583329, nan, nan}, outcome{5e-12, 0, 5e-12, 0, 0}, r},
		{"split samples, paired", func() (stats.TTest, error) { return stats.PairedT(splitHalf, otherHalf, 0.95) },
			outcome{11, 5, 1.080522e-4, 0.280981, 0.452353}, outcome{5e-11, 0, 5e-11, 5e-7, 5e-7}, r},
		{"split samples, taken for independent", func() (stats.TTest, error) { return stats.PooledT(splitHalf, otherHalf, 0.95) },
			outcome{nan, 10, 0.575589, nan, nan}, outcome{0, 0, 5e-7, 0, 0}, r},
		{"unequal variances, pooled", func() (stats.TTest, error) { return stats.PooledT(steady, []float64{91, 93.1, 91.3}, 0.95) },
			outcome{4.020093, 13, 0.001456, nan, nan}, outcome{5e-7, 0, 5e-7, 0, 0}, r},
		{"unequal variances, Welch", func() (stats.TTest, error) { return stats.WelchT(steady, []float64{91, 93.1, 91.3}, 0.95) },
			outcome{1.826767, 2.014115, 0.208378, nan, nan}, outcome{5e-7, 5e-7, 5e-7, 0, 0}, r},
		{"one constant sample, Welch", func() (stats.TTest, error) { return stats.WelchT(contractor, []float64{93, 93, 93}, 0.95) },
			outcome{nan, 9, 0.614117, nan, nan}, outcome{0, 0, 5e-7, 0, 0}, r},
	} {
		got, err := tt.test()
		if err != nil || got.Status != stats.Tested {
			t.Errorf("%s: %v, %v", tt.name, got.Status, err)
			continue
		}
		ours := []float64{got.T.Value, got.DF, got.T.P, got.CI.Lo, got.CI.Hi}
		want := []float64{tt.want.t, tt.want.df, tt.want.p, tt.want.lo, tt.want.hi}
		half := []float64{tt.half.t, tt.half.df, tt.half.p, tt.half.lo, tt.half.hi}
		for i, w := range want {
			if !math.IsNaN(w) && !near(ours[i], w, half[i]) {
				t.Errorf("%s: t, df, p, interval %v, want %v (%s)", tt.name, ours, want, tt.source)
				break
			}
		}
	}
}

// A difference that nothing varies around is not tested, and p is absent.
func TestNoVariance(t *testing.T) {
	equal, other := []float64{92.1, 92.1, 92.1}, []float64{92.1, 92.1, 92.1, 92.1, 92.1, 92.1, 92.1}
	high := []float64{93.5, 93.5, 93.5}
	for _, tt := range []struct {
		name string
		test func() (stats.TTest, error)
		want stats.Status
		diff float64
	}{
		{"pooled, equal", func() (stats.TTest, error) { return stats.PooledT(equal, other, 0.95) }, stats.NoVarianceEqual, 0},
		{"Welch, equal", func() (stats.TTest, error) { return stats.WelchT(equal, other, 0.95) }, stats.NoVarianceEqual, 0},
		{"pooled, different", func() (stats.TTest, error) { return stats.PooledT([]float64{93, 93, 93}, high, 0.95) }, stats.NoVarianceDifferent, -0.5},
		{"Welch, different", func() (stats.TTest, error) { return stats.WelchT([]float64{93, 93, 93}, high, 0.95) }, stats.NoVarianceDifferent, -0.5},
		{"one sample, equal", func() (stats.TTest, error) { return stats.OneSampleT(equal, 92.1, 0.95) }, stats.NoVarianceEqual, 0},
		{"one sample, different", func() (stats.TTest, error) { return stats.OneSampleT(high, 93, 0.95) }, stats.NoVarianceDifferent, 0.5},
		{"paired, the largest values", func() (stats.TTest, error) {
			return stats.PairedT([]float64{math.MaxFloat64, 1e308, 0}, []float64{math.MaxFloat64, 1e308, 0}, 0.95)
		}, stats.NoVarianceEqual, 0},
		{"paired, a constant difference that float64 cannot hold", func() (stats.TTest, error) {
			return stats.PairedT([]float64{93.2, 94.4, 91.5}, []float64{92.9, 94.1, 91.2}, 0.95)
		}, stats.NoVarianceDifferent, 0.3},
	} {
		r, err := tt.test()
		if err != nil || r.Status != tt.want || r.T != nil || !near(r.Difference, tt.diff, 3e-14) || r.CI.HalfWidth() != 0 || !has(r.Warnings, stats.WarnNoVariance) {
			t.Errorf("%s: %+v, %v", tt.name, r, err)
		}
	}
	e, err := stats.PooledEquivalence(equal, other, stats.Margins{Lower: -1, Upper: 1}, 0.05)
	if err != nil || e.Status != stats.NoVarianceEqual || e.AboveLower != nil || e.BelowUpper != nil || e.Equivalent {
		t.Errorf("equivalence of constants: %+v, %v", e, err)
	}
}

// The p of a far statistic keeps its digits, and where even the least float64 is
// more than it, that stands in for 0.
func TestTinyPIsNotZero(t *testing.T) {
	far, err := stats.OneSampleT([]float64{1e-3, 2e-3, -1e-3, 1.5e-3, 0, 3e-4}, 5000, 0.95)
	if want := 1.0565689588e-34; err != nil || !near(far.T.P, want, 1e-8*want) { // R 4.2.2, t.test(z, mu=5000)
		t.Errorf("p %v, %v, want %v", far.T, err, want)
	}
	r, err := stats.OneSampleTOf(stats.Summary{N: 300, Mean: 1e5, StdDev: 1e-3}, 0, 0.95)
	if err != nil || !(r.T.P > 0) {
		t.Errorf("p %v, %v", r.T, err)
	}
}

func TestNotRejectedIsNotEqual(t *testing.T) {
	r, err := stats.WelchT(contractor, []float64{91, 94}, 0.95)
	if err != nil || !has(r.Warnings, stats.WarnNotRejected) {
		t.Fatalf("%+v, %v", r, err)
	}
	if text := r.Warnings[0].Text; !strings.Contains(text, "from -18.19 to 19.29") {
		t.Errorf("warning %q does not show the interval that R 4.2.2 prints", text)
	}
	missed, err := r.Detectable(0.9)
	if err != nil || missed < 10 {
		t.Errorf("two values detect a difference of %v %%, %v", missed, err)
	}
	power, err := stats.TPower(stats.MeansPlan{Design: stats.DesignWelch, N1: 10, N2: 2, StdDev1: r.X.StdDev, StdDev2: r.Y.StdDev, Difference: missed, Alpha: 0.05})
	if err != nil || !near(power, 0.9, 1e-9) {
		t.Errorf("power at the detectable difference %v, %v", power, err)
	}
}

func TestTTestsRefuse(t *testing.T) {
	two, nan := []float64{93, 94}, []float64{93, math.NaN()}
	one := stats.Summary{N: 1, Mean: 93}
	for _, tt := range []struct {
		name string
		test func() (stats.TTest, error)
		want error
	}{
		{"one value", func() (stats.TTest, error) { return stats.OneSampleT(two[:1], 93, 0.95) }, stats.ErrTooFew},
		{"one pair", func() (stats.TTest, error) { return stats.PairedT(two[:1], two[:1], 0.95) }, stats.ErrTooFew},
		{"two single values", func() (stats.TTest, error) { return stats.PooledT(two[:1], two[1:], 0.95) }, stats.ErrTooFew},
		{"Welch with a single value", func() (stats.TTest, error) { return stats.WelchT(two, two[:1], 0.95) }, stats.ErrTooFew},
		{"Welch of a summary of one", func() (stats.TTest, error) { return stats.WelchTOf(one, stats.Summary{N: 3, Mean: 1, StdDev: 1}, 0.95) }, stats.ErrTooFew},
		{"none", func() (stats.TTest, error) { return stats.PooledT(two, nil, 0.95) }, stats.ErrTooFew},
		{"pairs of different length", func() (stats.TTest, error) { return stats.PairedT(two, two[:1], 0.95) }, stats.ErrLength},
		{"NaN", func() (stats.TTest, error) { return stats.PairedT(two, nan, 0.95) }, stats.ErrNotFinite},
		{"NaN, single", func() (stats.TTest, error) { return stats.PooledT(two, nan[1:], 0.95) }, stats.ErrNotFinite},
		{"NaN mean", func() (stats.TTest, error) { return stats.OneSampleT(two, math.NaN(), 0.95) }, stats.ErrNotFinite},
		{"level in percent", func() (stats.TTest, error) { return stats.WelchT(two, two, 95) }, stats.ErrLevel},
		{"the end of the range", func() (stats.TTest, error) { return stats.OneSampleT([]float64{1e308, 1e308}, -1e308, 0.95) }, stats.ErrOverflow},
	} {
		_, err := tt.test()
		var bad *stats.InputError
		if !errors.Is(err, tt.want) || !errors.As(err, &bad) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}

// A single value against a sample has a variance to stand on, that of the sample.
func TestPooledTakesASingleValue(t *testing.T) {
	r, err := stats.PooledT(contractor, []float64{94}, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	// R 4.2.2: t.test(c1, 94, var.equal=TRUE), c1 the contractor's.
	if !near(r.T.Value, -2.9917241221644, 5e-13) || r.DF != 9 || !near(r.T.P, 0.0151584625859, 5e-13) {
		t.Errorf("t %v, df %v, p %v", r.T.Value, r.DF, r.T.P)
	}
}
