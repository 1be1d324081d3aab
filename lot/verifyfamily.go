package lot

import (
	"errors"
	"fmt"

	"github.com/densilot/densilot/stats"
)

// Reasons a verification cannot be judged with others. Equivalence tests need no
// adjustment where all of them must hold.
var (
	ErrEquivalence = errors.New("is an equivalence test, which has no p value of a difference")
	ErrNotVerified = errors.New("does not come from Verify")
)

// FamilyMember is one characteristic among several that were verified together.
type FamilyMember struct {
	Characteristic string
	P              *float64 // of the test of the means alone; nil where nothing varies
	Adjusted       *float64 // after Holm, nil as P
	Finding        Finding  // by Adjusted; as it was where nothing varies
}

// String returns the member in one line.
func (m FamilyMember) String() string {
	if m.P == nil || m.Adjusted == nil {
		return m.Characteristic + ": " + m.Finding.String()
	}
	return fmt.Sprintf("%s: p = %.4g, adjusted %.4g: %v", m.Characteristic, *m.P, *m.Adjusted, m.Finding)
}

// VerifyFamily judges the verifications of several characteristics of one lot
// together. Four tests at 5 % raise a false alarm in up to 20 % of good lots; here
// a difference is shown where the p value adjusted by Holm's method,
//
//	max over j ≤ i of min(1, (m-j+1)·p(j)),   p(1) ≤ p(2) ≤ ... ≤ p(m)
//
// is at most alpha, so that any false alarm in the family has probability alpha at
// most, however the characteristics depend on each other. The MeanAlpha of each
// verification does not count. verifications come from [Verify], in any order and
// units; members stand in their order. One without a p value, for want of
// variance, is no member of the m.
//
// The findings it takes back are not shown to be equal: the family finds less than
// each comparison alone, and the power in their Detection is that of MeanAlpha.
//
// Errors are [*stats.InputError] around [stats.ErrTooFew] (no verification),
// [ErrNotVerified], [ErrRepeatedID] (a
// characteristic), [ErrEquivalence] or [stats.ErrLevel].
//
// Source: [stats.Holm], which names its own.
func VerifyFamily(verifications []Verification, alpha float64) ([]FamilyMember, error) {
	const fn = "lot.VerifyFamily"
	if err := checkFamily(fn, verifications, alpha); err != nil {
		return nil, err
	}
	members := make([]FamilyMember, len(verifications))
	var ps []float64
	for i, v := range verifications {
		members[i] = FamilyMember{Characteristic: v.Terms.Characteristic, Finding: v.Finding}
		if v.T != nil {
			ps = append(ps, v.T.P)
		}
	}
	if ps == nil {
		return members, nil
	}
	adjusted, err := stats.Holm(ps)
	if err != nil {
		return nil, stats.Renamed(err, fn, "")
	}
	tested := 0
	for i, v := range verifications {
		if v.T != nil {
			members[i].judge(ps[tested], adjusted[tested], alpha)
			tested++
		}
	}
	return members, nil
}

func (m *FamilyMember) judge(p, adjusted, alpha float64) {
	m.P, m.Adjusted, m.Finding = &p, &adjusted, DifferenceNotShown
	if adjusted <= alpha {
		m.Finding = DifferenceShown
	}
}

func checkFamily(fn string, verifications []Verification, alpha float64) error {
	if len(verifications) == 0 {
		return stats.Refuse(fn, "verifications", "", fmt.Errorf("%w (have 0, need 1)", stats.ErrTooFew))
	}
	if !isFraction(alpha) {
		return stats.Refuse(fn, "alpha", shortest(alpha), stats.ErrLevel)
	}
	seen := make(map[string]bool, len(verifications))
	for i, v := range verifications {
		name := v.Terms.Characteristic
		switch {
		case findingNames[v.Finding] == "", v.T != nil && !(v.T.P >= 0 && v.T.P <= 1):
			return refuseAt(fn, "verifications", i, "", ErrNotVerified)
		case v.Equivalence != nil:
			return refuseAt(fn, "verifications", i, name, ErrEquivalence)
		case seen[name]:
			return refuseAt(fn, "verifications", i, name, ErrRepeatedID)
		}
		seen[name] = true
	}
	return nil
}
