package lot_test

import (
	"errors"
	"testing"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
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
		parts := make([]lot.Weighted, n)
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
