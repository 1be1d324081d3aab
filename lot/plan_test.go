package lot_test

import (
	"encoding/json"
	"errors"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

func TestNewPlanRefusesChoices(t *testing.T) {
	late := mustSchedule(t, lot.Segment{From: d("50"), Pay: lot.Step(d("1"))})
	for _, tt := range []struct {
		name, arg string
		f         func(c *lot.Terms)
		want      error
	}{
		{"no method", "t.Estimation.Method", func(c *lot.Terms) { c.Estimation = lot.Estimation{} }, lot.ErrMissing},
		{"no source of Gmm", "t.GmmSource", func(c *lot.Terms) { c.GmmSource = "" }, lot.ErrMissing},
		{"two lines of name", "t.Name", func(c *lot.Terms) { c.Name = "a\nb" }, lot.ErrText},
		{"an endless name", "t.Name", func(c *lot.Terms) { c.Name = strings.Repeat("a", 1001) }, lot.ErrText},
		{"a table without rule", "t.Estimation.Table", func(c *lot.Terms) { c.Estimation.Method = lot.TableWithin }, lot.ErrMissing},
		{"a rule without table", "t.Estimation.Table", func(c *lot.Terms) { c.Estimation.Table = &lot.TableRule{} }, lot.ErrUnused},
		{"negative indices unsaid", "t.Estimation.Table.Negative", func(c *lot.Terms) {
			c.Estimation = lot.Estimation{Method: lot.TableWithin, Table: &lot.TableRule{Cell: halfEven(4)}}
		}, lot.ErrMissing},
		{"13 places of a cell", "t.Estimation.Table.Cell.Places", func(c *lot.Terms) {
			c.Estimation = lot.Estimation{Method: lot.TableWithin, Table: &lot.TableRule{Cell: halfEven(13), Negative: lot.SignedRows}}
		}, lot.ErrOutOfDomain},
		{"a window of one", "t.Estimation.Window", func(c *lot.Terms) { c.Estimation = lot.Estimation{Method: lot.AverageWithin, Window: 1} }, lot.ErrOutOfDomain},
		{"no target", "t.Estimation.Target", func(c *lot.Terms) { c.Estimation = lot.Estimation{Method: lot.MeanDeviation} }, lot.ErrMissing},
		{"an implausible target", "t.Estimation.Target", func(c *lot.Terms) {
			c.Estimation, c.Limits = lot.Estimation{Method: lot.MeanDeviation, Target: p("945")}, lot.Limits{}
		}, lot.ErrPlausible},
		{"a target that is missing", "t.SmallLot.Own.Target", func(c *lot.Terms) {
			own := *florida(t)
			own.Target, c.Plausible = decimal.Decimal{}, lot.Between(-1, 110)
			c.SmallLot = &lot.SmallLotPolicy{Fewest: 3, Rule: lot.OwnTable, Own: &own}
		}, lot.ErrMissing},
		{"limits beside a target", "t.Limits", func(c *lot.Terms) { c.Estimation = lot.Estimation{Method: lot.MeanDeviation, Target: p("94.5")} }, lot.ErrUnused},
		{"groups that do not fit", "t.Estimation.Ranges", func(c *lot.Terms) {
			c.Estimation = lot.Estimation{Method: lot.RangeWithin, Ranges: []lot.RangeConstant{{N: 5, Group: 2, C: d("2")}}}
		}, lot.ErrOutOfDomain},
		{"a constant of 0", "t.Estimation.Ranges", func(c *lot.Terms) {
			c.Estimation = lot.Estimation{Method: lot.RangeWithin, Ranges: []lot.RangeConstant{{N: 4, Group: 2}}}
		}, lot.ErrNegative},
		{"no test", "t.Outlier.Test", func(c *lot.Terms) { c.Outlier = &lot.OutlierPolicy{Side: stats.Low, Alpha: 0.05, MinN: 4} }, lot.ErrMissing},
		{"an endless alpha", "t.Outlier.Alpha", func(c *lot.Terms) {
			c.Outlier = &lot.OutlierPolicy{Test: lot.GrubbsTest, Side: stats.Low, Alpha: 1e-300, MinN: 4}
		}, lot.ErrDigits},
		{"alpha is no number", "t.Outlier.Alpha", func(c *lot.Terms) {
			c.Outlier = &lot.OutlierPolicy{Test: lot.GrubbsTest, Side: stats.Low, Alpha: math.NaN(), MinN: 4}
		}, stats.ErrLevel},
		{"a retest that is never taken", "t.Outlier.RetestNeeded", func(c *lot.Terms) {
			c.Outlier = &lot.OutlierPolicy{Test: lot.GrubbsTest, Side: stats.Low, Alpha: 0.05, MinN: 4, RetestNeeded: true}
		}, lot.ErrRetest},
		{"single results without action", "t.Individual.Action", func(c *lot.Terms) { c.Individual = &lot.IndividualPolicy{Limits: lot.AtLeast(91)} }, lot.ErrMissing},
		{"single results without limits", "t.Individual.Limits", func(c *lot.Terms) { c.Individual = &lot.IndividualPolicy{Action: lot.RejectLot} }, lot.ErrNoLimit},
		{"a short lot of two", "t.SmallLot.Fewest", func(c *lot.Terms) { c.SmallLot = &lot.SmallLotPolicy{Fewest: 2, Rule: lot.JoinPrevious} }, lot.ErrOutOfDomain},
		{"short lots without rule", "t.SmallLot.Rule", func(c *lot.Terms) { c.SmallLot = &lot.SmallLotPolicy{Fewest: 3} }, lot.ErrMissing},
		{"the last lot unsaid", "t.SmallLot.Last", func(c *lot.Terms) { c.SmallLot = &lot.SmallLotPolicy{Fewest: 3, Rule: lot.JoinNext} }, lot.ErrMissing},
		{"the last lot to the next", "t.SmallLot.Last", func(c *lot.Terms) {
			c.SmallLot = &lot.SmallLotPolicy{Fewest: 3, Rule: lot.JoinNext, Last: lot.JoinNext}
		}, lot.ErrOutOfDomain},
		{"no table of its own", "t.SmallLot.Own", func(c *lot.Terms) { c.SmallLot = &lot.SmallLotPolicy{Fewest: 3, Rule: lot.OwnTable} }, lot.ErrMissing},
		{"a table for nothing", "t.SmallLot.Own", func(c *lot.Terms) {
			c.SmallLot = &lot.SmallLotPolicy{Fewest: 3, Rule: lot.JoinPrevious, Own: florida(t)}
		}, lot.ErrUnused},
		{"an unknown retest rule", "t.Retest", func(c *lot.Terms) { c.Retest = 9 }, lot.ErrOutOfDomain},
		{"counts that overlap", "t.ByCount", func(c *lot.Terms) {
			c.ByCount = []lot.CountSchedule{{From: 3, To: 5, Schedule: c.Schedule}, {From: 5, To: 6, Schedule: c.Schedule}}
		}, lot.ErrOrder},
		{"a late schedule of a count", "t.ByCount", func(c *lot.Terms) { c.ByCount = []lot.CountSchedule{{From: 3, To: 5, Schedule: late}} }, lot.ErrNotCovered},
		{"a start behind 0", "t.Schedule", func(c *lot.Terms) { c.Schedule = mustSchedule(t, lot.Segment{After: true}) }, lot.ErrNotCovered},
		{"a cap below the trigger", "t.Second.Max", func(c *lot.Terms) {
			c.Second = &lot.SecondPass{Below: d("1"), Limits: lot.AtLeast(91), Max: d("0.99")}
		}, lot.ErrOrder},
		{"a negative cap", "t.MaxFactor", func(c *lot.Terms) { c.MaxFactor = p("-1") }, lot.ErrNegative},
		{"a cap in percent", "t.MaxFactor", func(c *lot.Terms) { c.MaxFactor = p("105") }, lot.ErrOutOfDomain},
		{"a floor in percent", "t.RejectBelow", func(c *lot.Terms) { c.RejectBelow = p("75") }, lot.ErrOutOfDomain},
		{"a composite without rule", "t.Composite.Rule", func(c *lot.Terms) { c.Composite = &lot.CompositePart{} }, lot.ErrMissing},
		{"a weight of 1", "t.Composite.Weight", func(c *lot.Terms) { c.Composite = &lot.CompositePart{Rule: lot.WeightedSum, Weight: p("1")} }, lot.ErrWeights},
		{"a weight of the lowest", "t.Composite.Weight", func(c *lot.Terms) { c.Composite = &lot.CompositePart{Rule: lot.Lowest, Weight: p("0.5")} }, lot.ErrUnused},
	} {
		c := terms(t, lot.AtLeast(92))
		tt.f(&c)
		_, err := lot.NewPlan(c)
		var bad *stats.InputError
		if !errors.Is(err, tt.want) || !errors.As(err, &bad) || bad.Arg != tt.arg {
			t.Errorf("%s: %v, want %s: %v", tt.name, err, tt.arg, tt.want)
		}
	}
}

// A plan shares nothing with the terms it was made from, nor with those it gives.
func TestPlanSharesNothing(t *testing.T) {
	c := everything(t)[0]
	pl := plan(t, c)
	want, err := json.Marshal(pl)
	if err != nil {
		t.Fatal(err)
	}
	for _, terms := range []lot.Terms{c, pl.Terms()} {
		terms.Estimation.Table.Negative, terms.Outlier.Alpha, terms.Individual.Action = 0, 9, 0
		terms.SmallLot.Own.ByCount[0].From, terms.SmallLot.Rule, terms.ByCount[0].To = 9, 0, 9
		*terms.MaxFactor, *terms.RejectBelow, *terms.Composite.Weight, terms.Second.Max = d("9"), d("9"), d("9"), d("9")
		terms.Verification.Margins.Lower, terms.Verification.Pair.Source, terms.Verification.Kind = 9, "", 0
		*terms.Schedule.Rows()[1].Max = d("9")
	}
	if got, err := json.Marshal(pl); err != nil || string(got) != string(want) {
		t.Errorf("the plan changed: %v\n%s\n%s", err, got, want)
	}
}

// The order of results changes no number, and evaluating changes no input; several
// goroutines may use one plan.
func TestEvaluateIsPure(t *testing.T) {
	pl := plan(t, terms(t, lot.Between(92, 96.5)))
	l := lotOf("93.2", "92.1", "94.3", "91.8", "95.0")
	before := slices.Clone(l.Results)
	want, err := pl.Evaluate(l)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(before, l.Results); diff != "" {
		t.Errorf("the lot changed: %s", diff)
	}
	var done sync.WaitGroup
	for i := range 5 {
		done.Add(1)
		go func() {
			defer done.Done()
			turned := l
			turned.Results = append(slices.Clone(l.Results[i:]), l.Results[:i]...)
			e, err := pl.Evaluate(turned)
			if err != nil || e.PWL != want.PWL || e.StdDev != want.StdDev || !e.Payment.Total.Equal(want.Payment.Total) {
				t.Errorf("turned by %d: %+v, %v", i, e.PWL, err)
			}
			if _, err := json.Marshal(e); err != nil {
				t.Error(err)
			}
		}()
	}
	done.Wait()
}

// With a composite the factor of one characteristic is not the pay of the lot.
func TestCompositePartIsNotPaid(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	c.Composite = &lot.CompositePart{Rule: lot.Lowest}
	e, err := plan(t, c).Evaluate(lotOf("93.2", "93.1", "94.3", "93.8"))
	if err != nil || e.Payment != nil || e.Factor == nil || e.Decision != lot.Accepted {
		t.Errorf("%+v, %v", e, err)
	}
}

// Money beyond 30 digits is refused rather than written as something that does not
// read back.
func TestEndlessMoney(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	c.UnitPrice = d("1" + strings.Repeat("0", 29))
	if _, err := plan(t, c).Evaluate(lotOf("93.2", "93.1", "94.3", "93.8")); !errors.Is(err, lot.ErrDigits) {
		t.Errorf("%v", err)
	}
}

// What means something in Markdown is escaped.
func TestWorkingMarkdownEscapes(t *testing.T) {
	got := lot.WorkingMarkdown([]units.Step{{What: "Q_L", Formula: "Σ|x - target|/n", Value: "a*b\\<c>"}})
	if want := `| Q\_L | Σ\|x - target\|/n |  | a\*b\\&lt;c> |  |  |`; !strings.Contains(got, want) {
		t.Errorf("%s, want %s", got, want)
	}
	// Line endings by CommonMark 0.31, 2.1, would end the row; two tildes strike out.
	got = lot.WorkingMarkdown([]units.Step{{What: "a\rb\nc", Value: "~~d~~"}})
	if want := `| a b c |  |  | \~\~d\~\~ |  |  |`; !strings.Contains(got, want) {
		t.Errorf("%q, want %s", got, want)
	}
}
