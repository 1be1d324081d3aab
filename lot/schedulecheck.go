package lot

import (
	"errors"
	"fmt"
	"math/big"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
)

// Reasons that a schedule fails a check that was asked for.
var (
	ErrJump     = errors.New("the factor jumps at the start of the row")
	ErrMonotone = errors.New("the factor goes the wrong way")
)

// Direction says which way the pay factor goes as the measure rises. The zero value
// is none and is refused.
type Direction uint8

// The directions: pay rises with percent within limits and falls with a deviation.
const (
	Rising Direction = iota + 1
	Falling
)

// CheckContiguous reports the first row whose factor at its start differs from
// that of the row before, exactly. A row that rejects has no factor and nothing to
// meet. Contracts with steps fail it and are none the worse; it is for those that
// mean lines to meet.
//
// Errors are [*stats.InputError] with the index of the row, around [ErrMissing] (an
// empty schedule) or [ErrJump].
func (s Schedule) CheckContiguous() error {
	const fn = "lot.Schedule.CheckContiguous"
	if s.IsZero() {
		return stats.Refuse(fn, "s", "", errNoRows)
	}
	for i := 1; i < len(s.rows); i++ {
		before, row := s.rows[i-1], s.rows[i]
		if before.Reject || row.Reject {
			continue
		}
		left, right := before.exactFactor(row.From.Rat()), row.exactFactor(row.From.Rat())
		if left.Cmp(right) != 0 {
			return refuseAt(fn, "rows", i, fmt.Sprintf("%s then %s", textOf(rational(left)), textOf(rational(right))), ErrJump)
		}
	}
	return nil
}

// CheckMonotone reports the first row that pays the wrong way between the start of
// the schedule and a measure to, which for PWL is 100. Equal pay is never wrong. A
// row that rejects counts as paying least. The check is exact: a quadratic turns
// once, and where it turns above the cap of its row nothing is lost.
//
// Errors are [*stats.InputError] with the index of the row, around [ErrMissing],
// [ErrOutOfDomain] (no such direction), [ErrDigits] or [ErrMonotone].
func (s Schedule) CheckMonotone(d Direction, to decimal.Decimal) error {
	const fn = "lot.Schedule.CheckMonotone"
	switch {
	case s.IsZero():
		return stats.Refuse(fn, "s", "", errNoRows)
	case d != Rising && d != Falling:
		return stats.Refuse(fn, "d", fmt.Sprint(uint8(d)), needs(ErrOutOfDomain, "Rising or Falling"))
	case !fewDigits(to):
		return stats.Refuse(fn, "to", "", ErrDigits)
	}
	for i, row := range s.rows {
		end := to.Rat()
		if i+1 < len(s.rows) && s.rows[i+1].From.Rat().Cmp(end) < 0 {
			end = s.rows[i+1].From.Rat()
		}
		if side := row.From.Rat().Cmp(end); side > 0 || side == 0 && row.After {
			break // nothing of it is up to there
		}
		if i > 0 && !d.allows(s.rows[i-1].orLeast(row.From.Rat()), row.orLeast(row.From.Rat())) || !row.goes(d, end) {
			return refuseAt(fn, "rows", i, "from "+digits(row.From), ErrMonotone)
		}
	}
	return nil
}

// allows reports whether a step from one factor to another goes in the direction.
// A nil factor is that of a row that rejects.
func (d Direction) allows(from, to *big.Rat) bool {
	if d == Falling {
		from, to = to, from
	}
	return from == nil || to != nil && from.Cmp(to) <= 0
}

// goes reports whether the row pays in the direction up to its end.
func (r Segment) goes(d Direction, end *big.Rat) bool {
	if r.Reject {
		return true
	}
	last := r.From.Rat()
	if turn := r.Pay.turn(); turn != nil && turn.Cmp(last) > 0 && turn.Cmp(end) < 0 {
		if !d.allows(r.exactFactor(last), r.exactFactor(turn)) {
			return false
		}
		last = turn
	}
	return d.allows(r.exactFactor(last), r.exactFactor(end))
}

// turn returns where a quadratic turns, nil for a line.
func (c Curve) turn() *big.Rat {
	a := c.coefficients()
	if len(a) < 3 {
		return nil
	}
	x := new(big.Rat).Quo(a[1], a[2])
	return x.Mul(x, big.NewRat(-1, 2))
}

// exactFactor is factor for a rational measure.
func (r Segment) exactFactor(x *big.Rat) *big.Rat { return r.factor(rational(x)).exact }

func (r Segment) orLeast(x *big.Rat) *big.Rat {
	if r.Reject {
		return nil
	}
	return r.exactFactor(x)
}
