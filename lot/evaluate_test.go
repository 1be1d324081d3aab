package lot_test

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

var absolute = units.Rounding{Method: units.Absolute}

func halfEven(places int) units.Rounding {
	return units.Rounding{Method: units.HalfEven, Places: places}
}

func d(text string) decimal.Decimal { return decimal.RequireFromString(text) }

// terms is an invented contract: full pay at 90, a bonus step there, and
// rejection below 50.
func terms(t testing.TB, l lot.Limits) lot.Terms {
	t.Helper()
	schedule, err := lot.NewSchedule(
		lot.Segment{From: d("0"), Reject: true},
		lot.Segment{From: d("50"), Pay: lot.Formula(d("0.55"), d("0.005"))},
		lot.Segment{From: d("90"), Pay: lot.Step(d("1.02"))})
	if err != nil {
		t.Fatal(err)
	}
	return lot.Terms{Name: "invented", Characteristic: "mat density", Unit: "% of maximum theoretical density",
		GmmSource: "mean of day", Limits: l, Plausible: lot.Between(0.5, 110), Estimation: lot.Estimation{Method: lot.ExactWithin},
		Rounding: lot.RoundingPolicy{Value: absolute, Mean: absolute, StdDev: absolute, Q: absolute, Measure: absolute, Factor: halfEven(4), Money: halfEven(2)},
		Schedule: schedule, UnitPrice: d("82.40"), QuantityUnit: "t", Currency: "USD"}
}

func plan(t testing.TB, tt lot.Terms) lot.Plan {
	t.Helper()
	p, err := lot.NewPlan(tt)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func lotOf(values ...string) lot.Lot {
	l := lot.Lot{ID: "7", Unit: "% of maximum theoretical density"}
	for i, v := range values {
		l.Results = append(l.Results, lot.Result{ID: fmt.Sprintf("S%d", i+1), Value: d(v), Quantity: d("500")})
	}
	return l
}

// Rounding of Q decides the pay step here. R 4.2.2 and SciPy 1.10: PWL 89.961194
// at the exact Q, 90.025066 at Q rounded to 1.23.
func TestRoundingFlipsAStep(t *testing.T) {
	l := lotOf("94.2", "92.5", "93.4", "91.9", "93.8")
	tt := terms(t, lot.AtLeast(92))
	exact, err := plan(t, tt).Evaluate(l)
	if err != nil || math.Abs(exact.PWL.Exact-89.961194) > 5e-7 || exact.Decision != lot.AcceptedReduced || has(exact.Warnings, lot.WarnRounding) {
		t.Errorf("absolute: %+v, %v, %v, %v", exact.PWL, exact.Decision, exact.Warnings, err)
	}
	tt.Rounding.Q = halfEven(2)
	rounded, err := plan(t, tt).Evaluate(l)
	if err != nil || rounded.QL.Used != "1.23" || math.Abs(rounded.PWL.Exact-90.025066) > 5e-7 || rounded.Factor.Used != "1.0200" || !has(rounded.Warnings, lot.WarnRounding) {
		t.Errorf("Q to 0.01: %+v, %+v, %v, %v", rounded.PWL, rounded.Factor, rounded.Warnings, err)
	}
	tt.Rounding.Q, tt.Rounding.Measure = absolute, halfEven(0)
	whole, err := plan(t, tt).Evaluate(l)
	if err != nil || whole.PWL.Used != "90" || whole.Decision != lot.Accepted || !has(whole.Warnings, lot.WarnRounding) {
		t.Errorf("PWL to 1: %+v, %v, %v", whole.PWL, whole.Decision, err)
	}
}

// By hand: the factor 0.55 + 0.005·89.961194 = 0.99980597 is 1.0 to one place, and
// 91.95 is 92.0 to one place, which for a single result is the limit, while 92.04 is
// 92.0, below a limit of 92.02.
func TestRoundingFlipsADecision(t *testing.T) {
	tt := terms(t, lot.AtLeast(92))
	tt.Rounding.Factor = halfEven(1)
	e, err := plan(t, tt).Evaluate(lotOf("94.2", "92.5", "93.4", "91.9", "93.8"))
	if err != nil || e.Decision != lot.Accepted || e.Factor.Used != "1.0" || !has(e.Warnings, lot.WarnRounding) {
		t.Errorf("the factor: %+v, %v, %v", e.Factor, e.Warnings, err)
	}
	tt = terms(t, lot.AtLeast(91))
	tt.Individual = &lot.IndividualPolicy{Limits: lot.AtLeastDecimal(d("92.0")), Action: lot.RejectLot}
	for rule, want := range map[units.Rounding]lot.Decision{halfEven(1): lot.Accepted, absolute: lot.Rejected} {
		tt.Rounding.Value = rule
		e, err := plan(t, tt).Evaluate(lotOf("93.2", "91.95", "93.4", "92.9"))
		if err != nil || e.Decision != want || has(e.Warnings, lot.WarnRounding) != (want == lot.Accepted) {
			t.Errorf("a single result, %v: %v, %v, %v", rule, e.Decision, e.Warnings, err)
		}
	}
	tt.Individual = &lot.IndividualPolicy{Limits: lot.AtLeastDecimal(d("92.02")), Action: lot.RejectLot}
	for rule, want := range map[units.Rounding]lot.Decision{halfEven(1): lot.Rejected, absolute: lot.Accepted} {
		tt.Rounding.Value = rule
		e, err := plan(t, tt).Evaluate(lotOf("93.2", "92.04", "93.4", "92.9"))
		if err != nil || e.Decision != want || has(e.Warnings, lot.WarnRounding) != (want == lot.Rejected) {
			t.Errorf("a single result that rounding takes out, %v: %v, %v, %v", rule, e.Decision, e.Warnings, err)
		}
	}
}

// The lot of TestRoundingFlipsAStep is paid less than full by either row, so only the
// row tells; a second pass reads the same row as rounding does and only the pass tells.
func TestRoundingFlipsARow(t *testing.T) {
	schedule, err := lot.NewSchedule(
		lot.Segment{From: d("0"), Reject: true},
		lot.Segment{From: d("50"), Pay: lot.Step(d("0.90"))},
		lot.Segment{From: d("90"), Pay: lot.Step(d("0.95"))})
	if err != nil {
		t.Fatal(err)
	}
	for name, change := range map[string]func(*lot.Terms){
		"the measure": func(c *lot.Terms) { c.Rounding.Measure = halfEven(0) },
		"everything": func(c *lot.Terms) {
			c.Rounding.Value, c.Rounding.Mean, c.Rounding.StdDev, c.Rounding.Q, c.Rounding.Measure = halfEven(1), halfEven(2), halfEven(3), halfEven(2), halfEven(0)
		},
		"a table": func(c *lot.Terms) {
			c.Estimation = lot.Estimation{Method: lot.TableWithin, Table: &lot.TableRule{Cell: halfEven(2), Negative: lot.SignedRows}}
		},
		"a second pass": func(c *lot.Terms) {
			c.Rounding.Measure = halfEven(0)
			c.Second = &lot.SecondPass{Limits: lot.AtLeast(90), Below: d("0.95"), Max: d("0.95")}
		},
	} {
		c := terms(t, lot.AtLeast(92))
		c.Schedule = schedule
		change(&c)
		e, err := plan(t, c).Evaluate(lotOf("94.2", "92.5", "93.4", "91.9", "93.8"))
		if err != nil || e.Factor == nil || e.Factor.Used != "0.9500" || e.Decision != lot.AcceptedReduced || !has(e.Warnings, lot.WarnRounding) {
			t.Errorf("%s: %+v, %+v, %v, %v", name, e.Measure, e.Factor, e.Warnings, err)
		}
	}
}

// By hand: the mean is 467.9/5, Σ(x - mean)² is 0.0004 + 1.3924 + 0.2704 + 0.3364 + 1.4884
// = 3.488, s = √0.872 and Q = 1.58/s; the working has the numbers that a person writes.
func TestWorkingByHand(t *testing.T) {
	e, err := plan(t, terms(t, lot.AtLeast(92))).Evaluate(lotOf("93.6", "92.4", "94.1", "93.0", "94.8"))
	if err != nil {
		t.Fatal(err)
	}
	text := lot.WorkingText(e.Working)
	for _, want := range []string{
		"mean = Σx/n = (93.6 + 92.4 + 94.1 + 93.0 + 94.8)/5 = 93.58\n",
		"standard deviation = √(Σ(x - mean)²/(n - 1)) = √(3.488/4) = 0.933809402…\n",
		"Q_L = (mean - L)/s = 1.58/0.933809402… = 1.691994100…\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	both, err := plan(t, terms(t, lot.Between(92, 97))).Evaluate(lotOf("93.6", "92.4", "94.1", "93.0", "94.8"))
	if text := lot.WorkingText(both.Working); err != nil || !strings.Contains(text, "percent within limits = PWL_L + PWL_U - 100 = "+both.PWLLower.Used+" + 100 - 100 = ") {
		t.Errorf("two limits: %v\n%s", err, text)
	}
}

func TestEvaluateEqualResults(t *testing.T) {
	for _, tt := range []struct {
		x, limit string
		n        int
		want     string
		at       bool
	}{{"92.1", "92.1", 3, "100", true}, {"92.1", "92.1", 6, "100", true}, {"94.3", "94.3", 7, "100", true}, {"91.0", "92.0", 4, "0", false}, {"93.0", "92.0", 4, "100", false}} {
		values := make([]string, tt.n)
		for i := range values {
			values[i] = tt.x
		}
		e, err := plan(t, terms(t, lot.AtLeastDecimal(d(tt.limit)))).Evaluate(lotOf(values...))
		if err != nil || e.PWL.Used != tt.want || !has(e.Warnings, lot.WarnZeroSpread) || has(e.Warnings, lot.WarnAtLimit) != tt.at || e.QL != nil {
			t.Errorf("%d times %s against %s: %+v, %v", tt.n, tt.x, tt.limit, e, err)
		}
	}
	for x, want := range map[string]string{"96.5": "100", "96.6": "0", "95": "100"} {
		e, err := plan(t, terms(t, lot.Between(92, 96.5))).Evaluate(lotOf(x, x, x))
		if err != nil || e.PWL.Used != want || has(e.Warnings, lot.WarnAtLimit) != (x == "96.5") {
			t.Errorf("three times %s between 92 and 96.5: %+v, %v", x, e.PWL, e.Warnings)
		}
	}
}

func TestExactlySaturated(t *testing.T) {
	// mean 92.4, s² = 0.03, Q² = 4/3, which is the saturation point for n = 3.
	e, err := plan(t, terms(t, lot.AtLeast(92.2))).Evaluate(lotOf("92.3", "92.3", "92.6"))
	if err != nil || e.PWL.Used != "100" {
		t.Errorf("%+v, %v", e.PWL, err)
	}
	// Lots {a, a, a+3d} with L = a-d saturate exactly, whatever a and d.
	for i := int64(1); i <= 30; i++ {
		a, step := decimal.New(9000+7*i, -2), decimal.New(i, -2)
		limit := a.Sub(step)
		x, high := a.String(), a.Add(step.Mul(d("3"))).String()
		e, err := plan(t, terms(t, lot.AtLeastDecimal(limit))).Evaluate(lotOf(x, x, high))
		if err != nil || e.PWL.Used != "100" {
			t.Errorf("%s, %s, %s against %s: %+v, %v", x, x, high, limit, e.PWL, err)
		}
		af, _ := a.Float64()
		sf, _ := step.Float64()
		lf, _ := limit.Float64()
		hf, _ := a.Add(step.Mul(d("3"))).Float64()
		w, err := lot.EstimateWithin([]float64{af, af, hf}, lot.AtLeast(lf))
		if err != nil || w.PWL != 100 {
			t.Errorf("float path of %v ± %v: %v, %v", af, sf, w.PWL, err)
		}
	}
}

// Money to the cent. 764.92 x 92.50 x 0.05 is 3537.755 exactly, and 2493 x 96.25 x
// 0.036 is 8638.245: ties, by pencil.
func TestMoneyIsExact(t *testing.T) {
	for _, tt := range []struct {
		tons, price, factor string
		rule                units.RoundingMethod
		want                string
	}{
		{"764.92", "92.50", "1.05", units.HalfEven, "3537.76"},
		{"764.92", "92.50", "1.05", units.HalfUp, "3537.76"},
		{"2493", "96.25", "1.036", units.HalfEven, "8638.24"},
		{"2493", "96.25", "1.036", units.HalfUp, "8638.25"},
		{"2400", "82.40", "1.035", units.HalfEven, "6921.60"},
		{"2100", "82.40", "0.980", units.HalfEven, "-3460.80"},
		{"350", "82.40", "0.760", units.HalfEven, "-6921.60"},
	} {
		c := terms(t, lot.AtLeast(92))
		schedule, err := lot.NewSchedule(lot.Segment{From: d("0"), Pay: lot.Step(d(tt.factor))})
		if err != nil {
			t.Fatal(err)
		}
		c.Schedule, c.UnitPrice, c.Rounding.Money = schedule, d(tt.price), units.Rounding{Method: tt.rule, Places: 2}
		l := lotOf("93.1", "93.4", "93.2")
		for i := range l.Results {
			l.Results[i].Quantity = d("0")
		}
		l.Results[0].Quantity = d(tt.tons)
		e, err := plan(t, c).Evaluate(l)
		if err != nil || e.Payment.Adjustment.StringFixed(2) != tt.want || !e.Payment.Total.Equal(e.Payment.Base.Add(e.Payment.Adjustment)) {
			t.Errorf("%s t at %s and %s, %v: %+v, %v; want %s", tt.tons, tt.price, tt.factor, tt.rule, e.Payment, err, tt.want)
		}
	}
}

func TestRejectedLotIsNotPaid(t *testing.T) {
	e, err := plan(t, terms(t, lot.AtLeast(92))).Evaluate(lotOf("90.6", "91.4", "91.9", "92.5"))
	if err != nil || e.Decision != lot.Rejected || e.Payment != nil || e.Factor != nil || e.WithinCount != 1 {
		t.Errorf("%+v, %v", e, err)
	}
}

func TestDiagnosticsDoNotChangeTheNumber(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	c.Outlier = &lot.OutlierPolicy{Test: lot.GrubbsTest, Side: stats.Low, Alpha: 0.05, MinN: 4}
	p := plan(t, c)
	groups, err := p.Evaluate(lotOf("91.2", "91.3", "91.4", "95.6", "95.7", "95.8"))
	if err != nil || math.Abs(groups.PWL.Exact-72.145859) > 5e-7 || groups.WithinCount != 3 || !has(groups.Warnings, lot.WarnTwoGroups) {
		t.Errorf("two groups: %+v, %v", groups, err)
	}
	high, err := p.Evaluate(lotOf("92.8", "93.0", "93.1", "92.9", "97.5"))
	if err != nil || math.Abs(high.PWL.Exact-81.011379) > 5e-7 || !has(high.Warnings, lot.WarnFarResult) || high.Screen.Flagged != nil {
		t.Errorf("a high result: %+v, %v", high, err)
	}
	for _, w := range high.Warnings {
		if w.Code == lot.WarnFarResult && (w.Where != "S5" || !strings.Contains(w.Text, "97.5")) {
			t.Errorf("the warning does not name S5 and 97.5: %v", w)
		}
	}
	low, err := p.Evaluate(lotOf("93.3", "92.9", "93.6", "93.1", "90.2"))
	if err != nil || math.Abs(low.PWL.Exact-65.849306) > 5e-7 || low.Screen.Flagged == nil || low.WithoutResult == nil || low.WithoutResult.Used != "100" || !has(low.Warnings, lot.WarnOutlier) {
		t.Errorf("an outlier: %+v, %v", low, err)
	}
	few, err := p.Evaluate(lotOf("93.3", "92.9", "93.6"))
	if err != nil || few.Screen != nil || !has(few.Warnings, lot.WarnScreenSkipped) {
		t.Errorf("three results: %+v, %v", few, err)
	}
}

// A result that is far from the others, by hand: without 97.5 the other three have s =
// 0.1 and PWL 100. Of three results one is always far; where PWL is 100 it does no harm,
// and a mean deviation has no standard deviation.
func TestFarResult(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	deviation := terms(t, lot.Limits{})
	deviation.Estimation = lot.Estimation{Method: lot.MeanDeviation, Target: p("94.5")}
	for _, tt := range []struct {
		name   string
		terms  lot.Terms
		values []string
		want   bool
	}{
		{"four results", c, []string{"92.9", "93.0", "93.1", "97.5"}, true},
		{"three results", c, []string{"93.0", "93.1", "97.5"}, false},
		{"PWL 100", c, []string{"95.0", "95.1", "94.9", "95.05", "96"}, false},
		{"a mean deviation", deviation, []string{"92.9", "93.0", "93.1", "97.5"}, false},
	} {
		e, err := plan(t, tt.terms).Evaluate(lotOf(tt.values...))
		if err != nil || has(e.Warnings, lot.WarnFarResult) != tt.want || has(e.Warnings, lot.WarnTwoGroups) {
			t.Errorf("%s: %v, %v", tt.name, e.Warnings, err)
		}
	}
	e, err := plan(t, c).Evaluate(lotOf("92.9", "93.0", "93.1", "97.5"))
	want := stats.Warning{Code: lot.WarnFarResult, Where: "S4", Text: "97.5 is far from the others and makes much of the standard deviation, which lowers PWL even where the result is good; without what is flagged PWL would be 100"}
	if err != nil || e.Warnings[0] != want {
		t.Errorf("%+v, %v", e.Warnings, err)
	}
}

func TestEvaluateRefuses(t *testing.T) {
	p := plan(t, terms(t, lot.AtLeast(92)))
	good := lotOf("93.4", "92.8", "94.1", "92.2")
	change := func(f func(l *lot.Lot)) lot.Lot {
		l := lotOf("93.4", "92.8", "94.1", "92.2")
		f(&l)
		return l
	}
	for _, tt := range []struct {
		name string
		p    lot.Plan
		l    lot.Lot
		want error
	}{
		{"an empty plan", lot.Plan{}, good, lot.ErrEmptyPlan},
		{"two results", p, lotOf("92.6", "93.1"), stats.ErrTooFew},
		{"no results", p, lotOf(), stats.ErrTooFew},
		{"a lot without id", p, change(func(l *lot.Lot) { l.ID = "" }), lot.ErrNoID},
		{"percent of another density", p, change(func(l *lot.Lot) { l.Unit = "% of laboratory bulk density" }), lot.ErrUnit},
		{"an id that only looks another", p, change(func(l *lot.Lot) { l.Results[3].ID = "S1 " }), lot.ErrText},
		{"a repeated id", p, change(func(l *lot.Lot) { l.Results[3].ID = "S1" }), lot.ErrRepeatedID},
		{"a result without id", p, change(func(l *lot.Lot) { l.Results[1].ID = "" }), lot.ErrNoID},
		{"a sentinel", p, change(func(l *lot.Lot) { l.Results[2].Value = d("-999") }), lot.ErrPlausible},
		{"a zero", p, change(func(l *lot.Lot) { l.Results[2].Value = d("0") }), lot.ErrPlausible},
		{"a negative quantity", p, change(func(l *lot.Lot) { l.Results[2].Quantity = d("-1") }), lot.ErrNegative},
		{"a huge exponent", p, change(func(l *lot.Lot) { l.Results[2].Value = decimal.New(1, math.MaxInt32) }), lot.ErrDigits},
		{"fractions", p, lotOf("0.934", "0.928", "0.941"), lot.ErrScale},
	} {
		e, err := tt.p.Evaluate(tt.l)
		var bad *stats.InputError
		if !errors.Is(err, tt.want) || !errors.As(err, &bad) || e.Working != nil {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
	_, err := p.Evaluate(change(func(l *lot.Lot) { l.Results[2].Value = d("-999") }))
	if want := `lot.Plan.Evaluate: l.Results[2] "S3" = -999: outside the plausible range of the plan (0.5 to 110)`; err.Error() != want {
		t.Errorf("message %q, want %q", err, want)
	}
	tripled := lotOf("93.2", "92.1", "94.3", "91.8", "93.2", "92.1")
	tripled.Results[4].ID, tripled.Results[5].ID = "S1", "S2"
	if _, err := p.Evaluate(tripled); err == nil || !strings.Contains(err.Error(), "S1, S2") {
		t.Errorf("repeated ids are not all named: %v", err)
	}
	coarse := terms(t, lot.AtLeast(92))
	coarse.Rounding.StdDev = halfEven(0)
	if _, err := plan(t, coarse).Evaluate(lotOf("93.1", "93.2", "93.3")); !errors.Is(err, lot.ErrRoundedAway) {
		t.Errorf("a spread rounded to nothing: %v", err)
	}
}

// One result in another scale than the others. 100 times the limit is on the other
// side of it for an upper limit alone, where a small result is only a good one.
func TestOneResultOfAnotherScale(t *testing.T) {
	for _, tt := range []struct {
		limits lot.Limits
		values []string
		id     string // of the result that is refused, "" for none
	}{
		{lot.AtLeast(92), []string{"93.4", "0.928", "94.1", "92.2"}, "S2"},
		{lot.AtLeast(0.92), []string{"0.934", "0.928", "94.1", "0.922"}, "S3"},
		{lot.Between(92, 97), []string{"93.4", "92.8", "94.1", "0.922"}, "S4"},
		{lot.Between(0.92, 0.97), []string{"93.4", "0.928", "0.941", "0.922"}, "S1"},
		{lot.AtMost(0.92), []string{"0.934", "0.928", "0.941", "92.2"}, "S4"},
		{lot.AtMost(92), []string{"93.4", "0.928", "94.1", "92.2"}, ""},
		{lot.AtLeast(92), []string{"93.4", "1.16", "94.1", "92.2"}, ""}, // 79 fold
	} {
		c := terms(t, tt.limits)
		_, err := plan(t, c).Evaluate(lotOf(tt.values...))
		var bad *stats.InputError
		if (tt.id == "") != (err == nil) || err != nil && (!errors.Is(err, lot.ErrScale) || !errors.As(err, &bad) || bad.ID != tt.id) {
			t.Errorf("%v, %v: %v, want %q", tt.limits, tt.values, err, tt.id)
		}
		c.AnyScale = true
		if _, err := plan(t, c).Evaluate(lotOf(tt.values...)); err != nil {
			t.Errorf("%v, any scale: %v", tt.values, err)
		}
	}
}

func TestNewPlanRefuses(t *testing.T) {
	late, err := lot.NewSchedule(lot.Segment{From: d("50"), Pay: lot.Step(d("1"))})
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name string
		f    func(t *lot.Terms)
		want error
	}{
		{"no name", func(t *lot.Terms) { t.Name = "" }, lot.ErrMissing},
		{"no unit", func(t *lot.Terms) { t.Unit = "" }, lot.ErrMissing},
		{"no limits", func(t *lot.Terms) { t.Limits = lot.Limits{} }, lot.ErrNoLimit},
		{"equal limits", func(t *lot.Terms) { t.Limits = lot.Between(92, 92) }, lot.ErrLimitOrder},
		{"no plausible range", func(t *lot.Terms) { t.Plausible = lot.Limits{} }, lot.ErrNoLimit},
		{"limit outside the plausible range", func(t *lot.Terms) { t.Plausible = lot.Between(93, 100) }, lot.ErrPlausible},
		{"no rule for Q", func(t *lot.Terms) { t.Rounding.Q = units.Rounding{} }, units.ErrRounding},
		{"endless money", func(t *lot.Terms) { t.Rounding.Money = absolute }, units.ErrAbsolute},
		{"no schedule", func(t *lot.Terms) { t.Schedule = lot.Schedule{} }, lot.ErrMissing},
		{"a schedule that starts late", func(t *lot.Terms) { t.Schedule = late }, lot.ErrNotCovered},
		{"a negative price", func(t *lot.Terms) { t.UnitPrice = d("-1") }, lot.ErrNegative},
		{"an endless price", func(t *lot.Terms) { t.UnitPrice = decimal.New(1, 1<<30) }, lot.ErrDigits},
		{"a screen of two", func(t *lot.Terms) {
			t.Outlier = &lot.OutlierPolicy{Test: lot.GrubbsTest, Side: stats.Low, Alpha: 0.05, MinN: 2}
		}, stats.ErrParameter},
		{"a screen without alpha", func(t *lot.Terms) { t.Outlier = &lot.OutlierPolicy{Test: lot.GrubbsTest, Side: stats.Low, MinN: 4} }, stats.ErrLevel},
		{"a screen without side", func(t *lot.Terms) { t.Outlier = &lot.OutlierPolicy{Test: lot.GrubbsTest, Alpha: 0.05, MinN: 4} }, stats.ErrParameter},
		{"endless limits", func(t *lot.Terms) { t.Limits = lot.AtLeastDecimal(decimal.New(1, -1<<30)) }, lot.ErrDigits},
	} {
		c := terms(t, lot.AtLeast(92))
		tt.f(&c)
		if _, err := lot.NewPlan(c); !errors.Is(err, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}

// A plan does not change with the terms it was made from.
func TestPlanIsImmutable(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	c.Outlier = &lot.OutlierPolicy{Test: lot.GrubbsTest, Side: stats.Low, Alpha: 0.05, MinN: 4}
	p := plan(t, c)
	c.Outlier.Alpha = 0.5
	p.Terms().Outlier.Alpha = 0.6
	p.Terms().Schedule.Rows()[0].Reject = false
	if got := p.Terms(); got.Outlier.Alpha != 0.05 || !got.Schedule.Rows()[0].Reject {
		t.Errorf("the plan changed: %+v", got)
	}
}

// The audited and the float path agree, except for rounding noise next to
// saturation where n = 3, and exactly in what is saturated.
func TestAuditedAgreesWithFloat(t *testing.T) {
	rng := rand.New(rand.NewPCG(15, 16))
	c := terms(t, lot.Between(92, 94.5))
	p := plan(t, c)
	for range 3000 {
		n := 3 + rng.IntN(8)
		values, xs := make([]string, n), make([]float64, n)
		for i := range values {
			v := decimal.New(9000+int64(rng.IntN(600)), -2)
			values[i] = v.String()
			xs[i], _ = v.Float64()
		}
		e, err := p.Evaluate(lotOf(values...))
		if err != nil {
			t.Fatal(err)
		}
		w, err := lot.EstimateWithin(xs, c.Limits)
		if err != nil {
			t.Fatal(err)
		}
		tol := 1e-10
		if n == 3 {
			tol = 1e-5
		}
		if math.Abs(e.PWL.Exact-w.PWL) > tol || (e.PWL.Used == "100") != (w.PWL == 100) {
			t.Errorf("%v: audited %v (%s), float %v", values, e.PWL.Exact, e.PWL.Used, w.PWL)
		}
	}
}

// The exact estimate at n = 4 is a rational: 50 + 100·Q/3. Rounding it half-even
// from the exact value must agree with that, ties among them.
func TestExactRoundingAtFour(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	c.Rounding.Q, c.Rounding.Measure = halfEven(3), halfEven(1)
	p := plan(t, c)
	rng := rand.New(rand.NewPCG(17, 18))
	for range 500 {
		values := make([]string, 4)
		for i := range values {
			values[i] = decimal.New(9100+int64(rng.IntN(300)), -2).String()
		}
		e, err := p.Evaluate(lotOf(values...))
		if errors.Is(err, lot.ErrRoundedAway) || e.QL == nil {
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		q := d(e.QL.Used).Rat()
		want := new(big.Rat).Add(big.NewRat(50, 1), q.Mul(q, big.NewRat(100, 3)))
		if want.Cmp(big.NewRat(100, 1)) > 0 {
			want.SetInt64(100)
		}
		if want.Sign() < 0 {
			want.SetInt64(0)
		}
		rounded, err := halfEven(1).Rat(want)
		if err != nil || rounded.FloatString(1) != e.PWL.Used {
			t.Errorf("%v: PWL %s, want %s", values, e.PWL.Used, rounded.FloatString(1))
		}
	}
}

func ExamplePlan_Evaluate() {
	// An invented contract for one lot of five sublots.
	halfEven := func(places int) units.Rounding {
		return units.Rounding{Method: units.HalfEven, Places: places}
	}
	asIs := units.Rounding{Method: units.Absolute}
	dec := decimal.RequireFromString
	schedule, err := lot.NewSchedule(
		lot.Segment{From: dec("0"), Reject: true},
		lot.Segment{From: dec("50"), Pay: lot.Formula(dec("0.55"), dec("0.005"))})
	if err != nil {
		fmt.Println(err)
		return
	}
	plan, err := lot.NewPlan(lot.Terms{
		Name: "invented", Characteristic: "mat density", Unit: "% of maximum theoretical density",
		GmmSource: "mean of day", Limits: lot.AtLeast(92.0), Plausible: lot.Between(80, 102), Estimation: lot.Estimation{Method: lot.ExactWithin},
		Rounding: lot.RoundingPolicy{Value: asIs, Mean: asIs, StdDev: asIs, Q: asIs, Measure: halfEven(2), Factor: halfEven(3), Money: halfEven(2)},
		Schedule: schedule, UnitPrice: dec("82.40"), QuantityUnit: "t", Currency: "USD"})
	if err != nil {
		fmt.Println(err)
		return
	}
	l := lot.Lot{ID: "7", Unit: "% of maximum theoretical density"}
	for i, v := range []string{"94.2", "92.5", "93.4", "91.9", "93.8"} {
		l.Results = append(l.Results, lot.Result{ID: fmt.Sprintf("7-%d", i+1), Value: dec(v), Quantity: dec("500")})
	}
	e, err := plan.Evaluate(l)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v: PWL %s, factor %s, adjustment %s USD\n", e.Decision, e.PWL.Used, e.Factor.Used, e.Payment.Adjustment.StringFixed(2))
	fmt.Println(e.Working[0])
	// Output:
	// accepted: PWL 89.96, factor 1.000, adjustment 0.00 USD
	// mean = Σx/n = (94.2 + 92.5 + 93.4 + 91.9 + 93.8)/5 = 93.16
}
