package lot_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
)

func named(id string, values ...string) lot.Lot {
	l := lotOf(values...)
	l.ID = id
	return l
}

// Lot 7 alone is 96.072134; together with the two results of the last lot, from the
// raw results, 78.275847 (R 4.2.2 and SciPy 1.10).
func TestShortLastLot(t *testing.T) {
	seven, last := named("7", "93.4", "92.8", "94.1", "92.2"), named("8", "91.6", "92.3")
	c := terms(t, lot.AtLeast(92))
	c.SmallLot = &lot.SmallLotPolicy{Fewest: 3, Rule: lot.JoinPrevious}
	for _, rule := range []lot.SmallLotPolicy{{Fewest: 3, Rule: lot.JoinPrevious}, {Fewest: 3, Rule: lot.JoinNext, Last: lot.JoinPrevious}} {
		c.SmallLot = &rule
		es, err := plan(t, c).EvaluateLots([]lot.Lot{seven, last})
		if err != nil || len(es) != 1 {
			t.Fatalf("%d evaluations, %v", len(es), err)
		}
		e := es[0]
		if e.Lot != "7+8" || math.Abs(e.PWL.Exact-78.275847) > 5e-7 || !slices.Equal(e.Joined, []string{"7", "8"}) || !slices.Equal(e.Reopened, []string{"7"}) || !has(e.Warnings, lot.WarnReopened) {
			t.Errorf("%v: %s %v, joined %v, reopened %v, %v", rule.Rule, e.Lot, e.PWL, e.Joined, e.Reopened, e.Warnings)
		}
		if e.Used[4] != "8/S1" || e.Payment.Quantity.String() != "3000" {
			t.Errorf("used %v, %v", e.Used, e.Payment.Quantity)
		}
	}
	c.SmallLot = &lot.SmallLotPolicy{Fewest: 3, Rule: lot.JoinNext, Last: lot.OwnTable, Own: florida(t)}
	es, err := plan(t, c).EvaluateLots([]lot.Lot{seven, last})
	if err != nil || len(es) != 2 || math.Abs(es[0].PWL.Exact-96.072134) > 5e-7 || es[1].Method != lot.MeanDeviation || es[0].Joined != nil {
		t.Errorf("%+v, %v", es, err)
	}
	if _, err := plan(t, c).EvaluateLots([]lot.Lot{seven, seven}); !errors.Is(err, lot.ErrRepeatedID) {
		t.Errorf("a lot twice: %v", err)
	}
}

func TestShortLotsJoinNext(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	c.SmallLot = &lot.SmallLotPolicy{Fewest: 4, Rule: lot.JoinNext, Last: lot.JoinPrevious}
	pl := plan(t, c)
	es, err := pl.EvaluateLots([]lot.Lot{named("1", "91.6", "92.3"), named("2", "93"), named("3", "93.4", "92.8", "94.1", "92.2"), named("4", "93", "94", "92.5", "93.1")})
	if err != nil || len(es) != 2 || !slices.Equal(es[0].Joined, []string{"1", "2", "3"}) || !slices.Equal(es[0].Reopened, []string{"3"}) || es[1].Lot != "4" {
		t.Errorf("%+v, %v", es, err)
	}
	if _, err := pl.EvaluateLots([]lot.Lot{named("1", "91.6", "92.3")}); !errors.Is(err, lot.ErrNoNeighbour) {
		t.Errorf("one short lot: %v", err)
	}
	c.SmallLot = &lot.SmallLotPolicy{Fewest: 4, Rule: lot.JoinPrevious}
	if _, err := plan(t, c).EvaluateLots([]lot.Lot{named("1", "91.6")}); !errors.Is(err, lot.ErrNoNeighbour) {
		t.Errorf("a short first lot: %v", err)
	}
	c.SmallLot = nil
	_, err = plan(t, c).EvaluateLots([]lot.Lot{named("1", "91.6")})
	var bad *stats.InputError
	if !errors.As(err, &bad) || !errors.Is(err, stats.ErrTooFew) || bad.Func != "lot.Plan.EvaluateLots" {
		t.Errorf("no rule: %v", err)
	}
}

// A retest makes up for a removed result, so that the lot stands alone.
func TestRetestedLotStandsAlone(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	c.SmallLot = &lot.SmallLotPolicy{Fewest: 5, Rule: lot.JoinPrevious}
	c.Outlier = &lot.OutlierPolicy{Test: lot.GrubbsTest, Side: stats.TwoSide, Alpha: 0.05, MinN: 4, MaxRemoved: 1}
	c.Retest = lot.ReplaceResult
	l := named("2", "93.3", "92.9", "93.6", "93.1", "90.2")
	l.Results[4].Removed = true
	first := named("1", "93.3", "92.9", "93.6", "93.1", "93.2")
	if es, err := plan(t, c).EvaluateLots([]lot.Lot{first, l}); err != nil || len(es) != 1 || es[0].N != 9 {
		t.Errorf("four results: %d evaluations, %v", len(es), err)
	}
	l.Results = append(l.Results, lot.Result{ID: "R", Value: d("93.0"), RetestOf: "S5"})
	es, err := plan(t, c).EvaluateLots([]lot.Lot{first, l})
	if err != nil || len(es) != 2 || es[1].N != 5 || es[1].Used[4] != "R" {
		t.Errorf("%+v, %v", es, err)
	}
}

// {93.3, 92.9, 93.6, 93.1, 90.2} has G = 1.757, above the two-sided critical value of
// 1.715 at 5 %: PWL 65.849306 with all, 100 without 90.2 (R 4.2.2 and SciPy 1.10).
func TestRemoval(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	l := lotOf("93.3", "92.9", "93.6", "93.1", "90.2")
	l.Results[4].Removed, l.Results[4].Cause = true, "core broke along a crack"
	policy := lot.OutlierPolicy{Test: lot.GrubbsTest, Side: stats.TwoSide, Alpha: 0.05, MinN: 4, MaxRemoved: 1, CauseRequired: true}
	c.Outlier = &policy
	e, err := plan(t, c).Evaluate(l)
	if text := lot.WorkingText(e.Working); !strings.Contains(text, "|x - mean|/s of S5 = ") || !strings.Contains(text, "\nleft out = S5 = removed as an outlier: core broke along a crack\n") {
		t.Errorf("the working does not show the removal:\n%s", text)
	}
	if err != nil || e.PWL.Used != "100" || e.N != 4 || len(e.LeftOut) != 1 || math.Abs(e.WithRemoved.Exact-65.849306) > 5e-7 || e.Removals[0].Flagged[0] != "S5" || e.LeftOut[0].ID != "S5" || e.Payment.Quantity.String() != "2500" {
		t.Errorf("%+v, %v, %+v, %v", e.PWL, e.N, e.LeftOut, err)
	}
	for _, tt := range []struct {
		name string
		f    func(o *lot.OutlierPolicy, l *lot.Lot)
	}{
		{"no removal allowed", func(o *lot.OutlierPolicy, _ *lot.Lot) { o.MaxRemoved = 0 }},
		{"no cause", func(_ *lot.OutlierPolicy, l *lot.Lot) { l.Results[4].Cause = "" }},
		{"not flagged at 1 %", func(o *lot.OutlierPolicy, _ *lot.Lot) { o.Alpha = 0.01 }},
		{"another result", func(_ *lot.OutlierPolicy, l *lot.Lot) {
			l.Results[4].Removed, l.Results[4].Cause = false, ""
			l.Results[0].Removed, l.Results[0].Cause = true, "looks odd"
		}},
		{"too few to screen", func(o *lot.OutlierPolicy, _ *lot.Lot) { o.MinN = 6 }},
		{"no retest", func(o *lot.OutlierPolicy, _ *lot.Lot) { o.RetestNeeded = true }},
		{"a cause without a mark", func(_ *lot.OutlierPolicy, l *lot.Lot) { l.Results[1].Cause = "why" }},
	} {
		o, bad := policy, lot.Lot{ID: l.ID, Unit: l.Unit, Results: slices.Clone(l.Results)}
		tt.f(&o, &bad)
		c.Outlier, c.Retest = &o, lot.ReplaceResult
		if _, err := plan(t, c).Evaluate(bad); !errors.Is(err, lot.ErrRemoval) {
			t.Errorf("%s: %v", tt.name, err)
		}
	}
}

// By hand: with n = 4 PWL is 50 + 100·Q/3, and {93, 94, 93, 94} against 92 has
// s = √(1/3) and Q = 1.5·√3 = 2.6, beyond saturation.
func TestRetests(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	l := lotOf("91", "94", "93", "94")
	l.Results = append(l.Results, lot.Result{ID: "S1R", Value: d("93"), RetestOf: "S1"})
	if _, err := plan(t, c).Evaluate(l); !errors.Is(err, lot.ErrRetest) {
		t.Errorf("no retests: %v", err)
	}
	c.Retest = lot.ReplaceResult
	e, err := plan(t, c).Evaluate(l)
	if err != nil || e.PWL.Used != "100" || e.N != 4 || e.Used[0] != "S1R" || e.LeftOut[0] != (lot.LeftOut{ID: "S1", Why: "replaced by S1R"}) || e.Payment.Quantity.String() != "2000" {
		t.Errorf("replace: %+v, %v, %+v, %v", e.PWL, e.Used, e.LeftOut, err)
	}
	c.Retest = lot.PoolResults
	e, err = plan(t, c).Evaluate(l)
	// {91, 93, 94, 93, 94}: mean 93, s² = 6/4.
	if err != nil || e.N != 5 || e.Mean.Used != "93" || math.Abs(e.StdDev.Exact-math.Sqrt(1.5)) > 1e-15 || e.LeftOut != nil {
		t.Errorf("pool: %+v, %+v, %v", e.Mean, e.StdDev, err)
	}
	for _, bad := range []lot.Result{{ID: "R", Value: d("93"), RetestOf: "S9"}, {ID: "R", Value: d("93"), RetestOf: "S1R"}, {ID: "R", Value: d("93"), RetestOf: "S1", Quantity: d("5")}} {
		more := lot.Lot{ID: l.ID, Unit: l.Unit, Results: append(slices.Clone(l.Results), bad)}
		if _, err := plan(t, c).Evaluate(more); !errors.Is(err, lot.ErrRetest) {
			t.Errorf("%+v: %v", bad, err)
		}
	}
	c.Retest = lot.ReplaceResult
	l.Results = append(l.Results, lot.Result{ID: "S1Q", Value: d("93"), RetestOf: "S1"})
	if _, err := plan(t, c).Evaluate(l); !errors.Is(err, lot.ErrRetest) {
		t.Errorf("two retests of one result: %v", err)
	}
}

// A retest counts beside what it repeats where results are pooled, and instead of it
// where it replaces; in a joined lot it goes with its own lot's result.
func TestRetestsOfShortLots(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	c.SmallLot = &lot.SmallLotPolicy{Fewest: 3, Rule: lot.JoinPrevious}
	first, short := named("7", "93.4", "92.8", "94.1", "92.2"), named("8", "91.6", "92.3")
	short.Results = append(short.Results, lot.Result{ID: "R", Value: d("93.0"), RetestOf: "S1"})
	c.Retest = lot.PoolResults
	if es, err := plan(t, c).EvaluateLots([]lot.Lot{first, short}); err != nil || len(es) != 2 || es[1].N != 3 {
		t.Errorf("pool: %d evaluations, %v", len(es), err)
	}
	c.Retest = lot.ReplaceResult
	es, err := plan(t, c).EvaluateLots([]lot.Lot{first, short})
	if err != nil || len(es) != 1 || es[0].N != 6 || !slices.Equal(es[0].LeftOut, []lot.LeftOut{{ID: "8/S1", Why: "replaced by 8/R"}}) {
		t.Fatalf("replace: %d evaluations, %v", len(es), err)
	}
	if w := es[0].Warnings[0]; w.Code != lot.WarnReopened || w.Text != "judged anew together with 8; what was paid for it before is to be settled" {
		t.Errorf("%+v", w)
	}
	first.Results[0].Value = d("934")
	_, err = plan(t, c).EvaluateLots([]lot.Lot{first, short})
	var bad *stats.InputError
	if !errors.Is(err, lot.ErrPlausible) || !errors.As(err, &bad) || bad.Arg != "lots \"7\" l.Results" || bad.ID != "S1" {
		t.Errorf("a result in tons: %v", err)
	}
}

// A lot that is joined is checked by itself: with the id of the lot before its own, a
// result without one would have some.
func TestJoinedLotsAreChecked(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	c.SmallLot = &lot.SmallLotPolicy{Fewest: 3, Rule: lot.JoinPrevious}
	for _, tt := range []struct {
		change func(short *lot.Lot)
		want   error
		arg    string
	}{
		{func(l *lot.Lot) { l.Results[1].ID = "" }, lot.ErrNoID, `lots "8" l.Results`},
		{func(l *lot.Lot) { l.Results[1].ID = "S1" }, lot.ErrRepeatedID, `lots "8" l.Results`},
		{func(l *lot.Lot) { l.Results[1].Value = decimal.Zero }, lot.ErrMissing, `lots "8" l.Results`},
		{func(l *lot.Lot) { l.ID = "8\n" }, lot.ErrText, `lots "8\n" l.ID`},
		{func(l *lot.Lot) { l.Unit = "lb/ft3" }, lot.ErrUnit, `lots "8" l.Unit`},
		{func(l *lot.Lot) { l.Results = nil }, stats.ErrTooFew, `lots "8" l.Results`},
	} {
		first, short := lotOf("93.4", "92.8", "94.1"), lotOf("91.6", "92.3")
		short.ID = "8"
		tt.change(&short)
		_, err := plan(t, c).EvaluateLots([]lot.Lot{first, short})
		var bad *stats.InputError
		if !errors.Is(err, tt.want) || !errors.As(err, &bad) || bad.Arg != tt.arg {
			t.Errorf("%v, want %v in %s", err, tt.want, tt.arg)
		}
	}
}

// No two evaluations are of one id, not even where lots were joined.
func TestJoinedIDIsTaken(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	c.SmallLot = &lot.SmallLotPolicy{Fewest: 3, Rule: lot.JoinPrevious}
	lots := []lot.Lot{named("7", "93.4", "92.8", "94.1"), named("8", "91.6", "92.3"), named("7+8", "93.4", "92.8", "94.1")}
	if es, err := plan(t, c).EvaluateLots(lots); !errors.Is(err, lot.ErrRepeatedID) {
		t.Errorf("%d evaluations, %v", len(es), err)
	}
}

// Grubbs flags 80 among {93, 94, 93, 94, 93, 80}, and nothing of what is left when it is
// gone: each removal needs a look of its own.
func TestRemovalsOneByOne(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	c.Outlier = &lot.OutlierPolicy{Test: lot.GrubbsTest, Side: stats.TwoSide, Alpha: 0.01, MinN: 4, MaxRemoved: 2}
	l := lotOf("93", "94", "93", "94", "93", "80")
	e, err := plan(t, c).Evaluate(l)
	if err != nil || e.WithRemoved != nil || e.Removals != nil {
		t.Errorf("nothing removed: %+v, %v", e.WithRemoved, err)
	}
	l.Results[5].Removed = true
	e, err = plan(t, c).Evaluate(l)
	if err != nil || !slices.Equal(e.LeftOut, []lot.LeftOut{{ID: "S6", Why: "removed as an outlier"}}) {
		t.Errorf("one: %+v, %v", e.LeftOut, err)
	}
	l.Results[5].Cause = "a broken core"
	if e, err = plan(t, c).Evaluate(l); err != nil || e.LeftOut[0].Why != "removed as an outlier: a broken core" {
		t.Errorf("with a cause: %+v, %v", e.LeftOut, err)
	}
	l.Results[0].Removed = true
	_, err = plan(t, c).Evaluate(l)
	var bad *stats.InputError
	if !errors.Is(err, lot.ErrRemoval) || !errors.As(err, &bad) || bad.Value != "S1" {
		t.Errorf("one that is not flagged: %v", err)
	}
	l.Results[5].Removed, l.Results[5].Cause, l.Results[1].Removed = false, "", true
	if _, err = plan(t, c).Evaluate(l); !errors.As(err, &bad) || bad.Value != "S1 S2" {
		t.Errorf("two that are not flagged: %v", err)
	}
}

// What applies to a small lot is its own table alone: no limits, no screen, its own
// rounding; one result has no spread to warn of. By hand: (4.17 + 0.30)/2 = 2.235.
func TestOwnTableAlone(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	own := *florida(t)
	own.Measure = halfEven(1)
	c.SmallLot = &lot.SmallLotPolicy{Fewest: 5, Rule: lot.OwnTable, Own: &own}
	c.Outlier = &lot.OutlierPolicy{Test: lot.GrubbsTest, Side: stats.TwoSide, Alpha: 0.05, MinN: 4}
	e, err := plan(t, c).Evaluate(lotOf("90.33", "94.2"))
	if err != nil || e.Measure.Used != "2.2" || e.WithinCount != 2 || has(e.Warnings, lot.WarnScreenSkipped) || !has(e.Warnings, lot.WarnSmallLot) {
		t.Errorf("two: %+v, %d within, %v, %v", e.Measure, e.WithinCount, e.Warnings, err)
	}
	if e, err = plan(t, c).Evaluate(lotOf("93.33")); err != nil || e.Measure.Used != "1.2" || has(e.Warnings, lot.WarnZeroSpread) {
		t.Errorf("one: %+v, %v, %v", e.Measure, e.Warnings, err)
	}
	c.SmallLot = &lot.SmallLotPolicy{Fewest: 5, Rule: lot.JoinPrevious}
	if _, err := plan(t, c).Evaluate(lotOf("93.4", "92.8", "94.1", "92.2")); !errors.Is(err, stats.ErrTooFew) || !strings.Contains(err.Error(), "have 4, need 5") {
		t.Errorf("a lot that has to be joined, by itself: %v", err)
	}
}
