package lot

import (
	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/units"
)

// SmallLotRule says what happens to a lot of too few results. The zero value is
// none and is refused.
type SmallLotRule uint8

// The rules for small lots.
const (
	JoinPrevious SmallLotRule = iota + 1 // its results go into the lot before, which is reopened
	JoinNext                             // its results go into the lot behind
	OwnTable                             // it is judged by a table of its own
)

var smallLotNames = names[SmallLotRule]{JoinPrevious: "join previous", JoinNext: "join next", OwnTable: "own table"}

// String returns the rule in words.
func (r SmallLotRule) String() string { return smallLotNames.of(r) }

// SmallLotPolicy says what happens to lots of fewer results than Fewest. Lots are
// joined by [Plan.EvaluateLots].
type SmallLotPolicy struct {
	Fewest int // results that a lot needs to stand alone
	Rule   SmallLotRule
	Last   SmallLotRule // for JoinNext: JoinPrevious or OwnTable for the last lot, which has none behind; otherwise not given
	Own    *OwnTerms    // for OwnTable, nil otherwise
}

// OwnTerms judge a small lot by the mean absolute deviation of its results from a
// target.
type OwnTerms struct {
	Target  decimal.Decimal // decimal.Zero, the zero value of the type, is not given and refused
	Measure units.Rounding  // of the deviation
	ByCount []CountSchedule // ascending, by number of results
}

func (s SmallLotPolicy) clone() *SmallLotPolicy {
	if s.Own != nil {
		own := *s.Own
		own.ByCount = append([]CountSchedule(nil), own.ByCount...)
		s.Own = &own
	}
	return &s
}

// usesOwn reports whether some lot may be judged by the table for small lots.
func (s SmallLotPolicy) usesOwn() bool { return s.Rule == OwnTable || s.Last == OwnTable }
