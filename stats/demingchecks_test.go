package stats

import (
	"errors"
	"math"
	"testing"
)

func TestDemingRefuses(t *testing.T) {
	good := DemingOptions{VarYOverVarX: 1, Level: 0.95, Method: DemingAngle}
	fit := func(xs, ys []float64, o DemingOptions) error { _, err := FitDeming(xs, ys, o); return err }
	line := func(s PairSummary, ratio float64) error { _, err := DemingLine(s, ratio); return err }
	pairs := func(xs, ys []float64) error { _, err := SummarizePairs(xs, ys); return err }
	ratio := func(xs, ys [][]float64) error { _, err := NewReplicateRatio(xs, ys, 0.95); return err }
	slope := func(f DemingFit, value float64) error { _, _, err := f.SlopeP(value); return err }
	replicated := func(xs, ys [][]float64) error { _, err := FitDemingReplicates(xs, ys, 0.95, DemingAngle); return err }
	three, nan := []float64{1, 2, 4}, math.NaN()
	two := [][]float64{{1, 2}, {3, 5}, {4, 4.5}}
	tests := []struct {
		name      string
		err, want error
	}{
		{"two points", fit(three[:2], three[:2], good), ErrTooFew},
		{"no options", fit(three, three, DemingOptions{}), ErrParameter},
		{"no method", fit(three, three, DemingOptions{VarYOverVarX: 1, Level: 0.95}), ErrParameter},
		{"no level", fit(three, three, DemingOptions{VarYOverVarX: 1, Method: DemingAngle}), ErrLevel},
		{"ratio NaN", line(PairSummary{N: 3, SXX: 1, SYY: 1, SXY: 1}, nan), ErrNotFinite},
		{"negative ratio", line(PairSummary{N: 3, SXX: 1, SYY: 1, SXY: 1}, -1), ErrParameter},
		{"no points", line(PairSummary{}, 1), ErrTooFew},
		{"a negative sum of squares", line(PairSummary{N: 3, SXX: -1}, 1), ErrParameter},
		{"more correlated than can be", line(PairSummary{N: 3, SXX: 1, SYY: 4, SXY: 2.1}, 1), ErrParameter},
		{"a round cloud", line(PairSummary{N: 3, SXX: 1, SYY: 1}, 1), ErrNoSlope},
		{"equal x", fit([]float64{0.1, 0.1, 0.1}, three, good), ErrNoSlope},
		{"lengths", pairs(three, three[1:]), ErrLength},
		{"NaN", pairs([]float64{1, nan}, []float64{1, 2}), ErrNotFinite},
		{"beyond the range", pairs([]float64{1e200, -1e200}, []float64{1, 2}), ErrOverflow},
		{"below the range", pairs([]float64{1e-200, -1e-200}, []float64{1, 2}), ErrUnderflow},
		{"jackknife left without a slope", fit([]float64{0, 0, 1}, []float64{0, 1, 0.5}, DemingOptions{VarYOverVarX: 1, Level: 0.95, Method: DemingJackknife}), ErrNoSlope},
		{"zero fit", slope(DemingFit{}, 1), ErrTooFew},
		{"slope against NaN", slope(DemingFit{N: 3, VarYOverVarX: 1}, nan), ErrNotFinite},
		{"locations missing", ratio(two, two[1:]), ErrLength},
		{"nothing repeated", ratio([][]float64{{1}, {2}, {3}}, two), ErrTooFew},
		{"an empty location", ratio([][]float64{{1}, {}, {3, 4}}, two), ErrTooFew},
		{"repeated without scatter", ratio(two, [][]float64{{1, 1}, {2, 2}, {3, 3}}), ErrNoSpread},
		{"unequal numbers", replicated(two, [][]float64{{1, 2}, {3, 5}, {4}}), ErrLength},
	}
	for _, tt := range tests {
		var input *InputError
		if !errors.Is(tt.err, tt.want) || !errors.As(tt.err, &input) {
			t.Errorf("%s: error %v, want %v", tt.name, tt.err, tt.want)
		}
	}
}

// A slope whose square is beyond float64 has a t as any other.
func TestSlopePOfSteepLine(t *testing.T) {
	f := DemingFit{N: 5, Slope: Coefficient{Value: 1e300, StdErr: math.MaxFloat64}, VarYOverVarX: 2, Method: DemingAngle}
	if got, p, err := f.SlopeP(1); math.IsNaN(got) || !(p >= 0 && p <= 1) || err != nil {
		t.Errorf("t %v, p %v, error %v", got, p, err)
	}
}

func BenchmarkDemingLine(b *testing.B) {
	b.ReportAllocs()
	for i := 0; i < b.N; i++ {
		s, err := SummarizePairs(tenX, tenY)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := DemingLine(s, 0.25); err != nil {
			b.Fatal(err)
		}
	}
}

func TestDemingLineAllocatesNothing(t *testing.T) {
	var errs [2]error
	if allocs := testing.AllocsPerRun(10, func() {
		var s PairSummary
		s, errs[0] = SummarizePairs(tenX, tenY)
		_, errs[1] = DemingLine(s, 0.25)
	}); allocs != 0 || errors.Join(errs[:]...) != nil {
		t.Errorf("%v allocations, %v", allocs, errs)
	}
}
