package lot_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// A first row up to a deviation of 0 holds no deviation.
func TestDeviationTableFromNothing(t *testing.T) {
	for to, want := range map[string]error{"0": lot.ErrOrder, "-0.1": lot.ErrNegative, "0.1": nil} {
		if _, err := lot.NewDeviationTable(lot.DeviationRow{To: p(to), Factor: d("1.05")}, lot.DeviationRow{Factor: d("0.9")}); !errors.Is(err, want) {
			t.Errorf("to %s: %v", to, err)
		}
	}
}

// Rows by number of results start at 1 at least and do not run backwards.
func TestCountsOutOfOrder(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	all := c.Schedule
	for _, rows := range [][]lot.CountSchedule{{{From: 0, To: 5, Schedule: all}}, {{From: 5, To: 4, Schedule: all}}, {{From: 3, To: 5, Schedule: all}, {From: 5, To: 9, Schedule: all}}} {
		c.ByCount = rows
		if _, err := lot.NewPlan(c); !errors.Is(err, lot.ErrOrder) {
			t.Errorf("%d to %d: %v", rows[0].From, rows[0].To, err)
		}
	}
	c.ByCount = []lot.CountSchedule{{From: 1, To: 1, Schedule: all}, {From: 2, To: 9, Schedule: all}}
	if _, err := lot.NewPlan(c); err != nil {
		t.Error(err)
	}
}

// A composite has 1 to 100 parts.
func TestNumberOfParts(t *testing.T) {
	for n, want := range map[int]error{0: lot.ErrMissing, 1: nil, 100: nil, 101: lot.ErrOutOfDomain} {
		parts := make([]lot.CharacteristicFactor, n)
		for i := range parts {
			parts[i].Factor = decimal.NewFromInt(1)
		}
		if _, err := lot.Composite(parts, lot.CompositeTerms{Rule: lot.Product, Rounding: halfEven(4)}); !errors.Is(err, want) {
			t.Errorf("%d parts: %v", n, err)
		}
	}
}

// What a plan may just be, and what it may just not be.
func TestTermsAtTheirBoundaries(t *testing.T) {
	second := func(l lot.Limits) *lot.SecondPass { return &lot.SecondPass{Below: d("1"), Limits: l, Max: d("1")} }
	long := decimal.New(1, -31)
	for _, tt := range []struct {
		name string
		f    func(t *lot.Terms)
		want error
	}{
		{"a price of 0", func(t *lot.Terms) { t.UnitPrice = d("0") }, nil},
		{"no price", func(t *lot.Terms) { t.UnitPrice = decimal.Zero }, lot.ErrMissing},
		{"a second pass of no factor", func(t *lot.Terms) { t.Second = &lot.SecondPass{Limits: lot.AtLeast(91), Max: d("1")} }, lot.ErrMissing},
		{"a cap of 0", func(t *lot.Terms) { t.MaxFactor = p("0") }, nil},
		{"rejection below 0", func(t *lot.Terms) { t.RejectBelow = p("0") }, nil},
		{"a weight of 0", func(t *lot.Terms) { t.Composite = &lot.CompositePart{Rule: lot.WeightedSum, Weight: p("0")} }, lot.ErrWeights},
		{"a weight below 0", func(t *lot.Terms) { t.Composite = &lot.CompositePart{Rule: lot.WeightedSum, Weight: p("-0.1")} }, lot.ErrWeights},
		{"a million results to stand alone", func(t *lot.Terms) { t.SmallLot = &lot.SmallLotPolicy{Fewest: 1_000_000, Rule: lot.JoinPrevious} }, nil},
		{"a million and one", func(t *lot.Terms) { t.SmallLot = &lot.SmallLotPolicy{Fewest: 1_000_001, Rule: lot.JoinPrevious} }, lot.ErrOutOfDomain},
		{"a table of its own of no measure", func(c *lot.Terms) {
			own := *florida(t)
			own.Measure = units.Rounding{}
			c.SmallLot = &lot.SmallLotPolicy{Fewest: 3, Rule: lot.OwnTable, Own: &own}
		}, units.ErrRounding},
		{"the same limits again", func(t *lot.Terms) { t.Second = second(lot.Between(92, 96)) }, nil},
		{"a narrower upper limit", func(t *lot.Terms) { t.Second = second(lot.Between(91, 95.9)) }, lot.ErrLimitOrder},
		{"a narrower lower limit", func(t *lot.Terms) { t.Second = second(lot.Between(92.1, 97)) }, lot.ErrLimitOrder},
		{"without the upper limit", func(t *lot.Terms) { t.Second = second(lot.AtLeast(91)) }, nil},
		{"without the lower limit", func(t *lot.Terms) { t.Second = second(lot.AtMost(97)) }, nil},
		{"an endless level of the second pass", func(t *lot.Terms) { t.Second = second(lot.AtLeast(91)); t.Second.Below = long }, lot.ErrDigits},
		{"an endless cap of the second pass", func(t *lot.Terms) { t.Second = second(lot.AtLeast(91)); t.Second.Max = d("1").Add(long) }, lot.ErrDigits},
	} {
		c := terms(t, lot.Between(92, 96))
		tt.f(&c)
		if _, err := lot.NewPlan(c); !errors.Is(err, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}

// A row is looked at up to where the next one starts, and rows up to the end that is
// asked for, which belongs to them. 0.5 + 0.012x - 0.0001x² turns at 60.
func TestMonotoneUpToTheNextRow(t *testing.T) {
	turns := mustSchedule(t, lot.Segment{Pay: lot.Quadratic(d("0.5"), d("0.012"), d("-0.0001"))}, lot.Segment{From: d("50"), Pay: lot.Step(d("0.9"))})
	late := mustSchedule(t, lot.Segment{Pay: lot.Quadratic(d("0.5"), d("0.012"), d("-0.0001"))}, lot.Segment{From: d("70"), Pay: lot.Step(d("0.9"))})
	falls := mustSchedule(t, lot.Segment{Pay: lot.Step(d("1"))}, lot.Segment{From: d("90"), Pay: lot.Step(d("0.9"))})
	behind := mustSchedule(t, lot.Segment{Pay: lot.Step(d("1"))}, lot.Segment{From: d("90"), After: true, Pay: lot.Step(d("0.9"))})
	for _, tt := range []struct {
		name     string
		schedule lot.Schedule
		to       string
		want     error
	}{
		{"turns behind its end", turns, "100", nil},
		{"turns before its end", late, "100", lot.ErrMonotone},
		{"turns behind what is asked", late, "60", nil},
		{"falls behind what is asked", falls, "89.9", nil},
		{"falls where the question ends", falls, "90", lot.ErrMonotone},
		{"falls just behind it", behind, "90", nil},
		{"falls just before it", behind, "90.01", lot.ErrMonotone},
	} {
		if err := tt.schedule.CheckMonotone(lot.Rising, d(tt.to)); !errors.Is(err, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}

// A row that rejects keeps nothing of pay.
func TestRejectingRowKeepsNoPay(t *testing.T) {
	s := mustSchedule(t, lot.Segment{Reject: true, Pay: lot.Step(d("0.9")), Max: p("1")}, lot.Segment{From: d("50"), Pay: lot.Step(d("1"))})
	if r := s.Rows()[0]; r.Max != nil || r.Pay.String() != (lot.Curve{}).String() {
		t.Errorf("%+v", r)
	}
}

// What the working says of a side, for each form that it is written in: 3 to 6 results in
// closed form, 9 by the beta function, y beyond 1 and -1, a row of a table, moving averages.
// Figures by Python 3.11, math.asin and for nine results the midpoint rule; the rest by hand.
func TestWorkingOfASide(t *testing.T) {
	table, averages := terms(t, lot.AtMost(95)), terms(t, lot.AtLeast(92))
	table.Estimation = lot.Estimation{Method: lot.TableWithin, Table: &lot.TableRule{Cell: halfEven(2), Negative: lot.SignedRows}}
	averages.Estimation, averages.Rounding.Mean = lot.Estimation{Method: lot.AverageWithin, Window: 3}, halfEven(1)
	for _, tt := range []struct {
		terms  lot.Terms
		values []string
		want   string
	}{
		{terms(t, lot.Between(92, 94)), []string{"92", "94", "92.5"}, `
Q_L = (mean - L)/s = 0.833333333…/1.040832999… = 0.800640769…
y_L = Q_L·√n/(n - 1) = 0.800640769…·√3/2 = 0.693375245…
PWL_L = 50 + 100/π·asin(y) = 50 + 100/π·asin(0.693375245…) = 74.387714582…
Q_U = (U - mean)/s = 1.166666666…/1.040832999… = 1.120897076…
y_U = Q_U·√n/(n - 1) = 1.120897076…·√3/2 = 0.970725343…
PWL_U = 50 + 100/π·asin(y) = 50 + 100/π·asin(0.970725343…) = 92.278952084…
`},
		{terms(t, lot.AtLeast(93.5)), []string{"92", "94", "92", "94"}, `
y_L = Q_L·√n/(n - 1) = -0.433012701…·√4/3 = -0.288675134…
PWL_L = 50 + 50·y = 50 + 50·(-0.288675134…) = 35.566243270…
`},
		{terms(t, lot.AtMost(93.5)), []string{"92", "94", "92", "94", "93"}, `
y_U = Q_U·√n/(n - 1) = 0.5·√5/4 = 0.279508497…
PWL_U = 50 + 100/π·(asin(y) + y·√(1 - y²)) = 50 + 100/π·(asin(0.279508497…) + 0.279508497…·√(1 - (0.279508497…)²)) = 67.559576120…
`},
		{terms(t, lot.AtMost(90)), []string{"92", "94", "92", "94", "93"}, `
y_U = Q_U·√n/(n - 1) = -3·√5/4 = -1.677050983…
PWL_U = 0 because y is at most -1 = 0
`},
		{terms(t, lot.AtMost(95)), []string{"92", "94", "92", "94", "93", "93"}, `
y_U = Q_U·√n/(n - 1) = 2.236067977…·√6/5 = 1.095445115…
PWL_U = 100 because y is at least 1 = 100
`},
		{terms(t, lot.AtLeast(92)), []string{"92", "94", "92", "94", "92", "94", "92", "94", "93"}, `
y_L = Q_L·√n/(n - 1) = 1·√9/8 = 0.375
PWL_L = 100·I_x(3.5, 3.5) at x = (1 + y)/2 = 100·I_x(3.5, 3.5) at x = (1 + 0.375)/2 = 83.999405880…
`},
		{table, []string{"92", "94", "92", "94", "93"}, `
Q_U = (U - mean)/s = 2/1 = 2
PWL_U = table for n = 5, next higher row, cells half-even to 0.01 = 100
`},
		{averages, []string{"91", "92.5", "92", "94", "90"}, `
moving average 1 = Σx/3 = (91.0 + 92.5 + 92.0)/3 = 91.833333333… → 91.8 (half-even to 0.1)
moving average 2 = Σx/3 = (92.5 + 92.0 + 94.0)/3 = 92.833333333… → 92.8 (half-even to 0.1)
moving average 3 = Σx/3 = (92 + 94 + 90)/3 = 92 (half-even to 0.1)
moving averages within limits = 100·within/all = 100·2/3 = 66.666666666…
`},
	} {
		e, err := plan(t, tt.terms).Evaluate(lotOf(tt.values...))
		if text := lot.WorkingText(e.Working); err != nil || !strings.Contains(text, tt.want) {
			t.Errorf("no %s\nin\n%s%v", tt.want, text, err)
		}
	}
}

// Limits are equal where both are, however they were written, and a side that is none
// makes both none.
func TestLimitsAreEqual(t *testing.T) {
	both := lot.Between(92, 96)
	for _, tt := range []struct {
		a, b lot.Limits
		want bool
	}{
		{both, lot.BetweenDecimal(d("92.00"), d("96.0")), true}, {both, lot.Between(92, 97), false}, {both, lot.Between(91, 96), false},
		{both, lot.AtLeast(92), false}, {both, lot.AtMost(96), false}, {lot.AtLeast(92), lot.AtMost(92), false}, {lot.Limits{}, lot.Limits{}, true}, {lot.Limits{}, both, false},
	} {
		if tt.a.Equal(tt.b) != tt.want || tt.b.Equal(tt.a) != tt.want {
			t.Errorf("%v and %v: want %v", tt.a, tt.b, tt.want)
		}
	}
	if err := lot.Between(92, math.NaN()).Validate(); !errors.Is(err, stats.ErrNotFinite) {
		t.Errorf("an upper limit of NaN: %v", err)
	}
	if err := lot.BetweenDecimal(d("92"), decimal.New(1, 40)).Validate(); !errors.Is(err, lot.ErrDigits) {
		t.Errorf("an endless upper limit: %v", err)
	}
}

// One of several texts is enough to refuse a result, and one of several lots of an id to
// refuse all.
func TestOneBadTextIsEnough(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	c.Retest = lot.ReplaceResult
	for name, change := range map[string]func(r *lot.Result){
		"id": func(r *lot.Result) { r.ID = "S\n1" }, "origin": func(r *lot.Result) { r.Origin = "co\x00re" },
		"retest": func(r *lot.Result) { r.RetestOf, r.Quantity = "S\u20281", d("0") }, "cause": func(r *lot.Result) { r.Removed, r.Cause = true, "\xff" },
	} {
		l := lotOf("93.2", "92.1", "94.3", "91.8")
		change(&l.Results[0])
		if _, err := plan(t, c).Evaluate(l); !errors.Is(err, lot.ErrText) {
			t.Errorf("%s: %v", name, err)
		}
	}
	c.SmallLot = &lot.SmallLotPolicy{Fewest: 3, Rule: lot.JoinPrevious}
	one := named("1", "93.2", "92.1", "94.3")
	if _, err := plan(t, c).EvaluateLots([]lot.Lot{one, named("2", "93", "94", "92.5"), one}); !errors.Is(err, lot.ErrRepeatedID) || !strings.Contains(err.Error(), "lots[2]") {
		t.Errorf("lot 1 again: %v", err)
	}
}

// Two ids that a person reads as one are one id twice, which counts double; what some
// scripts are written with is no such thing. The characters are those of the Unicode
// Character Database with White_Space, Default_Ignorable_Code_Point or Join_Control.
func TestIdsThatLookAlike(t *testing.T) {
	for id, want := range map[string]error{
		"S\u00a01": lot.ErrText, "S\u20091": lot.ErrText, "S1\ufe0f": lot.ErrText, "S1\u034f": lot.ErrText, "S1\u3164": lot.ErrText, "S1\U000e0041": lot.ErrText,
		"S1\u200d": lot.ErrText, "\u200cS1": lot.ErrText, "S\u200d\u200c1": lot.ErrText, "\u200d": lot.ErrText,
		"S 1": nil, "PDF\u200c\u0647\u0627": nil, "\u0915\u094d\u200d\u0937": nil, "Fläche 1": nil, "区間 3": nil,
	} {
		l := lotOf("93.2", "92.1", "94.3", "91.8")
		l.Results[0].ID = id
		if _, err := plan(t, terms(t, lot.AtLeast(92))).Evaluate(l); !errors.Is(err, want) {
			t.Errorf("%q: %v, want %v", id, err, want)
		}
	}
}

// Air voids recorded as fractions are in another scale than limits in percent, also where
// the plan rounds them to 0.
func TestScaleBeforeRounding(t *testing.T) {
	c := terms(t, lot.Between(2.8, 5.2))
	c.Plausible, c.Rounding.Value = lot.AtLeast(0), halfEven(0)
	if e, err := plan(t, c).Evaluate(lotOf("0.041", "0.038", "0.043")); !errors.Is(err, lot.ErrScale) {
		t.Errorf("fractions: %+v, %v", e.PWL, err)
	}
	if e, err := plan(t, c).Evaluate(lotOf("3.6", "0.032", "4.2")); !errors.Is(err, lot.ErrScale) {
		t.Errorf("a fraction among percentages: %+v, %v", e.PWL, err)
	}
}

// Results 80 to 125 fold off the limits are in another scale, at both ends as well.
func TestScaleAtItsEnds(t *testing.T) {
	for text, want := range map[string]bool{"1.15": true, "1.1499": true, "1.1501": false, "0.736": true, "0.7359": false} { // 92/80 and 92/125
		c := terms(t, lot.AtLeast(92))
		_, err := plan(t, c).Evaluate(lotOf(text, text, text))
		if errors.Is(err, lot.ErrScale) != want {
			t.Errorf("three of %s against 92: %v", text, err)
		}
	}
}

// The lowest counts wherever it stands, and a recorded 0 is a factor and a cap.
func TestCompositeOfTheLowest(t *testing.T) {
	for _, factors := range [][3]string{{"0.95", "1.02", "1"}, {"1.02", "0.95", "1"}, {"1", "1.02", "0.95"}} {
		got, err := lot.Composite([]lot.CharacteristicFactor{{Factor: d(factors[0])}, {Factor: d(factors[1])}, {Factor: d(factors[2])}}, lot.CompositeTerms{Rule: lot.Lowest, Rounding: halfEven(3)})
		if err != nil || got.String() != "0.95" {
			t.Errorf("%v: %v, %v", factors, got, err)
		}
	}
	zero := []lot.CharacteristicFactor{{Factor: d("0")}, {Factor: d("1")}}
	if got, err := lot.Composite(zero, lot.CompositeTerms{Rule: lot.Product, Rounding: halfEven(3)}); err != nil || !got.IsZero() {
		t.Errorf("a factor of 0: %v, %v", got, err)
	}
	if got, err := lot.Composite(zero[1:], lot.CompositeTerms{Rule: lot.Product, Rounding: halfEven(3), Max: p("0")}); err != nil || !got.IsZero() {
		t.Errorf("a cap of 0: %v, %v", got, err)
	}
}

// Values and limits 80 to 125 fold apart, both ends included, are taken for a percentage
// and a fraction, whichever is the larger and whatever their sign.
func TestFastScaleAtItsEnds(t *testing.T) {
	for _, tt := range []struct {
		mean, limit float64
		refused     bool
	}{
		{79, 1, false}, {80, 1, true}, {100, 1, true}, {125, 1, true}, {126, 1, false},
		{1, 79, false}, {1, 80, true}, {1, 125, true}, {1, 126, false},
		{-80, -1, true}, {-126, -1, false}, {-1, -100, true}, {-100, 1, false}, {100, 0, false}, {0, 100, false},
	} {
		xs := []float64{tt.mean - 0.25, tt.mean, tt.mean + 0.25}
		for name, l := range map[string]lot.Limits{"lower": lot.AtLeast(tt.limit), "upper": lot.AtMost(tt.limit)} {
			if _, err := lot.EstimateWithin(xs, l); errors.Is(err, lot.ErrScale) != tt.refused {
				t.Errorf("mean %v, %s limit %v: %v", tt.mean, name, tt.limit, err)
			}
		}
	}
}

// Constants of the range method are for 3 results or more, in order, in groups that share
// them evenly; what a caller does to his list later changes no plan.
func TestRangeConstants(t *testing.T) {
	row := func(n, group int) lot.RangeConstant { return lot.RangeConstant{N: n, Group: group, C: d("1.2")} }
	c := terms(t, lot.AtLeast(92))
	for _, tt := range []struct {
		rows []lot.RangeConstant
		want error
	}{
		{[]lot.RangeConstant{row(2, 2)}, lot.ErrOutOfDomain}, {[]lot.RangeConstant{row(3, 3)}, nil}, {[]lot.RangeConstant{row(4, 2), row(4, 2)}, lot.ErrOrder},
		{[]lot.RangeConstant{row(6, 3), row(4, 2)}, lot.ErrOrder}, {[]lot.RangeConstant{row(4, 2), row(6, 3)}, nil}, {[]lot.RangeConstant{row(5, 2)}, lot.ErrOutOfDomain},
		{[]lot.RangeConstant{row(1_000_000, 4)}, nil}, {[]lot.RangeConstant{row(1_000_004, 4)}, lot.ErrOutOfDomain},
	} {
		c.Estimation = lot.Estimation{Method: lot.RangeWithin, Ranges: tt.rows}
		if _, err := lot.NewPlan(c); !errors.Is(err, tt.want) {
			t.Errorf("%v: %v, want %v", tt.rows, err, tt.want)
		}
	}
	rows := []lot.RangeConstant{row(4, 2)}
	c.Estimation.Ranges = rows
	pl := plan(t, c)
	rows[0].N = 6
	if got := pl.Terms().Estimation.Ranges[0].N; got != 4 {
		t.Errorf("the plan holds the list of the caller: N %d", got)
	}
	pl.Terms().Estimation.Ranges[0].N = 6
	if got := pl.Terms().Estimation.Ranges[0].N; got != 4 {
		t.Errorf("the plan hands out its list: N %d", got)
	}
}
