package lot_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// everything returns invented plans that use every field between them.
func everything(t testing.TB) []lot.Terms {
	full := terms(t, lot.BetweenDecimal(d("92.0"), d("97.50")))
	third, err := lot.Through(d("75"), d("0.90"), d("90"), d("1"))
	if err != nil {
		t.Fatal(err)
	}
	full.Schedule = mustSchedule(t, lot.Segment{From: d("0"), Reject: true}, lot.Segment{From: d("50"), Pay: lot.Formula(d("0.40"), d("0.006")), Max: p("0.9")},
		lot.Segment{From: d("75"), After: true, Pay: third}, lot.Segment{From: d("90.0"), Pay: lot.Step(d("1.020"))})
	full.ByCount = colorado(t)
	full.Estimation = lot.Estimation{Method: lot.TableWithin, Table: &lot.TableRule{Cell: halfEven(4), Negative: lot.SignedRows}}
	full.Outlier = &lot.OutlierPolicy{Test: lot.GrubbsTest, Side: stats.TwoSide, Alpha: 0.05, MinN: 4, MaxRemoved: 1, CauseRequired: true, RetestNeeded: true}
	full.Individual = &lot.IndividualPolicy{Limits: lot.AtLeast(91), Action: lot.RejectLot}
	full.SmallLot = &lot.SmallLotPolicy{Fewest: 3, Rule: lot.JoinNext, Last: lot.OwnTable, Own: florida(t)}
	full.Retest = lot.ReplaceResult
	full.Second = &lot.SecondPass{Below: d("1.00"), Limits: lot.AtLeast(91.5), Max: d("1.00")}
	full.MaxFactor, full.RejectBelow = p("1.04"), p("0.75")
	full.Composite = &lot.CompositePart{Rule: lot.WeightedSum, Weight: p("0.35")}
	full.Rounding.Mean = units.Rounding{Method: units.HalfUp, Places: -1}
	full.Name, full.AnyScale = "invented <with> & \"marks\" ü", true
	full.Verification = &lot.VerificationPolicy{Kind: lot.SplitSamples, MeanAlpha: 0.01, Difference: 0.35, Power: 0.9,
		Margins: &stats.Margins{Lower: -0.8, Upper: 0.75}, Pair: &lot.PairLimit{D2S: d("0.80"), Source: "invented"}}
	ranges := terms(t, lot.AtMost(97))
	ranges.Verification = &lot.VerificationPolicy{Kind: lot.IndependentSamples, VarianceAlpha: 0.01, MeanAlpha: 0.01, Difference: 0.5, Power: 0.9, FamilyAlpha: 0.05}
	ranges.Estimation = lot.Estimation{Method: lot.RangeWithin, Ranges: []lot.RangeConstant{{N: 4, Group: 2, C: d("1.15")}, {N: 6, Group: 3, C: d("1.75")}}}
	ranges.Outlier = &lot.OutlierPolicy{Test: lot.GeneralizedESDTest, Side: stats.High, Alpha: 0.01, MinN: 4, Suspects: 2}
	deviation := terms(t, lot.Limits{})
	deviation.Estimation = lot.Estimation{Method: lot.MeanDeviation, Target: p("94.5")}
	deviation.Estimation.Weights = lot.QuantityWeights
	moving := terms(t, lot.AtLeast(92))
	moving.Estimation = lot.Estimation{Method: lot.AverageWithin, Window: 4}
	moving.Composite = &lot.CompositePart{Rule: lot.Lowest}
	return []lot.Terms{full, ranges, deviation, moving, terms(t, lot.AtLeast(92))}
}

func TestPlanJSONReadsBack(t *testing.T) {
	for _, c := range everything(t) {
		first := plan(t, c)
		data, err := json.Marshal(first)
		if err != nil {
			t.Fatal(err)
		}
		var second lot.Plan
		if err := json.Unmarshal(data, &second); err != nil {
			t.Fatalf("%v\n%s", err, data)
		}
		again, err := second.MarshalJSON()
		if err != nil || !bytes.Equal(data, again) || !first.Equal(second) {
			t.Errorf("%v\n%s\n%s", err, data, again)
		}
		if diff := cmp.Diff(first.Terms(), second.Terms(), cmp.AllowUnexported(lot.Schedule{}, lot.Curve{}), cmp.Exporter(func(t reflect.Type) bool {
			return strings.HasPrefix(t.PkgPath(), "github.com/densilot") || t.PkgPath() == "math/big"
		})); diff != "" {
			t.Error(diff)
		}
		e1, err1 := first.Evaluate(lotOf("93.2", "92.1", "94.3", "93.8"))
		e2, err2 := second.Evaluate(lotOf("93.2", "92.1", "94.3", "93.8"))
		if err1 != nil || err2 != nil || cmp.Diff(e1, e2) != "" {
			t.Errorf("evaluations differ: %v, %v", err1, err2)
		}
	}
	a, b := plan(t, everything(t)[0]), plan(t, everything(t)[1])
	if a.Equal(b) || a.Equal(lot.Plan{}) || !(lot.Plan{}).Equal(lot.Plan{}) {
		t.Error("different plans are equal")
	}
	if _, err := json.Marshal(lot.Plan{}); !errors.Is(err, lot.ErrEmptyPlan) {
		t.Errorf("an empty plan: %v", err)
	}
}

// A plan written by hand in another layout, with the keys in another order.
const handWritten = `{
  "version": 1, "format": "densilot/plan",
  "characteristic": "mat density", "name": "by hand (invented)", "unit": "%", "gmmSource": "mean of day",
  "limits": {"lower": "92.0"}, "plausible": {"lower": "80", "upper": "102"},
  "estimation": {"method": "exact percent within limits"},
  "rounding": {
    "value": {"method": "absolute"}, "mean": {"method": "absolute"}, "stdDev": {"method": "absolute"},
    "q": {"method": "half-even", "places": 2}, "measure": {"method": "absolute"},
    "factor": {"method": "half-even", "places": 3}, "money": {"method": "half-up", "places": 2}},
  "retest": "none",
  "schedule": [{"from": "0", "after": false, "pay": {"coefficients": ["0.55", "0.005"]}, "reject": false}],
  "unitPrice": "82.40", "quantityUnit": "t", "currency": "USD", "anyScale": false
}`

func TestParsePlanByHand(t *testing.T) {
	pl, err := lot.ParsePlan([]byte(handWritten))
	if err != nil {
		t.Fatal(err)
	}
	c := pl.Terms()
	if lower, ok := c.Limits.Lower(); !ok || lower.StringFixed(1) != "92.0" || c.Rounding.Q != halfEven(2) || c.Rounding.Money.Method != units.HalfUp || c.UnitPrice.StringFixed(2) != "82.40" || c.Outlier != nil || c.Retest != lot.NoRetests {
		t.Errorf("%+v", c)
	}
}

// Office programs write a byte-order mark before a text. Anywhere else it is an error.
func TestByteOrderMark(t *testing.T) {
	plain, err := lot.ParsePlan([]byte(handWritten))
	if err != nil {
		t.Fatal(err)
	}
	marked, err := lot.ParsePlan([]byte("\ufeff" + handWritten))
	if err != nil || !reflect.DeepEqual(plain.Terms(), marked.Terms()) {
		t.Errorf("a mark at the start: %v", err)
	}
}

func TestParsePlanRefuses(t *testing.T) {
	for _, tt := range []struct {
		name, from, to, path string
		want                 error
	}{
		{"an unknown key", `"retest"`, `"extra": 1, "retest"`, "/extra", lot.ErrUnknownKey},
		{"other capitals", `"retest"`, `"Retest"`, "/Retest", lot.ErrUnknownKey},
		{"both capitals", `"retest"`, `"ReTest": "none", "retest"`, "/ReTest", lot.ErrUnknownKey},
		{"a key twice", `"retest"`, `"retest": "none", "retest"`, "/retest", lot.ErrDuplicateKey},
		{"a key twice below", `"lower": "92.0"`, `"lower": "92.0", "lower": "91"`, "/limits/lower", lot.ErrDuplicateKey},
		{"a key twice by escapes", `"retest"`, `"retes\u0074": "none", "retest"`, "/retest", lot.ErrDuplicateKey},
		{"an unknown key with a slash", `"retest"`, `"a/b~c": 1, "retest"`, "/a~1b~0c", lot.ErrUnknownKey},
		{"a number for a text", `"82.40"`, `82.40`, "/unitPrice", lot.ErrKind},
		{"an exponent", `"82.40"`, `"1e3"`, "/unitPrice", units.ErrSyntax},
		{"an endless exponent", `"82.40"`, `"1e2147483647"`, "/unitPrice", units.ErrSyntax},
		{"31 digits", `"82.40"`, `"8` + strings.Repeat("0", 30) + `"`, "/unitPrice", units.ErrDigits},
		{"a decimal comma", `"82.40"`, `"82,40"`, "/unitPrice", units.ErrSyntax},
		{"a blank", `"82.40"`, `" 82.40"`, "/unitPrice", units.ErrSyntax},
		{"a leading zero", `"82.40"`, `"082.40"`, "/unitPrice", units.ErrSyntax},
		{"a negative zero", `"82.40"`, `"-0"`, "/unitPrice", units.ErrSyntax},
		{"no number at all", `"82.40"`, `""`, "/unitPrice", units.ErrNotGiven},
		{"a negative price", `"82.40"`, `"-1"`, "/unitPrice", lot.ErrNegative},
		{"null", `"82.40"`, `null`, "/unitPrice", lot.ErrKind},
		{"a fraction of a place", `"places": 3`, `"places": 3.0`, "/rounding/factor/places", lot.ErrOutOfDomain},
		{"an exponent of a place", `"places": 3`, `"places": 3e0`, "/rounding/factor/places", lot.ErrOutOfDomain},
		{"endless places", `"places": 3`, `"places": 31`, "/rounding/factor", units.ErrRange},
		{"places of the absolute method", `"mean": {"method": "absolute"`, `"mean": {"method": "absolute", "places": 2`, "/rounding/mean/places", lot.ErrUnknownKey},
		{"an unknown method", `"method": "half-up"`, `"method": "half-down"`, "/rounding/money/method", lot.ErrOutOfDomain},
		{"pay in a row that rejects", `"reject": false`, `"reject": true`, "/schedule/0/pay", lot.ErrUnused},
		{"absolute money", `"method": "half-up", "places": 2`, `"method": "absolute"`, "/rounding/money", units.ErrAbsolute},
		{"a missing rule", `"mean": {"method": "absolute"},`, ``, "/rounding/mean", lot.ErrMissing},
		{"an object for a list", `[{"from": "0"`, `{"from": "0"`, "", lot.ErrSyntax},
		{"a late schedule", `{"from": "0"`, `{"from": "5"`, "/schedule", lot.ErrNotCovered},
		{"rows out of order", `"reject": false}]`, `"reject": false}, {"from": "-1", "after": false, "reject": true}]`, "/schedule/1", lot.ErrOrder},
		{"a row without pay", `"pay": {"coefficients": ["0.55", "0.005"]}, `, ``, "/schedule/0/pay", lot.ErrMissing},
		{"four coefficients", `"0.005"]`, `"0.005", "0", "0"]`, "/schedule/0/pay/coefficients", lot.ErrOutOfDomain},
		{"a number in a list of texts", `"0.005"]`, `0.005]`, "/schedule/0/pay/coefficients/1", lot.ErrKind},
		{"no limits", `{"lower": "92.0"}`, `{}`, "/limits", lot.ErrNoLimit},
		{"implausible limits", `{"lower": "92.0"}`, `{"lower": "0.92"}`, "/limits", lot.ErrPlausible},
		{"a target with another method", `limits"}`, `limits", "target": "94"}`, "/estimation/target", lot.ErrUnused},
		{"a newer version", `"version": 1`, `"version": 2`, "/version", nil},
		{"a line separator", `"USD"`, `"U\u2028D"`, "/currency", lot.ErrText},
		{"text that turns its order round", `"USD"`, `"U\u202eD"`, "/currency", lot.ErrText},
		{"another document", `densilot/plan`, `densilot/lot`, "/format", lot.ErrFormat},
		{"two documents", `"anyScale": false` + "\n}", `"anyScale": false}{}`, "", lot.ErrSyntax},
		{"half a pair", `"USD"`, `"\ud800"`, "/currency", lot.ErrSyntax},
		{"not UTF-8", `"USD"`, "\"\xff\"", "", lot.ErrSyntax},
		{"a control character", `"USD"`, `"U\u0000D"`, "/currency", lot.ErrText},
		{"an empty text", `"USD"`, `""`, "/currency", lot.ErrMissing},
		{"a blank before a text", `"USD"`, `" USD"`, "/currency", lot.ErrText},
		{"a no-break space after a text", `"USD"`, `"USD\u00a0"`, "/currency", lot.ErrText},
		{"a text of blanks", `"USD"`, `"  "`, "/currency", lot.ErrText},
		{"a space of no width", `"USD"`, `"US\u200bD"`, "/currency", lot.ErrText},
		{"a byte-order mark in a text", `"USD"`, `"\ufeffUSD"`, "/currency", lot.ErrText},
		{"a byte-order mark inside", `"currency"`, "\ufeff\"currency\"", "", lot.ErrSyntax},
		{"a trailing comma", `"anyScale": false`, `"anyScale": false,`, "", lot.ErrSyntax},
		{"a deep value", `"retest": "none"`, `"retest": ` + strings.Repeat("[", 5000) + strings.Repeat("]", 5000), "/retest" + strings.Repeat("/0", 20), lot.ErrTooLarge},
	} {
		if !strings.Contains(handWritten, tt.from) {
			t.Fatalf("%s: nothing to replace", tt.name)
		}
		_, err := lot.ParsePlan([]byte(strings.Replace(handWritten, tt.from, tt.to, 1)))
		var bad *lot.FormatError
		if !errors.As(err, &bad) || bad.Func != "lot.ParsePlan" || bad.Path != tt.path || tt.want != nil && !errors.Is(err, tt.want) {
			t.Errorf("%s: %v, want %s: %v", tt.name, err, tt.path, tt.want)
		}
	}
	for _, version := range []int{2, 2_000_000_000} {
		var newer *lot.VersionError
		_, err := lot.ParsePlan([]byte(strings.Replace(handWritten, `"version": 1`, fmt.Sprintf(`"version": %d`, version), 1)))
		if !errors.As(err, &newer) || *newer != (lot.VersionError{Have: version, Newest: 1}) {
			t.Errorf("a newer version: %v", err)
		}
	}
	for name, data := range map[string]string{"nothing": "", "a list": "[]", "null": "null", "many bytes": strings.Repeat(" ", 5<<20), "many values": "[" + strings.Repeat("1,", 250_000) + "1]", "cut short": handWritten[:400]} {
		if _, err := lot.ParsePlan([]byte(data)); err == nil {
			t.Errorf("%s is a plan", name)
		}
	}
}

func ExampleParsePlan() {
	_, err := lot.ParsePlan([]byte(`{"format": "densilot/plan", "version": 1, "name": "invented", "Unit": "%"}`))
	fmt.Println(err)
	plan, err := lot.ParsePlan([]byte(handWritten))
	fmt.Println(plan.Terms().Limits, err)
	// Output:
	// lot.ParsePlan: /characteristic: is missing
	// at least 92.0 <nil>
}

func ExampleParseLot() {
	l, err := lot.ParseLot([]byte(`{"format": "densilot/lot", "version": 1, "id": "7", "unit": "%", "results": [
		{"id": "7-1", "value": "94.20", "quantity": "500", "origin": "core", "removed": false}]}`))
	fmt.Println(l.ID, l.Results[0].Value.StringFixed(2), err)
	_, err = lot.ParseLot([]byte(`{"format": "densilot/lot", "version": 1, "id": "7", "unit": "%", "results": [
		{"id": "7-1", "value": "94,2", "quantity": "500", "removed": false}]}`))
	fmt.Println(err)
	// Output:
	// 7 94.20 <nil>
	// lot.ParseLot: /results/0/value: units.ParseDecimal "94,2": not a plain decimal number; need a number like 92.4
}
