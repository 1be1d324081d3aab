package lot

import (
	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Number is a computed number before and after the rounding of the plan. A pay factor,
// which is always rounded, becomes a decimal again by [units.ParseDecimal] of Used.
type Number struct {
	Exact float64 // before rounding, as the nearest float64
	Used  string  // decimal digits as used further; "…" at the end where nothing was rounded
}

// String returns the number as used.
func (n Number) String() string { return n.Used }

// Decision is what the schedule says about a lot. The zero value is none.
type Decision uint8

// The decisions. The engineer in charge makes them final.
const (
	Accepted        Decision = iota + 1 // at full pay or more
	AcceptedReduced                     // at less than full pay
	Rejected                            // for the engineer to deal with
)

var decisionNames = names[Decision]{Accepted: "accepted", AcceptedReduced: "accepted at reduced pay", Rejected: "rejected"}

// String returns the decision in words.
func (d Decision) String() string {
	if decisionNames[d] == "" {
		return "no decision"
	}
	return decisionNames[d]
}

// Payment is the money for one lot, rounded to the places of the plan; StringFixed(2)
// writes an amount with the zeros that String drops.
type Payment struct {
	Quantity   decimal.Decimal // sum over the results
	Base       decimal.Decimal // Quantity · UnitPrice
	Adjustment decimal.Decimal // Quantity · UnitPrice · (factor - 1)
	Total      decimal.Decimal // Base + Adjustment
	Shares     []Share         // of Total, one for each result with a quantity
}

// Share is the part of a lot's pay that falls on one sublot.
type Share struct {
	ID       string
	Quantity decimal.Decimal
	Amount   decimal.Decimal
}

// Evaluation is the answer of [Plan.Evaluate], with what decided it.
type Evaluation struct {
	Plan          string // name of the plan
	Lot           string
	Joined        []string // ids of the lots that were judged as one, nil for a lot by itself
	Reopened      []string // those of them that could have stood alone
	Method        Method   // what the schedule was read with
	N             int
	Weighing      *Weighing // of the results; nil where all weigh the same
	Used          []string  // ids of the results that count, in the order of the estimate
	LeftOut       []LeftOut // the others
	WithinCount   int       // results within the limits; N without limits
	Mean          Number
	StdDev        Number   // zero for methods that have none
	QL, QU        *Number  // nil without that limit, or without spread
	PWLLower      *Number  // percent above the lower limit, nil without one
	PWLUpper      *Number  // percent below the upper limit, nil without one
	PWL           Number   // percent within limits; zero for methods that have none
	Measure       Number   // what the schedule was read with: PWL, or what Method says
	Second        *Number  // measure of the second pass, nil without one
	OutsideSingle []string // ids of the results outside the limits for single results
	Screen        *Screen  // of the results that count; nil without one, or where it was skipped
	Removals      []Screen // those by which results were removed, in turn
	WithoutResult *Number  // measure without the results that Screen flags, nil if none or too few are left
	WithRemoved   *Number  // measure with the removed results left in, nil without any
	Decision      Decision
	Factor        *Number  // nil if rejected
	Payment       *Payment // nil if rejected, or where the factor enters a composite
	Working       []units.Step
	Warnings      []stats.Warning
}
