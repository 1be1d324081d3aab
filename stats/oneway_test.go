package stats

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

func TestOneWayByHand(t *testing.T) {
	tests := []struct {
		name   string
		groups [][]float64
		want   OneWayTable
	}{
		{"sizes 2, 1 and 3; means 2, 6, 5 and 25/6 of all; between 2·(13/6)²+(11/6)²+3·(5/6)² = 89/6, within 2+0+2",
			[][]float64{{1, 3}, {6}, {4, 5, 6}},
			OneWayTable{
				Groups: []Summary{{2, 2, math.Sqrt2}, {1, 6, 0}, {3, 5, 1}}, N: 6, Mean: 25.0 / 6,
				Between: VarianceSource{89.0 / 6, 2, 89.0 / 12}, Within: VarianceSource{4, 3, 4.0 / 3},
				F: 89.0 / 16, P: 0.097881180230557419 /* R: pf(89/16, 2, 3, lower=FALSE) */, RSquared: 89.0 / 113, ResidualSD: math.Sqrt(4.0 / 3)}},
		{"groups without spread of their own: between 2·0.25·2",
			[][]float64{{1, 1}, {2, 2}},
			OneWayTable{
				Groups: []Summary{{2, 1, 0}, {2, 2, 0}}, N: 4, Mean: 1.5,
				Between: VarianceSource{1, 1, 1}, Within: VarianceSource{0, 2, 0},
				F: math.MaxFloat64, RSquared: 1,
				Warnings: []Warning{{Code: WarnNoResidual, Text: "the groups have no spread of their own, so F has no finite value"}}}},
		{"all equal",
			[][]float64{{0.1}, {0.1, 0.1}},
			OneWayTable{
				Groups: []Summary{{1, 0.1, 0}, {2, 0.1, 0}}, N: 3, Mean: 0.1,
				Between: VarianceSource{0, 1, 0}, Within: VarianceSource{0, 1, 0},
				P:        1,
				Warnings: []Warning{{Code: WarnConstant, Text: "all 3 values are equal, so no spread can be told apart"}}}},
	}
	for _, tt := range tests {
		got, err := OneWay(tt.groups)
		if diff := cmp.Diff(tt.want, got, cmpopts.EquateApprox(1e-15, 0)); err != nil || diff != "" {
			t.Errorf("%s: %v (-want +got)\n%s", tt.name, err, diff)
		}
	}
}

func TestOneWayRefuses(t *testing.T) {
	tests := []struct {
		name   string
		groups [][]float64
		want   error
	}{
		{"no groups", nil, ErrTooFew},
		{"one group", [][]float64{{1, 2, 3}}, ErrTooFew},
		{"an empty group", [][]float64{{1, 2, 3}, {}}, ErrTooFew},
		{"no group with two values", [][]float64{{1}, {2}, {3}}, ErrTooFew},
		{"NaN", [][]float64{{1, 2}, {3, math.NaN()}}, ErrNotFinite},
		{"squares beyond the range", [][]float64{{1e200, 2e200}, {3e200}}, ErrOverflow},
		{"one difference alone beyond the range", [][]float64{{math.MaxFloat64, -math.MaxFloat64}, {0}}, ErrOverflow},
		{"squares below the range", [][]float64{{1e-200, 2e-200}, {3e-200}}, ErrUnderflow},
	}
	for _, tt := range tests {
		if got, err := OneWay(tt.groups); !errors.Is(err, tt.want) || got.N != 0 {
			t.Errorf("%s: %+v, error %v, want %v", tt.name, got, err, tt.want)
		}
	}
}

// TestOneWayIgnoresShift moves all values by a power of two large enough to round
// them to a coarser grid first, so that both tables see the same differences.
func TestOneWayIgnoresShift(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	for range 200 {
		groups, shifted := make([][]float64, 2+r.IntN(4)), [][]float64(nil)
		for i := range groups {
			var moved []float64
			for range 2 + r.IntN(5) {
				x := math.Round(64 * r.NormFloat64())
				groups[i] = append(groups[i], x)
				moved = append(moved, x+0x1p50)
			}
			shifted = append(shifted, moved)
		}
		a, errA := OneWay(groups)
		b, errB := OneWay(shifted)
		if errA != nil || errB != nil || a.Between != b.Between || a.Within != b.Within || a.F != b.F {
			t.Fatalf("%v: %+v, %v; shifted %+v, %v", groups, a, errA, b, errB)
		}
	}
}
