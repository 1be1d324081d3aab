package lot_test

import (
	"errors"
	"maps"
	"reflect"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// following says what becomes of a member of the terms in a risk.
type following int

const (
	integrated following = iota // another value moves the numbers that an integral gives
	simulated                   // it moves those of a simulation, without which it is refused or a warning
	warned                      // it moves none, and a warning names it
	without                     // it has no part in pay factors or rejection
)

// member is a member of the terms with a value that differs from that in base.
type member struct {
	follows following
	base    func(c *lot.Terms)
	change  func(c *lot.Terms)
}

// members are all of the terms, by path.
func members(t *testing.T) map[string]member {
	always := rows(t, lot.Segment{From: d("0"), Pay: lot.Formula(d("1.1"), d("-0.1"))})
	other := rows(t, lot.Segment{From: d("0"), Pay: lot.Formula(d("1.2"), d("-0.2"))})
	plain := func(*lot.Terms) {}
	table := func(c *lot.Terms) {
		c.Estimation = lot.Estimation{Method: lot.TableWithin, Table: &lot.TableRule{Cell: halfEven(2), Negative: lot.MirrorNegative}}
		c.Schedule = rows(t, straight)
	}
	ranges := func(c *lot.Terms) {
		c.Estimation = lot.Estimation{Method: lot.RangeWithin, Ranges: []lot.RangeConstant{{N: 6, Group: 3, C: d("1.69")}}}
	}
	deviation := func(c *lot.Terms) {
		c.Limits, c.Estimation, c.Schedule = lot.Limits{}, lot.Estimation{Method: lot.MeanDeviation, Target: p("93")}, always
	}
	averages := func(c *lot.Terms) { c.Estimation = lot.Estimation{Method: lot.AverageWithin, Window: 3} }
	counts := func(c *lot.Terms) { c.ByCount = []lot.CountSchedule{{From: 4, To: 6, Schedule: rows(t, straight)}} }
	esd := func(c *lot.Terms) {
		c.Outlier = &lot.OutlierPolicy{Test: lot.GeneralizedESDTest, Side: stats.TwoSide, Alpha: 0.3, MinN: 5, Suspects: 2, MaxRemoved: 2}
	}
	removal := func(c *lot.Terms) { c.Outlier, c.Retest = screen(stats.TwoSide, 0.05, 1), lot.ReplaceResult }
	singles := func(c *lot.Terms) { c.Individual = individual(lot.AtLeast(91)) }
	small := func(c *lot.Terms) {
		c.SmallLot = &lot.SmallLotPolicy{Fewest: 7, Rule: lot.OwnTable, Own: &lot.OwnTerms{Target: d("93"), Measure: halfEven(3), ByCount: []lot.CountSchedule{{From: 1, To: 6, Schedule: always}}}}
	}
	joined := func(c *lot.Terms) { c.SmallLot = &lot.SmallLotPolicy{Fewest: 4, Rule: lot.JoinPrevious} }
	second := func(c *lot.Terms) {
		c.Second = &lot.SecondPass{Below: d("0.95"), Limits: lot.AtLeast(91.5), Max: d("0.98")}
	}
	part := func(c *lot.Terms) { c.Composite = &lot.CompositePart{Rule: lot.WeightedSum, Weight: p("0.5")} }
	return map[string]member{
		"Name":           {without, plain, func(c *lot.Terms) { c.Name = "other" }},
		"Characteristic": {without, plain, func(c *lot.Terms) { c.Characteristic = "other" }},
		"Unit":           {without, plain, func(c *lot.Terms) { c.Unit = "other" }},
		"GmmSource":      {without, plain, func(c *lot.Terms) { c.GmmSource = "other" }},
		"UnitPrice":      {without, plain, func(c *lot.Terms) { c.UnitPrice = d("1") }},
		"QuantityUnit":   {without, plain, func(c *lot.Terms) { c.QuantityUnit = "other" }},
		"Currency":       {without, plain, func(c *lot.Terms) { c.Currency = "other" }},
		"AnyScale":       {without, plain, func(c *lot.Terms) { c.AnyScale = true }},
		"Plausible":      {warned, plain, func(c *lot.Terms) { c.Plausible = lot.Between(91, 110) }},
		"Limits":         {integrated, plain, func(c *lot.Terms) { c.Limits = lot.AtLeast(91.9) }},
		"Schedule":       {integrated, plain, func(c *lot.Terms) { c.Schedule = rows(t, straight) }},
		"MaxFactor":      {integrated, plain, func(c *lot.Terms) { c.MaxFactor = p("1") }},
		"RejectBelow":    {integrated, plain, func(c *lot.Terms) { c.RejectBelow = p("0.9") }},

		"Estimation.Method":         {simulated, deviation, func(c *lot.Terms) { c.Limits = lot.AtLeast(92); averages(c) }},
		"Estimation.Weights":        {warned, plain, func(c *lot.Terms) { c.Estimation.Weights = lot.QuantityWeights }},
		"Estimation.Target":         {simulated, deviation, func(c *lot.Terms) { c.Estimation.Target = p("93.1") }},
		"Estimation.Window":         {simulated, averages, func(c *lot.Terms) { c.Estimation.Window = 4 }},
		"Estimation.Table.Cell":     {integrated, table, func(c *lot.Terms) { c.Estimation.Table.Cell = halfEven(1) }},
		"Estimation.Table.Negative": {integrated, table, func(c *lot.Terms) { c.Estimation.Table.Negative = lot.SignedRows }},
		"Estimation.Ranges.N":       {simulated, ranges, func(c *lot.Terms) { averages(c) }}, // another N leaves no constant for six
		"Estimation.Ranges.Group":   {simulated, ranges, func(c *lot.Terms) { c.Estimation.Ranges[0].Group = 2 }},
		"Estimation.Ranges.C":       {simulated, ranges, func(c *lot.Terms) { c.Estimation.Ranges[0].C = d("1.7") }},

		"Rounding.Value":   {simulated, plain, func(c *lot.Terms) { c.Rounding.Value = halfEven(1) }},
		"Rounding.Mean":    {simulated, plain, func(c *lot.Terms) { c.Rounding.Mean = halfEven(1) }},
		"Rounding.StdDev":  {simulated, plain, func(c *lot.Terms) { c.Rounding.StdDev = halfEven(1) }},
		"Rounding.Q":       {integrated, plain, func(c *lot.Terms) { c.Rounding.Q = halfEven(1) }},
		"Rounding.Measure": {integrated, plain, func(c *lot.Terms) { c.Rounding.Measure = halfEven(0) }},
		"Rounding.Factor":  {integrated, plain, func(c *lot.Terms) { c.Rounding.Factor, c.RejectBelow = halfEven(1), p("0.9") }},
		"Rounding.Money":   {without, plain, func(c *lot.Terms) { c.Rounding.Money = halfEven(0) }},

		"Outlier.Test":          {simulated, esd, func(c *lot.Terms) { c.Outlier = screen(stats.TwoSide, 0.3, 2) }},
		"Outlier.Side":          {integrated, removal, func(c *lot.Terms) { c.Outlier.Side = stats.Low }},
		"Outlier.Alpha":         {integrated, removal, func(c *lot.Terms) { c.Outlier.Alpha = 0.04 }},
		"Outlier.MinN":          {integrated, removal, func(c *lot.Terms) { c.Outlier.MinN = 7 }},
		"Outlier.Suspects":      {simulated, esd, func(c *lot.Terms) { c.Outlier.Suspects = 1 }},
		"Outlier.MaxRemoved":    {integrated, removal, func(c *lot.Terms) { c.Outlier.MaxRemoved = 0 }},
		"Outlier.CauseRequired": {without, removal, func(c *lot.Terms) { c.Outlier.CauseRequired = true }}, // RemoveFlagged says that there is one
		"Outlier.RetestNeeded":  {simulated, removal, func(c *lot.Terms) { c.Outlier.RetestNeeded = true }},

		"Individual.Limits": {integrated, singles, func(c *lot.Terms) { c.Individual.Limits = lot.AtLeast(91.1) }},
		"Individual.Action": {integrated, singles, func(c *lot.Terms) { c.Individual.Action = lot.ReportOnly }},

		"SmallLot.Fewest":      {simulated, small, func(c *lot.Terms) { c.SmallLot.Fewest = 6 }},
		"SmallLot.Rule":        {simulated, small, func(c *lot.Terms) { joined(c) }},
		"SmallLot.Last":        {warned, plain, func(c *lot.Terms) { joined(c); c.SmallLot.Rule, c.SmallLot.Last = lot.JoinNext, lot.JoinPrevious }},
		"SmallLot.Own.Target":  {simulated, small, func(c *lot.Terms) { c.SmallLot.Own.Target = d("93.1") }},
		"SmallLot.Own.Measure": {simulated, small, func(c *lot.Terms) { c.SmallLot.Own.Measure = halfEven(1) }},
		"SmallLot.Own.ByCount": {simulated, small, func(c *lot.Terms) { c.SmallLot.Own.ByCount[0].Schedule = other }},
		"Retest":               {warned, plain, func(c *lot.Terms) { c.Retest = lot.ReplaceResult }},
		"ByCount.From":         {integrated, counts, func(c *lot.Terms) { c.ByCount[0].From, c.ByCount[0].To = 7, 9 }},
		"ByCount.To":           {integrated, counts, func(c *lot.Terms) { c.ByCount[0].To = 5 }},
		"ByCount.Schedule":     {integrated, counts, func(c *lot.Terms) { c.ByCount[0].Schedule = rows(t, straight, level) }},
		"Second.Below":         {integrated, second, func(c *lot.Terms) { c.Second.Below = d("0.9") }},
		"Second.Limits":        {integrated, second, func(c *lot.Terms) { c.Second.Limits = lot.AtLeast(91.4) }},
		"Second.Max":           {integrated, second, func(c *lot.Terms) { c.Second.Max = d("0.97") }},
		"Composite.Rule":       {warned, plain, func(c *lot.Terms) { c.Composite = &lot.CompositePart{Rule: lot.Lowest} }},
		"Composite.Weight":     {warned, plain, part},
		"Verification": {warned, plain, func(c *lot.Terms) {
			c.Verification = &lot.VerificationPolicy{Kind: lot.SplitSamples, MeanAlpha: 0.05, Difference: 0.5, Power: 0.9}
		}},
	}
}

// paths returns the members of a struct of this package, those of what it holds
// included.
func paths(in reflect.Type, before string) (all []string) {
	for i := range in.NumField() {
		f := in.Field(i)
		inner := f.Type
		for inner.Kind() == reflect.Pointer || inner.Kind() == reflect.Slice {
			inner = inner.Elem()
		}
		open := inner.Kind() == reflect.Struct && inner != reflect.TypeFor[decimal.Decimal]() && inner != reflect.TypeFor[units.Rounding]() && inner != reflect.TypeFor[lot.VerificationPolicy]()
		if more := visible(inner, open); more && before+f.Name != "SmallLot.Own.ByCount" {
			all = append(all, paths(inner, before+f.Name+".")...)
		} else {
			all = append(all, before+f.Name)
		}
	}
	return all
}

func visible(in reflect.Type, open bool) bool {
	return open && in.NumField() > 0 && in.Field(0).IsExported()
}

// Whatever terms hold moves the risk, or is named in a warning, or has been looked at
// and has no part in it: a member that is new is none of them and fails here.
func TestPlanRiskFollowsTheTerms(t *testing.T) {
	all := members(t)
	if diff := cmp.Diff(slices.Sorted(slices.Values(paths(reflect.TypeFor[lot.Terms](), ""))), slices.Sorted(maps.Keys(all))); diff != "" {
		t.Errorf("members of the terms that no one has looked at (-), or that are gone (+):\n%s", diff)
	}
	for name, m := range all {
		before, after := terms(t, lot.AtLeast(92)), terms(t, lot.AtLeast(92))
		m.base(&before)
		m.base(&after)
		m.change(&after)
		o := lot.RiskOptions{N: 6, StdDev: 0.8, Curve: []lot.Population{{Mean: 92.9, StdDev: 0.8}}, RemoveFlagged: true}
		if m.follows == simulated || before.Limits.IsZero() {
			o.Simulation = &lot.RiskSimulation{Lots: 3000, Seed: 8, All: true}
		}
		first, then := risk(t, plan(t, before), o), risk(t, plan(t, after), o)
		a, b := first.Curve[0], then.Curve[0]
		moved := a.Factor != b.Factor || a.Rejected != b.Rejected || a.Full != b.Full
		named := cmp.Diff(first.Warnings, then.Warnings) != ""
		want := map[following][2]bool{integrated: {true, named}, simulated: {true, named}, warned: {false, true}, without: {false, false}}[m.follows]
		if got := [2]bool{moved, named}; got != want || o.Simulation == nil && then.Simulated {
			t.Errorf("%s: moved, named %v, want %v: %v", name, got, want, then.Warnings)
		}
		if m.follows != simulated {
			continue
		}
		o.Simulation = nil
		if r, err := plan(t, after).Risk(t.Context(), o); !errors.Is(err, lot.ErrNoIntegral) && len(r.Warnings) == 0 {
			t.Errorf("%s: integrated in silence, %v", name, err)
		}
	}
}
