package density

import (
	"fmt"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Override records that a correction was taken outside the scope it was estimated
// for, or beyond its days.
type Override struct {
	From   Scope // what it was estimated for
	To     Scope // what it was used for
	Reason string
}

// Override returns c for another scope, or for other days, with the decision recorded: Overrides has
// it, Source tells it, and an audited result warns with [WarnOverridden]. A bias
// differs from mix to mix and from gauge to gauge, so this is a decision of the
// responsible engineer and no calculation; the standard error of c does not cover
// it.
//
// Errors are [*stats.InputError] around [units.ErrNotGiven] (a zero correction),
// [ErrScope] (an empty gauge, mix or lift, or a scope within the one c has already),
// [ErrDay] or [ErrNoSource] (no reason).
func (c Correction) Override(to Scope, reason string) (Correction, error) {
	const fn = "density.Correction.Override"
	if c.IsZero() {
		return Correction{}, stats.Refuse(fn, "c", "", units.ErrNotGiven)
	}
	if err := to.check(); err != nil {
		return Correction{}, stats.Refuse(fn, "to", to.String(), err)
	}
	switch {
	case c.record.Scope.holds(to) == nil:
		return Correction{}, stats.Refuse(fn, "to", to.String(), fmt.Errorf("%w: it holds there already", ErrScope))
	case reason == "":
		return Correction{}, stats.Refuse(fn, "reason", "", ErrNoSource)
	}
	made := Override{From: c.record.Scope, To: to, Reason: reason}
	c.overrides = append(c.Overrides(), made)
	c.record.Scope = to
	c.record.Source += fmt.Sprintf("; made for %v, used for %v: %s", made.From, made.To, reason)
	return c, nil
}

// Overrides returns a copy of the decisions that took c outside its scope, the
// earliest first; none for a correction within it.
func (c Correction) Overrides() []Override { return append([]Override(nil), c.overrides...) }

// Renew returns c with a later last day, because later checks showed that it still
// holds; Source tells until when and why. Package bias does it where a recheck holds.
// What was not shown is for [Correction.Override].
//
// Errors are [*stats.InputError] around [units.ErrNotGiven] (a zero correction),
// [ErrDay] (c has no last day, or until is not after it) or [ErrNoSource] (no reason).
func (c Correction) Renew(until Date, reason string) (Correction, error) {
	const fn = "density.Correction.Renew"
	last := c.record.Scope.Until
	switch {
	case c.IsZero():
		return Correction{}, stats.Refuse(fn, "c", "", units.ErrNotGiven)
	case last.IsZero():
		return Correction{}, stats.Refuse(fn, "c", c.String(), fmt.Errorf("%w: it has no last day", ErrDay))
	case until.Compare(last) <= 0:
		return Correction{}, stats.Refuse(fn, "until", until.String(), fmt.Errorf("%w: not after %v", ErrDay, last))
	case reason == "":
		return Correction{}, stats.Refuse(fn, "reason", "", ErrNoSource)
	}
	c.record.Scope.Until = until
	c.record.Source += fmt.Sprintf("; renewed from %v to %v: %s", last, until, reason)
	return c, nil
}
