package lot

import (
	"cmp"
	"math"
	"math/big"
	"slices"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/units"
)

// riskRow is a row of a pay schedule with the caps and decisions of a plan worked
// in: all measures in it are decided alike.
type riskRow struct {
	fastRow
	full  bool // the factor is 1 or more
	again bool // the second pass decides
}

// riskRows are the rows over a measure in percent.
type riskRows struct {
	rows []riskRow
	off  float64 // the factor of a lot may be off by this much, where rounding is left out
}

// mostSteps is the number of rows that a rounded measure may make.
const mostSteps = 1001

// riskRows returns the rows of a schedule. most caps the factor, below calls for the
// second pass; nil for neither. A measure that is rounded to whole percent, with one
// limit also to tenths, makes steps, which are exact; otherwise the rows start where the rounded measure
// reaches them, and what rounding does within a row is bounded by off. Decisions by
// the rounded factor are exact in both.
func (t *Terms) riskRows(s Schedule, most, below *decimal.Decimal, steps bool) riskRows {
	measure, factor := t.Rounding.Measure, t.Rounding.Factor
	var r riskRows
	places := 1
	if l := t.Limits.pair(); l.lower != nil && l.upper != nil {
		places = 0 // a step costs some hundred times as much
	}
	if steps && measure.Method != units.Absolute && measure.Places <= places {
		r.rows = t.steppedRows(s, most)
	} else {
		for i, row := range s.rows {
			row.Max = lower(row.Max, most)
			f := row.fast()
			f.from = startingAt(reachedAt(measure, s.exact[i], row.After), row.After && measure.Method == units.Absolute)
			r.rows = append(r.rows, riskRow{fastRow: f})
		}
		r.off = halfUnit(factor) + halfUnit(measure)*steepest(r.rows)
	}
	r.decide(t, below)
	return r
}

// steppedRows has a row for each rounded measure.
func (t *Terms) steppedRows(s Schedule, most *decimal.Decimal) (rows []riskRow) {
	rule := t.Rounding.Measure
	step := inPlaces(one, rule.Places)
	for k := range int64(mostSteps) {
		x := new(big.Rat).Mul(step, big.NewRat(k, 1))
		if x.Cmp(hundred) > 0 && k > 1 {
			break
		}
		i, err := s.row("", rational(x))
		if err != nil {
			continue // a plan's schedule starts at 0
		}
		row := s.rows[i]
		row.Max = lower(row.Max, most)
		f := fastRow{from: reachedAt(rule, x, false), max: math.MaxFloat64, reject: row.Reject}
		if !row.Reject {
			f.intercept, _ = row.factor(rational(x)).round(t.Rounding.Factor).Float64()
		}
		rows = append(rows, riskRow{fastRow: f})
	}
	return rows
}

// reachedAt returns the number from which on a rounded number is at least x, or with
// beyond more than x. What happens at the number itself has no probability.
func reachedAt(r units.Rounding, x *big.Rat, beyond bool) float64 {
	at := new(big.Rat).Set(x)
	if r.Method != units.Absolute && x.Sign() > 0 {
		unit := inPlaces(one, r.Places)
		steps := new(big.Rat).Quo(x, unit)
		whole := new(big.Int).Div(steps.Num(), steps.Denom()) // the floor of a positive number
		if !steps.IsInt() || beyond {
			whole.Add(whole, one)
		}
		at.SetInt(whole).Sub(at, big.NewRat(1, 2)).Mul(at, unit)
	}
	f, _ := at.Float64()
	return f
}

// halfUnit is the most that a rounding moves a number by.
func halfUnit(r units.Rounding) float64 {
	if r.Method == units.Absolute {
		return 0
	}
	return 0.5 * math.Pow10(-r.Places)
}

// steepest returns the largest slope of the rows between 0 and 100.
func steepest(rows []riskRow) (most float64) {
	for i, r := range rows {
		lo, hi := max(0, r.from), end(rows, i)
		if lo <= hi && !r.reject {
			most = max(most, math.Abs(r.slope+2*r.square*lo), math.Abs(r.slope+2*r.square*hi))
		}
	}
	return most
}

// end returns where row i ends, at most 100.
func end(rows []riskRow, i int) float64 {
	if i+1 < len(rows) {
		return min(100, rows[i+1].from)
	}
	return 100
}

// decide parts the rows where the factor reaches what decides, and says of each what
// is decided in it.
func (r *riskRows) decide(t *Terms, below *decimal.Decimal) {
	levels := [3]float64{reachedAt(t.Rounding.Factor, big.NewRat(1, 1), false), -1, -1}
	if t.RejectBelow != nil {
		levels[1] = reachedAt(t.Rounding.Factor, t.RejectBelow.Rat(), false)
	}
	if below != nil {
		levels[2] = reachedAt(t.Rounding.Factor, below.Rat(), false)
	}
	r.part(levels[:])
	for i := range r.rows {
		row := &r.rows[i]
		factor := row.at((max(0, row.from) + max(row.from, end(r.rows, i))) / 2)
		short := func(level float64) bool { return factor < level-1e-12 }
		row.again = below != nil && (row.reject || short(levels[2]))
		row.reject = row.reject || short(levels[1])
		row.full = !row.reject && !short(levels[0])
	}
}

// at returns the factor at a measure, 0 for a row that rejects.
func (r *fastRow) at(measure float64) float64 {
	if r.reject {
		return 0
	}
	return min(r.max, r.intercept+float64(measure*(r.slope+float64(r.square*measure))))
}

// part starts a row wherever a factor reaches one of the levels.
func (r *riskRows) part(levels []float64) {
	var more []riskRow
	for i, row := range r.rows {
		lo, hi := row.from, end(r.rows, i)
		for _, level := range levels {
			capped := row.fastRow
			capped.max = level
			for _, x := range capped.atMax() {
				if math.Abs(x-100) < 1e-9 {
					x = 100
				}
				if !row.reject && level <= row.max && x > max(lo, 0) && (x < hi-1e-9 || x == 100 && hi == 100) {
					row.from = x
					more = append(more, row)
				}
			}
		}
	}
	r.rows = append(r.rows, more...)
	slices.SortStableFunc(r.rows, func(a, b riskRow) int { return cmp.Compare(a.from, b.from) })
}

// row returns the row of a measure.
func (r *riskRows) row(measure float64) *riskRow {
	for i := len(r.rows) - 1; i > 0; i-- {
		if row := &r.rows[i]; measure >= row.from {
			return row
		}
	}
	return &r.rows[0]
}

// schedule returns the rows as a schedule for [Estimator.pay], with the factors or,
// for the chance of full pay, with 1 for full.
func (r *riskRows) schedule(full bool) Schedule {
	var s Schedule
	for _, row := range r.rows {
		f := row.fastRow
		if full {
			f = fastRow{from: f.from, max: 1}
			if row.full {
				f.intercept = 1
			}
		}
		s.fast = append(s.fast, f)
	}
	return s
}
