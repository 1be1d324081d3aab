package lot_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
)

// screened returns a plan with that screen.
func screened(t testing.TB, o lot.OutlierPolicy) lot.Plan {
	t.Helper()
	c := terms(t, lot.AtLeast(92))
	c.Plausible, c.AnyScale, c.Outlier = lot.Between(-1000, 1000), true, &o
	return plan(t, c)
}

// Two lots whose p is alpha exactly. With n = 4 the deviations are uniform, so
// p = k·(1-y)/2 with y = 2G/3: the first has G² = 69²·3/(69²+23²+47²+1²) = 1.38², so
// y = 0.92 and p = 4·0.04, the second y = 0.952 and p = 8·0.024. A hair further in, and
// the result is kept; the deviations of the generalized ESD test must exceed theirs.
func TestScreenAtATie(t *testing.T) {
	for _, tt := range []struct {
		side   stats.Side
		alpha  float64
		values []string
		nearer string
	}{
		{stats.Low, 0.16, []string{"92.31", "93.23", "93.47", "92.99"}, "92.310000000000000000000001"},
		{stats.TwoSide, 0.192, []string{"89.43", "94.67", "94.79", "93.11"}, "89.430000000000000000000001"},
	} {
		o := lot.OutlierPolicy{Test: lot.GrubbsTest, Side: tt.side, Alpha: tt.alpha, MinN: 4}
		e, err := screened(t, o).Evaluate(lotOf(tt.values...))
		if err != nil || cmp.Diff(e.Screen.Flagged, []string{"S1"}) != "" || e.Screen.Steps[0].P != tt.alpha || !strings.Contains(lot.WorkingText(e.Working), "equal to alpha") {
			t.Errorf("%v: %v, %v", tt.side, e.Screen, err)
		}
		near, err := screened(t, o).Evaluate(lotOf(append([]string{tt.nearer}, tt.values[1:]...)...))
		if err != nil || near.Screen.Flagged != nil || !strings.Contains(lot.WorkingText(near.Working), "above alpha") {
			t.Errorf("%v: %v, %v", tt.side, near.Screen, err)
		}
		o.Test, o.Suspects = lot.GeneralizedESDTest, 1
		esd, err := screened(t, o).Evaluate(lotOf(tt.values...))
		if err != nil || esd.Screen.Flagged != nil {
			t.Errorf("%v: %v, %v", tt.side, esd.Screen, err)
		}
	}
}

// The exact screens find what those of package stats find, but at a tie.
func TestScreensAgreeWithFloat(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	found := 0
	for range 600 {
		values, xs := randomLot(rng)
		if len(xs) < 5 {
			continue
		}
		side := stats.Side(1 + rng.IntN(3))
		o := lot.OutlierPolicy{Test: lot.GrubbsTest, Side: side, Alpha: 0.1, MinN: 4}
		e, err := screened(t, o).Evaluate(lotOf(values...))
		r, err2 := stats.Grubbs(xs, side, 0.1)
		if err != nil || err2 != nil || (e.Screen.Flagged != nil) != r.Outlier || math.Abs(e.Screen.Steps[0].P-r.P) > 1e-9 ||
			math.Abs(e.Screen.Steps[0].Statistic.Exact-r.G) > 1e-9*r.G {
			t.Errorf("%v: %v, %+v, %v, %v", values, e.Screen, r, err, err2)
		}
		o.Test, o.Suspects, o.MinN = lot.GeneralizedESDTest, 2, 5
		esd, err := screened(t, o).Evaluate(lotOf(values...))
		g, err2 := stats.GeneralizedESD(xs, 2, side, 0.1)
		if err != nil || err2 != nil || len(esd.Screen.Flagged) != g.Outliers {
			t.Errorf("%v: %v, %+v, %v, %v", values, esd.Screen, g, err, err2)
		}
		found += g.Outliers
	}
	if found < 50 {
		t.Errorf("only %d outliers: the test says little", found)
	}
}

// Rosner's data, as the NIST/SEMATECH e-Handbook 1.3.5.17.3 prints them: three
// outliers, R 3.118906, 2.942973, 3.179424 against 3.158794, 3.15143, 3.14389.
func TestGeneralizedESDScreen(t *testing.T) {
	values := strings.Fields("-0.25 0.68 0.94 1.15 1.2 1.26 1.26 1.34 1.38 1.43 1.49 1.49 1.55 1.56 1.58 1.65 1.69 1.7 1.76 1.77 1.81 1.91 1.94 1.96 1.99 2.06 2.09 2.1 2.14 2.15 2.23 2.24 2.26 2.35 2.37 2.4 2.47 2.54 2.62 2.64 2.9 2.92 2.92 2.93 3.21 3.26 3.3 3.59 3.68 4.3 4.64 5.34 5.42 6.01")
	e, err := screened(t, lot.OutlierPolicy{Test: lot.GeneralizedESDTest, Side: stats.TwoSide, Alpha: 0.05, MinN: 25, Suspects: 10}).Evaluate(lotOf(values...))
	if err != nil || cmp.Diff(e.Screen.Flagged, []string{"S54", "S53", "S52"}) != "" || len(e.Screen.Steps) != 10 || !has(e.Warnings, stats.WarnMasking) {
		t.Fatalf("%v, %v", e.Screen, err)
	}
	for i, want := range []float64{3.118906, 2.942973, 3.179424, 2.810181} {
		if got := e.Screen.Steps[i].Statistic.Exact; math.Abs(got-want) > 5e-7 {
			t.Errorf("R%d = %v, want %v", i+1, got, want)
		}
	}
	outliers := 0
	for _, w := range e.Warnings {
		if w.Code == lot.WarnOutlier {
			outliers++
		}
	}
	if outliers != 3 || e.WithoutResult == nil {
		t.Errorf("%d warnings, without them %v", outliers, e.WithoutResult)
	}
}

// {93.1, 93.4, 93.2, 93.3, 88.0, 88.2}: two that hide each other. Grubbs' G is 1.327283
// with p 0.973; the ratio is 0.05/(106.3/3), by hand 0.0014111007, below the simulated
// critical value of 0.018 at 1 %. PWL is 43.574844 with all and 100 without the two
// (R 4.2.2 and SciPy 1.10).
func TestTwoOutliersScreen(t *testing.T) {
	values := []string{"93.1", "93.4", "93.2", "93.3", "88.0", "88.2"}
	single, err := screened(t, lot.OutlierPolicy{Test: lot.GrubbsTest, Side: stats.TwoSide, Alpha: 0.05, MinN: 4}).Evaluate(lotOf(values...))
	if err != nil || single.Screen.Flagged != nil || !has(single.Warnings, stats.WarnMasking) || math.Abs(single.Screen.Steps[0].Statistic.Exact-1.327283) > 5e-7 {
		t.Errorf("single: %v, %v", single.Screen, err)
	}
	policy := lot.OutlierPolicy{Test: lot.TwoOutliersTest, Side: stats.Low, Alpha: 0.01, MinN: 4, MaxRemoved: 2, CauseRequired: true}
	e, err := screened(t, policy).Evaluate(lotOf(values...))
	if err != nil || cmp.Diff(e.Screen.Flagged, []string{"S5", "S6"}) != "" || math.Abs(e.Screen.Steps[0].Statistic.Exact-0.0014111007) > 5e-11 ||
		math.Abs(e.PWL.Exact-43.574844) > 5e-7 || e.WithoutResult.Used != "100" {
		t.Errorf("two: %v, %v, %v, %v", e.Screen, e.PWL, e.WithoutResult, err)
	}
	l := lotOf(values...)
	for _, i := range []int{4, 5} {
		l.Results[i].Removed, l.Results[i].Cause = true, "invented: the cores were mixed up"
	}
	e, err = screened(t, policy).Evaluate(l)
	if err != nil || e.PWL.Used != "100" || math.Abs(e.WithRemoved.Exact-43.574844) > 5e-7 || len(e.Removals) != 1 || cmp.Diff(e.Removals[0].Flagged, []string{"S5", "S6"}) != "" {
		t.Errorf("removed: %v, %v, %+v, %v", e.PWL, e.WithRemoved, e.Removals, err)
	}
	policy.MaxRemoved = 1
	if _, err := screened(t, policy).Evaluate(l); !errors.Is(err, lot.ErrRemoval) {
		t.Errorf("two removed where one may be: %v", err)
	}
	l.Results[4].Removed, l.Results[4].Cause = false, ""
	if e, err = screened(t, policy).Evaluate(l); err != nil || e.N != 5 {
		t.Errorf("one of the two removed: %v, %v", e.N, err)
	}
	many := lotOf()
	for i := range 301 {
		many.Results = append(many.Results, lot.Result{ID: fmt.Sprint(i), Value: d(fmt.Sprintf("9%d.%d", i%7, i%10))})
	}
	if e, err = screened(t, policy).Evaluate(many); err != nil || e.Screen != nil || !has(e.Warnings, lot.WarnScreenSkipped) {
		t.Errorf("301 results: %v, %v", e.Screen, err)
	}
}

// 94.97 is 0.71 above the mean of 94.26 and 93.55 as far below: the upper one is the
// suspect, whatever a float64 makes of the two.
func TestScreenOfTwoAsFar(t *testing.T) {
	o := lot.OutlierPolicy{Test: lot.GrubbsTest, Side: stats.TwoSide, Alpha: 0.1, MinN: 4}
	e, err := screened(t, o).Evaluate(lotOf("94.76", "94.50", "94.48", "94.34", "93.79", "94.03", "93.96", "94.97", "94.22", "93.55"))
	if err != nil || e.Screen.Steps[0].Suspects[0] != "S8" {
		t.Errorf("%v, %v", e.Screen, err)
	}
}

// Of results that are as far out the first is the suspect; the test of two says where
// another could have been the second.
func TestScreenOfTies(t *testing.T) {
	for side, values := range map[stats.Side][]string{stats.Low: {"93.0", "90.0", "93.1", "93.2", "90.0"}, stats.High: {"93.0", "96.0", "93.1", "92.9", "96.0"}} {
		e, err := screened(t, lot.OutlierPolicy{Test: lot.GrubbsTest, Side: side, Alpha: 0.05, MinN: 4}).Evaluate(lotOf(values...))
		if err != nil || e.Screen.Steps[0].Suspects[0] != "S2" {
			t.Errorf("%v: %v, %v", side, e.Screen, err)
		}
	}
	two := lot.OutlierPolicy{Test: lot.TwoOutliersTest, Side: stats.Low, Alpha: 0.05, MinN: 4}
	e, err := screened(t, two).Evaluate(lotOf("93.1", "93.4", "93.2", "93.3", "88.2", "88.0", "88.2"))
	if err != nil || !has(e.Warnings, stats.WarnTies) {
		t.Errorf("%v, %v", e.Warnings, err)
	}
	var most lot.Lot
	for i := range stats.MostForTwoOutliers {
		most.Results = append(most.Results, lot.Result{ID: fmt.Sprint(i), Value: d(fmt.Sprintf("9%d.%d", i%7, i%10)), Quantity: d("1")})
	}
	most.ID, most.Unit = "7", screened(t, two).Terms().Unit
	if e, err = screened(t, two).Evaluate(most); err != nil || e.Screen == nil {
		t.Errorf("%d results: %v", len(most.Results), err)
	}
}

// What is flagged is said in words, with the numbers that decided.
func TestScreenInWords(t *testing.T) {
	e, err := screened(t, lot.OutlierPolicy{Test: lot.GrubbsTest, Side: stats.Low, Alpha: 0.05, MinN: 4}).Evaluate(lotOf("93.3", "92.9", "93.6", "93.1", "90.2"))
	// R 4.2.2: G 1.7570402, critical value 1.6713857 by the t formula
	if want := "Grubbs, low, alpha 0.05: S5 1.757, critical 1.6714; flagged: S5"; err != nil || e.Screen.String() != want {
		t.Errorf("%v, want %s, %v", e.Screen, want, err)
	}
}

// Equal results are no outliers: p is 1.
func TestScreensOfEqualResults(t *testing.T) {
	for test, suspects := range map[lot.OutlierTest]int{lot.GrubbsTest: 0, lot.TwoOutliersTest: 0, lot.GeneralizedESDTest: 2} {
		e, err := screened(t, lot.OutlierPolicy{Test: test, Side: stats.Low, Alpha: 0.05, MinN: 4, Suspects: suspects}).Evaluate(lotOf("93.0", "93.0", "93.0", "93.0", "93.0"))
		if err != nil || e.Screen.Flagged != nil || e.Screen.Steps[0].P != 1 || has(e.Warnings, stats.WarnConstant) || !has(e.Warnings, lot.WarnZeroSpread) || strings.Contains(lot.WorkingText(e.Working), "screen") {
			t.Errorf("%v: %+v, %v", test, e.Screen, err)
		}
	}
}

func TestPlanRefusesScreens(t *testing.T) {
	good := lot.OutlierPolicy{Test: lot.GeneralizedESDTest, Side: stats.Low, Alpha: 0.05, MinN: 5, Suspects: 3}
	for _, tt := range []struct {
		name, arg string
		f         func(o *lot.OutlierPolicy)
		want      error
	}{
		{"two on both sides", "Side", func(o *lot.OutlierPolicy) { o.Test, o.Side, o.Suspects = lot.TwoOutliersTest, stats.TwoSide, 0 }, stats.ErrParameter},
		{"two of three", "MinN", func(o *lot.OutlierPolicy) { o.Test, o.MinN, o.Suspects = lot.TwoOutliersTest, 3, 0 }, stats.ErrParameter},
		{"four of five", "Suspects", func(o *lot.OutlierPolicy) { o.Suspects = 4 }, lot.ErrOutOfDomain},
		{"fewer than none", "Suspects", func(o *lot.OutlierPolicy) { o.Suspects = -1 }, lot.ErrOutOfDomain},
		{"none", "Suspects", func(o *lot.OutlierPolicy) { o.Suspects = 0 }, lot.ErrMissing},
		{"suspects of Grubbs", "Suspects", func(o *lot.OutlierPolicy) { o.Test = lot.GrubbsTest }, lot.ErrUnused},
	} {
		c, o := terms(t, lot.AtLeast(92)), good
		tt.f(&o)
		c.Outlier = &o
		_, err := lot.NewPlan(c)
		var bad *stats.InputError
		if !errors.Is(err, tt.want) || !errors.As(err, &bad) || bad.Arg != "t.Outlier."+tt.arg {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}
