package lot

import (
	"fmt"
	"math"
	"math/big"
	"slices"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Segment is one row of a pay schedule: from its start up to the start of the
// next. The start belongs to it, unless After is set.
type Segment struct {
	From   decimal.Decimal  // where the row starts
	After  bool             // From itself still belongs to the row before
	Pay    Curve            // the factor
	Max    *decimal.Decimal // largest factor of this row, nil for none
	Reject bool             // the lot is not accepted; Pay is not used
}

// factor returns the factor of the row at a measure.
func (r Segment) factor(x real) real {
	f := r.Pay.of(x)
	if r.Max != nil && f.compare(r.Max.Rat()) > 0 {
		return rational(r.Max.Rat())
	}
	return f
}

// paysPercent reports whether the row must have been meant to pay in percent, at its start
// or at its end; its cap would hide it.
func (r Segment) paysPercent(end decimal.Decimal) bool {
	for _, at := range []decimal.Decimal{r.From, end} {
		if r.Pay.of(rational(at.Rat())).compare(mostFactor.Rat()) > 0 {
			return true
		}
	}
	return r.Max != nil && r.Max.GreaterThan(mostFactor)
}

// Schedule is a pay schedule of steps, straight lines and quadratics over a quality
// measure such as PWL. The zero value is empty and is refused; make one with
// [NewSchedule].
type Schedule struct {
	rows  []Segment
	exact []*big.Rat // where the rows start
	fast  []fastRow  // the same in float64
}

// fastRow starts at the smallest measure that belongs to it.
type fastRow struct {
	from, intercept, slope, square, max float64
	reject                              bool
}

// NewSchedule returns the schedule of rows in ascending order of From. A measure
// below the first row is not covered by it, so a schedule over PWL starts at 0.
//
// Errors are [*stats.InputError] with the index of the row, around [ErrMissing]
// (no rows), [ErrOrder], [ErrOutOfDomain] (a factor above 10, as of a row written in
// percent) or [ErrDigits].
func NewSchedule(rows ...Segment) (Schedule, error) {
	const fn = "lot.NewSchedule"
	if len(rows) == 0 {
		return Schedule{}, stats.Refuse(fn, "rows", "", ErrMissing)
	}
	for i, r := range rows {
		if !fewDigits(r.From) || r.Pay.bad || r.Max != nil && !fewDigits(*r.Max) {
			return Schedule{}, refuseAt(fn, "rows", i, "", ErrDigits)
		}
		if i > 0 && !rows[i-1].From.LessThan(r.From) {
			return Schedule{}, refuseAt(fn, "rows", i, "from "+r.From.String(), ErrOrder)
		}
		end := r.From // the measure of a last row may be a percentage, a fraction or a deviation
		if i+1 < len(rows) && fewDigits(rows[i+1].From) {
			end = rows[i+1].From
		}
		if !r.Reject && r.paysPercent(end) {
			return Schedule{}, refuseAt(fn, "rows", i, "from "+r.From.String(), errPercent)
		}
	}
	s := Schedule{rows: copyRows(rows)}
	for _, r := range s.rows {
		s.exact = append(s.exact, r.From.Rat())
		s.fast = append(s.fast, r.fast())
	}
	return s, nil
}

// errNoRows is for the zero value of a schedule.
var errNoRows = fmt.Errorf("%w; make it with NewSchedule", ErrMissing)

// fast returns the row in float64.
func (r Segment) fast() fastRow {
	f := fastRow{from: startingAt(r.From.InexactFloat64(), r.After), max: math.MaxFloat64, reject: r.Reject}
	for k, c := range r.Pay.coefficients() {
		*[]*float64{&f.intercept, &f.slope, &f.square}[k], _ = c.Float64()
	}
	if r.Max != nil {
		f.max = r.Max.InexactFloat64()
	}
	return f
}

// startingAt returns the smallest measure from from on, or after it.
func startingAt(from float64, after bool) float64 {
	if after {
		return math.Nextafter(from, math.Inf(1))
	}
	return from
}

func copyRows(rows []Segment) []Segment {
	rows = slices.Clone(rows)
	for i, r := range rows {
		rows[i].Max = copied(r.Max)
		if r.Reject { // what is not used is not kept
			rows[i].Pay, rows[i].Max = Curve{}, nil
		}
	}
	return rows
}

// copied returns a pointer to a copy of what p points to, nil for nil.
func copied[T any](p *T) *T {
	if p == nil {
		return nil
	}
	v := *p
	return &v
}

// Rows returns a copy of the rows.
func (s Schedule) Rows() []Segment { return copyRows(s.rows) }

// IsZero reports whether s is empty.
func (s Schedule) IsZero() bool { return len(s.rows) == 0 }

// Factor returns the pay factor at a measure that is known as a decimal, rounded
// by the rule, and whether the row rejects the lot; the factor is then 0.
//
// A measure of more than 0 and at most 1 looks like a fraction where the schedule is
// one over a percentage, with a row from 50 or beyond, or with more pay at 100 than at
// 1 and no more than double; it is refused with [ErrScale]. Round a percentage that low
// to a whole number first.
//
// Errors are [*stats.InputError] around [ErrNotCovered], [ErrMissing] (an empty
// schedule), [ErrScale], [ErrDigits], [units.ErrAbsolute] or [units.ErrRounding].
func (s Schedule) Factor(measure decimal.Decimal, r units.Rounding) (factor decimal.Decimal, reject bool, err error) {
	const fn = "lot.Schedule.Factor"
	if err := placed(fn, "r", r); err != nil {
		return decimal.Decimal{}, false, err
	}
	if !fewDigits(measure) {
		return decimal.Decimal{}, false, stats.Refuse(fn, "measure", "", ErrDigits)
	}
	if s.inPercent() && measure.Sign() > 0 && measure.LessThanOrEqual(decimal.NewFromInt(1)) {
		return decimal.Decimal{}, false, stats.Refuse(fn, "measure", measure.String(), ErrScale)
	}
	x := rational(measure.Rat())
	i, err := s.row(fn, x)
	if err != nil || s.rows[i].Reject {
		return decimal.Decimal{}, err == nil, err
	}
	return toDecimal(s.rows[i].factor(x).round(r), r), false, nil
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
		r := &s.fast[i]
		if !(measure >= r.from) {
			continue
		}
		if r.reject {
			return 0, true, nil
		}
		factor := r.intercept + float64(measure*(r.slope+float64(r.square*measure)))
		if !isFinite(factor) {
			break // from an infinite measure
		}
		return min(factor, r.max), false, nil
	}
	return 0, false, s.notCovered(measure)
}

// atMax returns the measures at which the curve of a row meets its maximum, -1 where
// there is none.
func (r *fastRow) atMax() [2]float64 {
	none := [2]float64{-1, -1}
	off := r.intercept - r.max
	if r.square == 0 {
		if r.slope == 0 {
			return none
		}
		return [2]float64{-off / r.slope, -1}
	}
	root := math.Sqrt(r.slope*r.slope - 4*r.square*off)
	if !isFinite(root) {
		return none
	}
	return [2]float64{(-r.slope - root) / (2 * r.square), (-r.slope + root) / (2 * r.square)}
}

func (s Schedule) notCovered(measure float64) error {
	const fn = "lot.Schedule.FactorAt"
	switch {
	case s.IsZero():
		return stats.Refuse(fn, "s", "", errNoRows)
	case !isFinite(measure):
		return stats.Refuse(fn, "measure", fmt.Sprint(measure), stats.ErrNotFinite)
	}
	return stats.Refuse(fn, "measure", fmt.Sprint(measure), fmt.Errorf("%w, which starts at %s", ErrNotCovered, s.rows[0].From))
}

// row finds the row that holds x, deciding exactly.
func (s Schedule) row(fn string, x real) (int, error) {
	if s.IsZero() {
		return 0, stats.Refuse(fn, "s", "", errNoRows)
	}
	for i := len(s.rows) - 1; i >= 0; i-- {
		if side := x.compare(s.exact[i]); side > 0 || side == 0 && !s.rows[i].After {
			return i, nil
		}
	}
	return 0, stats.Refuse(fn, "measure", fmt.Sprintf("%.6g", x.float()), fmt.Errorf("%w, which starts at %s", ErrNotCovered, s.rows[0].From))
}

// inPercent reports whether the schedule is one over a percentage: a row starts at 50
// or beyond, or it pays more at 100 than at 1, as a line over a percentage does, and no
// more than double, which a line over a fraction would.
func (s Schedule) inPercent() bool {
	if len(s.fast) > 0 && s.fast[len(s.fast)-1].from >= 50 {
		return true
	}
	one, _, errOne := s.FactorAt(1)
	all, _, errAll := s.FactorAt(100)
	return errOne == nil && errAll == nil && one < all && all <= 2
}
