package lot_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// randomly returns x to so many places.
func randomly(places int32, x float64) decimal.Decimal {
	return decimal.NewFromFloat(x).Round(places)
}

// randomSchedule has one to three rows of steps, lines and quadratics, with or without
// rejection.
func randomSchedule(t *testing.T, rng *rand.Rand) lot.Schedule {
	segments := []lot.Segment{{From: d("0"), Reject: rng.IntN(2) == 0, Pay: lot.Formula(randomly(2, 0.3+0.3*rng.Float64()), randomly(4, 0.006*rng.Float64()))}}
	for from := 30 + rng.IntN(40); from < 100 && len(segments) < 4; from += 5 + rng.IntN(30) {
		s := lot.Segment{From: decimal.NewFromInt(int64(from)), After: rng.IntN(3) == 0}
		switch rng.IntN(3) {
		case 0:
			s.Pay = lot.Step(randomly(2, 0.8+0.25*rng.Float64()))
		case 1:
			s.Pay = lot.Formula(randomly(2, 0.4+0.3*rng.Float64()), randomly(4, 0.006*rng.Float64()))
		default:
			s.Pay = lot.Quadratic(d("0.5"), d("0.008"), randomly(6, -0.00004*rng.Float64()))
		}
		if rng.IntN(3) == 0 {
			s.Max = p(randomly(2, 0.9+0.12*rng.Float64()).String())
		}
		segments = append(segments, s)
	}
	return rows(t, segments...)
}

// randomTerms has some of all that an integral covers.
func randomTerms(t *testing.T, rng *rand.Rand) (c lot.Terms, n int, r lot.Retesting) {
	kind := rng.IntN(3)
	c = terms(t, []lot.Limits{lot.AtLeast(92), lot.AtMost(94), lot.Between(92, 94.5)}[kind])
	c.Schedule, n = randomSchedule(t, rng), 3+rng.IntN(6)
	sometimes := func() bool { return rng.IntN(3) == 0 }
	if sometimes() {
		c.MaxFactor = p("1.01")
	}
	if sometimes() {
		c.RejectBelow = p("0.75")
	}
	if sometimes() {
		c.Rounding.Measure = halfEven(rng.IntN(3))
	}
	if sometimes() {
		r = lot.RetestBelow([]float64{60, 70.5, 90}[rng.IntN(3)], 1+rng.IntN(4))
	}
	switch c.Rounding.Factor = halfEven(2 + rng.IntN(3)); rng.IntN(6) {
	case 0:
		if kind == 2 {
			c.Limits = lot.AtMost(93.8)
		}
		c.Rounding.Q = units.Rounding{Method: units.HalfUp, Places: 1 + rng.IntN(2)}
	case 1:
		c.Second = &lot.SecondPass{Below: d("0.95"), Limits: []lot.Limits{lot.AtLeast(91.5), lot.AtMost(94.4), lot.Between(91.5, 94.8)}[kind], Max: d("0.97")}
	case 2:
		c.Individual = individual([]lot.Limits{lot.AtLeast(91.3), lot.AtMost(95.1), lot.Between(90.5, 95.8)}[rng.IntN(3)])
	case 3:
		r, c.Outlier = lot.Retesting{}, screen(stats.Side(1+rng.IntN(3)), 0.01+0.04*rng.Float64(), 1)
	case 4:
		c.Estimation = lot.Estimation{Method: lot.TableWithin, Table: &lot.TableRule{Cell: halfEven(1 + rng.IntN(2)), Negative: lot.NegativeRule(1 + rng.IntN(2))}}
		c.Limits = lot.AtLeast(92.2)
	default:
		if c.Schedule.CheckMonotone(lot.Rising, d("100")) == nil {
			r = lot.BestOf(2)
		}
	}
	return c, n, r
}

// Whatever a plan is made of, the integral finds what its rules do to drawn lots, within
// their standard errors and what Off says: a handful of plans in a usual run.
func TestPlanRiskOfRandomPlans(t *testing.T) {
	plans, lots := 40, 10000
	if lot.Long() {
		plans, lots = 400, 60_000
	}
	rng := rand.New(rand.NewPCG(71, 72))
	worst, beyond := 0.0, 0
	for k := range plans {
		c, n, r := randomTerms(t, rng)
		o := lot.RiskOptions{N: n, StdDev: 0.8, Retesting: r, RemoveFlagged: true, Levels: &lot.QualityLevels{Acceptable: 60, Rejectable: 30},
			Curve: []lot.Population{{Mean: 91.5 + 3*rng.Float64(), StdDev: 0.3 + 0.9*rng.Float64()}}}
		exact := risk(t, plan(t, c), o)
		o.Simulation = &lot.RiskSimulation{Lots: lots, Seed: uint64(k), All: true}
		drawn := risk(t, plan(t, c), o)
		for i, points := range [][2]lot.RiskPoint{{*exact.Acceptable, *drawn.Acceptable}, {*exact.Rejectable, *drawn.Rejectable}, {exact.Curve[0], drawn.Curve[0]}} {
			e, s := points[0], points[1]
			for what, v := range map[string][3]float64{"factor": {e.Factor, s.Factor, s.FactorStdErr}, "rejected": {e.Rejected, s.Rejected, s.RejectedStdErr}, "full": {e.Full, s.Full, s.FullStdErr}} {
				// a lot more or less makes no difference that could be told
				z := max(0, math.Abs(v[0]-v[1])-e.Off-1/float64(lots)) / max(v[2], 1e-9)
				if worst = max(worst, z); z > 2 {
					beyond++
				}
				if !(z <= 4.8) || exact.Simulated || e.Off > 0.02 {
					t.Errorf("plan %d, point %d, %s: %.6f, drawn %.6f (%.2g), off %.2g\n%+v", k, i, what, v[0], v[1], v[2], e.Off, c)
				}
			}
		}
	}
	if share := float64(beyond) / float64(9*plans); share > 0.06 {
		t.Errorf("%.3f of the numbers are off by more than two standard errors", share)
	}
	if lot.Long() {
		fmt.Printf("%d plans, worst %.2f standard errors, %d of %d beyond two\n", plans, worst, beyond, 9*plans)
	}
}
