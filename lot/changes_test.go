package lot_test

import (
	"errors"
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
)

// By hand, n = 4: {92, 94, 92, 94} has s = 1.1547, used as 1.15; PWL = 50 +
// 100/(3·1.15) = 78.9855, used as 78.99; factor 0.55 + 0.005·78.99 = 0.94495, a tie
// that goes to 0.9450; pay 2000·82.40·0.945. With a retest of 94 for the first 92 the
// mean is 93.5, s = 1, Q = 1.5 = saturation, and the plan's step of 1.02 applies.
func TestChanges(t *testing.T) {
	c := terms(t, lot.AtLeast(92))
	c.Retest, c.Rounding.Measure, c.Rounding.StdDev = lot.ReplaceResult, halfEven(2), halfEven(2)
	l := lotOf("92", "94", "92", "94")
	before, err := plan(t, c).Evaluate(l)
	if err != nil {
		t.Fatal(err)
	}
	l.Results = append(l.Results, lot.Result{ID: "S1R", Value: d("94"), RetestOf: "S1"})
	after, err := plan(t, c).Evaluate(l)
	if err != nil {
		t.Fatal(err)
	}
	got, err := lot.Changes(before, after)
	want := []lot.Change{
		{What: "results", Before: "S1, S2, S3, S4", After: "S1R, S2, S3, S4"}, {What: "left out", Before: "none", After: "S1 (replaced by S1R)"},
		{What: "mean", Before: "93", After: "93.5"}, {What: "standard deviation", Before: "1.15", After: "1.00"}, {What: "PWL", Before: "78.99", After: "100.00"},
		{What: "decision", Before: "accepted at reduced pay", After: "accepted"}, {What: "pay factor", Before: "0.9450", After: "1.0200"},
		{What: "pay", Before: "155736.00", After: "168096.00"}}
	if diff := cmp.Diff(want, got); err != nil || diff != "" {
		t.Errorf("%v\n%s", err, diff)
	}
	if same, err := lot.Changes(after, after); err != nil || same != nil {
		t.Errorf("the same: %v, %v", same, err)
	}
	other := after
	other.Lot = "8"
	if _, err := lot.Changes(before, other); !errors.Is(err, lot.ErrOtherLot) {
		t.Errorf("another lot: %v", err)
	}
	other.Joined = []string{"7", "8"}
	if _, err := lot.Changes(before, other); err != nil {
		t.Errorf("a lot that was joined: %v", err)
	}
}

// A quantity of a billion zeros, which only a hand can make, is not written out.
func TestChangesOfEndlessNumbers(t *testing.T) {
	e := lot.Evaluation{Payment: &lot.Payment{Quantity: decimal.New(-12, 1<<30)}}
	c, err := lot.Changes(lot.Evaluation{}, e)
	if err != nil || len(c) != 2 || c[0] != (lot.Change{What: "quantity", Before: "none", After: "-12e1073741824"}) {
		t.Errorf("%v, %v", c, err)
	}
}

func ExampleChanges() {
	plan, err := invented() // read by ParsePlan: mat density of at least 92.0 %
	if err != nil {
		fmt.Println(err)
		return
	}
	l := inventedLot("7", "94.2", "92.5", "93.4", "91.9", "93.8")
	before, err := plan.Evaluate(l)
	if err != nil {
		fmt.Println(err)
		return
	}
	l.Results[3].Value = decimal.RequireFromString("92.1") // by the Gmm that came in late
	after, err := plan.Evaluate(l)
	if err != nil {
		fmt.Println(err)
		return
	}
	changes, err := lot.Changes(before, after)
	for _, c := range changes {
		fmt.Println(c)
	}
	fmt.Println(err)
	// Output:
	// mean: 93.16, now 93.2
	// standard deviation: 0.944986772…, now 0.880340843…
	// PWL: 90.025066280…, now 93.213641114…
	// pay factor: 1.000, now 1.016
	// pay: 206000.00, now 209296.00
	// <nil>
}
