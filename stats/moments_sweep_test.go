package stats

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// takers are the functions of one sample: each returns its result as printed, in
// which "NaN" and "Inf" show, and its error.
func takers() map[string]func(xs []float64) (string, error) {
	show := func(v any, err error) (string, error) { return fmt.Sprintf("%+v", v), err }
	position := func(xs []float64) []float64 {
		at := make([]float64, len(xs))
		for i := range at {
			at[i] = float64(i)
		}
		return at
	}
	percentile := BootstrapOptions{Replicates: 39, Level: 0.95, Method: BootstrapPercentile}
	bca := BootstrapOptions{Replicates: 39, Level: 0.95, Method: BootstrapBCa}
	return map[string]func(xs []float64) (string, error){
		"Describe":  func(xs []float64) (string, error) { return show(Describe(xs)) },
		"Summarize": func(xs []float64) (string, error) { return show(Summarize(xs)) },
		"Sum":       func(xs []float64) (string, error) { return show(Sum(xs)) },
		"Mean":      func(xs []float64) (string, error) { return show(Mean(xs)) },
		"Median":    func(xs []float64) (string, error) { return show(Median(xs)) },
		"MAD":       func(xs []float64) (string, error) { return show(MAD(xs)) },
		"MADInto":   func(xs []float64) (string, error) { return show(MADInto(make([]float64, len(xs)), xs)) },
		"Quantile":  func(xs []float64) (string, error) { return show(Quantile(xs, 0.3, Quantile8)) },
		"QuantileInto": func(xs []float64) (string, error) {
			return show(QuantileInto(make([]float64, len(xs)), xs, 0.9, Quantile4))
		},
		"LagOne":                 func(xs []float64) (string, error) { return show(LagOne(xs)) },
		"OneWay, halves":         func(xs []float64) (string, error) { return show(OneWay([][]float64{xs[:len(xs)/2], xs[len(xs)/2:]})) },
		"OneWay, one group":      func(xs []float64) (string, error) { return show(OneWay([][]float64{xs})) },
		"FitLine, as x":          func(xs []float64) (string, error) { return show(FitLine(xs, position(xs))) },
		"FitLine, as y":          func(xs []float64) (string, error) { return show(FitLine(position(xs), xs)) },
		"FitLineThroughOrigin":   func(xs []float64) (string, error) { return show(FitLineThroughOrigin(xs, position(xs))) },
		"FitLinear":              func(xs []float64) (string, error) { return show(FitLinear([][]float64{position(xs)}, xs)) },
		"FitLinear, twice":       func(xs []float64) (string, error) { return show(FitLinear([][]float64{xs, xs}, xs)) },
		"FitLinearThroughOrigin": func(xs []float64) (string, error) { return show(FitLinearThroughOrigin([][]float64{xs}, xs)) },
		"FitPolynomial":          func(xs []float64) (string, error) { return show(FitPolynomial(xs, position(xs), 2)) },
		"Bootstrap, percentile": func(xs []float64) (string, error) {
			return show(Bootstrap(context.Background(), xs, Median, percentile))
		},
		"Bootstrap, BCa": func(xs []float64) (string, error) { return show(Bootstrap(context.Background(), xs, Mean, bca)) },
		"Accumulator": func(xs []float64) (string, error) {
			var a Accumulator
			a.AddSlice(xs)
			return show(a.Description())
		},
	}
}

var awkward = map[string][]float64{
	"none":            nil,
	"one":             {94.1},
	"two":             {94.1, 93.2},
	"two equal":       {94.1, 94.1},
	"five":            {94.1, 93.2, 95.0, 92.8, 94.4},
	"five equal":      {0.1, 0.1, 0.1, 0.1, 0.1},
	"zeros":           {0, 0, 0, 0},
	"signed zeros":    {0, math.Copysign(0, -1), 0, math.Copysign(0, -1)},
	"NaN":             {1, 2, 3, math.NaN(), 4},
	"NaN first":       {math.NaN(), 1, 2, 3, 4},
	"+Inf":            {1, 2, 3, 4, math.Inf(1)},
	"-Inf":            {math.Inf(-1), 2, 3, 4},
	"both infinities": {math.Inf(1), math.Inf(-1), 3, 4},
	"huge":            {math.MaxFloat64, -math.MaxFloat64, math.MaxFloat64, 1},
	"huge and equal":  {math.MaxFloat64, math.MaxFloat64, math.MaxFloat64, math.MaxFloat64},
	"tiny":            {5e-324, 1e-323, 0, 5e-324},
	"one ulp apart":   {94.1, 94.1, 94.1, math.Nextafter(94.1, 95)},
}

// TestSweep wants no panic, no changed input, no NaN or infinity without an
// error, and the right reason for values that are not finite.
func TestSweep(t *testing.T) {
	for sample, values := range awkward {
		finite := !slices.ContainsFunc(values, func(x float64) bool { return !isFinite(x) })
		for name, f := range takers() {
			xs := slices.Clone(values)
			printed, err := f(xs)
			if !cmp.Equal(values, xs, cmpopts.EquateNaNs()) {
				t.Errorf("%s, %s: input changed to %v", name, sample, xs)
			}
			checkOutcome(t, name+", "+sample, finite, printed, err)
		}
	}
}

func checkOutcome(t *testing.T, name string, finite bool, printed string, err error) {
	t.Helper()
	var input *InputError
	switch {
	case err != nil && !errors.As(err, &input):
		t.Errorf("%s: %v is no *InputError", name, err)
	case !finite && !errors.Is(err, ErrNotFinite) && !errors.Is(err, ErrTooFew):
		t.Errorf("%s: error %v for values that are not finite", name, err)
	case err == nil && containsNotFinite(printed):
		t.Errorf("%s: %s without an error", name, printed)
	}
}

func containsNotFinite(printed string) bool {
	for _, word := range []string{"NaN", "Inf"} {
		for i := range printed {
			if len(printed)-i >= 3 && printed[i:i+3] == word {
				return true
			}
		}
	}
	return false
}

// TestOrderDoesNotMatter shuffles samples: exact results must stay the same to
// the bit, the others to their stated accuracy.
func TestOrderDoesNotMatter(t *testing.T) {
	r := rand.New(rand.NewPCG(25, 26))
	for range 100 {
		xs := percentCompaction(2 + r.IntN(600))
		sum, _ := Sum(xs)
		d, _ := Describe(xs)
		median, _ := Median(xs)
		mad, _ := MAD(xs)
		r.Shuffle(len(xs), func(i, j int) { xs[i], xs[j] = xs[j], xs[i] })
		if got, err := Sum(xs); err != nil || got != sum {
			t.Fatalf("sum %v, %v, before shuffling %v", got, err, sum)
		}
		if got, err := Median(xs); err != nil || got != median {
			t.Fatalf("median %v, %v, before shuffling %v", got, err, median)
		}
		if got, err := MAD(xs); err != nil || got != mad {
			t.Fatalf("MAD %v, %v, before shuffling %v", got, err, mad)
		}
		got, err := Describe(xs)
		if diff := cmp.Diff(d, got, cmpopts.EquateApprox(4e-15, 0)); err != nil || diff != "" {
			t.Fatalf("%v (-before +after shuffling)\n%s", err, diff)
		}
	}
}

// TestShiftAndScale uses shifts and factors that float64 applies exactly: the
// spread of integers must not feel them at all.
func TestShiftAndScale(t *testing.T) {
	r := rand.New(rand.NewPCG(27, 28))
	for range 200 {
		xs := make([]float64, 2+r.IntN(700))
		moved, scaled := slices.Clone(xs), slices.Clone(xs)
		for i := range xs {
			xs[i] = float64(r.IntN(1000))
			moved[i], scaled[i] = xs[i]+0x1p40, xs[i]*0x1p-20
		}
		d, err := Describe(xs)
		if err != nil {
			t.Fatal(err)
		}
		want := Description{Summary{d.N, d.Mean * 0x1p-20, d.StdDev * 0x1p-20}, d.Min * 0x1p-20, d.Max * 0x1p-20}
		if got, err := Describe(scaled); err != nil || got != want {
			t.Fatalf("scaled %+v, %v, want %+v", got, err, want)
		}
		want = Description{Summary{d.N, d.Mean + 0x1p40, d.StdDev}, d.Min + 0x1p40, d.Max + 0x1p40}
		got, err := Describe(moved)
		if err != nil || math.Abs(got.Mean-want.Mean) > 0x1p-12 || relative(got.StdDev, want.StdDev) > 2e-15 || got.Min != want.Min || got.Max != want.Max {
			t.Fatalf("moved %+v, %v, want %+v", got, err, want)
		}
	}
}

func TestHotPathsAllocateNothing(t *testing.T) {
	xs, ys := percentCompaction(40), percentCompaction(80)[40:]
	var errs [6]error
	if allocs := testing.AllocsPerRun(10, func() {
		var a, b Accumulator
		a.AddSlice(xs)
		b.AddSlice(ys)
		a.Merge(&b)
		_, errs[0] = a.Description()
		_, errs[1] = Sum(xs)
		_, errs[2] = Mean(xs)
		_, errs[3] = LagOne(xs)
		_, errs[4] = FitLine(xs, ys)
		_, errs[5] = Summarize(xs)
	}); allocs != 0 {
		t.Errorf("%v allocations", allocs)
	}
	if err := errors.Join(errs[:]...); err != nil {
		t.Error(err)
	}
}
