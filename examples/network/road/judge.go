package road

import (
	"cmp"
	"slices"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
)

// fewest results are needed for a percent within limits.
const fewest = 3

// Lot is what became of one lot.
type Lot struct {
	Number  int
	Records []Record // that count, in their order
	Aside   []Aside  // repeated ones
	Judged  bool     // with too few results a lot is not
	PWL     float64
	Factor  float64 // pay factor, 0 for a rejected lot
	Reject  bool
}

// Contract is the contract of the network: a limit and a pay schedule, both invented.
type Contract struct {
	limits   lot.Limits
	schedule lot.Schedule
}

// NewContract returns the contract that every lot is judged by: rejected below a
// PWL of 50, then 0.55 + 0.005·PWL.
func NewContract() (Contract, error) {
	schedule, err := lot.NewSchedule(
		lot.Segment{From: decimal.Zero, Reject: true},
		lot.Segment{From: decimal.NewFromInt(50), Pay: lot.Formula(decimal.RequireFromString("0.55"), decimal.RequireFromString("0.005"))},
	)
	return Contract{lot.AtLeast(LowerLimit), schedule}, err
}

// JudgeLot judges the records of one lot, of which there is at least one, in any
// order. They are not changed.
func (c Contract) JudgeLot(records []Record) (Lot, error) {
	records = slices.Clone(records)
	slices.SortFunc(records, func(a, b Record) int { return cmp.Compare(a.Line.Number, b.Line.Number) })
	l := Lot{Number: records[0].Lot}
	for _, r := range records {
		if slices.ContainsFunc(l.Records, func(old Record) bool { return old.Sublot == r.Sublot }) {
			l.Aside = append(l.Aside, Aside{r.Line, Repeated})
			continue
		}
		l.Records = append(l.Records, r)
	}
	if len(l.Records) < fewest {
		return l, nil
	}
	return l, c.pay(&l)
}

// pay estimates the percent within limits and looks the factor up.
func (c Contract) pay(l *Lot) error {
	results := make([]float64, len(l.Records))
	for i, r := range l.Records {
		results[i] = r.Percent
	}
	within, err := lot.EstimateWithin(results, c.limits)
	if err != nil {
		return err
	}
	l.Judged, l.PWL = true, within.PWL
	l.Factor, l.Reject, err = c.schedule.FactorAt(within.PWL)
	return err
}
