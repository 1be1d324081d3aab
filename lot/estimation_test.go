package lot_test

import (
	"errors"
	"math"
	"testing"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
)

func p(x string) *decimal.Decimal {
	v := d(x)
	return &v
}

func mustSchedule(t testing.TB, rows ...lot.Segment) lot.Schedule {
	t.Helper()
	s, err := lot.NewSchedule(rows...)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// colorado is Colorado DOT table 105-3 (3 February 2011): pay by number of tests as
// a quadratic in QL/100 with a cap.
func colorado(t testing.TB) []lot.CountSchedule {
	var all []lot.CountSchedule
	for _, row := range []struct {
		from, to        int
		c0, c1, c2, cap string
	}{
		{3, 3, "0.31177", "1.57878", "-0.84862", "1.025"}, {4, 4, "0.27890", "1.51471", "-0.73553", "1.03"},
		{5, 5, "0.25529", "1.48268", "-0.67759", "1.03"}, {6, 6, "0.19468", "1.56729", "-0.70239", "1.035"},
		{7, 7, "0.16709", "1.58245", "-0.68705", "1.035"}, {9, 9, "0.11412", "1.63532", "-0.68786", "1.04"},
		{10, 11, "0.15344", "1.50104", "-0.58896", "1.045"}, {15, 18, "0.07826", "1.55649", "-0.56616", "1.05"},
	} {
		curve := lot.Quadratic(d(row.c0), d(row.c1).Shift(-2), d(row.c2).Shift(-4))
		all = append(all, lot.CountSchedule{From: row.from, To: row.to, Schedule: mustSchedule(t, lot.Segment{From: d("0"), Pay: curve, Max: p(row.cap)})})
	}
	return all
}

// Factors at quality levels 90, 75 and 50: Python fractions, c0 + c1*Fraction(QL,100)
// + c2*Fraction(QL,100)**2, rounded to 4 places, before the cap.
func TestQuadraticsByCount(t *testing.T) {
	want := map[int][3]string{3: {"1.0453", "1.0185", "0.8890"}, 4: {"1.0464", "1.0012", "0.8524"}, 5: {"1.0409", "0.9862", "0.8272"}, 6: {"1.0363", "0.9751", "0.8027"},
		7: {"1.0348", "0.9675", "0.7866"}, 9: {"1.0287", "0.9537", "0.7598"}, 10: {"1.0273", "0.9479", "0.7567"}, 15: {"1.0205", "0.9272", "0.7150"}}
	for _, row := range colorado(t) {
		segment := row.Schedule.Rows()[0]
		for i, ql := range []string{"90", "75", "50"} {
			expect := decimal.Min(d(want[row.From][i]), *segment.Max)
			f, reject, err := row.Schedule.Factor(d(ql), halfEven(4))
			if err != nil || reject || !f.Equal(expect) {
				t.Errorf("n = %d, QL %s: %v, %v; want %v", row.From, ql, f, err, expect)
			}
			x, _ := d(ql).Float64()
			fast, _, err := row.Schedule.FactorAt(x)
			if exact, _ := expect.Float64(); err != nil || math.Abs(fast-exact) > 0.5e-4 {
				t.Errorf("n = %d, QL %s, fast: %v, %v", row.From, ql, fast, err)
			}
		}
		// Each turns beyond 100 or above its cap.
		if err := row.Schedule.CheckMonotone(lot.Rising, d("100")); err != nil {
			t.Error(err)
		}
	}
	// Without its cap the one for three tests turns at 100·1.57878/(2·0.84862) = 93.02.
	bare := mustSchedule(t, lot.Segment{From: d("0"), Pay: colorado(t)[0].Schedule.Rows()[0].Pay})
	if err := bare.CheckMonotone(lot.Rising, d("100")); !errors.Is(err, lot.ErrMonotone) {
		t.Errorf("beyond its turn: %v", err)
	}
	if err := bare.CheckMonotone(lot.Rising, d("93.01")); err != nil {
		t.Errorf("before its turn: %v", err)
	}
	c := terms(t, lot.AtLeast(92))
	c.Schedule, c.ByCount = lot.Schedule{}, colorado(t)
	// {90.6, 91.4, 91.9, 92.5}: Q = -0.497416, PWL 33.419467, n = 4:
	// Python: 0.27890 + 1.51471*.33419467 - 0.73553*.33419467**2 = 0.70296…
	e, err := plan(t, c).Evaluate(lotOf("90.6", "91.4", "91.9", "92.5"))
	if err != nil || e.Factor.Used != "0.7030" || e.Decision != lot.AcceptedReduced {
		t.Errorf("%+v, %v", e.Factor, err)
	}
	if _, err := plan(t, c).Evaluate(lotOf("93", "92", "94", "93.5", "92.5", "93.1", "92.8", "93.3")); !errors.Is(err, lot.ErrNoSchedule) {
		t.Errorf("8 results: %v", err)
	}
}

func TestScheduleChecks(t *testing.T) {
	reject := lot.Segment{From: d("0"), Reject: true}
	line := lot.Segment{From: d("50"), Pay: lot.Formula(d("0.5"), d("0.005"))}
	for _, tt := range []struct {
		name                 string
		s                    lot.Schedule
		contiguous, monotone error
	}{
		{"a line to a step it meets", mustSchedule(t, reject, line, lot.Segment{From: d("100"), Pay: lot.Step(d("1"))}), nil, nil},
		{"a step up", mustSchedule(t, reject, line, lot.Segment{From: d("90"), Pay: lot.Step(d("1.02"))}), lot.ErrJump, nil},
		{"a step down", mustSchedule(t, reject, line, lot.Segment{From: d("90"), Pay: lot.Step(d("0.94"))}), lot.ErrJump, lot.ErrMonotone},
		{"a falling line", mustSchedule(t, lot.Segment{Pay: lot.Formula(d("1"), d("-0.1"))}), nil, lot.ErrMonotone},
		{"rejection at the top", mustSchedule(t, line, lot.Segment{From: d("99"), Reject: true}), nil, lot.ErrMonotone},
	} {
		if err := tt.s.CheckContiguous(); !errors.Is(err, tt.contiguous) {
			t.Errorf("%s: contiguous: %v", tt.name, err)
		}
		if err := tt.s.CheckMonotone(lot.Rising, d("100")); !errors.Is(err, tt.monotone) {
			t.Errorf("%s: monotone: %v", tt.name, err)
		}
	}
	if err := mustSchedule(t, line).CheckMonotone(0, d("100")); !errors.Is(err, lot.ErrOutOfDomain) {
		t.Errorf("no direction: %v", err)
	}
	if err := (lot.Schedule{}).CheckContiguous(); !errors.Is(err, lot.ErrMissing) {
		t.Errorf("an empty schedule: %v", err)
	}
}

func deviations(t testing.TB, rows ...string) lot.Schedule {
	t.Helper()
	var all []lot.DeviationRow
	for i := 0; i+1 < len(rows); i += 2 {
		r := lot.DeviationRow{Factor: d(rows[i+1])}
		if rows[i] != "" {
			r.To = p(rows[i])
		}
		all = append(all, r)
	}
	s, err := lot.NewDeviationTable(all...)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Florida DOT 334, table 334-6 (small quantities), coarse density, target 94.50: one
// test, and the mean of two deviations.
func florida(t testing.TB) *lot.OwnTerms {
	return &lot.OwnTerms{Target: d("94.50"), Measure: absolute, ByCount: []lot.CountSchedule{
		{From: 1, To: 1, Schedule: deviations(t, "0.50", "1.05", "1.00", "1.00", "1.50", "0.95", "", "0.90")},
		{From: 2, To: 2, Schedule: deviations(t, "0.35", "1.05", "0.71", "1.00", "1.06", "0.95", "", "0.90")}}}
}

// The rows print the largest deviation that they hold.
func TestSmallQuantities(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	c.SmallLot = &lot.SmallLotPolicy{Fewest: 3, Rule: lot.OwnTable, Own: florida(t)}
	for _, tt := range []struct {
		values []string
		factor string
	}{{[]string{"94.00"}, "1.0500"}, {[]string{"93.99"}, "1.0000"}, {[]string{"95.50"}, "1.0000"}, {[]string{"95.51"}, "0.9500"}, {[]string{"96.00"}, "0.9500"}, {[]string{"92.9"}, "0.9000"},
		{[]string{"94.15", "94.85"}, "1.0500"}, {[]string{"94.14", "94.85"}, "1.0000"}, {[]string{"93.44", "95.56"}, "0.9500"}, {[]string{"93.43", "95.56"}, "0.9000"}} {
		e, err := plan(t, c).Evaluate(lotOf(tt.values...))
		if err != nil || e.Factor.Used != tt.factor || e.Method != lot.MeanDeviation || !has(e.Warnings, lot.WarnSmallLot) {
			t.Errorf("%v: %+v, %v; want %s", tt.values, e.Factor, err, tt.factor)
		}
	}
	if e, err := plan(t, c).Evaluate(lotOf("93", "93.5", "94")); err != nil || e.Method != lot.ExactWithin {
		t.Errorf("three results: %v, %v", e.Method, err)
	}
	if _, err := plan(t, c).Evaluate(lotOf()); !errors.Is(err, stats.ErrTooFew) {
		t.Errorf("no results: %v", err)
	}
}

// UFGS 02749, 3.11.5: air voids 3.5, 3.0, 4.0, 3.7 against 4.0 deviate by 0.45, which
// is full pay; above 1.20 is rejected.
func TestMeanDeviationEstimator(t *testing.T) {
	table, err := lot.NewDeviationTable(lot.DeviationRow{To: p("0.60"), Factor: d("1")}, lot.DeviationRow{To: p("0.80"), Factor: d("0.98")},
		lot.DeviationRow{To: p("1.00"), Factor: d("0.95")}, lot.DeviationRow{To: p("1.20"), Factor: d("0.90")}, lot.DeviationRow{Reject: true})
	if err != nil {
		t.Fatal(err)
	}
	if err := table.CheckMonotone(lot.Falling, d("3")); err != nil {
		t.Error(err)
	}
	c := terms(t, lot.Limits{})
	c.Estimation, c.Schedule, c.Rounding.Measure = lot.Estimation{Method: lot.MeanDeviation, Target: p("4.0")}, table, halfEven(2)
	for _, tt := range []struct {
		values          []string
		measure, factor string
	}{{[]string{"3.5", "3.0", "4.0", "3.7"}, "0.45", "1.0000"}, {[]string{"3.4", "4.6"}, "0.60", "1.0000"}, {[]string{"3.4", "4.62"}, "0.61", "0.9800"}, {[]string{"5.2", "2.8"}, "1.20", "0.9000"}, {[]string{"5.3", "2.8"}, "1.25", ""}} {
		e, err := plan(t, c).Evaluate(lotOf(tt.values...))
		if err != nil || e.Measure.Used != tt.measure || e.PWL != (lot.Number{}) || (e.Factor == nil) != (tt.factor == "") || e.Factor != nil && e.Factor.Used != tt.factor {
			t.Errorf("%v: %+v, %+v, %v; want %s, %s", tt.values, e.Measure, e.Factor, err, tt.measure, tt.factor)
		}
	}
}

// By hand: ranges 1.6 and 1.2 of two groups of three have the mean 1.4; with a
// constant of 1.4, made up for this, s is 1 and Q is 94-93 = 1. n = 6, y = √6/5 and
// PWL = 100 - 100·x²(3-2x) with x = (1-y)/2: Python, 83.8405….
func TestRangeMethod(t *testing.T) {
	c := terms(t, lot.AtLeast(93))
	c.Estimation = lot.Estimation{Method: lot.RangeWithin, Ranges: []lot.RangeConstant{{N: 6, Group: 3, C: d("1.4")}}}
	e, err := plan(t, c).Evaluate(lotOf("93.2", "94.0", "94.8", "93.4", "94.6", "94.0"))
	y := math.Sqrt(6) / 5
	x := (1 - y) / 2
	if err != nil || e.StdDev.Used != "1" || e.QL.Used != "1" || math.Abs(e.PWL.Exact-(100-100*x*x*(3-2*x))) > 1e-12*100 {
		t.Errorf("%+v, %+v, %+v, %v", e.StdDev, e.QL, e.PWL, err)
	}
	if _, err := plan(t, c).Evaluate(lotOf("93.2", "94.0", "94.8")); !errors.Is(err, lot.ErrNoConstant) {
		t.Errorf("a lot without a constant: %v", err)
	}
	if _, err := plan(t, c).Evaluate(lotOf("93", "93", "93", "94", "94", "94")); !errors.Is(err, lot.ErrNoRange) {
		t.Errorf("no range within groups: %v", err)
	}
}

// By hand: the averages of three of 91, 92, 93, 94, 92 are 92, 93 and 93; against
// 92.5 two of three are within.
func TestMovingAverages(t *testing.T) {
	c := terms(t, lot.AtLeast(92.5))
	c.Estimation, c.Rounding.Measure = lot.Estimation{Method: lot.AverageWithin, Window: 3}, halfEven(1)
	e, err := plan(t, c).Evaluate(lotOf("91", "92", "93", "94", "92"))
	if err != nil || e.Measure.Used != "66.7" || e.Measure.Exact != 200.0/3 || e.Method != lot.AverageWithin {
		t.Errorf("%+v, %v", e.Measure, err)
	}
	if _, err := plan(t, c).Evaluate(lotOf("91", "92")); !errors.Is(err, stats.ErrTooFew) {
		t.Errorf("two results: %v", err)
	}
}
