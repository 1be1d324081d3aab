package stats

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// Daily means: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.3, with target 325,
// k 0.3175 and h 4.1959; printed: signals from group 14 on. Sums in decimals by hand.
func TestCUSUMHandbook(t *testing.T) {
	xs := []float64{324.925, 324.675, 324.725, 324.35, 325.35, 325.225, 324.125, 324.525, 325.225, 324.6,
		324.625, 325.15, 328.325, 327.25, 327.825, 328.5, 326.675, 327.775, 326.875, 328.35}
	r, err := CUSUM(xs, CUSUMOptions{Target: 325, Reference: 0.3175, DecisionInterval: 4.1959})
	if err != nil {
		t.Fatal(err)
	}
	high := []float64{0, 0, 0, 0, 0.0325, 0, 0, 0, 0, 0, 0, 0, 3.0075, 4.94, 7.4475, 10.63, 11.9875, 14.445, 16.0025, 19.035}
	low := []float64{0, 0.0075, 0, 0.3325, 0, 0, 0.5575, 0.715, 0.1725, 0.255, 0.3125, 0, 0, 0, 0, 0, 0, 0, 0, 0}
	for i := range xs {
		checkPrintedFigures(t, printedFigure{"high", r.High[i], high[i], 1e-12}, printedFigure{"low", r.Low[i], low[i], 1e-12})
	}
	if r.FirstSignal != 13 || r.ChangeFrom != 12 || !slices.Equal(r.Signals, []int{13, 14, 15, 16, 17, 18, 19}) {
		t.Errorf("signals %v, first %d, from %d", r.Signals, r.FirstSignal, r.ChangeFrom)
	}
}

// By hand: two values of 3 below target, slack 1.
func TestCUSUMBelow(t *testing.T) {
	got, err := CUSUM([]float64{10, 7, 7}, CUSUMOptions{Target: 10, Reference: 1, DecisionInterval: 3})
	want := CUSUMResult{High: []float64{0, 0, 0}, Low: []float64{0, 2, 4}, Signals: []int{2}, FirstSignal: 2, ChangeFrom: 1,
		Options: CUSUMOptions{Target: 10, Reference: 1, DecisionInterval: 3}}
	if diff := cmp.Diff(want, got); err != nil || diff != "" {
		t.Errorf("%v (-want +got)\n%s", err, diff)
	}
	at, err := CUSUM([]float64{10, 7, 7}, CUSUMOptions{Target: 10, Reference: 1, DecisionInterval: 4})
	if err != nil || at.FirstSignal != -1 { // a sum equal to the interval is no signal
		t.Errorf("%+v, %v", at, err)
	}
}

// Data of NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2; exact figures by
// testdata/regression.R.
func TestIndividualsChartHandbook(t *testing.T) {
	c, err := NewIndividualsChart([]float64{49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1}, 3)
	if err != nil {
		t.Fatal(err)
	}
	checkPrintedFigures(t,
		printedFigure{"upper", c.Limits.Hi, 55.80241168, 5e-9},
		printedFigure{"lower", c.Limits.Lo, 45.81758832, 5e-9},
		printedFigure{"of ranges", c.RangeLimit, 6.133821048, 5e-10},
		printedFigure{"level", c.Limits.Level, 0.9973002039367398, 1e-15}, // R: 1 - 2*pnorm(-3)
	)
	if len(c.Outside)+len(c.OutsideRanges) != 0 || len(c.Warnings) != 1 || c.Warnings[0].Code != WarnSmallN {
		t.Errorf("%+v", c)
	}
}

// By hand: 24 alternating values and a jump, ranges 23 times 1 and one of 100.
func TestIndividualsChartJump(t *testing.T) {
	var xs []float64
	for i := range 24 {
		xs = append(xs, float64(i%2))
	}
	c, err := NewIndividualsChart(append(xs, 101), 3)
	if err != nil || !slices.Equal(c.Outside, []int{24}) || !slices.Equal(c.OutsideRanges, []int{23}) || len(c.Warnings) != 0 {
		t.Errorf("%+v, %v", c, err)
	}
}
