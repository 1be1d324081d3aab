package lot_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

func simulatePlans(t testing.TB, o lot.PlanSimulation) lot.SimulationResult {
	t.Helper()
	r, err := lot.SimulatePlans(context.Background(), o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// recorded draws results of one place and keeps them, lot after lot.
func recorded(kept *[][]float64) lot.JointSource {
	return lot.JointLots(1, func(results [][]float64, random *rand.Rand) {
		for i := range results[0] {
			results[0][i] = math.Round(10*(92.8+0.9*random.NormFloat64())) / 10
		}
		*kept = append(*kept, append([]float64(nil), results[0]...))
	})
}

// The simulation judges as Evaluate does, whatever the plan says: lots of results
// recorded to a tenth, where ties are common, come to the same sums.
func TestSimulatePlansAgreesWithEvaluate(t *testing.T) {
	const lots = 300
	for name, change := range map[string]func(c *lot.Terms){
		"absolute":       func(*lot.Terms) {},
		"rounded":        func(c *lot.Terms) { c.Rounding = roundedTo(0, 1, 2, 2, 0, 2) },
		"rounded finely": func(c *lot.Terms) { c.Rounding = roundedTo(1, 2, 3, 4, 2, 3) },
		"two limits":     func(c *lot.Terms) { c.Limits, c.Rounding = lot.Between(92, 94), roundedTo(1, 2, 2, 2, 1, 3) },
		"table": func(c *lot.Terms) {
			c.Estimation = lot.Estimation{Method: lot.TableWithin, Table: &lot.TableRule{Cell: halfEven(2), Negative: lot.MirrorNegative}}
			c.Rounding.Q = halfEven(2)
		},
		"signed table": func(c *lot.Terms) {
			c.Limits = lot.Between(92, 93.5)
			c.Estimation = lot.Estimation{Method: lot.TableWithin, Table: &lot.TableRule{Cell: halfEven(2), Negative: lot.SignedRows}}
		},
		"ranges": func(c *lot.Terms) {
			c.Estimation = lot.Estimation{Method: lot.RangeWithin, Ranges: []lot.RangeConstant{{N: 6, Group: 3, C: d("1.69")}}}
		},
		"moving average": func(c *lot.Terms) {
			c.Estimation, c.Rounding.Mean = lot.Estimation{Method: lot.AverageWithin, Window: 4}, halfEven(1)
		},
		"deviation": func(c *lot.Terms) {
			*c = byDeviation(t)
			c.Rounding.Measure = halfEven(2)
		},
		"small lots": func(c *lot.Terms) {
			c.SmallLot = &lot.SmallLotPolicy{Fewest: 7, Rule: lot.OwnTable, Own: &lot.OwnTerms{Target: d("93"), Measure: halfEven(2),
				ByCount: []lot.CountSchedule{{From: 1, To: 6, Schedule: mustSchedule(t, lot.Segment{From: d("0"), Pay: lot.Step(d("1"))}, lot.Segment{From: d("0.7"), Pay: lot.Step(d("0.9"))})}}}}
		},
		"second pass, caps, level, single results": func(c *lot.Terms) {
			c.Second = &lot.SecondPass{Below: d("0.97"), Limits: lot.AtLeast(91.5), Max: d("0.98")}
			c.MaxFactor, c.RejectBelow, c.Individual = p("1.01"), p("0.85"), individual(lot.AtLeast(91))
		},
		"removal": func(c *lot.Terms) { c.Outlier = screen(stats.TwoSide, 0.1, 1) },
		"removal and retest": func(c *lot.Terms) {
			c.Outlier, c.Retest = screen(stats.Low, 0.1, 1), lot.ReplaceResult
			c.Outlier.RetestNeeded = true
		},
		"removal of several": func(c *lot.Terms) { c.Outlier = screen(stats.High, 0.3, 2) },
		"two outliers": func(c *lot.Terms) {
			c.Outlier = &lot.OutlierPolicy{Test: lot.TwoOutliersTest, Side: stats.Low, Alpha: 0.4, MinN: 4, MaxRemoved: 3}
		},
		"two outliers high, pooled": func(c *lot.Terms) {
			c.Outlier = &lot.OutlierPolicy{Test: lot.TwoOutliersTest, Side: stats.High, Alpha: 0.2, MinN: 5, MaxRemoved: 1, RetestNeeded: true}
			c.Retest = lot.PoolResults
		},
		"generalized ESD": func(c *lot.Terms) {
			c.Outlier = &lot.OutlierPolicy{Test: lot.GeneralizedESDTest, Side: stats.TwoSide, Alpha: 0.3, MinN: 6, Suspects: 3, MaxRemoved: 2}
		},
		"weights": func(c *lot.Terms) { c.Estimation.Weights, c.Limits = lot.QuantityWeights, lot.Between(92, 94) },
		"weighted deviation and removal": func(c *lot.Terms) {
			c.Limits, c.Estimation = lot.Limits{}, lot.Estimation{Method: lot.MeanDeviation, Target: p("93"), Weights: lot.QuantityWeights}
			c.Outlier = screen(stats.TwoSide, 0.2, 1)
		},
		"weights, small lots after removal": func(c *lot.Terms) {
			c.Estimation.Weights, c.Outlier = lot.QuantityWeights, screen(stats.TwoSide, 0.3, 1)
			c.SmallLot = &lot.SmallLotPolicy{Fewest: 6, Rule: lot.OwnTable, Own: &lot.OwnTerms{Target: d("93"), Measure: halfEven(2),
				ByCount: []lot.CountSchedule{{From: 1, To: 5, Schedule: mustSchedule(t, lot.Segment{From: d("0"), Pay: lot.Formula(d("1.1"), d("-0.3"))})}}}}
		},
		"weights and retest": func(c *lot.Terms) {
			c.Estimation.Weights, c.Outlier, c.Retest = lot.QuantityWeights, screen(stats.TwoSide, 0.2, 1), lot.ReplaceResult
			c.Outlier.RetestNeeded = true
		},
	} {
		c := terms(t, lot.AtLeast(92))
		change(&c)
		contract := plan(t, c)
		var kept [][]float64
		got := simulatePlans(t, lot.PlanSimulation{Plans: []lot.Plan{contract}, N: 6, Source: recorded(&kept), RemoveFlagged: true, Quantities: quantitiesFor(c, quantities[:]), Lots: lots, Seed: 9, Workers: 1})
		step := len(kept) / lots // with the retests
		var factor, measure, rejected, flagged float64
		for i := 0; i < len(kept); i += step {
			e, wasFlagged := evaluated(t, contract, kept[i], kept[i+step-1])
			if e.Factor != nil {
				factor += decimal.RequireFromString(e.Factor.Used).InexactFloat64()
			}
			rejected += boolean(e.Decision == lot.Rejected)
			flagged += boolean(wasFlagged)
			measure += measured(e)
		}
		if !(math.Abs(got.Factor-factor/lots) < 1e-12 && math.Abs(got.PWL-measure/lots) < 1e-9 && math.Abs(got.Rejected-rejected/lots) < 1e-12 && math.Abs(got.Flagged-flagged/lots) < 1e-12) {
			t.Errorf("%s: %+v, want %v, %v, %v, %v", name, got, factor/lots, measure/lots, rejected/lots, flagged/lots)
		}
	}
}

// Results recorded to a tenth reach a step exactly, and their sums in float64 do not:
// algebra says what each lot has, from the mean of 92.0, the sum of 276.0 of the first
// three, and deviations of 0.5, 0.4, 0.5, 0.9 and 0.7.
func TestSimulatedLotsOnAStep(t *testing.T) {
	half := terms(t, lot.AtLeast(92))
	averages := half
	averages.Estimation = lot.Estimation{Method: lot.AverageWithin, Window: 3}
	deviation := byDeviation(t)
	deviation.Estimation.Target = p("92")
	deviation.Schedule = mustSchedule(t, lot.Segment{From: d("0"), Pay: lot.Step(d("0.9"))}, lot.Segment{From: d("0.6"), After: true, Reject: true})
	for _, tt := range []struct {
		name            string
		terms           lot.Terms
		results         [5]float64
		measure, factor float64
	}{
		{"half within", half, [5]float64{91.7, 91.3, 92.6, 92, 92.4}, 50, 0.8},
		{"a moving average on the limit", averages, [5]float64{91.6, 92.6, 91.8, 92.1, 92.9}, 100, 1.02},
		{"a deviation on a step", deviation, [5]float64{91.5, 91.6, 92.5, 91.1, 92.7}, 0.6, 0.9},
	} {
		source := lot.JointLots(1, func(results [][]float64, _ *rand.Rand) { copy(results[0], tt.results[:]) })
		r := simulatePlans(t, lot.PlanSimulation{Plans: []lot.Plan{plan(t, tt.terms)}, N: 5, Source: source, Lots: 2, Seed: 1})
		if r.Factor != tt.factor || math.Abs(r.PWL-tt.measure) > 1e-12 {
			t.Errorf("%s: factor %v at %v, want %v at %v", tt.name, r.Factor, r.PWL, tt.factor, tt.measure)
		}
	}
}

func roundedTo(value, mean, stdDev, q, measure, factor int) lot.RoundingPolicy {
	return lot.RoundingPolicy{Value: halfEven(value), Mean: units.Rounding{Method: units.HalfUp, Places: mean}, StdDev: halfEven(stdDev), Q: units.Rounding{Method: units.HalfUp, Places: q}, Measure: units.Rounding{Method: units.HalfUp, Places: measure}, Factor: halfEven(factor), Money: halfEven(2)}
}

// measured returns the measure of the pass that was judged last.
func measured(e lot.Evaluation) float64 {
	number := e.Measure
	if e.Measure.Used[len(e.Measure.Used)-1] != 0xa6 { // the last byte of "…"
		return decimal.RequireFromString(number.Used).InexactFloat64()
	}
	return number.Exact
}

// quantities are those of the lots.
var quantities = [6]float64{400, 250, 500, 500, 125, 480}

// quantitiesFor returns the quantities for a plan that weighs by them.
func quantitiesFor(c lot.Terms, quantities []float64) []float64 {
	if c.Estimation.Weights == lot.QuantityWeights {
		return quantities
	}
	return nil
}

// evaluated removes what the screen flags, look by look, as the simulation does. A
// retest takes part in the next look, so that plans with retests remove one.
func evaluated(t *testing.T, contract lot.Plan, results, retests []float64) (e lot.Evaluation, flagged bool) {
	t.Helper()
	l := lot.Lot{ID: "7", Unit: contract.Terms().Unit}
	for i, x := range results {
		l.Results = append(l.Results, lot.Result{ID: fmt.Sprint(i), Value: decimal.NewFromFloat(x), Quantity: decimal.NewFromFloat(quantities[i])})
	}
	evaluate := func() {
		var err error
		if e, err = contract.Evaluate(l); err != nil {
			t.Fatal(err)
		}
	}
	evaluate()
	flagged = e.Screen != nil && e.Screen.Flagged != nil
	for gone := 0; e.Screen != nil && e.Screen.Flagged != nil && gone < contract.Terms().Outlier.MaxRemoved; evaluate() {
		for _, id := range e.Screen.Flagged[:min(len(e.Screen.Flagged), contract.Terms().Outlier.MaxRemoved-gone)] {
			i, _ := strconv.Atoi(id)
			l.Results[i].Removed = true
			if contract.Terms().Outlier.RetestNeeded {
				l.Results = append(l.Results, lot.Result{ID: "again" + id, Value: decimal.NewFromFloat(retests[i]), RetestOf: id})
			}
			gone++
		}
	}
	return e, flagged
}

// parts are two plans of a composite.
func parts(t *testing.T, rule lot.CompositeRule, weights ...string) (plans []lot.Plan) {
	for i, l := range []lot.Limits{lot.AtLeast(92), lot.Between(92, 96)} {
		c := terms(t, l)
		c.Schedule = rows(t, straight) // rejects none, so that the factors combine freely
		c.Composite = &lot.CompositePart{Rule: rule}
		if weights != nil {
			c.Composite.Weight = p(weights[i])
		}
		plans = append(plans, plan(t, c))
	}
	return plans
}

// Means combine as factors do: a weighted sum with its weights whatever the
// correlation, a product of independent factors as the product; the lowest of a
// characteristic and itself is that one.
func TestSimulatedComposites(t *testing.T) {
	population := lot.Population{Mean: 93, StdDev: 0.8}
	means := make([]float64, 2)
	for i, c := range parts(t, lot.Lowest) {
		o := lot.RiskOptions{N: 5, StdDev: 0.8, Curve: []lot.Population{population}, Levels: &lot.QualityLevels{Acceptable: 80, Rejectable: 50}}
		means[i] = risk(t, c, o).Curve[0].Factor
	}
	together := func(r float64) lot.JointSource {
		s, err := lot.CorrelatedLots([]lot.Population{population, population}, [][]float64{{1, r}, {r, 1}})
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	one := lot.NormalLots(93, 0.8)
	fine := lot.CompositeTerms{Rounding: halfEven(9)}
	for _, tt := range []struct {
		name    string
		rule    lot.CompositeRule
		weights []string
		source  lot.JointSource
		plans   func([]lot.Plan) []lot.Plan
		want    float64
	}{
		{"weighted", lot.WeightedSum, []string{"0.7", "0.3"}, together(0.8), nil, 0.7*means[0] + 0.3*means[1]},
		{"product", lot.Product, nil, lot.SeparateLots(one, one), nil, means[0] * means[1]},
		{"product, no correlation", lot.Product, nil, together(0), nil, means[0] * means[1]},
		{"lowest of one twice", lot.Lowest, nil, together(1), func(ps []lot.Plan) []lot.Plan { return []lot.Plan{ps[0], ps[0]} }, means[0]},
	} {
		plans, how := parts(t, tt.rule, tt.weights...), fine
		how.Rule = tt.rule
		if tt.plans != nil {
			plans = tt.plans(plans)
		}
		got := simulatePlans(t, lot.PlanSimulation{Plans: plans, Composite: &how, N: 5, Source: tt.source, Lots: 60000, Seed: 21})
		closeTo(t, tt.name, got.Factor, got.FactorStdErr, tt.want)
	}
}

// Characteristics go together as asked. A plan by the mean deviation of two results
// from a target far below reads off their mean, so that the mean of a product of two
// factors shows the covariance: E(xy) = μν + r·σ·τ/n.
func TestCorrelatedLots(t *testing.T) {
	populations := []lot.Population{{Mean: 1.2, StdDev: 0.1}, {Mean: 1.1, StdDev: 0.05}, {Mean: 1.3, StdDev: 0.2}}
	correlation := [][]float64{{1, -0.8, 0.3}, {-0.8, 1, 0.1}, {0.3, 0.1, 1}}
	c := terms(t, lot.Limits{})
	c.Plausible, c.AnyScale, c.Rounding.Factor = lot.Between(-100, 100), true, halfEven(9)
	c.Estimation = lot.Estimation{Method: lot.MeanDeviation, Target: p("-50")}
	c.Schedule, c.Composite = rows(t, lot.Segment{From: d("0"), Pay: lot.Formula(d("-50"), d("1"))}), &lot.CompositePart{Rule: lot.Product}
	read := plan(t, c)
	for a := range 3 {
		for b := range a {
			source, err := lot.CorrelatedLots([]lot.Population{populations[a], populations[b]}, [][]float64{{1, correlation[a][b]}, {correlation[b][a], 1}})
			if err != nil {
				t.Fatal(err)
			}
			got := simulatePlans(t, lot.PlanSimulation{Plans: []lot.Plan{read, read}, Composite: &lot.CompositeTerms{Rule: lot.Product, Rounding: halfEven(9)}, N: 2, Source: source, Lots: 60000, Seed: 3})
			want := populations[a].Mean*populations[b].Mean + correlation[a][b]*populations[a].StdDev*populations[b].StdDev/2
			closeTo(t, fmt.Sprint(a, b), got.Factor, got.FactorStdErr, want)
		}
	}
	if _, err := lot.CorrelatedLots(populations, correlation); err != nil {
		t.Error(err)
	}
}

// Whole lots sampled again pay as the exact distribution says.
func TestSimulatedRetesting(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	for _, r := range []lot.Retesting{lot.BestOf(2), lot.RetestBelow(75, 3), lot.RetestBelow(75, math.MaxInt)} {
		o := lot.RiskOptions{N: 4, StdDev: 0.8, Retesting: r}
		exact := risk(t, plan(t, c), o)
		o.Simulation = &lot.RiskSimulation{Lots: 40000, Seed: 2, All: true}
		got := risk(t, plan(t, c), o)
		closeTo(t, "factor", got.Rejectable.Factor, got.Rejectable.FactorStdErr, exact.Rejectable.Factor)
		closeTo(t, "samples", got.Rejectable.Samples, 4.0/200, exact.Rejectable.Samples)
	}
}

// What decides on a further sample is the measure as it is reported: of whole percent 75
// is reached at 74.5, and in a table at the row.
func TestFurtherSamplesByTheReportedMeasure(t *testing.T) {
	o := lot.RiskOptions{N: 5, StdDev: 0.8, Retesting: lot.RetestBelow(75, 3), Levels: &lot.QualityLevels{Acceptable: 80, Rejectable: 50}}
	for name, change := range map[string]func(c *lot.Terms){
		"whole percent":  func(*lot.Terms) {},
		"rounded Q":      func(c *lot.Terms) { c.Rounding.Q = halfEven(1) },
		"single results": func(c *lot.Terms) { c.Individual = individual(lot.AtLeast(89)) },
		"table of the whole rows": func(c *lot.Terms) {
			c.Estimation = lot.Estimation{Method: lot.TableWithin, Table: &lot.TableRule{Cell: halfEven(2), Negative: lot.MirrorNegative}}
		},
	} {
		c := terms(t, lot.AtLeast(92))
		c.Rounding.Measure = halfEven(0)
		change(&c)
		o.Simulation = nil
		exact := risk(t, plan(t, c), o).Acceptable
		o.Simulation = &lot.RiskSimulation{Lots: 100_000, Seed: 6, All: true}
		drawn := risk(t, plan(t, c), o).Acceptable
		closeTo(t, name+", samples", drawn.Samples, 0.8/math.Sqrt(100_000), exact.Samples) // 1 to 3, as a rule 1
		if again := 1 - value(t)(estimator(t, 5, exact.Quality).AtLeast(74.5)); name == "whole percent" && !(math.Abs(exact.Samples-1-again-again*again) <= 1e-9) {
			t.Errorf("%s: %v samples, again with %v", name, exact.Samples, again)
		}
	}
}

// No more is removed than leaves enough results for the plan, and equal results are no
// outliers.
func TestSimulatedRemovalEnds(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	var got [2]lot.SimulationResult
	for i := range got {
		c.Outlier = &lot.OutlierPolicy{Test: lot.GrubbsTest, Side: stats.TwoSide, Alpha: 0.5, MinN: 3, MaxRemoved: 1 + i}
		got[i] = simulatePlans(t, lot.PlanSimulation{Plans: []lot.Plan{plan(t, c)}, N: 4, Source: lot.SeparateLots(lot.NormalLots(92.8, 1)), RemoveFlagged: true, Lots: 3000, Seed: 4})
	}
	if got[0] != got[1] || got[0].Flagged < 0.4 {
		t.Errorf("%+v, %+v", got[0], got[1])
	}
	for _, o := range []*lot.OutlierPolicy{screen(stats.TwoSide, 0.5, 1), pair(stats.Low, 2), several(2)} {
		c.Outlier = o
		if r := simulatePlans(t, lot.PlanSimulation{Plans: []lot.Plan{plan(t, c)}, N: 6, Source: lot.SeparateLots(lot.NormalLots(93, 0)), RemoveFlagged: true, Lots: 10}); r.Flagged != 0 {
			t.Errorf("%v: %+v", o.Test, r)
		}
	}
}

// Every test that there is for a screen is simulated by its own rule, not by another's.
func TestEveryScreenIsSimulated(t *testing.T) {
	found := make(map[float64]lot.OutlierTest)
	for test := lot.GrubbsTest; test.String() != "none"; test++ {
		c := terms(t, lot.AtLeast(92))
		c.Outlier = &lot.OutlierPolicy{Test: test, Side: stats.Low, Alpha: 0.2, MinN: 5}
		if test == lot.GeneralizedESDTest {
			c.Outlier.Suspects = 2
		}
		r := simulatePlans(t, lot.PlanSimulation{Plans: []lot.Plan{plan(t, c)}, N: 7, Source: lot.SeparateLots(lot.NormalLots(92.8, 1)), Lots: 3000, Seed: 4})
		if other, ok := found[r.Flagged]; ok || r.Flagged == 0 {
			t.Errorf("%v flags as %v does: %v", test, other, r.Flagged)
		}
		found[r.Flagged] = test
	}
}

func TestSimulatePlansIsReproducible(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	c.Outlier, c.Retest = screen(stats.Low, 0.05, 1), lot.ReplaceResult
	c.Outlier.RetestNeeded = true
	o := lot.PlanSimulation{Plans: []lot.Plan{plan(t, c)}, N: 5, Source: lot.SeparateLots(lot.NormalLots(92.8, 1)), RemoveFlagged: true, Lots: 70001, Seed: 4, Workers: 1}
	want := simulatePlans(t, o)
	for _, workers := range []int{2, 5, 0} {
		if o.Workers = workers; simulatePlans(t, o) != want {
			t.Errorf("%d workers: %+v, want %+v", workers, simulatePlans(t, o), want)
		}
	}
}

// Whatever lots are drawn from, the bits are the same for any number of workers, and the
// simulation stops at the precision that is asked for, having told how far it is.
func TestSimulatePlansOfEverySource(t *testing.T) {
	for name, s := range map[string]lot.LotSource{
		"skew":     source(t)(lot.SkewLots(92.8, 1, 1.2)),
		"two mode": source(t)(lot.TwoModeLots(92, 94, 0.3, 0.7)),
		"serial":   source(t)(lot.SerialLots(92.8, 1, 0.5)),
		"strata":   source(t)(lot.StratifiedLots([]float64{92, 93, 93.5, 92.5, 93}, 0.8)),
		"gauge":    lot.WithGauge(lot.NormalLots(92.8, 0.9), 0.3, 0.4),
	} {
		told := 0
		how := lot.CompositeTerms{Rule: lot.Product, Rounding: halfEven(3)}
		o := lot.PlanSimulation{Plans: parts(t, lot.Product), Composite: &how, N: 5, Source: lot.SeparateLots(s, s), Lots: 10_000_000, Seed: 4, StdErr: 0.001, Progress: func(lots int) { told = lots }}
		o.Workers = 1
		want := simulatePlans(t, o)
		if !(want.FactorStdErr <= o.StdErr && want.RejectedStdErr <= o.StdErr && want.Lots < o.Lots && told == want.Lots) {
			t.Errorf("%s: %+v, told %d", name, want, told)
		}
		if o.Workers = 3; simulatePlans(t, o) != want {
			t.Errorf("%s: three workers find something else", name)
		}
	}
}

// byDeviation is a plan by the mean deviation from 93.
func byDeviation(t *testing.T) lot.Terms {
	c := terms(t, lot.Limits{})
	c.Estimation = lot.Estimation{Method: lot.MeanDeviation, Target: p("93")}
	c.Schedule = mustSchedule(t, lot.Segment{From: d("0"), Pay: lot.Step(d("1"))}, lot.Segment{From: d("0.6"), Pay: lot.Formula(d("1.3"), d("-0.5"))}, lot.Segment{From: d("1"), Reject: true})
	return c
}

func TestSimulatePlansRefuses(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	good := lot.PlanSimulation{Plans: []lot.Plan{plan(t, c)}, N: 5, Source: lot.SeparateLots(lot.NormalLots(93, 1)), Lots: 1000, Seed: 1}
	for _, tt := range []struct {
		name   string
		change func(o *lot.PlanSimulation)
		want   error
	}{
		{"no plan", func(o *lot.PlanSimulation) { o.Plans = nil }, lot.ErrMissing},
		{"an empty plan", func(o *lot.PlanSimulation) { o.Plans = []lot.Plan{{}} }, lot.ErrEmptyPlan},
		{"two results", func(o *lot.PlanSimulation) { o.N = 2 }, stats.ErrTooFew},
		{"no results", func(o *lot.PlanSimulation) { o.N = 0 }, lot.ErrOutOfDomain},
		{"no source", func(o *lot.PlanSimulation) { o.Source = lot.JointSource{} }, lot.ErrMissing},
		{"a source of nothing", func(o *lot.PlanSimulation) { o.Source = lot.SeparateLots(nil) }, lot.ErrMissing},
		{"further samples by a mean deviation", func(o *lot.PlanSimulation) {
			o.Plans, o.Retesting = []lot.Plan{plan(t, byDeviation(t))}, lot.RetestBelow(60, 2)
		}, lot.ErrUnused},
		{"quantities that do not weigh", func(o *lot.PlanSimulation) { o.Quantities = []float64{1, 1, 1, 1, 2} }, lot.ErrUnused},
		{"a source of two", func(o *lot.PlanSimulation) { o.Source = lot.SeparateLots(lot.NormalLots(1, 1), lot.NormalLots(1, 1)) }, stats.ErrLength},
		{"one lot", func(o *lot.PlanSimulation) { o.Lots = 1 }, lot.ErrOutOfDomain},
		{"precision NaN", func(o *lot.PlanSimulation) { o.StdErr = math.NaN() }, lot.ErrOutOfDomain},
		{"workers below 0", func(o *lot.PlanSimulation) { o.Workers = -1 }, lot.ErrOutOfDomain},
		{"composite of one", func(o *lot.PlanSimulation) { o.Composite = &lot.CompositeTerms{} }, lot.ErrUnused},
		{"two plans without composite", func(o *lot.PlanSimulation) {
			o.Plans, o.Source = parts(t, lot.Lowest), lot.SeparateLots(lot.NormalLots(93, 1), lot.NormalLots(93, 1))
		}, lot.ErrMissing},
		{"plans of another composite", func(o *lot.PlanSimulation) {
			o.Plans, o.Source = parts(t, lot.Lowest), lot.SeparateLots(lot.NormalLots(93, 1), lot.NormalLots(93, 1))
			o.Composite = &lot.CompositeTerms{Rule: lot.Product, Rounding: halfEven(3)}
		}, lot.ErrMissing},
		{"weights of 1.1", func(o *lot.PlanSimulation) {
			o.Plans, o.Source = parts(t, lot.WeightedSum, "0.6", "0.5"), lot.SeparateLots(lot.NormalLots(93, 1), lot.NormalLots(93, 1))
			o.Composite = &lot.CompositeTerms{Rule: lot.WeightedSum, Rounding: halfEven(3)}
		}, lot.ErrWeights},
		{"source of NaN", func(o *lot.PlanSimulation) { o.Source = lot.SeparateLots(lot.NormalLots(math.NaN(), 1)) }, stats.ErrNotFinite},
		{"source of fractions", func(o *lot.PlanSimulation) { o.Source = lot.SeparateLots(lot.NormalLots(0.93, 0.01)) }, lot.ErrScale},
		{"a lot that never passes", func(o *lot.PlanSimulation) {
			o.Source, o.Retesting, o.Lots, o.Workers = lot.SeparateLots(lot.NormalLots(80, 0.1)), lot.RetestBelow(90, math.MaxInt), 2, 1
		}, lot.ErrEndless},
	} {
		o := good
		tt.change(&o)
		var bad *stats.InputError
		if _, err := lot.SimulatePlans(context.Background(), o); !errors.Is(err, tt.want) || !errors.As(err, &bad) || bad.Func != "lot.SimulatePlans" {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
	one := lot.Population{Mean: 93, StdDev: 1}
	for name, f := range map[string]func() (lot.JointSource, error){
		"nothing":   func() (lot.JointSource, error) { return lot.CorrelatedLots(nil, nil) },
		"no spread": func() (lot.JointSource, error) { return lot.CorrelatedLots([]lot.Population{{}}, [][]float64{{1}}) },
		"no matrix": func() (lot.JointSource, error) { return lot.CorrelatedLots([]lot.Population{one}, nil) },
		"a short row": func() (lot.JointSource, error) {
			return lot.CorrelatedLots([]lot.Population{one, one}, [][]float64{{1, 0}, {0}})
		},
		"NaN": func() (lot.JointSource, error) {
			return lot.CorrelatedLots([]lot.Population{one, one}, [][]float64{{1, math.NaN()}, {math.NaN(), 1}})
		},
		"not the same": func() (lot.JointSource, error) {
			return lot.CorrelatedLots([]lot.Population{one, one}, [][]float64{{1, 0.5}, {0.4, 1}})
		},
		"impossible": func() (lot.JointSource, error) {
			return lot.CorrelatedLots([]lot.Population{one, one, one}, [][]float64{{1, 0.9, -0.9}, {0.9, 1, 0.9}, {-0.9, 0.9, 1}})
		},
	} {
		if _, err := f(); err == nil {
			t.Error(name)
		}
	}
}

func TestSimulatePlansEndsWithItsContext(t *testing.T) {
	ctx, cancel := context.WithCancelCause(context.Background())
	enough := errors.New("enough")
	o := lot.PlanSimulation{Plans: []lot.Plan{plan(t, terms(t, lot.AtLeast(92)))}, N: 5, Source: lot.SeparateLots(lot.NormalLots(93, 1)), Lots: 10_000_000, Seed: 1,
		Progress: func(int) { cancel(enough) }}
	if got, err := lot.SimulatePlans(ctx, o); !errors.Is(err, enough) || got != (lot.SimulationResult{}) {
		t.Errorf("%+v, %v", got, err)
	}
}
