package lot_test

import (
	"math"
	"testing"

	"github.com/densilot/densilot/lot"
)

// A cap within a row is a bend like the start of a row: the same schedule written
// with a row of its own for the capped part pays the same.
func TestExpectedPayOfACapWithinARow(t *testing.T) {
	most := d("1.02")
	capped, err := lot.NewSchedule(lot.Segment{From: d("0"), Pay: lot.Formula(d("0.55"), d("0.005")), Max: &most})
	if err != nil {
		t.Fatal(err)
	}
	inRows, err := lot.NewSchedule(lot.Segment{From: d("0"), Pay: lot.Formula(d("0.55"), d("0.005"))}, lot.Segment{From: d("94"), Pay: lot.Step(most)})
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range []int{3, 4, 5, 10} {
		for _, pwl := range []float64{60, 80, 90, 95, 99} {
			e, err := lot.NewEstimator(n, lot.QualityOneLimit(pwl))
			if err != nil {
				t.Fatal(err)
			}
			a, errA := lot.ExpectedPay(e, capped, lot.Retesting{})
			b, errB := lot.ExpectedPay(e, inRows, lot.Retesting{})
			if errA != nil || errB != nil || math.Abs(a.Factor-b.Factor) > 1e-9 {
				t.Errorf("n = %d, PWL %v: %v, %v; in rows %v, %v", n, pwl, a.Factor, errA, b.Factor, errB)
			}
		}
	}
}
