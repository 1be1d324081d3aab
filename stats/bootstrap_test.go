package stats

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func meanOf(xs []float64) (float64, error) { return Mean(xs) }

// A drawn sequence is part of the result, so the parts it is made of are pinned
// to published values.
func TestGeneratorsArePublished(t *testing.T) {
	var pcg rand.PCG
	pcg.Seed(1, 2)
	// First outputs of PCG(1, 2): math/rand/v2, pcg_test.go, TestPCG.
	for i, want := range []uint64{0xc4f5a58656eef510, 0x9dcec3ad077dec6c} {
		if got := pcg.Uint64(); got != want {
			t.Errorf("PCG output %d: %#x, want %#x", i, got, want)
		}
	}
	// First outputs of SplitMix64 from state 0 and 0x9e3779b97f4a7c15, that is, the
	// first two from seed 0: the xoshiro pages of S. Vigna, splitmix64.c; also the
	// test vector of java.util.SplittableRandom(0).
	if got := mix64(0); got != 0xe220a8397b1dcdaf {
		t.Errorf("mix64(0) = %#x", got)
	}
	if got := mix64(0x9e3779b97f4a7c15); got != 0x6e789e6aa1b965f4 {
		t.Errorf("mix64(golden) = %#x", got)
	}
}

func TestDrawBelowIsFair(t *testing.T) {
	const n, draws = 7, 700_000
	var source rand.PCG
	source.Seed(3, 5)
	var counts [n]float64
	for range draws {
		counts[drawBelow(&source, n)]++
	}
	// Each count is binomial with mean 100 000 and standard deviation 293; six of
	// those are exceeded by chance once in 5e8.
	for k, c := range counts {
		if math.Abs(c-draws/n) > 6*293 {
			t.Errorf("%d was drawn %v times of %v", k, c, draws)
		}
	}
	// 2^63+1 of 2^64 outputs leave almost half to be refused.
	for range 100 {
		if x := drawBelow(&source, 1<<63+1); x > 1<<63 {
			t.Fatalf("%d is not below the bound", x)
		}
	}
}

func TestBootstrapDoesNotDependOnWorkers(t *testing.T) {
	xs := percentCompaction(25)
	for _, method := range []BootstrapMethod{BootstrapPercentile, BootstrapBCa} {
		var first BootstrapResult
		for _, workers := range []int{1, 2, 3, 16, 0} {
			got, err := Bootstrap(context.Background(), xs, Median, BootstrapOptions{Replicates: 999, Level: 0.9, Method: method, Seed: 11, Workers: workers})
			if err != nil {
				t.Fatal(err)
			}
			got.Options.Workers = 0
			if workers == 1 {
				first = got
			}
			if diff := cmp.Diff(first, got); diff != "" {
				t.Errorf("%v, %d workers (-one +several)\n%s", method, workers, diff)
			}
		}
	}
}

// The replicates of a mean have the standard deviation √(Σ(x-x̄)²)/n exactly (Efron
// and Tibshirani 1993, equation 5.12 at infinitely many replicates); 100 000
// replicates show it with a relative standard error of 1/√200 000 = 0.0022, and
// their mean with 0.0032 standard errors. Five of those are allowed.
func TestBootstrapOfMean(t *testing.T) {
	xs := percentCompaction(30)
	d, err := Describe(xs)
	if err != nil {
		t.Fatal(err)
	}
	want := d.StdDev * math.Sqrt(29) / 30
	r, err := Bootstrap(context.Background(), xs, meanOf, BootstrapOptions{Replicates: 100_000, Level: 0.95, Method: BootstrapPercentile, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(r.StdErr/want-1) > 5*0.0023 || math.Abs(r.Bias) > 5*0.0032*want {
		t.Errorf("standard error %v, bias %v, want %v and 0", r.StdErr, r.Bias, want)
	}
	// A mean of 30 is nearly normal: its quantiles are 1.96 standard errors off,
	// known from the replicates to 0.01.
	if half := r.CI.HalfWidth() / want; math.Abs(half-1.96) > 0.08 {
		t.Errorf("half width of %v standard errors, want about 1.96", half)
	}
}

func TestBootstrapOfEqualValues(t *testing.T) {
	for _, method := range []BootstrapMethod{BootstrapPercentile, BootstrapBCa} {
		r, err := Bootstrap(context.Background(), []float64{0.1, 0.1, 0.1}, meanOf, BootstrapOptions{Replicates: 99, Level: 0.95, Method: method})
		if err != nil || r.CI.Lo != 0.1 || r.CI.Hi != 0.1 || r.StdErr != 0 || len(r.Warnings) != 2 || r.Warnings[0].Code != WarnConstant || r.Warnings[1].Code != WarnSmallN {
			t.Errorf("%v: %+v, %v", method, r, err)
		}
	}
}

func TestBootstrapReportsLowestError(t *testing.T) {
	bad := errors.New("bad sample")
	xs := percentCompaction(30)
	// Fails on a sample whose first value is one of three; which replicate is the
	// first such is a matter of the seed alone.
	failing := func(sample []float64) (float64, error) {
		if slices.Contains(xs[10:13], sample[0]) {
			return 0, bad
		}
		return sample[0], nil
	}
	seen := map[int]bool{}
	for range 20 {
		_, err := Bootstrap(context.Background(), xs, failing, BootstrapOptions{Replicates: 500, Level: 0.95, Method: BootstrapPercentile, Seed: 4, Workers: 4})
		var input *InputError
		if !errors.Is(err, bad) || !errors.As(err, &input) {
			t.Fatalf("error %v, want one around %v", err, bad)
		}
		seen[input.Index] = true
	}
	if len(seen) != 1 {
		t.Errorf("the reported replicate varies: %v", seen)
	}
}

func TestBootstrapCarriesPanicOn(t *testing.T) {
	defer func() {
		if p := recover(); p != "broken statistic" {
			t.Errorf("recovered %v", p)
		}
	}()
	_, err := Bootstrap(context.Background(), percentCompaction(5), func([]float64) (float64, error) { panic("broken statistic") },
		BootstrapOptions{Replicates: 99, Level: 0.9, Method: BootstrapPercentile})
	t.Errorf("returned with %v", err)
}

func TestBootstrapCarriesGoexitOn(t *testing.T) {
	done := make(chan bool)
	go func() {
		defer close(done)
		_, err := Bootstrap(context.Background(), percentCompaction(5), func([]float64) (float64, error) { runtime.Goexit(); return 0, nil },
			BootstrapOptions{Replicates: 99, Level: 0.9, Method: BootstrapPercentile})
		t.Errorf("returned with %v", err)
	}()
	<-done
}

func TestBootstrapStopsWithContext(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	slow := func(sample []float64) (float64, error) {
		cancel()
		return Mean(sample)
	}
	_, err := Bootstrap(ctx, percentCompaction(5), slow, BootstrapOptions{Replicates: 1_000_000, Level: 0.9, Method: BootstrapPercentile})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("error %v, want canceled", err)
	}
}

func TestBootstrapRefuses(t *testing.T) {
	xs := []float64{1, 2, 3}
	good := BootstrapOptions{Replicates: 99, Level: 0.9, Method: BootstrapBCa}
	with := func(change func(*BootstrapOptions)) BootstrapOptions { o := good; change(&o); return o }
	largest := func(sample []float64) (float64, error) { return slices.Max(sample) + float64(len(sample)), nil }
	calls := 0
	rising := func([]float64) (float64, error) { calls++; return float64(calls), nil }
	tests := []struct {
		name string
		xs   []float64
		f    func([]float64) (float64, error)
		o    BootstrapOptions
		want error
	}{
		{"no values", nil, meanOf, good, ErrTooFew},
		{"one value", xs[:1], meanOf, good, ErrTooFew},
		{"NaN", []float64{1, math.NaN()}, meanOf, good, ErrNotFinite},
		{"level in percent", xs, meanOf, with(func(o *BootstrapOptions) { o.Level = 90 }), ErrLevel},
		{"no options", xs, meanOf, BootstrapOptions{}, ErrLevel},
		{"too few replicates for the level", xs, meanOf, with(func(o *BootstrapOptions) { o.Level = 0.99 }), ErrTooFew},
		{"too many replicates", xs, meanOf, with(func(o *BootstrapOptions) { o.Replicates = math.MaxInt32 }), ErrParameter},
		{"no method", xs, meanOf, with(func(o *BootstrapOptions) { o.Method = 0 }), ErrParameter},
		{"negative workers", xs, meanOf, with(func(o *BootstrapOptions) { o.Workers = -1 }), ErrParameter},
		{"no statistic", xs, nil, good, ErrParameter},
		{"a statistic that is NaN", xs, func([]float64) (float64, error) { return math.NaN(), nil }, good, ErrNotFinite},
		{"a statistic that grows from call to call", xs, rising, with(func(o *BootstrapOptions) { o.Workers = 1 }), ErrOneSided},
		{"replicates too far apart", []float64{-math.MaxFloat64, math.MaxFloat64}, func(s []float64) (float64, error) { return s[0], nil }, good, ErrOverflow},
	}
	for _, tt := range tests {
		if r, err := Bootstrap(context.Background(), tt.xs, tt.f, tt.o); !errors.Is(err, tt.want) || cmp.Diff(BootstrapResult{}, r) != "" {
			t.Errorf("%s: %+v, error %v, want %v", tt.name, r, err, tt.want)
		}
	}
	if _, err := Bootstrap(context.Background(), xs, largest, good); err != nil {
		t.Errorf("the largest value ties with many replicates: %v", err)
	}
}

func BenchmarkBootstrap(b *testing.B) {
	xs := percentCompaction(30)
	for _, workers := range []struct {
		name string
		n    int
	}{{"one worker", 1}, {"two workers", 2}} {
		b.Run(workers.name, func(b *testing.B) {
			for i := 0; i < b.N; i++ {
				if _, err := Bootstrap(context.Background(), xs, Median, BootstrapOptions{Replicates: 10_000, Level: 0.95, Method: BootstrapBCa, Workers: workers.n}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
