package lot

import (
	"errors"
	"fmt"
	"strings"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
)

// Reasons a plan does not verify.
var (
	ErrNoVerification = errors.New("the plan does not say how results are verified")
	ErrFamily         = errors.New("does not fit how the plan judges several characteristics together")
)

// Verify compares the contractor's results of a lot with the agency's, as the
// verification policy of the plan says: by [VerifyEquivalence] where it has margins,
// by [Verify] where it has none. Both lots have one id, and the results that count
// are those of the estimate, rounded as there: checked, with removals and retests
// settled.
//
// Split samples are joined by the ids of their results, in the order of the
// contractor's; an id on one side alone is named in Unpaired, with [WarnUnpaired].
// A policy with a FamilyAlpha is for [VerifyByPlans], and a single pair for
// [Plan.VerifyPair].
//
// Errors are those of [Plan.Evaluate] for a lot and of the two functions, or wrap
// [ErrNoVerification], [ErrFamily] or [ErrOtherLot].
func (p Plan) Verify(contractor, agency Lot) (Verification, error) {
	const fn = "lot.Plan.Verify"
	policy, err := p.verification(fn)
	if err != nil {
		return Verification{}, err
	}
	if policy.FamilyAlpha != 0 {
		return Verification{}, stats.Refuse(fn, "p", "", fmt.Errorf("%w; use VerifyByPlans", ErrFamily))
	}
	return p.compare(fn, contractor, agency)
}

func (p Plan) verification(fn string) (*VerificationPolicy, error) {
	if p.IsZero() {
		return nil, stats.Refuse(fn, "p", "", ErrEmptyPlan)
	}
	if p.terms.Verification == nil {
		return nil, stats.Refuse(fn, "p", "", ErrNoVerification)
	}
	return p.terms.Verification, nil
}

// compare is Verify, alone or as one of a family.
func (p Plan) compare(fn string, contractor, agency Lot) (Verification, error) {
	t := p.terms
	if contractor.ID != agency.ID {
		return Verification{}, stats.Refuse(fn, "agency.ID", fmt.Sprintf("%.80q", agency.ID), fmt.Errorf("%w than %.80q", ErrOtherLot, contractor.ID))
	}
	xs, err := t.sample(fn, "contractor", contractor)
	if err != nil {
		return Verification{}, err
	}
	ys, err := t.sample(fn, "agency", agency)
	if err != nil {
		return Verification{}, err
	}
	var unpaired []string
	if t.Verification.Kind == SplitSamples {
		xs, ys, unpaired = pair(xs, ys)
	}
	v, err := t.Verification.judge(t, floatsOf(t.valuesOf(xs)), floatsOf(t.valuesOf(ys)))
	if err != nil {
		return Verification{}, stats.Renamed(err, fn, "")
	}
	v.Plan, v.Lot, v.Unpaired = t.Name, contractor.ID, unpaired
	for _, id := range unpaired {
		v.warn(WarnUnpaired, id, "on one side only, so it was left out")
	}
	return v, nil
}

// sample returns the results of one side that count.
func (t *Terms) sample(fn, side string, l Lot) ([]Result, error) {
	err := t.check(fn, l)
	var s settled
	if err == nil {
		s, err = t.settle(fn, l)
	}
	if err == nil {
		err = t.checkScale(fn, s.used)
	}
	var e *stats.InputError
	if errors.As(err, &e) {
		named := *e
		named.Arg = side + strings.TrimPrefix(e.Arg, "l")
		return nil, &named
	}
	return s.used, err
}

// pair joins results by id, in the order of the first.
func pair(xs, ys []Result) (pairedX, pairedY []Result, unpaired []string) {
	at := make(map[string]int, len(ys))
	for i, y := range ys {
		at[y.ID] = i
	}
	for _, x := range xs {
		i, ok := at[x.ID]
		if !ok {
			unpaired = append(unpaired, x.ID)
			continue
		}
		pairedX, pairedY = append(pairedX, x), append(pairedY, ys[i])
		delete(at, x.ID)
	}
	for _, y := range ys {
		if _, left := at[y.ID]; left {
			unpaired = append(unpaired, y.ID)
		}
	}
	return pairedX, pairedY, unpaired
}

func (v *VerificationPolicy) judge(t *Terms, contractor, agency []float64) (Verification, error) {
	if v.Margins != nil {
		return VerifyEquivalence(contractor, agency, *v.Margins, v.termsOf(t))
	}
	return Verify(contractor, agency, v.termsOf(t))
}

// VerifyPair judges the two results of one split sample by the limit of the plan's
// verification policy, as the function [VerifyPair] does.
//
// Errors are those of VerifyPair, or wrap [ErrEmptyPlan], [ErrPlausible] or
// [ErrNoVerification] (no limit for one pair).
func (p Plan) VerifyPair(contractor, agency decimal.Decimal) (PairVerification, error) {
	const fn = "lot.Plan.VerifyPair"
	policy, err := p.verification(fn)
	if err != nil {
		return PairVerification{}, err
	}
	if policy.Pair == nil {
		return PairVerification{}, stats.Refuse(fn, "p", "", fmt.Errorf("%w of one pair", ErrNoVerification))
	}
	t := p.terms
	for _, side := range []struct {
		name  string
		value *decimal.Decimal
	}{{"contractor", &contractor}, {"agency", &agency}} {
		err := checkRecorded(*side.value)
		switch {
		case err != nil:
			return PairVerification{}, stats.Refuse(fn, side.name, "", err)
		case !t.Plausible.Contains(*side.value):
			return PairVerification{}, stats.Refuse(fn, side.name, short(*side.value), ErrPlausible)
		}
		if *side.value, err = t.Rounding.Value.Decimal(*side.value); err != nil {
			return PairVerification{}, stats.Refuse(fn, side.name, "", err)
		}
	}
	v, err := VerifyPair(contractor, agency, PairTerms{Characteristic: t.Characteristic, Unit: t.Unit, D2S: policy.Pair.D2S,
		Source: policy.Pair.Source, Difference: policy.Difference, Power: policy.Power})
	return v, stats.Renamed(err, fn, "")
}
