package stats_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/densilot/densilot/stats"
)

func TestTwoOutliers(t *testing.T) {
	hidden := []float64{93.1, 93.4, 93.2, 93.3, 88.0, 88.2}
	r, err := stats.TwoOutliers(hidden, stats.Low, 0.01)
	// ratio: R 4.2.2, var(x[1:4])*3/(var(x)*5)
	if err != nil || !near(r.Ratio, 0.001411100659, 5e-13) || !r.Outliers || r.Indices != [2]int{4, 5} || !(r.P < 1e-3) {
		t.Errorf("two low ones: %+v, %v", r, err)
	}
	mirrored := make([]float64, len(hidden))
	for i, x := range hidden {
		mirrored[i] = 200 - x
	}
	m, err := stats.TwoOutliers(mirrored, stats.High, 0.01)
	if err != nil || !near(m.P, r.P, 1e-10*r.P+1e-15) || m.Indices != r.Indices || m.Critical != r.Critical {
		t.Errorf("mirrored: %+v, %v", m, err)
	}
	high, err := stats.TwoOutliers(hidden, stats.High, 0.05)
	if err != nil || high.Outliers || high.P < 0.5 {
		t.Errorf("the high side of it: %+v, %v", high, err)
	}
	same, err := stats.TwoOutliers([]float64{93, 93, 93, 93, 93}, stats.Low, 0.05)
	if err != nil || same.P != 1 || same.Outliers || !has(same.Warnings, stats.WarnConstant) {
		t.Errorf("no spread: %+v, %v", same, err)
	}
	tied, err := stats.TwoOutliers([]float64{88, 90, 90, 94, 94.2, 93.9, 94.3}, stats.Low, 0.05)
	if err != nil || !has(tied.Warnings, stats.WarnTies) || tied.Indices != [2]int{0, 1} {
		t.Errorf("tied: %+v, %v", tied, err)
	}
}

// The p of a ratio by testdata/twooutliers.py, asked as a critical value.
func TestTwoOutliersAccuracy(t *testing.T) {
	for _, tt := range []struct {
		n        int
		ratio, p float64
	}{{4, 0.0008, 0.0511640671}, {4, 0.5, 0.958941072}, {5, 0.02, 0.0545092086}, {5, 0.4, 0.789472869}} {
		got, err := stats.TwoOutliersCritical(tt.n, tt.p)
		if err != nil || !near(got, tt.ratio, 3e-7*tt.ratio) {
			t.Errorf("n = %d, p %v: %v, %v, want %v", tt.n, tt.p, got, err, tt.ratio)
		}
	}
}

// The share of normal samples that are flagged is alpha: at n = 6 and 5 % the
// critical value is 0.056, at 1 % 0.018 in 400 000 trials of another program.
func TestTwoOutliersLevelBySimulation(t *testing.T) {
	trials := simulationTrials(20000, 400000)
	rng := rand.New(rand.NewPCG(35, 36))
	for _, n := range []int{4, 6, 12} {
		for _, alpha := range []float64{0.05, 0.01} {
			critical, err := stats.TwoOutliersCritical(n, alpha)
			if err != nil {
				t.Fatal(err)
			}
			flagged := 0
			for range trials {
				if twoLowestRatio(normals(rng, n, 0, 1)) <= critical {
					flagged++
				}
			}
			noise := 4 * math.Sqrt(alpha*(1-alpha)/float64(trials))
			t.Logf("n = %d: flagged %.4f at %v", n, share(flagged, trials), alpha)
			if !near(share(flagged, trials), alpha, noise) {
				t.Errorf("n = %d: flagged %v, want %v ± %v", n, share(flagged, trials), alpha, noise)
			}
		}
	}
}

// twoLowestRatio is the ratio in its plainest form.
func twoLowestRatio(xs []float64) float64 {
	for k := range 2 {
		for i := k + 1; i < len(xs); i++ {
			if xs[i] < xs[k] {
				xs[i], xs[k] = xs[k], xs[i]
			}
		}
	}
	squares := func(xs []float64) (ss float64) {
		mean := 0.0
		for _, x := range xs {
			mean += x / float64(len(xs))
		}
		for _, x := range xs {
			ss += (x - mean) * (x - mean)
		}
		return ss
	}
	return squares(xs[2:]) / squares(xs)
}

func TestTwoOutliersRefuse(t *testing.T) {
	xs := []float64{1, 2, 3, 4}
	for _, tt := range []struct {
		name  string
		xs    []float64
		side  stats.Side
		alpha float64
		want  error
	}{
		{"three values", xs[:3], stats.Low, 0.05, stats.ErrTooFew},
		{"no side", xs, 0, 0.05, stats.ErrParameter},
		{"both sides", xs, stats.TwoSide, 0.05, stats.ErrParameter},
		{"no alpha", xs, stats.Low, 0, stats.ErrLevel},
		{"too many", make([]float64, 301), stats.Low, 0.05, stats.ErrParameter},
		{"a NaN", []float64{1, math.NaN(), 3, 4}, stats.High, 0.05, stats.ErrNotFinite},
	} {
		if _, err := stats.TwoOutliers(tt.xs, tt.side, tt.alpha); !errors.Is(err, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}
