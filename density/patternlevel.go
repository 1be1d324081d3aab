package density

import (
	"fmt"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Requirement is the least percentage that is wanted and what it is a percentage
// of.
type Requirement struct {
	Percent decimal.Decimal
	Kind    ReferenceKind
}

// PatternLevel says whether the level that a roller pattern reached is enough.
type PatternLevel struct {
	Audited
	Required Requirement
	Met      bool // Percentage is at least Required.Percent
}

// AuditLevel compares the level that the pattern reached with a requirement, which
// is another question than whether density stopped rising:
//
//	mean of the pass averages on the plateau → + offset → / reference → · 100 ≥ required
//
// in exact rational arithmetic, each result rounded by the policy before it is
// used further; Mean rounds the mean of the averages. The plateau is that of
// [Pattern.Reached]. N counts no readings here and is 0.
//
// Errors are [*stats.InputError] around [ErrNotEstablished] where the pattern shows
// no plateau, [ErrKind] where the requirement is of another kind than the
// reference, [units.ErrRange] or [units.ErrDigits] for a requirement that is not
// positive or has an absurd exponent, [ErrPercentage] for one that is a fraction,
// otherwise those of [AuditReadings].
func (p Pattern) AuditLevel(c Correction, at Scope, ref Reference, r RoundingPolicy, required Requirement) (PatternLevel, error) {
	const fn = "density.Pattern.AuditLevel"
	if p.reached == nil {
		return PatternLevel{}, stats.Refuse(fn, "p", p.Outcome.String(), ErrNotEstablished)
	}
	if err := required.check(fn, ref); err != nil {
		return PatternLevel{}, err
	}
	if err := r.validate(fn, "r"); err != nil {
		return PatternLevel{}, err
	}
	unit := p.Reached.Unit()
	if err := c.check(fn, unit, at); err != nil {
		return PatternLevel{}, err
	}
	a := audit{unit: unit}
	m := a.round("mean of the plateau", "Σa/n", meanText(p.plateau), p.reached, r.Mean)
	d := a.correct(m, c, r)
	audited, err := a.finish(fn, d, 0, ref, r)
	if err != nil {
		return PatternLevel{}, err
	}
	return PatternLevel{Audited: audited, Required: required, Met: audited.Percentage.Cmp(required.Percent) >= 0}, nil
}

func (q Requirement) check(fn string, ref Reference) error {
	switch {
	case q.Kind != ref.kind:
		return stats.Refuse(fn, "required", q.Kind.PercentOf(), fmt.Errorf("%w; the reference is %v", ErrKind, ref.kind))
	case q.Percent.Sign() <= 0:
		return stats.Refuse(fn, "required", "", units.ErrRange)
	}
	if err := checkExponent(q.Percent); err != nil {
		return stats.Refuse(fn, "required", "", err)
	}
	return notFraction(fn, "required", q.Percent)
}
