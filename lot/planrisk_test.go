package lot_test

import (
	"context"
	"fmt"
	"math"
	"testing"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
)

func risk(t testing.TB, p lot.Plan, o lot.RiskOptions) lot.PlanRisk {
	t.Helper()
	r, err := p.Risk(context.Background(), o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func individual(l lot.Limits) *lot.IndividualPolicy {
	return &lot.IndividualPolicy{Limits: l, Action: lot.RejectLot}
}

func screen(side stats.Side, alpha float64, removed int) *lot.OutlierPolicy {
	return &lot.OutlierPolicy{Test: lot.GrubbsTest, Side: side, Alpha: alpha, MinN: 4, MaxRemoved: removed}
}

// The integral and the simulation share the plan and nothing else.
func TestPlanRiskAgainstSimulation(t *testing.T) {
	lots := 60000
	for _, tt := range []struct {
		name   string
		limits lot.Limits
		n      int
		change func(t *lot.Terms)
	}{
		{"plain", lot.AtLeast(92), 5, func(*lot.Terms) {}},
		{"whole percent", lot.Between(92, 96), 4, func(c *lot.Terms) { c.Rounding.Measure, c.Rounding.Factor = halfEven(0), halfEven(2) }},
		{"cap and level", lot.AtLeast(92), 5, func(c *lot.Terms) { c.MaxFactor, c.RejectBelow, c.Rounding.Measure = p("1.01"), p("0.85"), halfEven(2) }},
		{"individual minimum, 3", lot.AtLeast(92), 3, func(c *lot.Terms) { c.Individual = individual(lot.AtLeast(91.5)) }},
		{"individual minimum, 5", lot.AtLeast(92), 5, func(c *lot.Terms) { c.Individual = individual(lot.AtLeast(91.5)) }},
		{"individual minimum, 10", lot.AtLeast(92), 10, func(c *lot.Terms) { c.Individual = individual(lot.AtLeast(91)) }},
		{"individual minimum, two limits, 3", lot.Between(92, 95), 3, func(c *lot.Terms) { c.Individual = individual(lot.AtLeast(91.5)) }},
		{"individual minimum, two limits, 4", lot.Between(92, 95), 4, func(c *lot.Terms) { c.Individual = individual(lot.AtMost(95)) }},
		{"individual minimum, two limits, 7", lot.Between(92, 95), 7, func(c *lot.Terms) { c.Individual = individual(lot.Between(91, 96)) }},
		{"second pass", lot.AtLeast(92), 5, func(c *lot.Terms) { c.Second = &lot.SecondPass{Below: d("1"), Limits: lot.AtLeast(91.5), Max: d("1")} }},
		{"second pass, two limits, individual", lot.Between(92, 95), 5, func(c *lot.Terms) {
			c.Second = &lot.SecondPass{Below: d("1"), Limits: lot.Between(91.5, 95.5), Max: d("1")}
			c.Individual = individual(lot.AtLeast(91))
		}},
		{"removal, low", lot.AtLeast(92), 5, func(c *lot.Terms) { c.Outlier = screen(stats.Low, 0.05, 1) }},
		{"removal, both sides", lot.Between(92, 95), 6, func(c *lot.Terms) { c.Outlier = screen(stats.TwoSide, 0.05, 1) }},
		{"removal beside individual minimum", lot.AtLeast(92), 5, func(c *lot.Terms) {
			c.Outlier, c.Individual = screen(stats.Low, 0.05, 1), individual(lot.AtLeast(91))
		}},
	} {
		c := terms(t, tt.limits)
		tt.change(&c)
		o := lot.RiskOptions{N: tt.n, StdDev: 0.8, RemoveFlagged: true, Curve: []lot.Population{{Mean: 92.9, StdDev: 0.8}}}
		exact := risk(t, plan(t, c), o)
		o.Simulation = &lot.RiskSimulation{Lots: lots, Seed: 5, All: true}
		got := risk(t, plan(t, c), o)
		for i, points := range [][2]*lot.RiskPoint{{exact.Acceptable, got.Acceptable}, {exact.Rejectable, got.Rejectable}, {&exact.Curve[0], &got.Curve[0]}} {
			e, s := points[0], points[1]
			where := fmt.Sprintf("%s, point %d", tt.name, i)
			closeTo(t, where+", factor", s.Factor, math.Hypot(s.FactorStdErr, e.Off/4), e.Factor)
			closeTo(t, where+", rejected", s.Rejected, math.Hypot(s.RejectedStdErr, e.Off/4), e.Rejected)
			closeTo(t, where+", full", s.Full, math.Hypot(s.FullStdErr, e.Off/4), e.Full)
			if e.Population != s.Population || e.Off > 0.01 {
				t.Errorf("%s: %+v, %+v", where, e, s)
			}
		}
		if !(math.Abs(exact.Flagged-got.Flagged) < 0.004) {
			t.Errorf("%s: flagged %v, simulated %v", tt.name, exact.Flagged, got.Flagged)
		}
	}
}
