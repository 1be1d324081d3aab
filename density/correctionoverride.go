package density

import (
	"fmt"

	"github.com/densilot/densilot/units"
)

// Override records that a correction was taken outside the scope it was estimated
// for.
type Override struct {
	From   Scope // what it was estimated for
	To     Scope // what it was used for
	Reason string
}

// Override returns c for another scope, with the decision recorded: Overrides has
// it, Source tells it, and an audited result warns with [WarnOverridden]. A bias
// differs from mix to mix and from gauge to gauge, so this is a decision of the
// responsible engineer and no calculation; the standard error of c does not cover
// it.
//
// Errors are [*stats.InputError] around [units.ErrNotGiven] (a zero correction),
// [ErrScope] (an empty gauge, mix or lift, or the scope c has already) or
// [ErrNoSource] (no reason).
func (c Correction) Override(to Scope, reason string) (Correction, error) {
	const fn = "density.Correction.Override"
	switch {
	case c.IsZero():
		return Correction{}, refuse(fn, "c", "", units.ErrNotGiven)
	case !to.isWhole():
		return Correction{}, refuse(fn, "to", to.String(), fmt.Errorf("%w: name gauge, mix and lift", ErrScope))
	case to == c.record.Scope:
		return Correction{}, refuse(fn, "to", to.String(), fmt.Errorf("%w: it holds there already", ErrScope))
	case reason == "":
		return Correction{}, refuse(fn, "reason", "", ErrNoSource)
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
