package lot

import (
	"fmt"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
)

// termsOf returns the terms that a policy stands for.
func (v *VerificationPolicy) termsOf(t *Terms) VerificationTerms {
	return VerificationTerms{Characteristic: t.Characteristic, Unit: t.Unit, Kind: v.Kind, VarianceAlpha: v.VarianceAlpha,
		MeanAlpha: v.MeanAlpha, Difference: v.Difference, Power: v.Power}
}

func (t *Terms) checkVerification() error {
	const arg = "t.Verification"
	v := t.Verification
	if v == nil {
		return nil
	}
	terms := v.termsOf(t)
	if err := terms.check(newPlan, arg); err != nil {
		return err
	}
	if v.Margins == nil || v.Pair != nil {
		if err := terms.checkDifference(newPlan, arg); err != nil {
			return err
		}
	}
	for _, check := range []func(string) error{v.checkMargins, v.checkFamily, v.checkPair, v.checkDigits} {
		if err := check(arg); err != nil {
			return err
		}
	}
	return nil
}

func (v *VerificationPolicy) checkMargins(arg string) error {
	m := v.Margins
	switch {
	case m == nil:
		return nil
	case !isFinite(m.Lower) || !isFinite(m.Upper):
		return stats.Refuse(newPlan, arg+".Margins", "", stats.ErrNotFinite)
	case m.Lower >= m.Upper:
		return stats.Refuse(newPlan, arg+".Margins", shortest(m.Lower)+" to "+shortest(m.Upper), ErrLimitOrder)
	case v.MeanAlpha >= 0.5:
		return stats.Refuse(newPlan, arg+".MeanAlpha", shortest(v.MeanAlpha), fmt.Errorf("%w: below 0.5 for equivalence", stats.ErrLevel))
	}
	return VerificationTerms{Difference: v.Difference}.checkWithin(newPlan, arg, *m)
}

func (v *VerificationPolicy) checkFamily(arg string) error {
	switch {
	case v.FamilyAlpha == 0:
		return nil
	case v.Margins != nil:
		return stats.Refuse(newPlan, arg+".FamilyAlpha", shortest(v.FamilyAlpha), fmt.Errorf("%w: the plan %w", ErrUnused, ErrEquivalence))
	case !isFraction(v.FamilyAlpha):
		return stats.Refuse(newPlan, arg+".FamilyAlpha", shortest(v.FamilyAlpha), stats.ErrLevel)
	}
	return nil
}

func (v *VerificationPolicy) checkPair(arg string) error {
	if v.Pair == nil {
		return nil
	}
	if v.Kind != SplitSamples {
		return stats.Refuse(newPlan, arg+".Pair", "", ErrSampleKind)
	}
	return v.Pair.check(newPlan, arg+".Pair")
}

// checkDigits refuses numbers that a plan could not be written with.
func (v *VerificationPolicy) checkDigits(arg string) error {
	named := []struct {
		name string
		x    float64
	}{{"VarianceAlpha", v.VarianceAlpha}, {"MeanAlpha", v.MeanAlpha}, {"Difference", v.Difference}, {"Power", v.Power}, {"FamilyAlpha", v.FamilyAlpha}}
	if v.Margins != nil {
		named = append(named, []struct {
			name string
			x    float64
		}{{"Margins.Lower", v.Margins.Lower}, {"Margins.Upper", v.Margins.Upper}}...)
	}
	for _, f := range named {
		if !fewDigits(decimal.NewFromFloat(f.x)) {
			return stats.Refuse(newPlan, arg+"."+f.name, shortest(f.x), ErrDigits)
		}
	}
	return nil
}

func (v VerificationPolicy) clone() *VerificationPolicy {
	v.Margins, v.Pair = copied(v.Margins), copied(v.Pair)
	return &v
}
