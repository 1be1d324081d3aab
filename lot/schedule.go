package lot

import (
	"fmt"
	"math/big"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Line is a pay factor as a function of a quality measure x,
//
//	factor = intercept + slope·x
//
// with 1 for full pay. The zero value pays nothing. It is exact: a line through
// two points keeps a slope that no decimal holds.
type Line struct {
	intercept, slope *big.Rat
	bad              bool // made of a number with too many digits
}

// Step returns a factor that does not depend on the measure.
func Step(factor decimal.Decimal) Line { return Formula(factor, decimal.Zero) }

// Formula returns intercept + slope·x as contracts print it, such as
// 0.55 + 0.005·PWL.
func Formula(intercept, slope decimal.Decimal) Line {
	if !fewDigits(intercept) || !fewDigits(slope) {
		return Line{bad: true} // NewSchedule says so
	}
	return Line{intercept: intercept.Rat(), slope: slope.Rat()}
}

// Through returns the straight line through two break points (x, factor). Equal
// or falling x make no line; the error wraps [ErrOrder], or [ErrDigits].
func Through(x1, factor1, x2, factor2 decimal.Decimal) (Line, error) {
	if !fewDigits(x1) || !fewDigits(x2) || !fewDigits(factor1) || !fewDigits(factor2) {
		return Line{}, refuse("lot.Through", "points", "", ErrDigits)
	}
	if !x1.LessThan(x2) {
		return Line{}, refuse("lot.Through", "x2", x2.String(), ErrOrder)
	}
	slope := new(big.Rat).Quo(factor2.Sub(factor1).Rat(), x2.Sub(x1).Rat())
	intercept := new(big.Rat).Sub(factor1.Rat(), new(big.Rat).Mul(slope, x1.Rat()))
	return Line{intercept: intercept, slope: slope}, nil
}

// parts returns intercept and slope, 0 for the zero value.
func (l Line) parts() (intercept, slope *big.Rat) {
	if l.intercept == nil {
		return new(big.Rat), new(big.Rat)
	}
	return l.intercept, l.slope
}

// String returns the formula, such as "0.55 + 0.005·x".
func (l Line) String() string {
	a, b := l.parts()
	switch b.Sign() {
	case 0:
		return units.ExactText(a)
	case -1:
		return units.ExactText(a) + " - " + units.ExactText(new(big.Rat).Neg(b)) + "·x"
	}
	return units.ExactText(a) + " + " + units.ExactText(b) + "·x"
}

// Segment is one row of a pay schedule: from its start, included, up to the start
// of the next.
type Segment struct {
	From   decimal.Decimal // smallest value of the measure in this row
	Pay    Line            // the factor
	Reject bool            // the lot is not accepted; Pay is not used
}

// Schedule is a pay schedule of steps and straight lines over a quality measure
// such as PWL. The zero value is empty and is refused; make one with
// [NewSchedule].
type Schedule struct {
	rows []Segment
	fast []fastRow // the same in float64
}

type fastRow struct {
	from, intercept, slope float64
	reject                 bool
}

// NewSchedule returns the schedule of rows in ascending order of From. A measure
// below the first row is not covered by it, so a schedule over PWL starts at 0.
//
// Errors are [*stats.InputError] with the index of the row, around [ErrMissing]
// (no rows), [ErrOrder] or [ErrDigits].
func NewSchedule(rows ...Segment) (Schedule, error) {
	const fn = "lot.NewSchedule"
	if len(rows) == 0 {
		return Schedule{}, refuse(fn, "rows", "", ErrMissing)
	}
	for i, r := range rows {
		if !fewDigits(r.From) || r.Pay.bad {
			return Schedule{}, refuseAt(fn, "rows", i, "", ErrDigits)
		}
		if i > 0 && !rows[i-1].From.LessThan(r.From) {
			return Schedule{}, refuseAt(fn, "rows", i, "from "+r.From.String(), ErrOrder)
		}
	}
	s := Schedule{rows: append([]Segment(nil), rows...)}
	for _, r := range rows {
		a, b := r.Pay.parts()
		intercept, _ := a.Float64()
		slope, _ := b.Float64()
		s.fast = append(s.fast, fastRow{r.From.InexactFloat64(), intercept, slope, r.Reject})
	}
	return s, nil
}

// Rows returns a copy of the rows.
func (s Schedule) Rows() []Segment { return append([]Segment(nil), s.rows...) }

// IsZero reports whether s is empty.
func (s Schedule) IsZero() bool { return len(s.rows) == 0 }

// Factor returns the pay factor at a measure that is known as a decimal, rounded
// by the rule, and whether the row rejects the lot; the factor is then 0.
//
// A measure of more than 0 and at most 1 looks like a fraction where the schedule
// reaches to 50 or beyond, and is refused with [ErrScale]; round a percentage that
// low to a whole number first.
//
// Errors are [*stats.InputError] around [ErrNotCovered], [ErrMissing] (an empty
// schedule), [ErrScale], [ErrDigits], [ErrAbsolute] or [units.ErrRounding].
func (s Schedule) Factor(measure decimal.Decimal, r units.Rounding) (factor decimal.Decimal, reject bool, err error) {
	const fn = "lot.Schedule.Factor"
	if err := placed(fn, "r", r); err != nil {
		return decimal.Decimal{}, false, err
	}
	if !fewDigits(measure) {
		return decimal.Decimal{}, false, refuse(fn, "measure", "", ErrDigits)
	}
	if s.inPercent() && measure.Sign() > 0 && measure.LessThanOrEqual(decimal.NewFromInt(1)) {
		return decimal.Decimal{}, false, refuse(fn, "measure", measure.String(), ErrScale)
	}
	x := rational(measure.Rat())
	i, err := s.row(fn, x)
	if err != nil || s.rows[i].Reject {
		return decimal.Decimal{}, err == nil, err
	}
	a, b := s.rows[i].Pay.parts()
	return toDecimal(x.linear(a, b).round(r), r), false, nil
}

// FactorAt returns the pay factor at a measure in float64, without rounding, and
// whether the row rejects the lot; the factor is then 0. It is the fast form of
// [Schedule.Factor] for simulation and screening: a measure within rounding error
// of the start of a row may fall on either side. Cost: a few ns, no allocation.
//
// Errors are [*stats.InputError] around [ErrMissing] (an empty schedule),
// [stats.ErrNotFinite] or [ErrNotCovered].
func (s Schedule) FactorAt(measure float64) (factor float64, reject bool, err error) {
	for i := len(s.fast) - 1; i >= 0; i-- {
		if r := &s.fast[i]; measure >= r.from {
			if r.reject {
				return 0, true, nil
			}
			return s.finiteFactor(r.intercept+float64(r.slope*measure), measure)
		}
	}
	return 0, false, s.notCovered(measure)
}

// finiteFactor keeps an infinite measure from becoming a factor.
func (s Schedule) finiteFactor(factor, measure float64) (float64, bool, error) {
	if !isFinite(factor) {
		return 0, false, s.notCovered(measure)
	}
	return factor, false, nil
}

func (s Schedule) notCovered(measure float64) error {
	const fn = "lot.Schedule.FactorAt"
	switch {
	case s.IsZero():
		return refuse(fn, "schedule", "", ErrMissing)
	case !isFinite(measure):
		return refuse(fn, "measure", fmt.Sprint(measure), stats.ErrNotFinite)
	}
	return refuse(fn, "measure", fmt.Sprint(measure), fmt.Errorf("%w, which starts at %s", ErrNotCovered, s.rows[0].From))
}

// row finds the row that holds x, deciding exactly.
func (s Schedule) row(fn string, x real) (int, error) {
	if s.IsZero() {
		return 0, refuse(fn, "schedule", "", ErrMissing)
	}
	for i := len(s.rows) - 1; i >= 0; i-- {
		if x.compare(s.rows[i].From.Rat()) >= 0 {
			return i, nil
		}
	}
	return 0, refuse(fn, "measure", fmt.Sprintf("%.6g", x.float()), fmt.Errorf("%w, which starts at %s", ErrNotCovered, s.rows[0].From))
}

// inPercent reports whether the schedule is one over a percentage.
func (s Schedule) inPercent() bool {
	return len(s.fast) > 0 && s.fast[len(s.fast)-1].from >= 50
}

// placed checks a rule that must name a number of places.
func placed(fn, arg string, r units.Rounding) error {
	if err := r.Validate(); err != nil {
		return refuse(fn, arg, "", err)
	}
	if r.Method == units.Absolute {
		return refuse(fn, arg, "", ErrAbsolute)
	}
	return nil
}

// toDecimal converts a number that was rounded by r, so the decimal is exact.
func toDecimal(x *big.Rat, r units.Rounding) decimal.Decimal {
	return decimal.NewFromBigRat(x, int32(max(0, r.Places)))
}
