package lot_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"testing"

	"github.com/shopspring/decimal"
	"gonum.org/v1/gonum/stat/distuv"

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

// several is the screen for up to so many outliers.
func several(most int) *lot.OutlierPolicy {
	return &lot.OutlierPolicy{Test: lot.GeneralizedESDTest, Side: stats.TwoSide, Alpha: 0.05, MinN: 4, Suspects: most, MaxRemoved: 2}
}

// pair is the screen for two outliers.
func pair(side stats.Side, removed int) *lot.OutlierPolicy {
	return &lot.OutlierPolicy{Test: lot.TwoOutliersTest, Side: side, Alpha: 0.05, MinN: 4, MaxRemoved: removed}
}

func screen(side stats.Side, alpha float64, removed int) *lot.OutlierPolicy {
	return &lot.OutlierPolicy{Test: lot.GrubbsTest, Side: side, Alpha: alpha, MinN: 4, MaxRemoved: removed}
}

// The integral and the simulation share the plan and nothing else; what Off bounds
// is added to the standard error.
func TestPlanRiskAgainstSimulation(t *testing.T) {
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
		o.Simulation = &lot.RiskSimulation{Lots: 60000, Seed: 5, All: true}
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

// All of n independent results are above a minimum with Φ(z)^n, and within two limits
// with (Φ(z2)-Φ(z1))^n, whatever their mean and spread are: a schedule that rejects
// nothing leaves just that.
func TestPlanRiskOfSingleResults(t *testing.T) {
	always := rows(t, lot.Segment{From: d("0"), Pay: lot.Step(d("1"))})
	for _, limits := range []lot.Limits{lot.AtLeast(92), lot.AtMost(94), lot.Between(92, 95)} {
		for _, single := range []lot.Limits{lot.AtLeast(91), lot.AtLeast(92.7), lot.AtMost(94), lot.Between(90, 96)} {
			for _, n := range []int{3, 4, 5, 7, 10, 20} {
				c := terms(t, limits)
				c.Schedule, c.Individual = always, individual(single)
				q := lot.Population{Mean: 93.1, StdDev: 0.9}
				inside, err := lot.QualityOf(q.Mean, q.StdDev, single)
				if err != nil {
					t.Fatal(err)
				}
				want := 1 - math.Pow(inside.PWL()/100, float64(n))
				got := risk(t, plan(t, c), lot.RiskOptions{N: n, StdDev: 0.9, Curve: []lot.Population{q}, Levels: &lot.QualityLevels{Acceptable: 80, Rejectable: 50}}).Curve[0]
				if !(math.Abs(got.Rejected-want) <= 1e-8+got.Off && math.Abs(got.Factor-1+want) <= 1e-8+got.Off && got.Off < 2e-4) {
					t.Errorf("%v, single %v, n = %d: %+v, want %.10f", limits, single, n, got, want)
				}
			}
		}
	}
}

// A minimum so far out that nothing reaches it takes the integral over mean and
// spread to the numbers of the estimate's own distribution, and so does a second
// pass by the same limits that pays no less.
func TestPlanRiskInTwoWays(t *testing.T) {
	for _, limits := range []lot.Limits{lot.AtLeast(92), lot.AtMost(92), lot.Between(92, 95)} {
		for _, n := range []int{3, 4, 5, 9, 20} {
			c := terms(t, limits)
			c.Rounding.Factor = halfEven(9)
			o := lot.RiskOptions{N: n, StdDev: 0.8, Curve: []lot.Population{{Mean: 92.5, StdDev: 0.8}, {Mean: 93.5, StdDev: 0.3}, {Mean: 93.5, StdDev: 2}}, Retesting: lot.RetestBelow(60, 2)}
			one := risk(t, plan(t, c), o)
			far := c
			far.Individual = individual(lot.AtLeast(40))
			second := c
			second.Second = &lot.SecondPass{Below: d("0.9"), Limits: limits, Max: d("2")}
			for _, other := range []lot.PlanRisk{risk(t, plan(t, far), o), risk(t, plan(t, second), o)} {
				for i, a := range append(one.Curve, *one.Acceptable, *one.Rejectable) {
					b := append(other.Curve, *other.Acceptable, *other.Rejectable)[i]
					if !(math.Abs(a.Factor-b.Factor) <= 1e-9 && math.Abs(a.Rejected-b.Rejected) <= 1e-9 && math.Abs(a.Full-b.Full) <= 1e-9 && a.Samples == b.Samples) {
						t.Errorf("%v, n = %d: %+v, %+v", limits, n, a, b)
					}
				}
			}
		}
	}
}

// A lot has a result removed or it has none: what always pays 1 pays 1 in all.
func TestPlanRiskOfRemovalIsOfAllLots(t *testing.T) {
	for _, limits := range []lot.Limits{lot.AtLeast(92), lot.Between(92, 95)} {
		for side := stats.Low; side <= stats.TwoSide; side++ {
			for _, n := range []int{4, 5, 8, 15} {
				c := terms(t, limits)
				c.Outlier, c.Schedule = screen(side, 0.02, 1), rows(t, lot.Segment{From: d("0"), Pay: lot.Step(d("1"))})
				got := risk(t, plan(t, c), lot.RiskOptions{N: n, StdDev: 0.8, RemoveFlagged: true, Levels: &lot.QualityLevels{Acceptable: 80, Rejectable: 50}}).Acceptable
				if !(math.Abs(got.Factor-1) <= 1e-8 && math.Abs(got.Full-1) <= 1e-8 && got.Rejected <= 1e-8) {
					t.Errorf("%v, %v, n = %d: %+v", limits, side, n, got)
				}
			}
		}
	}
}

// Two outliers are flagged with probability alpha in any normal population, and one
// suspect of the generalized ESD test is that of Grubbs. Equal quantities weigh as none
// do.
func TestPlanRiskOfOtherScreens(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	c.Outlier = pair(stats.Low, 2)
	o := lot.RiskOptions{N: 7, StdDev: 0.8}
	exact := risk(t, plan(t, c), o)
	told := 0
	o.Simulation = &lot.RiskSimulation{Lots: 40000, Seed: 3, All: true, Progress: func(lots int) { told += lots }}
	drawn := risk(t, plan(t, c), o)
	if told != 2*40000 { // at two levels
		t.Errorf("told of %d lots", told)
	}
	closeTo(t, "flagged", drawn.Flagged, math.Sqrt(0.05*0.95/40000), exact.Flagged)
	o.Simulation, o.RemoveFlagged = nil, true
	c.Outlier = screen(stats.TwoSide, 0.05, 1)
	grubbs := risk(t, plan(t, c), o)
	c.Outlier.Test, c.Outlier.Suspects = lot.GeneralizedESDTest, 1
	c.Estimation.Weights, o.Quantities = lot.QuantityWeights, []float64{9, 9, 9, 9, 9, 9, 9}
	if got := risk(t, plan(t, c), o); !reflect.DeepEqual(got, grubbs) {
		t.Errorf("%+v, want %+v", got, grubbs)
	}
}

// The levels are those of the schedule, 90 and 50, and the numbers those of
// testdata/estimatorone.R for five results: P(≥ 90 | 90) = 0.5898; of a lot of 50
// percent what is estimated below 50 is rejected, half by symmetry.
func TestPlanRiskNamesTheLevels(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	c.Rounding.Factor = halfEven(9) // at 4 places a PWL of 89.99 pays in full
	got := risk(t, plan(t, c), lot.RiskOptions{N: 5, StdDev: 0.8})
	a, r := got.Acceptable, got.Rejectable
	if !(math.Abs(a.Quality.PWL()-90) < 1e-9 && math.Abs(r.Quality.PWL()-50) < 1e-9 && math.Abs(a.Full-0.5898) < 6e-5 && math.Abs(r.Rejected-0.5) < 1e-9) {
		t.Errorf("%+v, %+v", a, r)
	}
	if risks := got.Risks(); risks.Seller != a.Rejected || risks.Buyer != 1-r.Rejected {
		t.Errorf("%+v", risks)
	}
	if got.Simulated || got.Plan != "invented" || got.N != 5 || len(got.Warnings) != 0 {
		t.Errorf("%+v", got)
	}
}

// No part of a plan is passed over in silence.
func TestPlanRiskNamesTheParts(t *testing.T) {
	for _, tt := range []struct {
		part     string
		code     stats.WarningCode
		refused  bool
		change   func(c *lot.Terms)
		question func(o *lot.RiskOptions)
	}{
		{"rounding of Q", lot.WarnLeftOut, false, func(c *lot.Terms) { c.Limits, c.Rounding.Q = lot.Between(92, 96), halfEven(2) }, nil},
		{"rounding of Q", lot.WarnLeftOut, false, func(c *lot.Terms) { c.Rounding.Q = halfEven(4) }, nil}, // too many steps
		{"weights", lot.WarnLeftOut, false, func(c *lot.Terms) { c.Estimation.Weights = lot.QuantityWeights }, nil},
		{"weights of unequal quantities", lot.WarnSimulated, true, func(c *lot.Terms) { c.Estimation.Weights = lot.QuantityWeights },
			func(o *lot.RiskOptions) { o.Quantities = []float64{1, 1, 1, 1, 0.4} }},
		{"verification", lot.WarnLeftOut, false, func(c *lot.Terms) {
			c.Verification = &lot.VerificationPolicy{Kind: lot.SplitSamples, MeanAlpha: 0.05, Difference: 0.5, Power: 0.9}
		}, nil},
		{"plausible range", lot.WarnLeftOut, false, func(c *lot.Terms) { c.Plausible = lot.Between(90, 110) }, nil},
		{"how often the screen flags", lot.WarnLeftOut, false, func(c *lot.Terms) { c.Outlier = several(2) }, func(o *lot.RiskOptions) { o.RemoveFlagged = false }},
		{"removal by the test generalized ESD", lot.WarnSimulated, true, func(c *lot.Terms) { c.Outlier = several(2) }, nil},
		{"removal by the test two outliers", lot.WarnSimulated, true, func(c *lot.Terms) { c.Outlier = pair(stats.High, 2) }, func(o *lot.RiskOptions) { o.N = 6 }},
		{"table for small lots after a removal", lot.WarnSimulated, true, func(c *lot.Terms) {
			c.Outlier, c.SmallLot = screen(stats.Low, 0.05, 1), &lot.SmallLotPolicy{Fewest: 5, Rule: lot.OwnTable, Own: &lot.OwnTerms{Target: d("93"), Measure: halfEven(2),
				ByCount: []lot.CountSchedule{{From: 1, To: 4, Schedule: mustSchedule(t, lot.Segment{From: d("0"), Pay: lot.Step(d("0.9"))})}}}}
		}, nil},
		{"single results", lot.WarnLeftOut, false, func(c *lot.Terms) {
			c.Individual = &lot.IndividualPolicy{Limits: lot.AtLeast(90), Action: lot.ReportOnly}
		}, nil},
		{"outlier screen", lot.WarnLeftOut, false, func(c *lot.Terms) { c.Outlier = screen(stats.Low, 0.05, 1) }, func(o *lot.RiskOptions) { o.RemoveFlagged = false }},
		{"small lots", lot.WarnLeftOut, false, func(c *lot.Terms) { c.SmallLot = &lot.SmallLotPolicy{Fewest: 4, Rule: lot.JoinPrevious} }, nil},
		{"composite", lot.WarnLeftOut, false, func(c *lot.Terms) { c.Composite = &lot.CompositePart{Rule: lot.Lowest} }, nil},
		{"retests of single results", lot.WarnLeftOut, false, func(c *lot.Terms) { c.Retest = lot.PoolResults }, nil},
		{"acceptable", lot.WarnNoLevel, false, func(c *lot.Terms) { c.MaxFactor = p("0.98") }, nil},
		{"table of percent within limits", lot.WarnSimulated, true, func(c *lot.Terms) {
			c.Limits = lot.Between(92, 96)
			c.Estimation = lot.Estimation{Method: lot.TableWithin, Table: &lot.TableRule{Cell: halfEven(2), Negative: lot.MirrorNegative}}
		}, nil},
		{"retest of a removed result", lot.WarnSimulated, true, func(c *lot.Terms) {
			c.Outlier, c.Retest = screen(stats.Low, 0.05, 1), lot.ReplaceResult
			c.Outlier.RetestNeeded = true
		}, nil},
		{"removal of more than one result", lot.WarnSimulated, true, func(c *lot.Terms) { c.Outlier = screen(stats.Low, 0.05, 2) }, nil},
		{"single results of more than 50", lot.WarnSimulated, true, func(c *lot.Terms) { c.Individual = individual(lot.AtLeast(90)) }, func(o *lot.RiskOptions) { o.N = 60 }},
		{"best of several samples under a schedule that pays less for more", lot.WarnSimulated, true,
			func(c *lot.Terms) {
				c.Schedule = rows(t, straight, lot.Segment{From: d("80"), Pay: lot.Step(d("0.9"))})
			}, func(o *lot.RiskOptions) {
				o.Retesting, o.Levels = lot.BestOf(2), &lot.QualityLevels{Acceptable: 80, Rejectable: 50}
			}},
		{"best of several samples beside second pass, single results or removal", lot.WarnSimulated, true,
			func(c *lot.Terms) { c.Individual = individual(lot.AtLeast(90)) }, func(o *lot.RiskOptions) { o.Retesting = lot.BestOf(2) }},
	} {
		c := terms(t, lot.AtLeast(92))
		tt.change(&c)
		o := lot.RiskOptions{N: 5, StdDev: 0.8, RemoveFlagged: true}
		if tt.question != nil {
			tt.question(&o)
		}
		r, err := plan(t, c).Risk(context.Background(), o)
		if refused := errors.Is(err, lot.ErrNoIntegral); refused != tt.refused || !refused && err != nil {
			t.Errorf("%s: %v", tt.part, err)
		}
		if tt.refused {
			o.Simulation = &lot.RiskSimulation{Lots: 500, Seed: 1}
			if r, err = plan(t, c).Risk(context.Background(), o); err != nil || !r.Simulated || r.Acceptable.FactorStdErr == 0 {
				t.Errorf("%s: %+v, %v", tt.part, r, err)
			}
		}
		if !slices.ContainsFunc(r.Warnings, func(w stats.Warning) bool { return w.Code == tt.code && w.Where == tt.part }) {
			t.Errorf("%s: %v", tt.part, r.Warnings)
		}
	}
}

func TestPlanRiskRefuses(t *testing.T) {
	canceled, cancel := context.WithCancel(context.Background())
	cancel()
	narrow := terms(t, lot.Between(92, 92.5)) // 90 % take a standard deviation of 0.15
	joined := terms(t, lot.AtLeast(92))
	joined.SmallLot = &lot.SmallLotPolicy{Fewest: 6, Rule: lot.JoinPrevious}
	usual, weighed := terms(t, lot.AtLeast(92)), terms(t, lot.AtLeast(92))
	weighed.Estimation.Weights = lot.QuantityWeights
	for _, tt := range []struct {
		name  string
		terms lot.Terms
		ctx   context.Context
		o     lot.RiskOptions
		want  error
	}{
		{"no results", usual, context.Background(), lot.RiskOptions{StdDev: 1}, lot.ErrOutOfDomain},
		{"two results", usual, context.Background(), lot.RiskOptions{N: 2, StdDev: 1}, stats.ErrTooFew},
		{"lots that are joined", joined, context.Background(), lot.RiskOptions{N: 5, StdDev: 1}, stats.ErrTooFew},
		{"no spread", usual, context.Background(), lot.RiskOptions{N: 5}, stats.ErrParameter},
		{"spread without end", usual, context.Background(), lot.RiskOptions{N: 5, StdDev: math.Inf(1)}, stats.ErrParameter},
		{"no good quality between the limits", narrow, context.Background(), lot.RiskOptions{N: 5, StdDev: 0.8}, lot.ErrOutOfDomain},
		{"levels as fractions", usual, context.Background(), lot.RiskOptions{N: 5, StdDev: 1, Levels: &lot.QualityLevels{Acceptable: 0.9, Rejectable: 0.5}}, lot.ErrOutOfDomain},
		{"levels the wrong way", usual, context.Background(), lot.RiskOptions{N: 5, StdDev: 1, Levels: &lot.QualityLevels{Acceptable: 50, Rejectable: 90}}, lot.ErrOutOfDomain},
		{"curve of NaN", usual, context.Background(), lot.RiskOptions{N: 5, StdDev: 1, Curve: []lot.Population{{Mean: math.NaN(), StdDev: 1}}}, stats.ErrParameter},
		{"a standard error of NaN", usual, context.Background(), lot.RiskOptions{N: 5, StdDev: 1, Simulation: &lot.RiskSimulation{Lots: 9, StdErr: math.NaN()}}, lot.ErrOutOfDomain},
		{"workers below 0", usual, context.Background(), lot.RiskOptions{N: 5, StdDev: 1, Simulation: &lot.RiskSimulation{Lots: 9, Workers: -1}}, lot.ErrOutOfDomain},
		{"a spread below the last place of a limit", usual, context.Background(), lot.RiskOptions{N: 5, StdDev: 1e-300}, lot.ErrOutOfDomain},
		{"one simulated lot", usual, context.Background(), lot.RiskOptions{N: 5, StdDev: 1, Simulation: &lot.RiskSimulation{Lots: 1, All: true}}, lot.ErrOutOfDomain},
		{"best of minus one", usual, context.Background(), lot.RiskOptions{N: 5, StdDev: 1, Retesting: lot.BestOf(-1)}, lot.ErrOutOfDomain},
		{"quantities that do not weigh", usual, context.Background(), lot.RiskOptions{N: 5, StdDev: 1, Quantities: []float64{1, 1, 1, 1, 2}}, lot.ErrUnused},
		{"four quantities", weighed, context.Background(), lot.RiskOptions{N: 5, StdDev: 1, Quantities: []float64{1, 1, 1, 2}}, stats.ErrLength},
		{"no quantity", weighed, context.Background(), lot.RiskOptions{N: 5, StdDev: 1, Quantities: []float64{1, 1, 1, 2, 0}}, stats.ErrParameter},
		{"no context", usual, nil, lot.RiskOptions{N: 5, StdDev: 1}, lot.ErrMissing},
		{"canceled", usual, canceled, lot.RiskOptions{N: 5, StdDev: 1}, context.Canceled},
	} {
		if _, err := plan(t, tt.terms).Risk(tt.ctx, tt.o); !errors.Is(err, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
	if _, err := (lot.Plan{}).Risk(context.Background(), lot.RiskOptions{N: 5, StdDev: 1}); !errors.Is(err, lot.ErrEmptyPlan) {
		t.Error(err)
	}
}

// However extreme the population is, what comes back are probabilities.
func TestPlanRiskStaysInRange(t *testing.T) {
	for _, limits := range []lot.Limits{lot.AtLeast(92), lot.Between(92, 95), lot.Between(92, 92.001)} {
		for _, n := range []int{3, 4, 30, 200} {
			c := terms(t, limits)
			c.Second = &lot.SecondPass{Below: d("1"), Limits: limits, Max: d("1")}
			if n <= 30 {
				c.Individual = individual(lot.AtLeast(91))
			}
			var curve []lot.Population
			for _, m := range []float64{-1e6, 91, 93.5} {
				for _, s := range []float64{1e-9, 1, 1e6} {
					curve = append(curve, lot.Population{Mean: m, StdDev: s})
				}
			}
			o := lot.RiskOptions{N: n, StdDev: 1e-4, Curve: curve}
			stepped := terms(t, lot.AtMost(92))
			stepped.Rounding.Q = halfEven(1)
			table := terms(t, lot.AtLeast(92))
			table.Estimation = lot.Estimation{Method: lot.TableWithin, Table: &lot.TableRule{Cell: halfEven(2), Negative: lot.SignedRows}}
			points := risk(t, plan(t, c), o).Curve
			points = append(points, risk(t, plan(t, stepped), o).Curve...)
			for _, q := range append(points, risk(t, plan(t, table), o).Curve...) {
				if !(q.Factor >= -1e-9 && q.Factor <= 1.02+1e-9 && q.Rejected >= 0 && q.Rejected <= 1 && q.Full >= 0 && q.Full <= 1 && q.Full+q.Rejected <= 1+1e-9 && q.Samples == 1) {
					t.Errorf("%v, n = %d: %+v", limits, n, q)
				}
			}
		}
	}
}

// A measure rounded to whole percent decides at the half percents, exactly; rounded to
// hundredths it decides exactly too, and what rounding moves within a row is bounded.
func TestPlanRiskOfARoundedMeasure(t *testing.T) {
	for _, limits := range []lot.Limits{lot.AtLeast(92), lot.Between(92, 95)} {
		c := terms(t, limits)
		c.Rounding.Measure, c.Rounding.Factor = halfEven(0), halfEven(9)
		o := lot.RiskOptions{N: 5, StdDev: 0.8}
		got := risk(t, plan(t, c), o)
		e := estimator(t, 5, got.Acceptable.Quality)
		if want := value(t)(e.AtLeast(89.5)); got.Acceptable.Off != 0 || !(math.Abs(got.Acceptable.Full-want) <= 1e-9) {
			t.Errorf("%v: %+v, full pay %v", limits, got.Acceptable, want)
		}
		if want := 1 - value(t)(e.AtLeast(49.5)); !(math.Abs(got.Acceptable.Rejected-want) <= 1e-9) {
			t.Errorf("%v: %+v, rejected %v", limits, got.Acceptable, want)
		}
		c.Rounding.Measure = halfEven(2) // rows from 49.995 and 89.995, unrounded within
		fine := risk(t, plan(t, c), o).Acceptable
		if want := value(t)(e.AtLeast(89.995)); !(math.Abs(fine.Full-want) <= 1e-9 && fine.Off > 0.005*0.005 && fine.Off < 0.006*0.005) {
			t.Errorf("%v: %+v, full pay %v", limits, fine, want)
		}
	}
}

// With Q rounded, a percentage is reached half a step below the first step from its own
// index on. For three results and two places that of 100 percent is 1.155, beyond their
// largest index 2/√3 that counts. gonum has the noncentral t from there on.
func TestPlanRiskOfARoundedIndex(t *testing.T) {
	for _, tt := range []struct {
		n, places int
		from      float64
	}{{5, 1, 90}, {3, 2, 100}} {
		q := value(t)(lot.QualityIndex(tt.from, tt.n))
		unit := math.Pow10(-tt.places)
		at := (math.Ceil(q/unit) - 0.5) * unit
		for _, limits := range []lot.Limits{lot.AtLeast(92), lot.AtMost(92)} {
			c := terms(t, limits)
			c.Rounding.Q, c.Rounding.Measure = halfEven(tt.places), halfEven(6)
			c.Schedule = rows(t, lot.Segment{From: d("0"), Reject: true}, lot.Segment{From: decimal.NewFromFloat(tt.from), Pay: lot.Step(d("1"))})
			got := risk(t, plan(t, c), lot.RiskOptions{N: tt.n, StdDev: 0.8, Levels: &lot.QualityLevels{Acceptable: 80, Rejectable: 50}}).Acceptable
			root := math.Sqrt(float64(tt.n))
			want := 1 - distuv.NoncentralT{Nu: float64(tt.n - 1), Mu: root * distuv.UnitNormal.Quantile(0.8)}.CDF(root*at)
			if !(math.Abs(got.Full-want) < 1e-9 && math.Abs(got.Rejected-1+want) < 1e-9 && math.Abs(got.Factor-want) < 1e-9 && got.Off == 0) {
				t.Errorf("n = %d, %v: from %v: %+v, want %v", tt.n, limits, at, got, want)
			}
		}
	}
}
