package lot_test

import (
	"encoding/json"
	"fmt"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/units"
)

// invented returns a contract for the examples: PWL of mat density in percent of
// maximum theoretical density, at least 92.0.
func invented() (lot.Plan, error) { return lot.ParsePlan([]byte(handWritten)) }

// inventedLot has one result for each value, 500 t each.
func inventedLot(id string, values ...string) lot.Lot {
	l := lot.Lot{ID: id, Unit: "%"}
	for i, v := range values {
		l.Results = append(l.Results, lot.Result{ID: fmt.Sprint(i + 1), Value: decimal.RequireFromString(v), Quantity: decimal.NewFromInt(500)})
	}
	return l
}

func ExampleQuadratic() {
	// Pay for five tests in Colorado DOT table 105-3 (2011), written in QL/100:
	// 0.25529 + 1.48268(QL/100) - 0.67759(QL/100)², at most 1.03.
	dec := decimal.RequireFromString
	limit := dec("1.03")
	s, err := lot.NewSchedule(lot.Segment{From: dec("0"), Pay: lot.Quadratic(dec("0.25529"), dec("1.48268").Shift(-2), dec("-0.67759").Shift(-4)), Max: &limit})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, ql := range []string{"50", "75", "90"} {
		factor, _, err := s.Factor(dec(ql), units.Rounding{Method: units.HalfEven, Places: 4})
		fmt.Println("quality level", ql, "pays", factor.StringFixed(4), err)
	}
	// Output:
	// quality level 50 pays 0.8272 <nil>
	// quality level 75 pays 0.9862 <nil>
	// quality level 90 pays 1.0300 <nil>
}

func ExampleNewDeviationTable() {
	// Air voids in UFGS 02749: mean absolute deviation from the target, in percent.
	dec := decimal.RequireFromString
	to := func(text string) *decimal.Decimal { d := dec(text); return &d }
	s, err := lot.NewDeviationTable(
		lot.DeviationRow{To: to("0.60"), Factor: dec("1.00")},
		lot.DeviationRow{To: to("0.80"), Factor: dec("0.98")},
		lot.DeviationRow{To: to("1.00"), Factor: dec("0.95")},
		lot.DeviationRow{To: to("1.20"), Factor: dec("0.90")},
		lot.DeviationRow{Reject: true})
	fmt.Println(err, s.CheckMonotone(lot.Falling, dec("5")))
	for _, deviation := range []string{"0.60", "0.61", "1.21"} {
		factor, reject, err := s.Factor(dec(deviation), units.Rounding{Method: units.HalfEven, Places: 2})
		fmt.Println(deviation, "% off:", factor, reject, err)
	}
	// Output:
	// <nil> <nil>
	// 0.60 % off: 1 false <nil>
	// 0.61 % off: 0.98 false <nil>
	// 1.21 % off: 0 true <nil>
}

func ExampleWithinTable() {
	rows, err := lot.WithinTable(5, units.Rounding{Method: units.HalfEven, Places: 4})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range rows[:4] {
		fmt.Printf("PWL %3d from Q = %s\n", r.PWL, r.Q.StringFixed(4))
	}
	// Output:
	// PWL 100 from Q = 1.7889
	// PWL  99 from Q = 1.6714
	// PWL  98 from Q = 1.6016
	// PWL  97 from Q = 1.5427
}

func ExamplePlan_EvaluateLots() {
	plan, err := invented() // read by ParsePlan: mat density of at least 92.0 %
	if err != nil {
		fmt.Println(err)
		return
	}
	terms := plan.Terms()
	terms.SmallLot = &lot.SmallLotPolicy{Fewest: 3, Rule: lot.JoinPrevious}
	if plan, err = lot.NewPlan(terms); err != nil {
		fmt.Println(err)
		return
	}
	lots, err := plan.EvaluateLots([]lot.Lot{inventedLot("7", "93.4", "92.8", "94.1", "92.2"), inventedLot("8", "91.6", "92.3")})
	for _, e := range lots {
		fmt.Printf("lot %s: PWL %.6f, reopened %v\n", e.Lot, e.PWL.Exact, e.Reopened)
	}
	fmt.Println(err)
	// Output:
	// lot 7+8: PWL 78.199189, reopened [7]
	// <nil>
}

func ExampleParseEvaluation() {
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
	saved, err := json.Marshal(e)
	if err != nil {
		fmt.Println(err)
		return
	}
	back, err := lot.ParseEvaluation(saved)
	fmt.Printf("lot %s: %s, factor %s, %s USD, %v\n", back.Lot, back.Decision, back.Factor.Used, back.Payment.Total.StringFixed(2), err)
	// Output:
	// lot 7: accepted, factor 1.030, 169744.00 USD, <nil>
}

func ExampleWorkingText() {
	fmt.Print(lot.WorkingText(exampleSteps()))
	// Output:
	// mean = Σx/n = (94.2 + 92.5)/2 = 93.35 → 93.4 (half-even to 0.1)
}

func ExampleWorkingJSON() {
	fmt.Println(string(lot.WorkingJSON(exampleSteps())))
	// Output:
	// [{"what":"mean","formula":"Σx/n","numbers":"(94.2 + 92.5)/2","value":"93.35","rounded":"93.4","rounding":"half-even to 0.1"}]
}

func ExampleWorkingMarkdown() {
	fmt.Print(lot.WorkingMarkdown(exampleSteps()))
	// Output:
	// | step | formula | numbers | value | used | rounding |
	// | --- | --- | --- | --- | --- | --- |
	// | mean | Σx/n | (94.2 + 92.5)/2 | 93.35 | 93.4 | half-even to 0.1 |
}

func ExampleWorkingHTML() {
	fmt.Print(lot.WorkingHTML("lot 7 <invented>", exampleSteps()))
	// Output:
	// <table>
	// <caption>lot 7 &lt;invented&gt;</caption>
	// <thead>
	// <tr><th scope="col">step</th><th scope="col">formula</th><th scope="col">numbers</th><th scope="col">value</th><th scope="col">used</th><th scope="col">rounding</th></tr>
	// </thead>
	// <tbody>
	// <tr><th scope="row">mean</th><td>Σx/n</td><td>(94.2 + 92.5)/2</td><td>93.35</td><td>93.4</td><td>half-even to 0.1</td></tr>
	// </tbody>
	// </table>
}

func exampleSteps() []units.Step {
	return []units.Step{{What: "mean", Formula: "Σx/n", Numbers: "(94.2 + 92.5)/2", Value: "93.35", Rounded: "93.4", Rounding: "half-even to 0.1"}}
}
