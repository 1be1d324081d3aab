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

// Printed (from memory): centre 74.001, mean range 0.023, limits 74.014 and 73.988. More
// digits: R 4.2.2, limits with d₂ = 2.32592895, and 0.04811464 for the ranges with D4 =
// 2.114; exact constants give 0.0481260. Of s: testdata/subgroups.R.
func TestSubgroupChartPistonRings(t *testing.T) {
	c, err := NewSubgroupChart(pistonRings, SpreadRange, 3)
	if err != nil {
		t.Fatal(err)
	}
	checkPrintedFigures(t,
		printedFigure{"centre", c.Mean, 74.001, 5e-4}, printedFigure{"mean range", c.MeanSpread, 0.023, 5e-4},
		printedFigure{"upper", c.Limits.Hi, 74.014, 5e-4}, printedFigure{"lower", c.Limits.Lo, 73.988, 5e-4},
		printedFigure{"centre", c.Mean, 74.001176, 5e-10}, printedFigure{"mean range", c.MeanSpread, 0.02276, 5e-10},
		printedFigure{"upper", c.Limits.Hi, 74.01430441, 5e-9}, printedFigure{"lower", c.Limits.Lo, 73.98804759, 5e-9},
		printedFigure{"of ranges with D4 = 2.114", 2.114 * c.MeanSpread, 0.04811464, 5e-9},
	)
	s, err := NewSubgroupChart(pistonRings, SpreadStdDev, 3)
	if err != nil {
		t.Fatal(err)
	}
	checkFigures(t, 1e-11,
		figure{"mean s", s.MeanSpread, 0.00924003660229}, figure{"lower", s.Limits.Lo, 73.9879877023}, figure{"upper", s.Limits.Hi, 74.0143642977},
		figure{"of s", s.SpreadLimits.Hi, 0.0193024167682}, figure{"level of s", s.SpreadLimits.Level, 0.996100885522})
	checkFigures(t, 1e-9, figure{"of ranges", c.SpreadLimits.Hi, 0.0481260005445}, figure{"level of ranges", c.SpreadLimits.Level, 0.99539695157})
	if c.Outside != nil || c.OutsideSpreads != nil || c.SpreadLimits.Lo != 0 || len(c.Warnings) != 0 {
		t.Errorf("%+v", c)
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

// NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.4, from memory: target 50, σ
// 2.0539, λ 0.3, L 3; printed averages, and limits 52.5884 and 47.4115 of the long run
// from the rounded factor 0.4201 with σ = 2.0539. By hand: 3·2.0539·√(0.3/1.7) = 2.58845.
func TestEWMAHandbook(t *testing.T) {
	xs := []float64{52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1}
	printed := []float64{50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99}
	r, err := EWMA(xs, EWMAOptions{Target: 50, Sigma: 2.0539, Weight: 0.3, Multiple: 3})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range printed {
		checkPrintedFigures(t, printedFigure{"average", r.Averages[i], want, 5e-3 + 1e-9})
	}
	last := r.Limits[len(r.Limits)-1]
	checkPrintedFigures(t, printedFigure{"upper", last.Hi, 52.5884, 1e-4}, printedFigure{"lower", last.Lo, 47.4115, 1e-4})
	if r.Signals != nil || r.FirstSignal != -1 {
		t.Errorf("signals %v", r.Signals)
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

// The average number of values to a false signal, from normal values in control: 500
// with λ 0.2 and L 2.962 and limits of the long run, a little less with those that vary.
func TestEWMARunLength(t *testing.T) {
	trials := 400
	if *long {
		trials = 20000
	}
	rng := rand.New(rand.NewPCG(83, 84))
	total := 0.0
	o := EWMAOptions{Sigma: 1, Weight: 0.2, Multiple: 2.962}
	for range trials {
		z, n := 0.0, 0
		for n == 0 || math.Abs(z) <= o.Multiple*o.stdDev(n) {
			z = 0.8*z + 0.2*rng.NormFloat64()
			n++
		}
		total += float64(n)
	}
	mean := total / float64(trials)
	t.Logf("average run %.0f", mean)
	if math.Abs(mean-490) > 10+4*500/math.Sqrt(float64(trials)) {
		t.Errorf("average run %v", mean)
	}
}
