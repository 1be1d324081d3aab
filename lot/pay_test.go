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
	"github.com/densilot/densilot/units"
)

// The rule that Washington State DOT uses for compaction (City of Everett
// amendments): below full pay at 92.0 the lot is judged again at 91.5, with at most
// full pay. The factors here are invented.
func TestSecondPass(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	c.Schedule = mustSchedule(t, lot.Segment{From: d("0"), Reject: true}, lot.Segment{From: d("50"), Pay: lot.Formula(d("0.55"), d("0.005"))})
	c.MaxFactor = p("1.04")
	c.Second = &lot.SecondPass{Below: d("1.00"), Limits: lot.AtLeast(91.5), Max: d("1.00")}
	pl := plan(t, c)
	// By hand, n = 4: mean 93, s² = 4/3, Q = √3/2, PWL 50 + 50/√3 = 78.8675, factor
	// 0.9443; at 91.5 Q = 1.5·√3/2, PWL 93.3013, factor 1.0165.
	e, err := pl.Evaluate(lotOf("92", "94", "92", "94"))
	if err != nil || e.PWL.Exact != 50+50/math.Sqrt(3) || math.Abs(e.Second.Exact-93.30127) > 5e-6 || e.Factor.Used != "1.0000" || e.Decision != lot.Accepted {
		t.Errorf("%+v, %+v, %+v, %v", e.PWL, e.Second, e.Factor, err)
	}
	// A first pass at full pay stands, capped by the plan: PWL 100 would be 1.05.
	e, err = pl.Evaluate(lotOf("94", "94.1", "94.2", "94.1"))
	if err != nil || e.Second != nil || e.Factor.Used != "1.0400" {
		t.Errorf("%+v, %+v, %v", e.Second, e.Factor, err)
	}
	c.Second.Limits = lot.AtLeast(92.1)
	if _, err := lot.NewPlan(c); !errors.Is(err, lot.ErrLimitOrder) {
		t.Errorf("a narrower second limit: %v", err)
	}
}

// The working of the pay, by hand: 50 + 50/√3 = 78.867513459…, 0.55 + 0.005 of it is
// 0.944337567…, 2000 t at 82.40 are 164800, times -0.0557 they are -9179.36.
func TestPayWorking(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	c.Schedule = mustSchedule(t, lot.Segment{From: d("0"), Reject: true}, lot.Segment{From: d("50"), Pay: lot.Formula(d("0.55"), d("0.005"))})
	c.MaxFactor = p("1.04")
	c.Individual = &lot.IndividualPolicy{Limits: lot.AtLeast(92.5), Action: lot.ReportOnly}
	twice, part := c, c
	twice.Second = &lot.SecondPass{Below: d("0.95"), Limits: lot.AtLeast(91.5), Max: d("1.00")}
	part.Composite = &lot.CompositePart{Rule: lot.Lowest}
	for _, tt := range []struct {
		terms  lot.Terms
		values []string
		want   string
	}{
		{c, []string{"92", "94", "92", "94"}, `
pay factor = 0.55 + 0.005·PWL from PWL 50 on, at most 1.04 = 0.55 + 0.005·78.867513459…, at most 1.04 = 0.944337567… → 0.9443 (half-even to 0.0001)
single results = at least 92.5 = S1, S3 outside
decision = the factor is below 1 = accepted at reduced pay
full pay = quantity·price = 2000 t x 82.40 = 164800 USD → 164800.00 USD (half-even to 0.01)
pay adjustment = quantity·price·(factor - 1) = 2000 t x 82.40 x -0.0557 = -9179.36 USD (half-even to 0.01)
pay = full pay + adjustment = 155620.64 USD
`},
		{twice, []string{"92", "94", "92", "94"}, `
second pass = the first pays less than 0.95 = judged by at least 91.5, with a factor of at most 1.00
`},
		{part, []string{"92", "94", "92", "94"}, `
composite = lowest = the factor enters that of the lot, which decides the pay
`},
		{c, []string{"90", "91", "90", "91"}, `
pay row = from PWL 0 on = not accepted
single results = at least 92.5 = S1, S2, S3, S4 outside
decision = the row of the schedule is not accepted = rejected; the engineer decides what happens to the lot
`},
	} {
		e, err := plan(t, tt.terms).Evaluate(lotOf(tt.values...))
		if text := lot.WorkingText(e.Working); err != nil || !strings.Contains(text, tt.want) {
			t.Errorf("no %s\nin\n%s%v", tt.want, text, err)
		}
	}
	// A factor that is Below is not less than Below.
	twice.Second.Below = d("0.9443")
	if e, err := plan(t, twice).Evaluate(lotOf("92", "94", "92", "94")); err != nil || e.Second != nil {
		t.Errorf("at the level of the second pass: %+v, %v", e.Second, err)
	}
}

// Nothing is paid for no quantity, and that is said.
func TestNoQuantity(t *testing.T) {
	l := lotOf("92", "94", "92", "94")
	if e, err := plan(t, terms(t, lot.AtLeast(92))).Evaluate(l); err != nil || has(e.Warnings, lot.WarnNoQuantity) {
		t.Errorf("500 t each: %v, %v", e.Warnings, err)
	}
	l.Results[1].Quantity, l.Results[3].Quantity = decimal.Decimal{}, d("0")
	l.Results = append(l.Results, lot.Result{ID: "S4R", Value: d("94"), RetestOf: "S4"}) // which has none by right
	c := terms(t, lot.AtLeast(92))
	c.Retest = lot.ReplaceResult
	e, err := plan(t, c).Evaluate(l)
	if err != nil || !e.Payment.Quantity.Equal(d("1000")) || !slices.ContainsFunc(e.Warnings, func(w stats.Warning) bool { return w.Code == lot.WarnNoQuantity && w.Where == "S2, S4" }) {
		t.Errorf("two of four: %v, %v", e.Warnings, err)
	}
	l.Results = l.Results[:4]
	for i := range l.Results {
		l.Results[i].Quantity = d("0")
	}
	if e, err := plan(t, terms(t, lot.AtLeast(92))).Evaluate(l); err != nil || !e.Payment.Total.IsZero() || !has(e.Warnings, lot.WarnNoQuantity) {
		t.Errorf("no quantity: %v, %v", e.Warnings, err)
	}
}

func TestRejectBelow(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	c.RejectBelow = p("0.85")
	// PWL 74.88 (n = 4: 93.2, 92.1, 94.3, 91.8) pays 0.55 + 0.005·74.881898 = 0.9244.
	for limit, want := range map[string]lot.Decision{"0.9244": lot.AcceptedReduced, "0.9245": lot.Rejected} {
		c.RejectBelow = p(limit)
		e, err := plan(t, c).Evaluate(lotOf("93.2", "92.1", "94.3", "91.8"))
		if err != nil || e.Decision != want || (e.Factor == nil) != (want == lot.Rejected) {
			t.Errorf("below %s: %v, %v", limit, e.Decision, err)
		}
	}
}

// One bad core and a good average: PWL 91.405457 by R 4.2.2 and SciPy, and a single
// result below 91.5 that is reported on its own.
func TestSingleResultMinimum(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	values := []string{"95.1", "95.3", "94.9", "95.2", "91.1"}
	for action, want := range map[lot.IndividualAction]lot.Decision{lot.ReportOnly: lot.Accepted, lot.RejectLot: lot.Rejected} {
		c.Individual = &lot.IndividualPolicy{Limits: lot.AtLeast(91.5), Action: action}
		e, err := plan(t, c).Evaluate(lotOf(values...))
		if err != nil || math.Abs(e.PWL.Exact-91.405457) > 5e-7 || len(e.OutsideSingle) != 1 || e.OutsideSingle[0] != "S5" || e.Decision != want || !has(e.Warnings, lot.WarnIndividual) {
			t.Errorf("%v: %+v, %v, %v, %v", action, e.PWL, e.OutsideSingle, e.Decision, err)
		}
	}
	// A lot that the schedule rejects still reports them: PWL 0, by hand.
	if e, err := plan(t, c).Evaluate(lotOf("90.1", "90.2", "90.3")); err != nil || e.Decision != lot.Rejected || len(e.OutsideSingle) != 3 || !has(e.Warnings, lot.WarnIndividual) {
		t.Errorf("a rejected lot: %v, %v, %v", e.OutsideSingle, e.Warnings, err)
	}
	c.Individual.Limits = lot.AtLeastDecimal(d("91.1"))
	if e, err := plan(t, c).Evaluate(lotOf(values...)); err != nil || e.OutsideSingle != nil {
		t.Errorf("a result at the limit: %v, %v", e.OutsideSingle, err)
	}
	// Removed, the last result (p = 0.0071 on its side, R 4.2.2) is none that counts, and is
	// named all the same unless its place was measured again.
	c.Individual, c.Outlier, c.Retest = individual(lot.AtLeast(91.5)), screen(stats.Low, 0.05, 1), lot.ReplaceResult
	l := lotOf("93.3", "92.9", "93.6", "93.1", "90.2")
	l.Results[4].Removed = true
	e, err := plan(t, c).Evaluate(l)
	if err != nil || e.OutsideSingle != nil || e.Decision != lot.Accepted || !slices.ContainsFunc(e.Warnings, func(w stats.Warning) bool { return w.Code == lot.WarnIndividual && w.Where == "S5" }) {
		t.Errorf("removed: %v, %v, %v, %v", e.OutsideSingle, e.Decision, e.Warnings, err)
	}
	l.Results = append(l.Results, lot.Result{ID: "S5R", Value: d("92.8"), RetestOf: "S5"})
	if e, err := plan(t, c).Evaluate(l); err != nil || has(e.Warnings, lot.WarnIndividual) {
		t.Errorf("removed and retested: %v, %v", e.Warnings, err)
	}
}

func TestMixedOrigins(t *testing.T) {
	l := lotOf("93.2", "92.1", "94.3", "91.8")
	pl := plan(t, terms(t, lot.AtLeast(92)))
	for i := range l.Results {
		l.Results[i].Origin = "gauge"
	}
	if e, err := pl.Evaluate(l); err != nil || has(e.Warnings, lot.WarnMixedOrigins) {
		t.Errorf("one origin: %v, %v", e.Warnings, err)
	}
	l.Results[2].Origin = "core"
	if e, err := pl.Evaluate(l); err != nil || !has(e.Warnings, lot.WarnMixedOrigins) || math.Abs(e.PWL.Exact-74.881898) > 5e-7 {
		t.Errorf("two origins: %v, %v", e.Warnings, err)
	}
	l.Results[3].Origin = ""
	e, err := pl.Evaluate(l)
	if err != nil || !strings.Contains(e.Warnings[0].Text, "(2 gauge, 1 core, 1 not recorded)") {
		t.Errorf("three origins: %v, %v", e.Warnings, err)
	}
}

// By hand: 100.00 in three equal parts is 33.34, 33.33, 33.33; of 1, 1 and 5 sevenths
// it is 14.29, 14.28 and 71.43 because the remainders are 5/7, 5/7 and 4/7 of a cent.
func TestSharesAddUp(t *testing.T) {
	c := terms(t, lot.AtLeast(90))
	c.Schedule = mustSchedule(t, lot.Segment{From: d("0"), Pay: lot.Step(d("1"))})
	for _, tt := range []struct{ quantities, want []string }{{[]string{"1", "1", "1"}, []string{"33.34", "33.33", "33.33"}}, {[]string{"1", "1", "5"}, []string{"14.29", "14.28", "71.43"}}} {
		l, sum := lotOf("93", "93.5", "94"), decimal.Zero
		for i, q := range tt.quantities {
			l.Results[i].Quantity = d(q)
			sum = sum.Add(d(q))
		}
		c.UnitPrice = d("100").DivRound(sum, 20)
		e, err := plan(t, c).Evaluate(l)
		if err != nil || len(e.Payment.Shares) != 3 {
			t.Fatalf("%+v, %v", e.Payment, err)
		}
		for i, s := range e.Payment.Shares {
			if s.Amount.StringFixed(2) != tt.want[i] || s.ID != l.Results[i].ID {
				t.Errorf("%v: %v, want %s", tt.quantities, s, tt.want[i])
			}
		}
	}
}

func TestComposites(t *testing.T) {
	parts := []lot.CharacteristicFactor{{Name: "density", Factor: d("0.95")}, {Name: "air voids", Factor: d("1.02")}, {Name: "grade", Factor: d("1.00")}}
	rule := units.Rounding{Method: units.HalfEven, Places: 3}
	// By hand: 0.95·1.02 = 0.969.
	for r, want := range map[lot.CompositeRule]string{lot.Product: "0.969", lot.Lowest: "0.95"} {
		if f, err := lot.Composite(parts, lot.CompositeTerms{Rule: r, Rounding: rule}); err != nil || !f.Equal(d(want)) {
			t.Errorf("%v: %v, %v", r, f, err)
		}
	}
	if f, err := lot.Composite(parts[1:], lot.CompositeTerms{Rule: lot.Product, Max: p("1.01"), Rounding: rule}); err != nil || !f.Equal(d("1.01")) {
		t.Errorf("a cap: %v, %v", f, err)
	}
	parts[0].Weight = d("1")
	if _, err := lot.Composite(parts, lot.CompositeTerms{Rule: lot.Lowest, Rounding: rule}); !errors.Is(err, lot.ErrWeights) {
		t.Errorf("a weight for the lowest: %v", err)
	}
	if _, err := lot.Composite(parts, lot.CompositeTerms{Rounding: rule}); !errors.Is(err, lot.ErrMissing) {
		t.Errorf("no rule: %v", err)
	}
}
