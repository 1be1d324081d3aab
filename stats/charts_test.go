package stats

import (
	"errors"
	"math"
	"math/rand/v2"
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

// Tenths give the signals of whole numbers, which are exact: sums level with 0 or with the
// decision interval are not above it.
func TestCUSUMOfTenthsIsThatOfWholeNumbers(t *testing.T) {
	r := rand.New(rand.NewPCG(61, 62))
	for range 5000 {
		whole := CUSUMOptions{Target: float64(900 + r.IntN(60)), Reference: float64(1 + r.IntN(9)), DecisionInterval: float64(10 + r.IntN(30))}
		tenths := CUSUMOptions{Target: whole.Target / 10, Reference: whole.Reference / 10, DecisionInterval: whole.DecisionInterval / 10}
		xs, ys := make([]float64, 12), make([]float64, 12)
		for i := range xs {
			xs[i] = whole.Target + float64(r.IntN(25)-10)
			ys[i] = xs[i] / 10
		}
		want, err1 := CUSUM(xs, whole)
		got, err2 := CUSUM(ys, tenths)
		if err1 != nil || err2 != nil || !slices.Equal(got.Signals, want.Signals) || got.ChangeFrom != want.ChangeFrom {
			t.Fatalf("%v, %+v: signals %v from %d, want %v from %d; %v, %v", ys, tenths, got.Signals, got.ChangeFrom, want.Signals, want.ChangeFrom, err1, err2)
		}
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

// Diameters of piston rings, mm, 25 subgroups of 5: D. C. Montgomery, Introduction to
// Statistical Quality Control, as data set pistonrings of the R package qcc (first 25
// samples).
var pistonRings = [][]float64{
	{74.03, 74.002, 74.019, 73.992, 74.008},
	{73.995, 73.992, 74.001, 74.011, 74.004},
	{73.988, 74.024, 74.021, 74.005, 74.002},
	{74.002, 73.996, 73.993, 74.015, 74.009},
	{73.992, 74.007, 74.015, 73.989, 74.014},
	{74.009, 73.994, 73.997, 73.985, 73.993},
	{73.995, 74.006, 73.994, 74, 74.005},
	{73.985, 74.003, 73.993, 74.015, 73.988},
	{74.008, 73.995, 74.009, 74.005, 74.004},
	{73.998, 74, 73.99, 74.007, 73.995},
	{73.994, 73.998, 73.994, 73.995, 73.99},
	{74.004, 74, 74.007, 74, 73.996},
	{73.983, 74.002, 73.998, 73.997, 74.012},
	{74.006, 73.967, 73.994, 74, 73.984},
	{74.012, 74.014, 73.998, 73.999, 74.007},
	{74, 73.984, 74.005, 73.998, 73.996},
	{73.994, 74.012, 73.986, 74.005, 74.007},
	{74.006, 74.01, 74.018, 74.003, 74},
	{73.984, 74.002, 74.003, 74.005, 73.997},
	{74, 74.01, 74.013, 74.02, 74.003},
	{73.988, 74.001, 74.009, 74.005, 73.996},
	{74.004, 73.999, 73.99, 74.006, 74.009},
	{74.01, 73.989, 73.99, 74.009, 74.014},
	{74.015, 74.008, 73.993, 74, 74.01},
	{73.982, 73.984, 73.995, 74.017, 74.013},
}

// Levels by testdata/subgroups.R; means and limits stand in testdata/charts.csv.
func TestSubgroupChartPistonRings(t *testing.T) {
	r := must[SubgroupChart](t)(NewSubgroupChart(pistonRings, SpreadRange, 3))
	s := must[SubgroupChart](t)(NewSubgroupChart(pistonRings, SpreadStdDev, 3))
	checkFigures(t, 1e-11, figure{"level of s", s.SpreadLimits.Level, 0.996100885522}, figure{"level of means", r.Limits.Level, 0.9973002039367398})
	checkFigures(t, 1e-9, figure{"level of ranges", r.SpreadLimits.Level, 0.99539695157})
	for _, c := range []SubgroupChart{r, s} {
		if c.Outside != nil || c.OutsideSpreads != nil || c.SpreadLimits.Lo != 0 || len(c.Warnings) != 0 {
			t.Errorf("%+v", c)
		}
	}
}

// By hand: three subgroups of two, ranges 1, mean 2; a fourth far off and a fifth wide.
func TestSubgroupChartMarks(t *testing.T) {
	rows := [][]float64{{1.5, 2.5}, {1.5, 2.5}, {2.5, 1.5}, {1.5, 2.5}, {1.5, 2.5}, {1.5, 2.5}, {1.5, 2.5}, {21.5, 22.5}, {-5, 9}}
	for _, spread := range []SpreadMeasure{SpreadRange, SpreadStdDev} {
		c, err := NewSubgroupChart(rows, spread, 3)
		if err != nil || !slices.Equal(c.Outside, []int{7}) || !slices.Equal(c.OutsideSpreads, []int{8}) || c.Warnings[0].Code != WarnSmallN {
			t.Errorf("%v: %+v, %v", spread, c, err)
		}
		if got := c.Sigma / c.MeanSigma; math.Abs(got-math.Sqrt2) > 1e-15 {
			t.Errorf("%v: sigma of means %v", spread, got)
		}
	}
	flat, err := NewSubgroupChart([][]float64{{1, 1}, {2, 2}}, SpreadRange, 3)
	if err != nil || flat.Limits.Lo != 1.5 || !slices.Equal(flat.Outside, []int{0, 1}) || flat.Warnings[0].Code != WarnConstant {
		t.Errorf("%+v, %v", flat, err)
	}
}

func TestSubgroupChartRefuses(t *testing.T) {
	good := [][]float64{{1, 2}, {2, 4}}
	for _, tt := range []struct {
		name     string
		rows     [][]float64
		spread   SpreadMeasure
		multiple float64
		want     error
	}{
		{"no spread", good, 0, 3, ErrParameter}, {"one subgroup", good[:1], SpreadRange, 3, ErrTooFew}, {"single values", [][]float64{{1}, {2}}, SpreadRange, 3, ErrTooFew},
		{"unequal", [][]float64{{1, 2}, {1, 2, 3}}, SpreadRange, 3, ErrLength}, {"NaN", [][]float64{{1, 2}, {1, math.NaN()}}, SpreadRange, 3, ErrNotFinite},
		{"multiple", good, SpreadStdDev, 0, ErrParameter}, {"far", [][]float64{{-1.7e308, 1.7e308}, {1, 2}}, SpreadRange, 3, ErrOverflow},
	} {
		var input *InputError
		if c, err := NewSubgroupChart(tt.rows, tt.spread, tt.multiple); !errors.Is(err, tt.want) || !errors.As(err, &input) || c.Size != 0 {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}

// By hand: λ 1/2, target 0, σ 1, L 2. Averages 1, 1.5, 1.75; limits 2·√(1/3·(1-1/4^i)):
// 1, √(5/4), √(21/16). A value on its limit is no signal.
func TestEWMALimits(t *testing.T) {
	r, err := EWMA([]float64{2, 2, 2}, EWMAOptions{Sigma: 1, Weight: 0.5, Multiple: 2})
	if err != nil || r.FirstSignal != 1 || !slices.Equal(r.Signals, []int{1, 2}) || !slices.Equal(r.Averages, []float64{1, 1.5, 1.75}) {
		t.Fatalf("%+v, %v", r, err)
	}
	for i, want := range []float64{1, math.Sqrt(1.25), math.Sqrt(21.0 / 16)} {
		checkFigures(t, 1e-15, figure{"upper", r.Limits[i].Hi, want}, figure{"lower", r.Limits[i].Lo, -want})
	}
	single, err := EWMA([]float64{1, 4}, EWMAOptions{Sigma: 1, Weight: 1, Multiple: 3})
	if err != nil || single.Averages[1] != 4 || single.Limits[1].Hi != 3 || single.FirstSignal != 1 {
		t.Errorf("single values: %+v, %v", single, err)
	}
	for _, tt := range []struct {
		xs   []float64
		o    EWMAOptions
		want error
	}{
		{nil, EWMAOptions{Sigma: 1, Weight: 1, Multiple: 3}, ErrTooFew}, {[]float64{math.NaN()}, EWMAOptions{Sigma: 1, Weight: 1, Multiple: 3}, ErrNotFinite},
		{[]float64{1}, EWMAOptions{Weight: 1, Multiple: 3}, ErrParameter}, {[]float64{1}, EWMAOptions{Sigma: 1, Multiple: 3}, ErrParameter},
		{[]float64{1}, EWMAOptions{Sigma: 1, Weight: 1.1, Multiple: 3}, ErrParameter}, {[]float64{1}, EWMAOptions{Sigma: 1, Weight: 1}, ErrParameter},
		{[]float64{1}, EWMAOptions{Target: math.Inf(1), Sigma: 1, Weight: 1, Multiple: 3}, ErrNotFinite}, {[]float64{1}, EWMAOptions{Sigma: 1e308, Weight: 1, Multiple: 3}, ErrOverflow},
	} {
		if r, err := EWMA(tt.xs, tt.o); !errors.Is(err, tt.want) || r.Averages != nil {
			t.Errorf("%+v: %v, want %v", tt.o, err, tt.want)
		}
	}
}
