package stats_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/densilot/densilot/stats"
)

// Tests of two samples answer alike in another order of the values, shifted, in another
// unit, and with the samples exchanged, but for the sign.
func TestLawsOfTwoSampleTests(t *testing.T) {
	rng := rand.New(rand.NewPCG(61, 62))
	for range 50 {
		xs, ys := normals(rng, 2+rng.IntN(6), 93, 1), normals(rng, 2+rng.IntN(6), 92, 2)
		for name, test := range map[string]func(xs, ys []float64, level float64) (stats.TTest, error){"pooled": stats.PooledT, "Welch": stats.WelchT} {
			want, err := test(xs, ys, 0.95)
			if err != nil {
				t.Fatal(err)
			}
			same := func(how string, xs, ys []float64, factor float64) {
				got, err := test(xs, ys, 0.95)
				if err != nil || !alike(got.T.P, want.T.P) || !alike(got.T.Value*math.Copysign(1, factor), want.T.Value) ||
					!alike(got.DF, want.DF) || !alike(got.CI.HalfWidth(), math.Abs(factor)*want.CI.HalfWidth()) {
					t.Errorf("%s, %s: %+v, %v, want %+v", name, how, got, err, want)
				}
			}
			shuffled := slices.Clone(xs)
			rng.Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
			same("shuffled", shuffled, ys, 1)
			same("exchanged", ys, xs, -1)
			same("shifted", mapped(xs, 1, 50), mapped(ys, 1, 50), 1)
			same("another unit", mapped(xs, 16.0184633739601, 0), mapped(ys, 16.0184633739601, 0), 16.0184633739601)
		}
	}
}

// A test that rejects at 1 - level has an interval that leaves 0 out, and the two
// one-sided tests agree with the interval of 1 - 2·alpha.
func TestVerdictsAgreeWithIntervals(t *testing.T) {
	rng := rand.New(rand.NewPCG(63, 64))
	margins := stats.Margins{Lower: -1.5, Upper: 2}
	for range 500 {
		xs, ys := normals(rng, 4, 93, 1), normals(rng, 6, 92.5, 0.5)
		r, err := stats.WelchT(xs, ys, 0.9)
		if err != nil || (r.T.P <= 0.1) == r.CI.Contains(0) {
			t.Fatalf("p %v and interval %v, %v", r.T, r.CI, err)
		}
		e, err := stats.WelchEquivalence(xs, ys, margins, 0.05)
		if err != nil || e.Equivalent != (margins.Lower <= e.CI.Lo && e.CI.Hi <= margins.Upper) {
			t.Fatalf("%+v, %v", e, err)
		}
		f, err := stats.EqualVariances(xs, ys, 0.9)
		if err != nil || (f.F.P <= 0.1) == f.CI.Contains(1) {
			t.Fatalf("p %v and interval %v, %v", f.F, f.CI, err)
		}
	}
}

// From data and from n, mean and standard deviation the answers are the same.
func TestSummaryFormsAgree(t *testing.T) {
	x, err := stats.Summarize(contractor)
	if err != nil {
		t.Fatal(err)
	}
	y, err := stats.Summarize(steady)
	if err != nil {
		t.Fatal(err)
	}
	for name, pair := range map[string][2]func() (stats.TTest, error){
		"one sample": {func() (stats.TTest, error) { return stats.OneSampleT(contractor, 93, 0.95) }, func() (stats.TTest, error) { return stats.OneSampleTOf(x, 93, 0.95) }},
		"pooled":     {func() (stats.TTest, error) { return stats.PooledT(contractor, steady, 0.95) }, func() (stats.TTest, error) { return stats.PooledTOf(x, y, 0.95) }},
		"Welch":      {func() (stats.TTest, error) { return stats.WelchT(contractor, steady, 0.95) }, func() (stats.TTest, error) { return stats.WelchTOf(x, y, 0.95) }},
	} {
		a, err := pair[0]()
		if err != nil {
			t.Fatal(err)
		}
		b, err := pair[1]()
		if err != nil || *a.T != *b.T || a.CI != b.CI || a.DF != b.DF {
			t.Errorf("%s: %+v and %+v, %v", name, a, b, err)
		}
	}
}

func alike(a, b float64) bool { return math.Abs(a-b) <= 1e-10*math.Abs(b) }

func mapped(xs []float64, factor, shift float64) []float64 {
	ys := make([]float64, len(xs))
	for i, x := range xs {
		ys[i] = factor*x + shift
	}
	return ys
}

// A statistic at the end of its range has the least p, not 0: three values that alternate
// are as rough as three can be, and two equal ones leave nothing beside two suspects.
func TestEndOfRangeHasLeastP(t *testing.T) {
	const least = math.SmallestNonzeroFloat64
	ratio, err1 := stats.VonNeumann([]float64{1, 3, 1}, stats.High)
	lag, err2 := stats.LagOneTest([]float64{1, 3, 1}, stats.TwoSide)
	two, err3 := stats.TwoOutliers([]float64{88, 88.2, 93.1, 93.1}, stats.Low, 0.05)
	if err := errors.Join(err1, err2, err3); err != nil || ratio.P != least || lag.P != least || two.P != least {
		t.Errorf("p %v, %v and %v; %v", ratio.P, lag.P, two.P, err)
	}
}

// The ends of an interval are in order also at a level so near 0 that it has no width.
func TestEndsAreInOrder(t *testing.T) {
	rng := rand.New(rand.NewPCG(83, 84))
	for range 500 {
		groups := [][]float64{normals(rng, 3, 93, 1), normals(rng, 3, 93, 2), normals(rng, 3, 94, 1)}
		for _, level := range []float64{1e-300, 1e-17} {
			f, err1 := stats.EqualVariances(groups[0], groups[1], level)
			c, err2 := stats.OneWayComponents(groups, stats.ComponentOptions{Level: level, Method: stats.ModifiedLargeSample})
			s, err3 := stats.Interlaboratory(groups, stats.InterlaboratoryOptions{Level: level, Alpha: 0.005})
			r, err4 := stats.ReplicatedLimits(groups[:2], groups[1:], stats.ReplicatedAgreementOptions{Level: level, Coverage: 0.95})
			q, err5 := stats.NewReplicateRatio(groups[:2], groups[1:], level)
			if err := errors.Join(err1, err2, err3, err4, err5); err != nil {
				t.Fatal(err)
			}
			for name, ci := range map[string]stats.Interval{"ratio of variances": f.CI, "between": c.Components[0].CI, "within": c.Components[1].CI, "total": c.TotalCI, "repeatability": s.RepeatabilityCI,
				"reproducibility": s.ReproducibilityCI, "single": r.SingleCI, "lower limit": r.LowerCI, "upper limit": r.UpperCI, "ratio of errors": q.CI} {
				if ci.Lo > ci.Hi {
					t.Fatalf("%s at level %v: %v to %v", name, level, ci.Lo, ci.Hi)
				}
			}
		}
	}
}
