package lot_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
)

// Many lots at once are the same as one after the other, to the last bit.
func TestEstimateLotsIsEstimateWithin(t *testing.T) {
	rng := rand.New(rand.NewPCG(25, 26))
	for _, n := range []int{3, 4, 5, 7, 30, 250} {
		for _, l := range []lot.Limits{lot.AtLeast(92), lot.AtMost(94), lot.Between(92, 94)} {
			xs := make([]float64, 100*n)
			for i := range xs {
				xs[i] = float64(900+rng.IntN(60)) / 10
				if i/n%7 == 0 {
					xs[i] = 92 // a lot without spread now and then
				}
			}
			dst := make([]lot.Within, 100)
			if err := lot.EstimateLots(dst, xs, n, l); err != nil {
				t.Fatal(err)
			}
			for i, got := range dst {
				want, err := lot.EstimateWithin(xs[i*n:(i+1)*n], l)
				if err != nil {
					t.Fatal(err)
				}
				if diff := cmp.Diff(want, got); diff != "" {
					t.Fatalf("n = %d, %v, lot %d: %s", n, l, i, diff)
				}
			}
		}
	}
}

func TestEstimateLotsRefuses(t *testing.T) {
	good := func() []float64 {
		xs := make([]float64, 200)
		for i := range xs {
			xs[i] = 93 + float64(i%5)/10
		}
		return xs
	}
	for _, tt := range []struct {
		name string
		f    func(xs []float64)
		n    int
		l    lot.Limits
		at   int
		want error
	}{
		{"a NaN in lot 37", func(xs []float64) { xs[5*37] = math.NaN() }, 5, lot.AtLeast(92), 37, stats.ErrNotFinite},
		{"fractions in lot 39", func(xs []float64) { copy(xs[5*39:], []float64{0.93, 0.94, 0.93, 0.92, 0.91}) }, 5, lot.AtLeast(92), 39, lot.ErrScale},
		{"lots of two", nil, 2, lot.AtLeast(92), -1, stats.ErrTooFew},
		{"lots of seven", nil, 7, lot.AtLeast(92), -1, stats.ErrLength},
		{"no limit", nil, 5, lot.Limits{}, -1, lot.ErrNoLimit},
	} {
		xs := good()
		if tt.f != nil {
			tt.f(xs)
		}
		err := lot.EstimateLots(make([]lot.Within, 40), xs, tt.n, tt.l)
		var bad *stats.InputError
		if !errors.Is(err, tt.want) || !errors.As(err, &bad) || bad.Index != tt.at {
			t.Errorf("%s: %v, want %v at %d", tt.name, err, tt.want, tt.at)
		}
	}
	if err := lot.EstimateLots(nil, nil, 5, lot.AtLeast(92)); err != nil {
		t.Errorf("no lots: %v", err)
	}
}

func TestEstimateLotsDoesNotAllocate(t *testing.T) {
	xs, dst, l := lotsOfFive(100), make([]lot.Within, 100), lot.Between(2.8, 5.2)
	if n := testing.AllocsPerRun(20, func() { _ = lot.EstimateLots(dst, xs, 5, l) }); n != 0 {
		t.Errorf("EstimateLots allocates %v times", n)
	}
}

func ExampleEstimateLots() {
	// Percent compaction of two lots of four sublots each.
	lots := make([]lot.Within, 2)
	err := lot.EstimateLots(lots, []float64{93.4, 92.8, 94.1, 92.2, 93.2, 92.1, 94.3, 91.8}, 4, lot.AtLeast(92.0))
	fmt.Printf("%.2f %.2f %v\n", lots[0].PWL, lots[1].PWL, err)
	// Output: 96.07 74.88 <nil>
}

func ExampleSchedule_FactorAt() {
	s, err := lot.NewSchedule(lot.Segment{Pay: lot.Formula(d("0.55"), d("0.005"))})
	if err != nil {
		fmt.Println(err)
		return
	}
	factor, reject, err := s.FactorAt(89.5)
	fmt.Printf("%.4f %v %v\n", factor, reject, err)
	// Output: 0.9975 false <nil>
}
