package lot_test

import (
	"fmt"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/units"
)

func ExampleBetween() {
	l := lot.Between(92.0, 97.0)
	fmt.Println(l, l.Contains(decimal.RequireFromString("92.0")), l.Contains(decimal.RequireFromString("97.1")))
	// Output: 92 to 97 true false
}

func ExampleAtLeast() {
	fmt.Println(lot.AtLeast(92.1))
	// Output: at least 92.1
}

func ExampleAtMost() {
	fmt.Println(lot.AtMost(97.5))
	// Output: at most 97.5
}

func ExampleAtLeastDecimal() {
	fmt.Println(lot.AtLeastDecimal(decimal.RequireFromString("92.0")))
	// Output: at least 92.0
}

func ExampleAtMostDecimal() {
	fmt.Println(lot.AtMostDecimal(decimal.RequireFromString("97.0")))
	// Output: at most 97.0
}

func ExampleBetweenDecimal() {
	fmt.Println(lot.BetweenDecimal(decimal.RequireFromString("92.0"), decimal.RequireFromString("97.0")))
	// Output: 92.0 to 97.0
}

func ExampleNewSchedule() {
	// An invented schedule: rejection below 50, a line to 90, a line above it.
	dec := decimal.RequireFromString
	above, err := lot.Through(dec("90"), dec("1.00"), dec("100"), dec("1.03"))
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := lot.NewSchedule(
		lot.Segment{From: dec("0"), Reject: true},
		lot.Segment{From: dec("50"), Pay: lot.Formula(dec("0.55"), dec("0.005"))},
		lot.Segment{From: dec("90"), Pay: above})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, pwl := range []string{"45", "70.5", "95"} {
		factor, reject, err := s.Factor(dec(pwl), units.Rounding{Method: units.HalfEven, Places: 4})
		fmt.Println(pwl, factor, reject, err)
	}
	// Output:
	// 45 0 true <nil>
	// 70.5 0.9025 false <nil>
	// 95 1.015 false <nil>
}

func ExampleFormula() {
	fmt.Println(lot.Formula(decimal.RequireFromString("0.55"), decimal.RequireFromString("0.005")))
	// Output: 0.55 + 0.005·x
}

func ExampleStep() {
	fmt.Println(lot.Step(decimal.RequireFromString("1.02")))
	// Output: 1.02
}

func ExampleThrough() {
	dec := decimal.RequireFromString
	l, err := lot.Through(dec("75"), dec("0.90"), dec("90"), dec("1"))
	fmt.Println(l, err)
	// Output: 0.4 + 0.006666666…·x <nil>
}

func ExampleComposite() {
	dec := decimal.RequireFromString
	f, err := lot.Composite([]lot.CharacteristicFactor{
		{Name: "density", Factor: dec("0.95"), Weight: dec("0.6")},
		{Name: "air voids", Factor: dec("1.02"), Weight: dec("0.4")},
	}, lot.CompositeTerms{Rule: lot.WeightedSum, Rounding: units.Rounding{Method: units.HalfEven, Places: 3}})
	fmt.Println(f, err)
	// Output: 0.978 <nil>
}

func ExampleMeanAbsoluteDeviation() {
	dec := decimal.RequireFromString
	mad, err := lot.MeanAbsoluteDeviation([]decimal.Decimal{dec("3.5"), dec("3.0"), dec("4.0"), dec("3.7")}, dec("4.0"),
		units.Rounding{Method: units.HalfEven, Places: 2})
	fmt.Println(mad, err)
	// Output: 0.45 <nil>
}

// What is missing is named. The example of Plan.Evaluate has terms that are whole.
func ExampleNewPlan() {
	_, err := lot.NewPlan(lot.Terms{Name: "invented", Characteristic: "mat density", Unit: "% of maximum theoretical density",
		GmmSource: "mean of day", QuantityUnit: "t", Currency: "USD", Estimation: lot.Estimation{Method: lot.ExactWithin}, Plausible: lot.Between(80, 102)})
	fmt.Println(err)
	// Output: lot.NewPlan: t.Limits: no limit given
}
