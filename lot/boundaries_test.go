package lot_test

import (
	"errors"
	"testing"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
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
	for n, want := range map[int]error{0: lot.ErrMissing, 1: nil, 100: nil, 101: lot.ErrMissing} {
		parts := make([]lot.Weighted, n)
		for i := range parts {
			parts[i].Factor = decimal.NewFromInt(1)
		}
		if _, err := lot.Composite(parts, lot.CompositeTerms{Rule: lot.Product, Rounding: halfEven(4)}); !errors.Is(err, want) {
			t.Errorf("%d parts: %v", n, err)
		}
	}
}
