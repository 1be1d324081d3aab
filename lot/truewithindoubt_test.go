package lot_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
)

// trueOf is the interval of a lot by a plan, without measurement error.
func trueOf(t *testing.T, c lot.Terms, l lot.Lot) lot.TrueWithin {
	t.Helper()
	p := plan(t, c)
	e, err := p.Evaluate(l)
	if err != nil {
		t.Fatal(err)
	}
	found, err := p.TrueWithin(e, 0.9, lot.MeasurementError{})
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// What the interval does not know of the results is said, and nothing is said of
// results that were taken and judged as they are.
func TestTrueWithinDoubts(t *testing.T) {
	values := []string{"94.2", "92.5", "93.4", "91.9", "93.8"}
	plain := lotOf(values...)
	out := lotOf("93.3", "92.9", "93.6", "93.1", "92.6", "89.2")
	out.Results[5].Removed = true
	retested := lotOf(values...)
	retested.Results = append(retested.Results, lot.Result{ID: "R", RetestOf: "S4", Value: d("92.6")})
	for _, tt := range []struct {
		name   string
		change func(c *lot.Terms)
		l      lot.Lot
		want   []stats.WarningCode
		says   string
	}{
		{"nothing", func(c *lot.Terms) {}, plain, nil, ""},
		{"Grubbs", func(c *lot.Terms) {
			c.Outlier = &lot.OutlierPolicy{Test: lot.GrubbsTest, Side: stats.Low, Alpha: 0.05, MinN: 4, MaxRemoved: 1}
		}, out, []stats.WarningCode{lot.WarnChosen}, "takes the 5 results that count for all there were; if what is left out was of the lot, the lower bound is too high: S6 (removed as an outlier)"},
		{"generalized ESD", func(c *lot.Terms) {
			c.Outlier = &lot.OutlierPolicy{Test: lot.GeneralizedESDTest, Side: stats.Low, Alpha: 0.05, MinN: 4, Suspects: 2, MaxRemoved: 2}
		}, out, []stats.WarningCode{lot.WarnChosen}, "S6"},
		{"two outliers", func(c *lot.Terms) {
			c.Outlier = &lot.OutlierPolicy{Test: lot.TwoOutliersTest, Side: stats.Low, Alpha: 0.05, MinN: 4, MaxRemoved: 2}
		}, func() lot.Lot {
			l := lotOf("93.3", "92.9", "93.6", "93.1", "92.6", "93.0", "85.1", "85.2")
			l.Results[6].Removed, l.Results[7].Removed = true, true
			return l
		}(), []stats.WarningCode{lot.WarnChosen}, "takes the 6 results"},
		{"flagged and kept", func(c *lot.Terms) {
			c.Outlier = &lot.OutlierPolicy{Test: lot.GrubbsTest, Side: stats.Low, Alpha: 0.05, MinN: 4}
		}, lotOf("93.3", "92.9", "93.6", "93.1", "92.6", "89.2"), []stats.WarningCode{lot.WarnOutlier}, "S6"},
		{"a replaced result", func(c *lot.Terms) { c.Retest = lot.ReplaceResult }, retested, []stats.WarningCode{lot.WarnChosen}, "S4 (replaced by R)"},
		{"pooled retests", func(c *lot.Terms) { c.Retest = lot.PoolResults }, retested, []stats.WarningCode{lot.WarnPooled}, "among the 6 results"},
		{"a second pass", func(c *lot.Terms) {
			c.Second = &lot.SecondPass{Below: d("1.00"), Limits: lot.AtLeast(91.5), Max: d("1.00")}
		}, plain, []stats.WarningCode{lot.WarnSecondPass}, "by at least 91.5; the interval is that of the first, by at least 92"},
		{"rounded to 1", func(c *lot.Terms) { c.Rounding.Value = halfEven(0) }, plain, []stats.WarningCode{lot.WarnCoarse}, "half-even to 1"},
		{"rounded to 0.1", func(c *lot.Terms) { c.Rounding.Value = halfEven(1) }, plain, nil, ""},
		{"everything else rounded", func(c *lot.Terms) {
			c.Rounding.Mean, c.Rounding.StdDev, c.Rounding.Q, c.Rounding.Measure = halfEven(1), halfEven(1), halfEven(1), halfEven(0)
		}, plain, nil, ""},
		{"two groups", func(c *lot.Terms) {}, lotOf("91.2", "91.3", "91.4", "95.6", "95.7", "95.8"), []stats.WarningCode{lot.WarnTwoGroups}, "91.4 to 95.6"},
		{"weights", func(c *lot.Terms) { c.Estimation.Weights = lot.QuantityWeights }, weighing(values, []string{"500", "500", "500", "500", "900"}),
			[]stats.WarningCode{lot.WarnWeights}, ""},
	} {
		c := terms(t, lot.AtLeast(92))
		tt.change(&c)
		found := trueOf(t, c, tt.l)
		var codes []stats.WarningCode
		for _, w := range found.Warnings {
			codes = append(codes, w.Code)
		}
		if !slices.Equal(codes, tt.want) || !strings.Contains(found.String(), tt.says) {
			t.Errorf("%s: %v, want %v; no %q in\n%v", tt.name, codes, tt.want, tt.says, found)
		}
		if data, err := found.MarshalJSON(); err != nil {
			t.Errorf("%s: %v", tt.name, err)
		} else if back, err := lot.ParseTrueWithin(data); err != nil || cmp.Diff(found, back) != "" {
			t.Errorf("%s: %v\n%s", tt.name, err, cmp.Diff(found, back))
		}
	}
}

// Rounding behind the results moves the contract's number and not the interval.
func TestTrueWithinKnowsNoRounding(t *testing.T) {
	l := lotOf("94.2", "92.5", "93.4", "91.9", "93.8")
	want, err := lot.WithinInterval(fiveSublots, lot.Between(92, 97), 0.9)
	if err != nil {
		t.Fatal(err)
	}
	c := terms(t, lot.Between(92, 97))
	c.Rounding.Mean, c.Rounding.StdDev, c.Rounding.Q, c.Rounding.Measure = halfEven(1), halfEven(1), halfEven(1), halfEven(0)
	rows := terms(t, lot.Between(92, 97))
	rows.Estimation = lot.Estimation{Method: lot.TableWithin, Table: &lot.TableRule{Cell: halfEven(2), Negative: lot.MirrorNegative}}
	for _, c := range []lot.Terms{c, rows} {
		found := trueOf(t, c, l)
		if math.Abs(found.CI.Lo-want.CI.Lo) > 1e-7 || math.Abs(found.CI.Hi-want.CI.Hi) > 1e-7 || math.Abs(found.AsComputed.PWL-want.PWL) > 1e-9 || found.Contract.Used == "" || len(found.Warnings) != 0 {
			t.Errorf("%v: %+v, want %+v", c.Estimation.Method, found, want)
		}
	}
}

// Lots judged as one are said to be taken for one population.
func TestTrueWithinOfJoinedLots(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	c.SmallLot = &lot.SmallLotPolicy{Fewest: 3, Rule: lot.JoinPrevious}
	p := plan(t, c)
	short := lotOf("91.6", "92.3")
	short.ID = "8"
	all, err := p.EvaluateLots([]lot.Lot{lotOf("93.4", "92.8", "94.1", "92.2"), short})
	if err != nil {
		t.Fatal(err)
	}
	found, err := p.TrueWithin(all[0], 0.9, lot.MeasurementError{})
	if err != nil || found.AsComputed.N != 6 || !has(found.Warnings, lot.WarnPooled) || !strings.Contains(found.String(), "lots 7, 8 were judged as one") {
		t.Errorf("%v, %v", found, err)
	}
}

// A measure that is not a percent within limits of a mean and a standard deviation has
// no interval, and the refusal says why.
func TestTrueWithinOfOtherMeasures(t *testing.T) {
	target := d("94.5")
	nothing := terms(t, lot.Limits{})
	nothing.Estimation = lot.Estimation{Method: lot.MeanDeviation, Target: &target}
	ranges := terms(t, lot.AtLeast(92))
	ranges.Estimation = lot.Estimation{Method: lot.RangeWithin, Ranges: []lot.RangeConstant{{N: 4, Group: 4, C: d("2.059")}}}
	moving := terms(t, lot.AtLeast(92))
	moving.Estimation = lot.Estimation{Method: lot.AverageWithin, Window: 3}
	small := terms(t, lot.AtLeast(92))
	own, err := lot.NewSchedule(lot.Segment{From: decimal.Zero, Pay: lot.Step(d("1.00"))})
	if err != nil {
		t.Fatal(err)
	}
	small.SmallLot = &lot.SmallLotPolicy{Fewest: 5, Rule: lot.OwnTable, Own: &lot.OwnTerms{Target: target, Measure: halfEven(2), ByCount: []lot.CountSchedule{{From: 1, To: 4, Schedule: own}}}}
	for _, tt := range []struct {
		name string
		c    lot.Terms
		says string
	}{{"mean deviation", nothing, "no limits"}, {"ranges", ranges, "ranges"}, {"moving averages", moving, "moving averages"}, {"a small lot", small, "no limits"}} {
		p := plan(t, tt.c)
		e, err := p.Evaluate(lotOf("93.4", "92.8", "94.1", "92.2"))
		if err != nil {
			t.Fatal(tt.name, err)
		}
		_, err = p.TrueWithin(e, 0.9, lot.MeasurementError{})
		var bad *stats.InputError
		if !errors.Is(err, lot.ErrNoInterval) || !errors.As(err, &bad) || bad.Arg != "e.Method" || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %v", tt.name, err)
		}
	}
}

// By hand for weights 1, 2, 1, 1 in any unit: Σw = 5, Σw² = 7, Σw³ = 11, so 25/7 results,
// c = 3.6 and 12.96/(7 - 4.4 + 1.96) = 54/19 degrees of freedom.
func TestWeighing(t *testing.T) {
	p := plan(t, weighted(t, lot.AtLeast(92)))
	for _, quantities := range [][]string{{"100", "200", "100", "100"}, {"0.3", "0.6", "0.3", "0.3"}} {
		e, err := p.Evaluate(weighing([]string{"91", "93", "95", "93"}, quantities))
		if err != nil || e.Weighing == nil || math.Abs(e.Weighing.Results-25./7) > 1e-15 || math.Abs(e.Weighing.DF-54./19) > 1e-15 {
			t.Errorf("%+v, %v", e.Weighing, err)
		}
	}
	if e, err := p.Evaluate(lotOf("91", "93", "95", "93")); err != nil || e.Weighing != nil {
		t.Errorf("equal weights: %+v, %v", e.Weighing, err)
	}
}

// The mean and the variance of normal results with weights 1, 2, 1, 1 vary as those
// numbers say: the variances are 1/Results and 2/DF, here within three standard errors,
// 0.4 and 1.4 percent of them.
func TestWeighingIsHowTheyVary(t *testing.T) {
	rng := rand.New(rand.NewPCG(51, 52))
	weights := []float64{1, 2, 1, 1}
	const lots = 400_000
	var means, variances, squares float64
	for range lots {
		var xs [4]float64
		mean, ss := 0.0, 0.0
		for i := range xs {
			xs[i] = rng.NormFloat64()
			mean += weights[i] * xs[i] / 5
		}
		for i, x := range xs {
			ss += weights[i] * (x - mean) * (x - mean)
		}
		v := ss / 3.6
		means, variances, squares = means+mean*mean, variances+v, squares+v*v
	}
	average := variances / lots
	if m, v := means/lots, squares/lots-average*average; math.Abs(m/(7./25)-1) > 0.007 || math.Abs(v/(2*19./54)-1) > 0.018 || math.Abs(average-1) > 0.004 {
		t.Errorf("variance of the mean %v, of s² %v about %v", m, v, average)
	}
}

// Results of different weight are worth fewer, so their interval is wider than that of
// equal ones with the same mean and spread; equal weights change nothing, and an
// evaluation made by hand with impossible ones is refused.
func TestTrueWithinWeighs(t *testing.T) {
	values := []string{"94.2", "92.5", "93.4", "91.9", "93.8"}
	for _, l := range []lot.Limits{lot.AtLeast(92), lot.Between(92, 97)} {
		p := plan(t, weighted(t, l))
		e, err := p.Evaluate(weighing(values, []string{"500", "500", "500", "500", "900"}))
		if err != nil {
			t.Fatal(err)
		}
		weighed, err := p.TrueWithin(e, 0.9, lot.MeasurementError{})
		as := e
		as.Weighing = nil
		equal, err2 := p.TrueWithin(as, 0.9, lot.MeasurementError{})
		if err != nil || err2 != nil || !(weighed.CI.Lo < equal.CI.Lo && weighed.CI.Hi > equal.CI.Hi) || weighed.AsComputed.PWL != equal.AsComputed.PWL {
			t.Errorf("%v: %+v, as equal results %+v, %v, %v", l, weighed.CI, equal.CI, err, err2)
		}
		if same, plain := trueOf(t, weighted(t, l), lotOf(values...)), trueOf(t, terms(t, l), lotOf(values...)); same.CI != plain.CI {
			t.Errorf("%v: %+v with equal weights, %+v without", l, same.CI, plain.CI)
		}
		for _, w := range []lot.Weighing{{}, {Results: 6, DF: 4}, {Results: 4, DF: 5}, {Results: math.NaN(), DF: 3}, {Results: 4, DF: math.Inf(1)}} {
			e.Weighing = &w
			if _, err := p.TrueWithin(e, 0.9, lot.MeasurementError{}); !errors.Is(err, lot.ErrOutOfDomain) {
				t.Errorf("%+v: %v", w, err)
			}
		}
	}
}
