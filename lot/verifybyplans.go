package lot

import (
	"errors"
	"fmt"

	"github.com/densilot/densilot/stats"
)

// PlannedVerification is what one plan compares.
type PlannedVerification struct {
	Plan               Plan
	Contractor, Agency Lot
}

// VerifyByPlans verifies several characteristics, each by its plan as [Plan.Verify]
// does, and judges them together by [VerifyFamily] at the FamilyAlpha that all the
// plans share. verifications and members stand in the order of the comparisons; the
// findings of the members hold.
//
// Errors are those of Plan.Verify and VerifyFamily, or wrap [stats.ErrTooFew] (no
// comparison) or [ErrFamily] (no FamilyAlpha, or not the same).
func VerifyByPlans(comparisons []PlannedVerification) (verifications []Verification, members []FamilyMember, err error) {
	const fn = "lot.VerifyByPlans"
	alpha, err := familyAlpha(fn, comparisons)
	if err != nil {
		return nil, nil, err
	}
	for _, c := range comparisons {
		v, err := c.Plan.compare(fn, c.Contractor, c.Agency)
		if err != nil {
			return nil, nil, inPart("comparisons", c.Plan.terms.Characteristic, err)
		}
		verifications = append(verifications, v)
	}
	if members, err = VerifyFamily(verifications, alpha); err != nil {
		return nil, nil, stats.Renamed(err, fn, "")
	}
	return verifications, members, nil
}

func familyAlpha(fn string, comparisons []PlannedVerification) (float64, error) {
	if len(comparisons) == 0 {
		return 0, stats.Refuse(fn, "comparisons", "", fmt.Errorf("%w (have 0, need 1)", stats.ErrTooFew))
	}
	alpha := 0.0
	for i, c := range comparisons {
		policy, err := c.Plan.verification(fn)
		if err != nil {
			return 0, refuseAt(fn, "comparisons", i, "", errors.Unwrap(err))
		}
		if i == 0 {
			alpha = policy.FamilyAlpha
		}
		if policy.FamilyAlpha == 0 || policy.FamilyAlpha != alpha {
			return 0, refuseAt(fn, "comparisons", i, c.Plan.terms.Characteristic, fmt.Errorf("%w: FamilyAlpha %g", ErrFamily, policy.FamilyAlpha))
		}
	}
	return alpha, nil
}
