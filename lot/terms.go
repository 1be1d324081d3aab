package lot

import (
	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Terms are what a contract says about one characteristic. All fields are
// needed but where a remark says otherwise; the example of [Plan.Evaluate] fills them.
type Terms struct {
	Name           string // of the plan, such as "item 402 mat density"
	Characteristic string // such as "mat density"
	Unit           string // of results and limits, such as "% of maximum theoretical density"
	GmmSource      string // of the maximum specific gravity behind the results, such as "mean of day"; "none" where there is none
	Limits         Limits // none for a mean deviation
	Plausible      Limits // results outside are mistakes and refused
	Estimation     Estimation
	Rounding       RoundingPolicy
	Outlier        *OutlierPolicy      // nil for no screen
	Individual     *IndividualPolicy   // nil for no check of single results
	SmallLot       *SmallLotPolicy     // nil to refuse lots of too few results
	Retest         RetestRule          // NoRetests, the zero value, refuses lots with retests
	Schedule       Schedule            // over the measure from 0; for every number of results that ByCount does not name
	ByCount        []CountSchedule     // ascending; may be empty where there is a Schedule
	Second         *SecondPass         // nil for one pass
	MaxFactor      *decimal.Decimal    // largest pay factor, before it is rounded; nil for none
	RejectBelow    *decimal.Decimal    // a rounded pay factor below this rejects the lot, nil for none
	Composite      *CompositePart      // nil where the factor is the pay factor of the lot
	Verification   *VerificationPolicy // nil where the plan does not say how results are verified
	UnitPrice      decimal.Decimal     // decimal.Zero, the zero value of the type, is not given and refused
	QuantityUnit   string              // such as "t"
	Currency       string              // such as "USD"
	AnyScale       bool                // take limits 80 to 125 fold off the results, or off one of them; otherwise that is refused
}

// RoundingPolicy says where a contract rounds. Every rule is needed;
// units.Absolute uses a number as it is. Factor and Money need a number of
// places.
type RoundingPolicy struct {
	Value   units.Rounding // each result before anything else
	Mean    units.Rounding
	StdDev  units.Rounding // of the deviations from the mean before that was rounded
	Q       units.Rounding // each quality index
	Measure units.Rounding // percent within limits after both tails are taken off, or the other measure that the schedule is read with
	Factor  units.Rounding // the pay factor
	Money   units.Rounding // each amount
}

// OutlierPolicy is the screen of a contract. It flags; a result leaves the lot
// only where the engineer marks it as removed, it is flagged, alone or with others,
// when those flagged before it are gone, and the rest of the policy is met.
type OutlierPolicy struct {
	Test          OutlierTest
	Side          stats.Side // for two outliers low or high
	Alpha         float64    // significance as a fraction, at most 30 digits
	MinN          int        // fewest results that are screened, at least 3, for two outliers 4
	Suspects      int        // for the generalized ESD test the most that are looked for, up to MinN - 2; otherwise 0
	MaxRemoved    int        // most results that may be removed from one lot; 0 where none may
	CauseRequired bool       // a removed result needs a recorded cause
	RetestNeeded  bool       // a removed result needs a retest
}

// IndividualAction says what a single result outside its own limits means for the
// lot. The zero value is none and is refused.
type IndividualAction uint8

// The actions.
const (
	ReportOnly IndividualAction = iota + 1 // it is named; the engineer deals with its sublot
	RejectLot                              // the lot is not accepted
)

var actionNames = names[IndividualAction]{ReportOnly: "report", RejectLot: "reject lot"}

// String returns the action in words.
func (a IndividualAction) String() string { return actionNames.of(a) }

// IndividualPolicy is a check of each result that counts by itself, apart from the
// measure. One outside that was removed without a retest is named in a warning.
type IndividualPolicy struct {
	Limits Limits
	Action IndividualAction
}

// RetestRule says what a retest does to the result it repeats.
type RetestRule uint8

// The rules for retests.
const (
	NoRetests     RetestRule = iota // a lot with retests is refused
	ReplaceResult                   // the retest takes the place of the result
	PoolResults                     // both count
)

var retestNames = names[RetestRule]{NoRetests: "none", ReplaceResult: "replace", PoolResults: "pool"}

// String returns the rule in words.
func (r RetestRule) String() string { return retestNames.of(r) }

// SecondPass judges a lot again where the first pass pays less than Below: by
// wider limits, with Max as the largest factor. The second pass then holds.
type SecondPass struct {
	Below  decimal.Decimal
	Limits Limits
	Max    decimal.Decimal // at least Below
}

// CompositePart says how the factor of this characteristic enters that of the lot.
type CompositePart struct {
	Rule   CompositeRule
	Weight *decimal.Decimal // for WeightedSum, above 0 and below 1; nil otherwise
}

// clone returns a copy that shares nothing that can change.
func (t Terms) clone() Terms {
	t.Estimation = t.Estimation.clone()
	t.Outlier, t.Individual, t.Second = copied(t.Outlier), copied(t.Individual), copied(t.Second)
	t.MaxFactor, t.RejectBelow = copied(t.MaxFactor), copied(t.RejectBelow)
	t.ByCount = append([]CountSchedule(nil), t.ByCount...)
	if t.Composite != nil {
		t.Composite = &CompositePart{t.Composite.Rule, copied(t.Composite.Weight)}
	}
	if t.Verification != nil {
		t.Verification = t.Verification.clone()
	}
	if t.SmallLot != nil {
		t.SmallLot = t.SmallLot.clone()
	}
	return t
}

func (e Estimation) clone() Estimation {
	e.Table, e.Target = copied(e.Table), copied(e.Target)
	e.Ranges = append([]RangeConstant(nil), e.Ranges...)
	return e
}
