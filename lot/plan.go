package lot

// Plan is a contract that has been checked. It does not change. The zero value is
// empty and is refused; make one with [NewPlan] or [ParsePlan].
type Plan struct {
	terms *Terms
}

// NewPlan checks terms and keeps a copy.
//
// Errors are [*stats.InputError] with the field, around [ErrMissing], [ErrUnused]
// (a field that belongs to another choice), [ErrNoLimit], [ErrLimitOrder],
// [ErrDigits], [ErrPlausible] (a limit or target outside the plausible range),
// [ErrOutOfDomain], [units.ErrRounding], [units.ErrRange], [units.ErrAbsolute],
// [ErrNegative], [ErrOrder], [ErrNotCovered] (a schedule that does not start at 0
// or below), [ErrWeights], [ErrText], [ErrSampleKind], [stats.ErrLevel],
// [stats.ErrNotFinite] or [stats.ErrParameter].
func NewPlan(t Terms) (Plan, error) {
	t = t.clone()
	for _, check := range []func() error{t.checkNames, t.checkEstimator, t.checkLimits, t.Rounding.check, t.checkOutlier, t.checkIndividual,
		t.checkSmallLot, t.checkSchedules, t.checkSecond, t.checkFactors, t.checkComposite, t.checkVerification, t.checkPrice} {
		if err := check(); err != nil {
			return Plan{}, err
		}
	}
	return Plan{&t}, nil
}

// Terms returns a copy of what the plan was made from.
func (p Plan) Terms() Terms {
	if p.terms == nil {
		return Terms{}
	}
	return p.terms.clone()
}

// IsZero reports whether p is empty.
func (p Plan) IsZero() bool { return p.terms == nil }
