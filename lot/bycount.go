package lot

import (
	"fmt"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
)

// CountSchedule is the pay schedule for the numbers of results From to To, both
// included, as contracts have it whose factor depends on how many there are.
type CountSchedule struct {
	From, To int
	Schedule Schedule
}

// DeviationRow is one row of a table of pay factors by deviation: above the row
// before, up to To, which is included.
type DeviationRow struct {
	To     *decimal.Decimal // nil in the last row, for all that is beyond
	Factor decimal.Decimal
	Reject bool // the lot is not accepted; Factor is not used
}

// NewDeviationTable returns the schedule of a table that prints the largest
// deviation of each factor. It starts at 0; every row but the last has a To above
// that of the row before.
//
// Errors are [*stats.InputError] with the index of the row, around [ErrMissing] (no
// rows, or no To in a row that is not the last), [ErrNotCovered] (a To in the last
// row), [ErrNegative], [ErrOrder] or [ErrDigits].
func NewDeviationTable(rows ...DeviationRow) (Schedule, error) {
	const fn = "lot.NewDeviationTable"
	var segments []Segment
	from := Segment{}
	for i, r := range rows {
		last := i == len(rows)-1
		switch {
		case !last && r.To == nil:
			return Schedule{}, refuseAt(fn, "rows", i, "", ErrMissing)
		case last && r.To != nil:
			return Schedule{}, refuseAt(fn, "rows", i, "to "+short(*r.To), fmt.Errorf("%w: nothing covers what is beyond the last row", ErrNotCovered))
		case r.To != nil && r.To.Sign() < 0:
			return Schedule{}, refuseAt(fn, "rows", i, "to "+short(*r.To), ErrNegative)
		}
		from.Pay, from.Reject = Step(r.Factor), r.Reject
		segments = append(segments, from)
		if !last {
			from = Segment{From: *r.To, After: true}
		}
	}
	s, err := NewSchedule(segments...)
	return s, stats.Renamed(err, fn, "")
}

// scheduleFor returns the schedule for n results.
func (t *Terms) scheduleFor(fn string, n int) (Schedule, error) {
	s, ok := pick(t.ByCount, n)
	if ok {
		return s, nil
	}
	if t.Schedule.IsZero() {
		return s, stats.Refuse(fn, "l.Results", "", fmt.Errorf("%w for %d results", ErrNoSchedule, n))
	}
	return t.Schedule, nil
}

func pick(rows []CountSchedule, n int) (Schedule, bool) {
	for _, r := range rows {
		if r.From <= n && n <= r.To {
			return r.Schedule, true
		}
	}
	return Schedule{}, false
}

// checkCounts refuses rows that are out of order, overlap or do not start at 0.
func checkCounts(arg string, rows []CountSchedule) error {
	for i, r := range rows {
		switch {
		case r.From < 1 || r.To < r.From || i > 0 && r.From <= rows[i-1].To:
			return refuseAt(newPlan, arg, i, fmt.Sprintf("%d to %d", r.From, r.To), ErrOrder)
		case r.Schedule.IsZero():
			return refuseAt(newPlan, arg, i, "", ErrMissing)
		case !r.Schedule.startsAtZero():
			return refuseAt(newPlan, arg, i, "", ErrNotCovered)
		}
	}
	return nil
}

// startsAtZero reports whether the schedule covers every measure from 0.
func (s Schedule) startsAtZero() bool {
	first := s.rows[0]
	return first.From.Sign() < 0 || first.From.Sign() == 0 && !first.After
}
