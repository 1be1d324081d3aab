package lot_test

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
)

func weighted(t testing.TB, l lot.Limits) lot.Terms {
	t.Helper()
	c := terms(t, l)
	c.Estimation.Weights = lot.QuantityWeights
	return c
}

// weighing returns a lot of values with those quantities.
func weighing(values, quantities []string) lot.Lot {
	l := lotOf(values...)
	for i, q := range quantities {
		l.Results[i].Quantity = d(q)
	}
	return l
}

// By hand: {91, 93, 95, 93} with 100, 200, 100, 100 t has Σw = 500 and mean 46500/500 =
// 93; Σw(x - mean)² = 800, Σw²/Σw = 140, s² = 800/360 = 20/9, Q = 1/s = 3/(2√5), and with
// n = 4 PWL is 50 + 100·Q/3 = 50 + 50/√5. The mean is as good as that of 25/7 results.
func TestWeights(t *testing.T) {
	e, err := plan(t, weighted(t, lot.AtLeast(92))).Evaluate(weighing([]string{"91", "93", "95", "93"}, []string{"100", "200", "100", "100"}))
	if err != nil || e.Mean.Used != "93" || math.Abs(e.StdDev.Exact-math.Sqrt(20./9)) > 1e-15 || math.Abs(e.PWL.Exact-(50+50/math.Sqrt(5))) > 2e-14 || !has(e.Warnings, lot.WarnWeights) {
		t.Fatalf("%+v, %+v, %+v, %v", e.Mean, e.StdDev, e.PWL, err)
	}
	text := lot.WorkingText(e.Working)
	for _, want := range []string{
		"weighted mean = Σwx/Σw = (100 x 91 + 200 x 93 + 100 x 95 + 100 x 93)/500 = 93\n",
		"weighted standard deviation = √(Σw(x - mean)²/(Σw - Σw²/Σw)) = √(800/(500 - 70000/500)) = 1.490711984…\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	for _, w := range e.Warnings {
		if w.Code == lot.WarnWeights && !strings.Contains(w.Text, "3.57 equal results, not of 4") {
			t.Error(w.Text)
		}
	}
	saved, err := json.Marshal(e)
	if err != nil {
		t.Fatal(err)
	}
	if back, err := lot.ParseEvaluation(saved); err != nil || cmp.Diff(e, back) != "" {
		t.Errorf("%v\n%s", err, saved)
	}
}

// By hand: (100·0.5 + 300·0.1)/400 = 0.2.
func TestWeightedDeviation(t *testing.T) {
	c := weighted(t, lot.Limits{})
	c.Estimation.Method, c.Estimation.Target = lot.MeanDeviation, p("94.5")
	e, err := plan(t, c).Evaluate(weighing([]string{"95.0", "94.4"}, []string{"100", "300"}))
	if err != nil || e.Measure.Used != "0.2" || !strings.Contains(lot.WorkingText(e.Working), "Σw|x - target|/Σw with target 94.5 = 80/400 = 0.2") {
		t.Errorf("%+v, %v", e.Measure, err)
	}
}

// Without the flagged result the others keep their weights. By hand: {93, 94, 93, 94} with
// 100, 300, 100, 300 t has mean 93.75, Σw(x - mean)² = 200·0.5625 + 600·0.0625 = 150, Σw - Σw²/Σw
// = 800 - 250 = 550, s² = 3/11, and of four results 50 + 100·(0.75/s)/3 percent lie above 93.
func TestWeightsWithoutFlagged(t *testing.T) {
	c := weighted(t, lot.AtLeast(93))
	c.Outlier = &lot.OutlierPolicy{Test: lot.GrubbsTest, Side: stats.TwoSide, Alpha: 0.05, MinN: 4, MaxRemoved: 1}
	e, err := plan(t, c).Evaluate(weighing([]string{"93", "94", "80", "93", "94"}, []string{"100", "300", "100", "100", "300"}))
	want := 50 + 100*0.75/math.Sqrt(3./11)/3
	if err != nil || e.WithoutResult == nil || math.Abs(e.WithoutResult.Exact-want) > 1e-12 {
		t.Errorf("%+v, want %v: %v", e.WithoutResult, want, err)
	}
}

// Equal quantities change nothing but words, and neither does another unit of them.
func TestWeightsLaws(t *testing.T) {
	rng := rand.New(rand.NewPCG(41, 42))
	for range 100 {
		values, _ := randomLot(rng)
		l := lotOf(values...)
		plain, err := plan(t, terms(t, lot.Between(92, 96.5))).Evaluate(l)
		e, err2 := plan(t, weighted(t, lot.Between(92, 96.5))).Evaluate(l)
		if err != nil || err2 != nil || plain.Mean != e.Mean || plain.StdDev != e.StdDev || plain.PWL != e.PWL || has(e.Warnings, lot.WarnWeights) {
			t.Errorf("%v: %+v, %+v, %v, %v", values, plain.PWL, e.PWL, err, err2)
		}
		for i := range l.Results {
			l.Results[i].Quantity = d("0.25").Mul(d([]string{"300", "420", "510.5"}[rng.IntN(3)]))
		}
		e, err = plan(t, weighted(t, lot.Between(92, 96.5))).Evaluate(l)
		tons := e.PWL
		for i := range l.Results {
			l.Results[i].Quantity = l.Results[i].Quantity.Mul(d("1000"))
		}
		e, err2 = plan(t, weighted(t, lot.Between(92, 96.5))).Evaluate(l)
		if err != nil || err2 != nil || e.PWL != tons {
			t.Errorf("%v: %+v, %+v, %v, %v", values, tons, e.PWL, err, err2)
		}
	}
}

// A retest weighs as the sublot it was taken from, which the results that count for it
// share. By hand: {91, 93, 95} with 200, 200, 200 of which the first is pooled with a
// retest of 94: 100·91 + 100·94 + 200·93 + 200·95 over 600 is 56100/600 = 93.5.
func TestWeightsOfRetests(t *testing.T) {
	c := weighted(t, lot.AtLeast(92))
	c.Retest = lot.PoolResults
	l := weighing([]string{"91", "93", "95"}, []string{"200", "200", "200"})
	l.Results = append(l.Results, lot.Result{ID: "R", RetestOf: "S1", Value: d("94")})
	if e, err := plan(t, c).Evaluate(l); err != nil || e.Mean.Used != "93.5" {
		t.Errorf("pool: %+v, %v", e.Mean, err)
	}
	c.Retest = lot.ReplaceResult
	if e, err := plan(t, c).Evaluate(l); err != nil || e.Mean.Used != "94" {
		t.Errorf("replace: %+v, %v", e.Mean, err)
	}
	l.Results[1].Quantity = d("0")
	if _, err := plan(t, c).Evaluate(l); !errors.Is(err, lot.ErrNoWeight) {
		t.Errorf("no quantity: %v", err)
	}
	for _, e := range []lot.Estimation{
		{Method: lot.TableWithin, Table: &lot.TableRule{Cell: halfEven(4), Negative: lot.SignedRows}, Weights: lot.QuantityWeights},
		{Method: lot.RangeWithin, Ranges: []lot.RangeConstant{{N: 4, Group: 2, C: d("1.15")}}, Weights: lot.QuantityWeights},
		{Method: lot.AverageWithin, Window: 3, Weights: lot.QuantityWeights}} {
		c.Estimation = e
		_, err := lot.NewPlan(c)
		var bad *stats.InputError
		if !errors.Is(err, lot.ErrUnweighted) || !errors.As(err, &bad) || bad.Arg != "t.Estimation.Weights" {
			t.Errorf("%v: %v", e.Method, err)
		}
	}
}

// What the weights cost: the mean estimate of a true 90 from five results, of which one
// weighs twice or four times as much as each other, as the doc comment of the weights
// states it. The standard error of each mean here is 11/√lots, 0.035.
func TestWeightedEstimateBias(t *testing.T) {
	rng := rand.New(rand.NewPCG(43, 44))
	const lots = 100_000
	for _, tt := range []struct{ weight, want float64 }{{1, 90}, {2, 89.9}, {4, 89.4}} {
		w := []float64{tt.weight, 1, 1, 1, 1}
		total, squares, sum := 4+tt.weight, 4+tt.weight*tt.weight, 0.0
		for range lots {
			var xs [5]float64
			mean, ss := 0.0, 0.0
			for i := range xs {
				xs[i] = rng.NormFloat64()
				mean += w[i] * xs[i] / total
			}
			for i, x := range xs {
				ss += w[i] * (x - mean) * (x - mean)
			}
			pwl, err := lot.PercentWithin((mean+1.2815515655446004)/math.Sqrt(ss/(total-squares/total)), 5)
			if err != nil {
				t.Fatal(err)
			}
			sum += pwl
		}
		t.Logf("one of five with weight %g: a true 90 is estimated as %.2f", tt.weight, sum/lots)
		if math.Abs(sum/lots-tt.want) > 0.15 {
			t.Errorf("weight %g: mean estimate %v, want about %v", tt.weight, sum/lots, tt.want)
		}
	}
}
