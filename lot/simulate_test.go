package lot_test

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
)

func simulate(t testing.TB, o lot.SimulationOptions) lot.SimulationResult {
	t.Helper()
	r, err := lot.Simulate(context.Background(), o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func source(t testing.TB) func(s lot.LotSource, err error) lot.LotSource {
	return func(s lot.LotSource, err error) lot.LotSource {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
}

// closeTo compares a simulated number with an exact one by its standard error.
func closeTo(t *testing.T, what string, got, stdErr, want float64) {
	t.Helper()
	if !(stdErr > 0 && math.Abs(got-want) <= 4*stdErr) {
		t.Errorf("%s: simulated %v with standard error %v, exact %v", what, got, stdErr, want)
	}
}

// Independent normal results have exact answers, gauge repeatability only widens
// them, and sources without skewness, correlation or a second mode are normal.
func TestSimulationAgreesWithExactValues(t *testing.T) {
	s := schedule(t)
	for _, tt := range []struct {
		name   string
		n      int
		source lot.LotSource
		limits lot.Limits
		stdDev float64
	}{
		{"one limit", 5, lot.NormalLots(93.2, 1), lot.AtLeast(92), 1},
		{"two limits", 4, lot.NormalLots(93.2, 1), lot.Between(92, 95), 1},
		{"three results", 3, lot.NormalLots(93.2, 0.8), lot.Between(92, 95), 0.8},
		{"repeatability", 5, lot.WithGauge(lot.NormalLots(93.2, 0.8), 0, 0.6), lot.Between(92, 95), 1},
		{"no skewness", 7, source(t)(lot.SkewLots(93.2, 1, 0)), lot.AtMost(94), 1},
		{"no correlation", 5, source(t)(lot.SerialLots(93.2, 1, 0)), lot.AtLeast(92), 1},
		{"one mode", 5, source(t)(lot.TwoModeLots(0, 93.2, 1, 1)), lot.AtLeast(92), 1},
		{"equal sublots", 5, source(t)(lot.StratifiedLots([]float64{93.2, 93.2, 93.2, 93.2, 93.2}, 1)), lot.AtLeast(92), 1},
	} {
		q, err := lot.QualityOf(93.2, tt.stdDev, tt.limits)
		if err != nil {
			t.Fatal(err)
		}
		e := estimator(t, tt.n, q)
		want := pay(t, e, s, lot.Retesting{})
		got := simulate(t, lot.SimulationOptions{N: tt.n, Limits: tt.limits, Source: tt.source, Schedule: s, Lots: 60000, Seed: 11})
		closeTo(t, tt.name+", factor", got.Factor, got.FactorStdErr, want.Factor)
		closeTo(t, tt.name+", rejected", got.Rejected, got.RejectedStdErr, want.Rejected)
		closeTo(t, tt.name+", PWL", got.PWL, got.PWLStdErr, q.PWL())
		// 1.5 % is 4 standard errors of a standard deviation at a kurtosis of 4.4.
		if sd := value(t)(e.StdDev()); !(math.Abs(got.PWLStdDev-sd) <= 0.015*sd) {
			t.Errorf("%s: standard deviation %v, exact %v", tt.name, got.PWLStdDev, sd)
		}
	}
}

// The estimate is unbiased given the offset of the gauge, so its mean over offsets
// is that of a normal population as wide as both, 100·Φ(1.2/√(1²+0.5²)).
func TestCommonOffsetIsOfTheWholeLot(t *testing.T) {
	o := lot.SimulationOptions{N: 5, Limits: lot.AtLeast(92), Source: lot.WithGauge(lot.NormalLots(93.2, 1), 0.5, 0), Schedule: schedule(t), Lots: 60000, Seed: 12}
	wide, err := lot.QualityOf(93.2, math.Sqrt(1.25), o.Limits)
	if err != nil {
		t.Fatal(err)
	}
	got := simulate(t, o)
	closeTo(t, "PWL", got.PWL, got.PWLStdErr, wide.PWL())
	if sd := value(t)(estimator(t, 5, wide).StdDev()); !(got.PWLStdDev > 1.1*sd) {
		t.Errorf("standard deviation %v is not above that of independent results, %v", got.PWLStdDev, sd)
	}
}

// Each source has the moments it was asked for: mean and standard deviation by
// definition, the mixture's variance share·(1-share)·distance² more than its
// modes'. Standard errors are those of independent values, taken wider by half for
// higher moments.
func TestSourcesHaveTheirMoments(t *testing.T) {
	const lots, n = 20000, 10
	for _, tt := range []struct {
		name                                string
		source                              lot.LotSource
		mean, stdDev, skewness, correlation float64
	}{
		{"normal", lot.NormalLots(4, 1.2), 4, 1.2, 0, 0},
		{"skew", source(t)(lot.SkewLots(4, 1.2, 1)), 4, 1.2, 1, 0},
		{"skew to the left", source(t)(lot.SkewLots(4, 1.2, -1.5)), 4, 1.2, -1.5, 0},
		{"two modes", source(t)(lot.TwoModeLots(3, 5, 0.5, 1)), 4, math.Sqrt2, 0, 0},
		{"serial", source(t)(lot.SerialLots(4, 1.2, 0.6)), 4, 1.2, 0, 0.6},
	} {
		random := rand.New(rand.NewPCG(5, 6))
		results := make([]float64, n)
		var all, now, next []float64
		for range lots {
			tt.source(results, random)
			all = append(all, results...)
			now, next = append(now, results[:n-1]...), append(next, results[1:]...)
		}
		size := math.Sqrt(lots * n)
		closeTo(t, tt.name+", mean", stat.Mean(all, nil), 2*tt.stdDev/size, tt.mean) // 2 = √((1+0.6)/(1-0.6))
		closeTo(t, tt.name+", standard deviation", stat.StdDev(all, nil), 1.5*tt.stdDev/size, tt.stdDev)
		closeTo(t, tt.name+", skewness", stat.Skew(all, nil), 6/size, tt.skewness)
		closeTo(t, tt.name+", correlation", stat.Correlation(now, next, nil), 1.5/size, tt.correlation)
	}
}

func TestSublotsHaveTheirMeans(t *testing.T) {
	s := source(t)(lot.StratifiedLots([]float64{91, 93, 95}, 0))
	results := make([]float64, 3)
	s(results, rand.New(rand.NewPCG(1, 1)))
	if results[0] != 91 || results[1] != 93 || results[2] != 95 {
		t.Errorf("%v", results)
	}
}

// One result below the individual minimum rejects the lot: with a minimum that a
// result meets with probability Φ(2) and a schedule that rejects none, 1-Φ(2)^5 of
// lots of five are rejected.
func TestIndividualMinimum(t *testing.T) {
	o := lot.SimulationOptions{N: 5, Limits: lot.AtLeast(92), Source: lot.NormalLots(93, 1), Schedule: rows(t, straight),
		Each: lot.AtLeast(91), Lots: 60000, Seed: 13}
	got := simulate(t, o)
	closeTo(t, "rejected", got.Rejected, got.RejectedStdErr, 1-math.Pow(0.5*math.Erfc(-math.Sqrt2), 5))
}

// Standard errors: σ/√lots with the exact σ of one lot, √(p(1-p)/lots), and that of
// a line is its slope times that of the estimate.
func TestSimulatedStandardErrors(t *testing.T) {
	s := rows(t, straight)
	got := simulate(t, lot.SimulationOptions{N: 5, Limits: lot.AtLeast(92), Source: lot.NormalLots(93.2, 1), Schedule: s, Lots: 60000, Seed: 17})
	q, err := lot.QualityOf(93.2, 1, lot.AtLeast(92))
	if err != nil {
		t.Fatal(err)
	}
	want := value(t)(estimator(t, 5, q).StdDev()) / math.Sqrt(60000)
	if !(math.Abs(got.PWLStdErr-want) <= 0.015*want && math.Abs(got.FactorStdErr-0.005*got.PWLStdErr) <= 1e-12) {
		t.Errorf("%+v, want %v", got, want)
	}
	got = simulate(t, lot.SimulationOptions{N: 5, Limits: lot.AtLeast(92), Source: lot.NormalLots(93.2, 1), Schedule: schedule(t), Lots: 60000, Seed: 17})
	if want := math.Sqrt(got.Rejected * (1 - got.Rejected) / 60000); !(math.Abs(got.RejectedStdErr-want) <= 1e-15) {
		t.Errorf("%+v, want %v", got, want)
	}
}

// The same seed gives the same bits for any number of workers, another seed other
// ones, and a shorter run is the beginning of a longer.
func TestSimulationIsReproducible(t *testing.T) {
	o := lot.SimulationOptions{N: 5, Limits: lot.Between(92, 95), Source: lot.NormalLots(93.2, 1), Schedule: schedule(t), Lots: 150001, Seed: 14, Workers: 1}
	want := simulate(t, o)
	for _, workers := range []int{2, 3, 7, 0} {
		if o.Workers = workers; simulate(t, o) != want {
			t.Errorf("%d workers: %+v, want %+v", workers, simulate(t, o), want)
		}
	}
	if o.Seed++; simulate(t, o) == want {
		t.Error("another seed gives the same result")
	}
}

func TestSimulationStopsAtPrecision(t *testing.T) {
	var calls []int
	o := lot.SimulationOptions{N: 5, Limits: lot.AtLeast(92), Source: lot.NormalLots(93.2, 1), Schedule: schedule(t), Lots: 1_000_000, Seed: 15,
		StdErr: 1.1e-3, Progress: func(done int) { calls = append(calls, done) }}
	got := simulate(t, o)
	if got.Lots >= o.Lots || !(max(got.FactorStdErr, got.RejectedStdErr) <= o.StdErr) || len(calls) == 0 || calls[len(calls)-1] != got.Lots {
		t.Errorf("%+v, progress %v", got, calls)
	}
}

func TestSimulationEndsWithItsContext(t *testing.T) {
	ctx, cancel := context.WithCancelCause(context.Background())
	enough := errors.New("enough")
	o := lot.SimulationOptions{N: 5, Limits: lot.AtLeast(92), Source: lot.NormalLots(93.2, 1), Schedule: schedule(t), Lots: 1_000_000, Seed: 16,
		Progress: func(int) { cancel(enough) }}
	if got, err := lot.Simulate(ctx, o); !errors.Is(err, enough) || got != (lot.SimulationResult{}) {
		t.Errorf("%+v, %v", got, err)
	}
}

// A panic of the source comes up where Simulate was called.
func TestSimulationCarriesAPanic(t *testing.T) {
	defer func() {
		if p := recover(); p != "broken" {
			t.Errorf("recovered %v", p)
		}
	}()
	o := lot.SimulationOptions{N: 5, Limits: lot.AtLeast(92), Source: func([]float64, *rand.Rand) { panic("broken") }, Schedule: schedule(t), Lots: 10, Seed: 1, Workers: 2}
	_, err := lot.Simulate(context.Background(), o)
	t.Errorf("no panic, %v", err)
}

func TestSimulateRefuses(t *testing.T) {
	good := lot.SimulationOptions{N: 5, Limits: lot.AtLeast(92), Source: lot.NormalLots(93.2, 1), Schedule: schedule(t), Lots: 1000, Seed: 1}
	for _, tt := range []struct {
		name   string
		change func(o *lot.SimulationOptions)
		want   error
	}{
		{"two results", func(o *lot.SimulationOptions) { o.N = 2 }, stats.ErrTooFew},
		{"a million results", func(o *lot.SimulationOptions) { o.N = 1_000_000 }, lot.ErrOutOfDomain},
		{"no limit", func(o *lot.SimulationOptions) { o.Limits = lot.Limits{} }, lot.ErrNoLimit},
		{"individual minimum NaN", func(o *lot.SimulationOptions) { o.Each = lot.AtLeast(math.NaN()) }, stats.ErrNotFinite},
		{"no source", func(o *lot.SimulationOptions) { o.Source = nil }, lot.ErrMissing},
		{"gauge without a source", func(o *lot.SimulationOptions) { o.Source = lot.WithGauge(nil, 1, 1) }, lot.ErrMissing},
		{"no schedule", func(o *lot.SimulationOptions) { o.Schedule = lot.Schedule{} }, lot.ErrMissing},
		{"schedule from 90", func(o *lot.SimulationOptions) { o.Schedule = rows(t, level) }, lot.ErrNotCovered},
		{"one lot", func(o *lot.SimulationOptions) { o.Lots = 1 }, lot.ErrOutOfDomain},
		{"precision NaN", func(o *lot.SimulationOptions) { o.StdErr = math.NaN() }, lot.ErrOutOfDomain},
		{"workers below 0", func(o *lot.SimulationOptions) { o.Workers = -1 }, lot.ErrOutOfDomain},
		{"source of NaN", func(o *lot.SimulationOptions) { o.Source = lot.NormalLots(math.NaN(), 1) }, stats.ErrNotFinite},
		{"source of fractions", func(o *lot.SimulationOptions) { o.Source = lot.NormalLots(0.93, 0.01) }, lot.ErrScale},
	} {
		o := good
		tt.change(&o)
		var bad *stats.InputError
		if _, err := lot.Simulate(context.Background(), o); !errors.Is(err, tt.want) || !errors.As(err, &bad) || bad.Func != "lot.Simulate" {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
	for name, f := range map[string]func() (lot.LotSource, error){
		"skewness of 3":   func() (lot.LotSource, error) { return lot.SkewLots(1, 1, 3) },
		"share of 2":      func() (lot.LotSource, error) { return lot.TwoModeLots(1, 1, 2, 1) },
		"correlation NaN": func() (lot.LotSource, error) { return lot.SerialLots(1, 1, math.NaN()) },
		"two sublots":     func() (lot.LotSource, error) { return lot.StratifiedLots([]float64{1, 2}, 1) },
	} {
		if s, err := f(); err == nil || s != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// The refused lot is named by its number, the same for any number of workers.
func TestSimulationNamesTheLot(t *testing.T) {
	for _, workers := range []int{1, 2, 5} {
		o := lot.SimulationOptions{N: 3, Limits: lot.AtLeast(92), Schedule: schedule(t), Lots: 5000, Seed: 3, Workers: workers,
			Source: func(results []float64, random *rand.Rand) {
				lot.NormalLots(93, 1)(results, random)
				if results[0] > 95.5 {
					results[1] = math.Inf(1)
				}
			}}
		var bad *stats.InputError
		_, err := lot.Simulate(context.Background(), o)
		if !errors.As(err, &bad) || !errors.Is(err, stats.ErrNotFinite) {
			t.Fatal(err)
		}
		o.Lots = bad.Index // those before it are sound
		if _, err := lot.Simulate(context.Background(), o); err != nil {
			t.Errorf("%d workers: lot %d, but %v", workers, bad.Index, err)
		}
	}
}
