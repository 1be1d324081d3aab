package lot_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"github.com/densilot/densilot/lot"
)

// Swapping the sides mirrors every sign; a shift of both changes nothing; another
// unit scales what has a unit and leaves t, p and power. Inputs stay as they were.
func TestVerifyLaws(t *testing.T) {
	rng := rand.New(rand.NewPCG(71, 72))
	for range 20 {
		x, y := drawn(rng, 2+rng.IntN(6), 0.4), drawn(rng, 2+rng.IntN(6), 0.4+rng.Float64())
		keptX, keptY := slices.Clone(x), slices.Clone(y)
		v, err := lot.Verify(x, y, independent(0.5))
		mirrored, err2 := lot.Verify(y, x, independent(0.5))
		shifted, err3 := lot.Verify(mapped(x, 1, 16), mapped(y, 1, 16), independent(0.5))
		scaled, err4 := lot.Verify(mapped(x, 16.01846337, 0), mapped(y, 16.01846337, 0), independent(0.5*16.01846337))
		if err := errors.Join(err, err2, err3, err4); err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(x, keptX) || !slices.Equal(y, keptY) {
			t.Fatal("inputs changed")
		}
		for _, other := range []struct {
			name             string
			v                lot.Verification
			difference, sign float64
		}{{"mirrored", mirrored, -v.Means.Difference, -1}, {"shifted", shifted, v.Means.Difference, 1}, {"scaled", scaled, 16.01846337 * v.Means.Difference, 1}} {
			got := []float64{other.v.T.Value, other.v.T.P, other.v.Variances.F.P, other.v.Detection.Power, other.v.Means.Difference}
			want := []float64{other.sign * v.T.Value, v.T.P, v.Variances.F.P, v.Detection.Power, other.difference}
			if diff := cmp.Diff(want, got, cmpopts.EquateApprox(1e-9, 1e-10)); diff != "" || other.v.Finding != v.Finding {
				t.Errorf("%s, %v and %v: %s", other.name, x, y, diff)
			}
		}
	}
}

func drawn(rng *rand.Rand, n int, stdDev float64) []float64 {
	xs := make([]float64, n)
	for i := range xs {
		xs[i] = math.Round(10*(93+stdDev*rng.NormFloat64()))/10 + 0.001*float64(i)
	}
	return xs
}

func mapped(xs []float64, factor, shift float64) []float64 {
	ys := make([]float64, len(xs))
	for i, x := range xs {
		ys[i] = factor*x + shift
	}
	return ys
}
