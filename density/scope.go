package density

import (
	"fmt"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// ErrDay is the reason for refusing a day on which a correction is not valid; it is an
// [ErrScope].
var ErrDay = fmt.Errorf("%w: not a day it is valid on", ErrScope)

// Scope is what a correction holds for, and in the same terms what it is used for. A
// gauge is biased differently for every mix and lift, no two gauges alike, and what was
// true of it in May need not be in July. A use is within the scope of a correction if
// gauge, mix, lift and base are the same and its days lie within those of the
// correction. Ids are compared as they are written, Base like the others, so "" on one
// side only is another scope.
//
// A scope without days is of any day: a correction with none is valid for ever, and a
// use with none is only within a correction that has none either. No clock is read.
type Scope struct {
	Gauge string // serial number or other id
	Mix   string // job mix formula
	Lift  string // lift or layer
	Base  string // what the lift lies on; "" where it is not part of the scope
	From  Date   // first day; not given where there is none
	Until Date   // last day, which is within; not given where there is none
}

// On returns s for one day, which is how a reading of that day is corrected.
func (s Scope) On(day Date) Scope {
	s.From, s.Until = day, day
	return s
}

// ValidFor returns s for a number of days from the first, which counts as one, so that
// 1 is that day alone and 14 from 11 May ends with 24 May. The first is usually the day
// of the test strip; how many is a policy of the contract.
//
// Errors are [*stats.InputError] around [units.ErrNotGiven] (first) or [units.ErrRange]
// (days below 1, or an end beyond the year 9999).
func (s Scope) ValidFor(first Date, days int) (Scope, error) {
	const fn = "density.Scope.ValidFor"
	if first.IsZero() {
		return Scope{}, stats.Refuse(fn, "first", "", units.ErrNotGiven)
	}
	const most = 366 * 9999 // keeps the calendar within its range
	if days < 1 || days > most || first.plus(days-1).IsZero() {
		return Scope{}, stats.Refuse(fn, "days", fmt.Sprint(days), units.ErrRange)
	}
	s.From, s.Until = first, first.plus(days-1)
	return s, nil
}

// String returns the scope in words.
func (s Scope) String() string {
	text := fmt.Sprintf("gauge %s, mix %s, lift %s", s.Gauge, s.Mix, s.Lift)
	if s.Base != "" {
		text += ", base " + s.Base
	}
	switch {
	case s.From.IsZero() && s.Until.IsZero():
		return text
	case s.From == s.Until:
		return text + ", " + s.From.String()
	case s.From.IsZero():
		return text + ", until " + s.Until.String()
	case s.Until.IsZero():
		return text + ", from " + s.From.String()
	}
	return text + ", " + s.From.String() + " to " + s.Until.String()
}

// check refuses a scope that cannot be that of a correction.
func (s Scope) check() error {
	switch {
	case s.Gauge == "" || s.Mix == "" || s.Lift == "":
		return fmt.Errorf("%w: name gauge, mix and lift", ErrScope)
	case !s.inOrder():
		return fmt.Errorf("%w: From is after Until", ErrDay)
	}
	return nil
}

func (s Scope) inOrder() bool {
	return s.From.IsZero() || s.Until.IsZero() || s.From.Compare(s.Until) <= 0
}

// holds refuses a use that is not within s, nil where it is.
func (s Scope) holds(use Scope) error {
	days := s.daysHold(use)
	s.From, s.Until = use.From, use.Until
	switch {
	case s != use:
		return ErrScope
	case !days && use.From.IsZero() && use.Until.IsZero():
		return fmt.Errorf("%w, and the use has no day: see Scope.On", ErrDay)
	case !days || !use.inOrder():
		return ErrDay
	}
	return nil
}

func (s Scope) daysHold(use Scope) bool {
	return (s.From.IsZero() || s.From.Compare(use.From) <= 0) &&
		(s.Until.IsZero() || !use.Until.IsZero() && use.Until.Compare(s.Until) <= 0)
}
