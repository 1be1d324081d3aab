package stats_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/densilot/densilot/stats"
)

var simulatedSizes = []int{3, 5, 10, 30}

// covers runs trials of one interval and reports the share that held the truth.
func covers(t *testing.T, trials int, truth float64, interval func() (stats.Interval, error)) float64 {
	t.Helper()
	covered := 0
	for range trials {
		ci, err := interval()
		if err != nil {
			t.Fatal(err)
		}
		if ci.Contains(truth) {
			covered++
		}
	}
	return share(covered, trials)
}

// The exact intervals cover the truth as often as they say, in samples of equal and
// of unequal size.
func TestExactCoverage(t *testing.T) {
	trials := simulationTrials(4000, 200000)
	rng := rand.New(rand.NewPCG(51, 52))
	const level = 0.9
	noise := 4 * math.Sqrt(level*(1-level)/float64(trials))
	for _, n := range simulatedSizes {
		for name, one := range map[string]struct {
			truth    float64
			interval func() (stats.Interval, error)
		}{
			"one sample": {2.5, func() (stats.Interval, error) {
				r, err := stats.OneSampleT(normals(rng, n, 145.5, 0.8), 143, level)
				return r.CI, err
			}},
			"paired": {2.5, func() (stats.Interval, error) {
				xs := normals(rng, n, 0, 3)
				ys := normals(rng, n, 0, 0.5)
				for i := range ys {
					xs[i], ys[i] = xs[i]+2.5, xs[i]+ys[i]
				}
				r, err := stats.PairedT(xs, ys, level)
				return r.CI, err
			}},
			"pooled": {-1, func() (stats.Interval, error) {
				r, err := stats.PooledT(normals(rng, n, 92, 0.8), normals(rng, 2*n+1, 93, 0.8), level)
				return r.CI, err
			}},
			"ratio of variances": {4, func() (stats.Interval, error) {
				r, err := stats.EqualVariances(normals(rng, n, 92, 2), normals(rng, n+4, 93, 1), level)
				if !r.XLarger { // the ratio is the other way up
					r.CI.Lo, r.CI.Hi = 1/r.CI.Hi, 1/r.CI.Lo
				}
				return r.CI, err
			}},
		} {
			got := covers(t, trials, one.truth, one.interval)
			t.Logf("%s, n = %d: covers %.2f %%", name, n, 100*got)
			if !near(got, level, noise) {
				t.Errorf("%s, n = %d: covers %.4f, want %.4f ± %.4f", name, n, got, level, noise)
			}
		}
	}
}

// Welch's interval is approximate; this holds it to what its comment says.
func TestWelchCoverage(t *testing.T) {
	trials := simulationTrials(4000, 200000)
	rng := rand.New(rand.NewPCG(53, 54))
	const level = 0.95
	noise := 4 * math.Sqrt(level*(1-level)/float64(trials))
	for _, n := range simulatedSizes {
		for _, ratio := range []float64{0.25, 0.5, 1, 2, 4} {
			for _, m := range []int{n, 2 * n} {
				got := covers(t, trials, 1, func() (stats.Interval, error) {
					r, err := stats.WelchT(normals(rng, n, 93, ratio), normals(rng, m, 92, 1), level)
					return r.CI, err
				})
				t.Logf("n = %d and %d, standard deviations %v to 1: covers %.2f %%", n, m, ratio, 100*got)
				if within := map[int]float64{3: 0.017, 5: 0.007, 10: 0.003, 30: 0.003}[n]; !near(got, level, within+noise) {
					t.Errorf("n = %d and %d, standard deviations %v to 1: covers %.4f", n, m, ratio, got)
				}
			}
		}
	}
}

// At the margin itself populations are called equivalent in a share alpha of samples
// at most, and in just that where the other margin is far.
func TestEquivalenceLevel(t *testing.T) {
	trials := simulationTrials(4000, 200000)
	rng := rand.New(rand.NewPCG(55, 56))
	const alpha = 0.05
	noise := 4 * math.Sqrt(alpha*(1-alpha)/float64(trials))
	for _, n := range simulatedSizes {
		for _, margins := range []stats.Margins{{Lower: -1, Upper: 1}, {Lower: -100, Upper: 1}} {
			equivalent := 0
			for range trials {
				r, err := stats.PooledEquivalence(normals(rng, n, 94, 1), normals(rng, n, 93, 1), margins, alpha)
				if err != nil {
					t.Fatal(err)
				}
				if r.Equivalent {
					equivalent++
				}
			}
			got := share(equivalent, trials)
			t.Logf("n = %d, %v: %.4f", n, margins, got)
			if got > alpha+noise || margins.Lower == -100 && got < alpha-noise {
				t.Errorf("n = %d, %v: equivalent in %.4f, alpha %v", n, margins, got, alpha)
			}
		}
	}
}

// The generalized ESD keeps its level from some 25 values on and flags more below;
// this holds it to the shares that its comment states.
func TestESDLevel(t *testing.T) {
	trials := simulationTrials(4000, 100000)
	rng := rand.New(rand.NewPCG(57, 58))
	const alpha = 0.05
	noise := 4 * math.Sqrt(alpha*(1-alpha)/float64(trials))
	for n, most := range map[int]float64{10: 0.087, 15: 0.068, 25: 0.058, 50: 0.053} {
		flagged := 0
		for range trials {
			r, err := stats.GeneralizedESD(normals(rng, n, 93, 1), 3, stats.TwoSide, alpha)
			if err != nil {
				t.Fatal(err)
			}
			if r.Outliers > 0 {
				flagged++
			}
		}
		got := share(flagged, trials)
		t.Logf("n = %d: flagged %.4f", n, got)
		if got < alpha-noise || got > most+noise {
			t.Errorf("n = %d: flagged %.4f, want %v to %v", n, got, alpha, most)
		}
	}
}
