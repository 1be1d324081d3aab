package bias_test

import (
	"strconv"
	"testing"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/units"
)

// Laws of the offset on recorded tenths: it is exact, so that gauge and cores
// exchanged change its sign, a step added to every core is added to it, and the
// order of the locations does not matter.
func FuzzEstimateOffset(f *testing.F) {
	f.Add([]byte{10, 20, 30, 42, 50, 61}, int8(15))
	f.Add([]byte{0, 0, 0, 0, 0, 0}, int8(0))
	f.Add([]byte{255, 0, 0, 255, 128, 127, 1, 2}, int8(-128))
	f.Fuzz(func(t *testing.T, tenths []byte, step int8) {
		if len(tenths) < 6 || len(tenths) > 60 {
			return
		}
		n := len(tenths) / 2
		estimate := func(a, b []byte, shift int8, from, by int) bias.OffsetEstimate {
			var gauge []bias.Location
			var cores []bias.Core
			at := func(tenth int) units.Density { return units.LbPerFt3.Of(float64(1300+tenth) / 10) }
			for k := range n {
				i := from + by*k
				id := strconv.Itoa(i)
				gauge = append(gauge, bias.Location{ID: id, Readings: []density.Reading{density.Uncorrected(at(int(a[i])))}})
				cores = append(cores, bias.Core{ID: id, Densities: []density.InPlace{density.Core(at(int(b[i]) + int(shift)))}})
			}
			e, err := bias.EstimateOffset(gauge, cores, bias.Options{Level: 0.95, Rounding: units.Rounding{Method: units.HalfEven, Places: 12},
				Scope: density.Scope{Gauge: "G", Mix: "M", Lift: "L"}, Source: "fuzz"})
			if err != nil {
				t.Fatal(err)
			}
			return e
		}
		first, second := tenths[:n], tenths[n:2*n]
		plain, exchanged := estimate(first, second, 0, 0, 1), estimate(second, first, 0, 0, 1)
		moved, reversed := estimate(first, second, step, 0, 1), estimate(first, second, 0, n-1, -1)
		if sum := plain.Offset.Add(exchanged.Offset); sum.In(units.LbPerFt3) != 0 {
			t.Errorf("%v, exchanged %v", plain.Offset, exchanged.Offset)
		}
		if got := moved.Offset.Exact(units.LbPerFt3); got.Sub(got, plain.Offset.Exact(units.LbPerFt3)).Cmp(units.LbPerFt3.Difference(float64(step)/10).Exact(units.LbPerFt3)) != 0 {
			t.Errorf("%v, cores %v tenths higher %v", plain.Offset, step, moved.Offset)
		}
		if !reversed.Offset.Equal(plain.Offset) {
			t.Errorf("%v, in the other order %v", plain.Offset, reversed.Offset)
		}
		if plain.CI.Lo > plain.Mean || plain.CI.Hi < plain.Mean || plain.Prediction.Lo > plain.CI.Lo || plain.Prediction.Hi < plain.CI.Hi {
			t.Errorf("mean %v, interval %v, prediction %v", plain.Mean, plain.CI, plain.Prediction)
		}
	})
}
