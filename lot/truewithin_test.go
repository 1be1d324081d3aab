package lot_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
)

// fiveEvaluated are the five sublots by a plan with two limits.
func fiveEvaluated(t *testing.T) (lot.Plan, lot.Evaluation) {
	t.Helper()
	p := plan(t, terms(t, lot.Between(92, 97)))
	e, err := p.Evaluate(lotOf("94.2", "92.5", "93.4", "91.9", "93.8"))
	if err != nil {
		t.Fatal(err)
	}
	return p, e
}

// What is found is what WithinMeasured says of the results, whether the evaluation is
// at hand or was stored, and the evaluation stays.
func TestTrueWithin(t *testing.T) {
	p, e := fiveEvaluated(t)
	before, err := e.MarshalJSON()
	stored, err2 := lot.ParseEvaluation(before)
	want, err3 := lot.WithinMeasured(fiveSublots, lot.Between(92, 97), 0.9, gaugeError())
	if err != nil || err2 != nil || err3 != nil {
		t.Fatal(err, err2, err3)
	}
	for _, e := range []lot.Evaluation{e, stored} {
		found, err := p.TrueWithin(e, 0.9, gaugeError())
		if err != nil || found.Contract != e.PWL || found.Decision != e.Decision || found.Lot != e.Lot {
			t.Fatalf("%+v, %v", found, err)
		}
		if diff := cmp.Diff(want, found.Measured, cmpopts.EquateApprox(1e-9, 1e-7)); diff != "" {
			t.Error(diff)
		}
	}
	if after, err := e.MarshalJSON(); err != nil || !bytes.Equal(before, after) {
		t.Errorf("the evaluation was %s and is %s, %v", before, after, err)
	}
}

// Without error nothing but the contract's number and the interval is said; results
// that are equal, and a gauge that repeats worse than they vary, are told of.
func TestTrueWithinSays(t *testing.T) {
	p, e := fiveEvaluated(t)
	plain, err := p.TrueWithin(e, 0.9, lot.MeasurementError{})
	if err != nil || len(plain.Working) != 2 || plain.Budget != nil {
		t.Errorf("%+v, %v", plain, err)
	}
	coarse := gaugeError()
	coarse.Repeatability.StdErr = 1.2
	found, err := p.TrueWithin(e, 0.9, coarse)
	if text := found.String(); err != nil || !strings.Contains(text, "not known, since nothing is left") || !strings.Contains(text, "look at: the standard deviation") {
		t.Errorf("%s, %v", text, err)
	}
	equal, err := p.Evaluate(lotOf("93.4", "93.4", "93.4", "93.4"))
	if err != nil {
		t.Fatal(err)
	}
	found, err = p.TrueWithin(equal, 0.9, gaugeError())
	if err != nil || found.CI != (stats.Interval{Lo: 0, Hi: 100, Level: 0.9}) || !has(found.AsComputed.Warnings, lot.WarnNothingKnown) || !strings.Contains(found.String(), "0.0 to 100.0") {
		t.Errorf("%+v, %v", found, err)
	}
}

func TestTrueWithinRoundTrip(t *testing.T) {
	p, e := fiveEvaluated(t)
	certain, coarse := gaugeError(), gaugeError()
	certain.Common[1].DF = math.Inf(1)
	coarse.Repeatability.StdErr = 1.2
	for _, m := range []lot.MeasurementError{{}, certain, coarse} {
		found, err := p.TrueWithin(e, 0.9, m)
		if err != nil {
			t.Fatal(err)
		}
		data, err := json.Marshal(found)
		back, err2 := lot.ParseTrueWithin(data)
		if err != nil || err2 != nil || cmp.Diff(found, back) != "" {
			t.Errorf("%v, %v\n%s", err, err2, cmp.Diff(found, back))
		}
		again := lot.TrueWithin{}
		if err := json.Unmarshal(data, &again); err != nil || cmp.Diff(found, again) != "" {
			t.Errorf("%v\n%s", err, cmp.Diff(found, again))
		}
	}
}

func TestParseTrueWithinRefuses(t *testing.T) {
	p, e := fiveEvaluated(t)
	found, err := p.TrueWithin(e, 0.9, gaugeError())
	if err != nil {
		t.Fatal(err)
	}
	data, err := found.MarshalJSON()
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct{ from, to, path string }{
		{`"version":1`, `"version":2`, "/version"},
		{`densilot/true-within`, `densilot/plan`, "/format"},
		{`"df":"9"`, `"df":"+Inf"`, "/error/common/0/df"},
		{`"df":"9"`, `"df":"9.0"`, "/error/common/0/df"},
		{`"n":5`, `"n":"5"`, "/asComputed/n"},
		{`"level":"0.9"`, `"level":"90 %"`, "/asComputed/interval/level"},
		{`"correctedKnown":true`, `"correctedKnown":"yes"`, "/correctedKnown"},
	} {
		changed := strings.Replace(string(data), tt.from, tt.to, 1)
		var bad *lot.FormatError
		if _, err := lot.ParseTrueWithin([]byte(changed)); changed == string(data) || !errors.As(err, &bad) || bad.Path != tt.path {
			t.Errorf("%s for %s: %v, want it at %s", tt.to, tt.from, err, tt.path)
		}
	}
	found.CI.Lo = math.NaN()
	if _, err := found.MarshalJSON(); err == nil {
		t.Error("a NaN was written")
	}
}

func TestTrueWithinRefuses(t *testing.T) {
	p, e := fiveEvaluated(t)
	with := func(change func(e *lot.Evaluation)) lot.Evaluation {
		changed := e
		change(&changed)
		return changed
	}
	for _, tt := range []struct {
		name  string
		p     lot.Plan
		e     lot.Evaluation
		level float64
		m     lot.MeasurementError
		want  error
	}{
		{"no plan", lot.Plan{}, e, 0.9, gaugeError(), lot.ErrEmptyPlan},
		{"another plan", p, with(func(e *lot.Evaluation) { e.Plan = "other" }), 0.9, gaugeError(), lot.ErrOtherPlan},
		{"no evaluation", p, lot.Evaluation{}, 0.9, gaugeError(), lot.ErrOtherPlan},
		{"ranges", p, with(func(e *lot.Evaluation) { e.Method = lot.RangeWithin }), 0.9, gaugeError(), lot.ErrNoInterval},
		{"two results", p, with(func(e *lot.Evaluation) { e.N = 2 }), 0.9, gaugeError(), stats.ErrTooFew},
		{"results without end", p, with(func(e *lot.Evaluation) { e.N = math.MaxInt }), 0.9, gaugeError(), lot.ErrOutOfDomain},
		{"a second pass that the plan has not", p, with(func(e *lot.Evaluation) { e.Second = &lot.Number{Exact: 90, Used: "90"} }), 0.9, gaugeError(), lot.ErrOtherPlan},
		{"NaN", p, with(func(e *lot.Evaluation) { e.Mean.Exact = math.NaN() }), 0.9, gaugeError(), stats.ErrNotFinite},
		{"a negative spread", p, with(func(e *lot.Evaluation) { e.StdDev.Exact = -1 }), 0.9, gaugeError(), stats.ErrNotFinite},
		{"a vanishing spread", p, with(func(e *lot.Evaluation) { e.StdDev.Exact = 5e-324 }), 0.9, gaugeError(), stats.ErrOverflow},
		{"level in percent", p, e, 90, gaugeError(), stats.ErrLevel},
		{"a level beyond the integrals", p, e, 0.99999, gaugeError(), stats.ErrLevel},
		{"negative repeatability", p, e, 0.9, lot.MeasurementError{Repeatability: lot.Component{StdErr: -1, DF: 3}}, lot.ErrNegative},
	} {
		found, err := tt.p.TrueWithin(tt.e, tt.level, tt.m)
		var bad *stats.InputError
		if !errors.Is(err, tt.want) || !errors.As(err, &bad) || bad.Func != "lot.Plan.TrueWithin" || found.Plan != "" {
			t.Errorf("%s: %+v, %v; want %v", tt.name, found, err, tt.want)
		}
	}
}

// The worked page of the package comment.
func ExamplePlan_TrueWithin() {
	plan, err := invented() // read by ParsePlan: mat density of at least 92.0 %
	if err != nil {
		fmt.Println(err)
		return
	}
	terms := plan.Terms()
	terms.Limits = lot.Between(92.0, 97.0)
	if plan, err = lot.NewPlan(terms); err != nil {
		fmt.Println(err)
		return
	}
	// Five invented sublots read with a gauge, and what is known of the errors in them.
	e, err := plan.Evaluate(inventedLot("12", "94.2", "92.5", "93.4", "91.9", "93.8"))
	if err != nil {
		fmt.Println(err)
		return
	}
	found, err := plan.TrueWithin(e, 0.90, lot.MeasurementError{
		Common: []lot.Component{
			{Source: "offset of the gauge", StdErr: 0.24, DF: 9},
			{Source: "Gmm of the day", StdErr: 0.13, DF: 20}},
		Repeatability: lot.Component{Source: "repeatability of a result", StdErr: 0.32, DF: 30}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(found)
	// Output:
	// lot 12, by hand (invented), in %
	// percent within limits by the contract = 90.025066280…, accepted
	// true percent within limits, results taken as exact = 57.3 to 98.6 with 90 % confidence; at least 57.3, or at most 98.6, with 95 % each
	// standard deviation without repeatability = √(s² - σ²) = √(0.945² - 0.32²) = 0.8892 %
	// percent within limits without repeatability = 91.90
	// true percent within limits, errors included = 55.6 to 99.7 with 90 % confidence; at least 55.6, or at most 99.7, with 95 % each
	// the lot, sampled = 0.398, 62 % of the variance of the mean; with four times the sublots 71.9 to 98.5
	// repeatability of a result = 0.143, 8 % of the variance of the mean; with four times the readings in each result 56.8 to 99.5
	// offset of the gauge = 0.24, 23 % of the variance of the mean; with some four times the cores or tests behind it 56.8 to 99.6
	// Gmm of the day = 0.13, 7 % of the variance of the mean; with some four times the cores or tests behind it 55.9 to 99.7
	// what would help most = four times the sublots (the lot, sampled)
}

func ExampleParseTrueWithin() {
	plan, err := invented() // read by ParsePlan: mat density of at least 92.0 %
	if err != nil {
		fmt.Println(err)
		return
	}
	e, err := plan.Evaluate(inventedLot("7", "93.4", "92.8", "94.1", "92.2"))
	if err != nil {
		fmt.Println(err)
		return
	}
	found, err := plan.TrueWithin(e, 0.90, lot.MeasurementError{})
	if err != nil {
		fmt.Println(err)
		return
	}
	saved, err := json.Marshal(found)
	if err != nil {
		fmt.Println(err)
		return
	}
	back, err := lot.ParseTrueWithin(saved)
	fmt.Printf("lot %s: at least %.0f %% within limits with 95 %% confidence, %v\n", back.Lot, back.CI.Lo, err)
	// Output: lot 7: at least 54 % within limits with 95 % confidence, <nil>
}
