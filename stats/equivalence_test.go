package stats_test

import (
	"errors"
	"math"
	"testing"

	"github.com/densilot/densilot/stats"
)

func TestEquivalence(t *testing.T) {
	a := []float64{452, 874, 554, 447, 356, 754, 558, 574, 664, 682, 547, 435, 245}
	b := []float64{546, 547, 774, 465, 459, 665, 467, 365, 589, 534, 456, 651, 654, 665, 546, 537}
	wide := stats.Margins{Lower: -110, Upper: 110}
	nan := math.NaN()
	const ncss = "statistics-program documentation quoted in R package TOSTER, test-NCSS1.R; t and 90 % interval by R 4.2.2"
	const known = "R package TOSTER, test-known_results.R"
	for _, tt := range []struct {
		name           string
		test           func() (stats.Equivalence, error)
		df             float64
		tLower, tUpper float64
		pLower, pUpper float64
		lo, hi         float64
		tolDF, tolT    float64
		tolPL, tolPU   float64
		tolI           float64
		equivalent     bool
		source         string
	}{
		{"pooled, 5 %", func() (stats.Equivalence, error) { return stats.PooledEquivalence(a, b, wide, 0.05) },
			27, 1.993270886, -2.310809699, 0.02821, 0.01436, -95.177755, 78.94698577, 0, 5e-10, 5e-6, 5e-6, 5e-7, true, ncss},
		{"pooled, 2.5 %", func() (stats.Equivalence, error) { return stats.PooledEquivalence(a, b, wide, 0.025) },
			27, 1.993270886, -2.310809699, 0.02821, 0.01436, -112.99323, 96.76246, 0, 5e-10, 5e-6, 5e-6, 5e-6, false, ncss},
		{"Welch, 5 %", func() (stats.Equivalence, error) { return stats.WelchEquivalence(a, b, wide, 0.05) },
			19.169, 1.900174871, -2.202882985, 0.03628, 0.02002, -100.7871506, 84.55638141, 5e-4, 5e-10, 5e-6, 5e-6, 5e-8, true, ncss},
		{"Welch, 2.5 %", func() (stats.Equivalence, error) { return stats.WelchEquivalence(a, b, wide, 0.025) },
			19.169, 1.900174871, -2.202882985, 0.03628, 0.02002, -120.27336, 104.04259, 5e-4, 5e-10, 5e-6, 5e-6, 5e-6, false, ncss},
		{"one sample of 100", func() (stats.Equivalence, error) {
			return stats.OneSampleEquivalenceOf(stats.Summary{N: 100, Mean: 0.54, StdDev: 1.2}, 0.5, stats.Margins{Lower: -0.36, Upper: 0.36}, 0.05)
		}, 99, 3.333333, -2.666667, 0.0006040021, 0.004474619, -0.1592469, 0.2392469, 0, 5e-7, 5e-11, 5e-10, 5e-8, true, known},
		{"one sample of 300", func() (stats.Equivalence, error) {
			return stats.OneSampleEquivalenceOf(stats.Summary{N: 300, Mean: 0.52, StdDev: 0.5}, 0.5, stats.Margins{Lower: -0.1, Upper: 0.1}, 0.05)
		}, 299, 4.156922, -2.771281, 2.108451e-05, 0.002966762, nan, nan, 0, 5e-7, 5e-12, 5e-10, 0, true, known},
		{"paired, from the two deviations and their correlation", func() (stats.Equivalence, error) {
			s := math.Sqrt(1.17*1.17 + 1.3*1.3 - 2*0.745*1.17*1.3)
			return stats.OneSampleEquivalenceOf(stats.Summary{N: 65, Mean: 5.83 - 5.75, StdDev: s}, 0, stats.Margins{Lower: -0.34, Upper: 0.34}, 0.05)
		}, 64, 3.803437, -2.354508, 0.0001606103, 0.01081349, -0.1043032, 0.2643032, 0, 5e-7, 5e-11, 5e-9, 5e-8, true, known},
	} {
		r, err := tt.test()
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		if !near(r.DF, tt.df, tt.tolDF) || !near(r.AboveLower.Value, tt.tLower, tt.tolT) || !near(r.BelowUpper.Value, tt.tUpper, tt.tolT) {
			t.Errorf("%s: df %v, t %v and %v, want %v, %v, %v (%s)", tt.name, r.DF, r.AboveLower.Value, r.BelowUpper.Value, tt.df, tt.tLower, tt.tUpper, tt.source)
		}
		if !near(r.AboveLower.P, tt.pLower, tt.tolPL) || !near(r.BelowUpper.P, tt.pUpper, tt.tolPU) || r.Equivalent != tt.equivalent {
			t.Errorf("%s: p %v and %v, equivalent %v, want %v and %v (%s)", tt.name, r.AboveLower.P, r.BelowUpper.P, r.Equivalent, tt.pLower, tt.pUpper, tt.source)
		}
		if !math.IsNaN(tt.lo) && (!near(r.CI.Lo, tt.lo, tt.tolI) || !near(r.CI.Hi, tt.hi, tt.tolI)) {
			t.Errorf("%s: interval %v, want %v to %v (%s)", tt.name, r.CI, tt.lo, tt.hi, tt.source)
		}
		if inside := r.Margins.Lower <= r.CI.Lo && r.CI.Hi <= r.Margins.Upper; inside != r.Equivalent {
			t.Errorf("%s: interval %v and verdict %v disagree", tt.name, r.CI, r.Equivalent)
		}
	}
}

// Margins need not be symmetric, and pairs are their differences.
func TestEquivalenceOfPairs(t *testing.T) {
	margins := stats.Margins{Lower: 0, Upper: 0.5}
	r, err := stats.PairedEquivalence(splitHalf, otherHalf, margins, 0.05)
	if err != nil || !r.Equivalent {
		t.Fatalf("%+v, %v", r, err)
	}
	// R 4.2.2, d the differences: t.test(d, alternative="greater"), t.test(d, mu=0.5, alternative="less").
	if !near(r.AboveLower.Value, 11, 5e-11) || !near(r.AboveLower.P, 5.40261e-5, 5e-11) || !near(r.BelowUpper.Value, -4, 5e-11) || !near(r.BelowUpper.P, 0.00516171, 5e-9) {
		t.Errorf("%v, %v", *r.AboveLower, *r.BelowUpper)
	}
	s, err := stats.OneSampleEquivalence([]float64{0.3, 0.4, 0.4, 0.5, 0.3, 0.3}, 0, margins, 0.05)
	if err != nil || !near(s.BelowUpper.P, r.BelowUpper.P, 1e-12) {
		t.Errorf("of the differences: %v, %v", s.BelowUpper, err)
	}
}

func TestEquivalenceRefuses(t *testing.T) {
	margins := stats.Margins{Lower: -1, Upper: 1}
	for _, tt := range []struct {
		name    string
		margins stats.Margins
		alpha   float64
		want    error
	}{
		{"no margins", stats.Margins{}, 0.05, stats.ErrParameter},
		{"margins the wrong way round", stats.Margins{Lower: 1, Upper: -1}, 0.05, stats.ErrParameter},
		{"no lower margin", stats.Margins{Lower: math.Inf(-1), Upper: 1}, 0.05, stats.ErrNotFinite},
		{"no alpha", margins, 0, stats.ErrLevel},
		{"alpha one half", margins, 0.5, stats.ErrLevel},
	} {
		if _, err := stats.WelchEquivalence(contractor, steady, tt.margins, tt.alpha); !errors.Is(err, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}
