package lot

import (
	"fmt"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
)

func (t *Terms) checkSmallLot() error {
	const arg = "t.SmallLot"
	if retestNames[t.Retest] == "" {
		return stats.Refuse(newPlan, "t.Retest", fmt.Sprint(uint8(t.Retest)), needs(ErrOutOfDomain, "NoRetests, ReplaceResult or PoolResults"))
	}
	s := t.SmallLot
	if s == nil {
		return nil
	}
	switch {
	case s.Fewest < t.Estimation.fewest() || s.Fewest > maxCount:
		return stats.Refuse(newPlan, arg+".Fewest", fmt.Sprint(s.Fewest), needs(ErrOutOfDomain, fmt.Sprintf("%d or more, which the estimate takes", t.Estimation.fewest())))
	case smallLotNames[s.Rule] == "":
		return stats.Refuse(newPlan, arg+".Rule", "", ErrMissing)
	case s.Last != 0 && (s.Last == JoinNext || smallLotNames[s.Last] == ""):
		return stats.Refuse(newPlan, arg+".Last", s.Last.String(), needs(ErrOutOfDomain, "JoinPrevious or OwnTable"))
	}
	if err := belongs(arg+".Last", s.Last != 0, s.Rule == JoinNext); err != nil {
		return err
	}
	if err := belongs(arg+".Own", s.Own != nil, s.usesOwn()); err != nil || s.Own == nil {
		return err
	}
	return t.checkOwn(arg+".Own", *s.Own)
}

func (t *Terms) checkOwn(arg string, o OwnTerms) error {
	if err := t.checkTarget(arg+".Target", o.Target); err != nil {
		return err
	}
	if err := o.Measure.Validate(); err != nil {
		return stats.Refuse(newPlan, arg+".Measure", "", err)
	}
	if len(o.ByCount) == 0 {
		return stats.Refuse(newPlan, arg+".ByCount", "", ErrMissing)
	}
	return checkCounts(arg+".ByCount", o.ByCount)
}

func (t *Terms) checkSchedules() error {
	if t.Schedule.IsZero() && len(t.ByCount) == 0 {
		return stats.Refuse(newPlan, "t.Schedule", "", ErrMissing)
	}
	if !t.Schedule.IsZero() && !t.Schedule.startsAtZero() {
		return stats.Refuse(newPlan, "t.Schedule", "from "+t.Schedule.rows[0].From.String(), ErrNotCovered)
	}
	return checkCounts("t.ByCount", t.ByCount)
}

func (t *Terms) checkSecond() error {
	const arg = "t.Second"
	s := t.Second
	switch {
	case s == nil:
		return nil
	case !t.Estimation.Method.within():
		return stats.Refuse(newPlan, arg, "", ErrUnused)
	case s.Below == decimal.Decimal{}:
		return stats.Refuse(newPlan, arg+".Below", "", errNoNumber)
	case !fewDigits(s.Below) || !fewDigits(s.Max):
		return stats.Refuse(newPlan, arg, "", ErrDigits)
	case s.Max.LessThan(s.Below):
		return stats.Refuse(newPlan, arg+".Max", short(s.Max), fmt.Errorf("%w (%s)", ErrOrder, short(s.Below)))
	}
	if err := t.checkInside(arg+".Limits", s.Limits); err != nil {
		return err
	}
	if !t.Limits.pair().inside(s.Limits.pair()) {
		return stats.Refuse(newPlan, arg+".Limits", s.Limits.String(), fmt.Errorf("%w: the second limits must not be narrower than %v", ErrLimitOrder, t.Limits))
	}
	return nil
}

// inside reports whether all that p contains is within wide.
func (p *limitPair) inside(wide *limitPair) bool {
	lower := wide.lower == nil || p.lower != nil && p.lower.exact.Cmp(wide.lower.exact) >= 0
	upper := wide.upper == nil || p.upper != nil && p.upper.exact.Cmp(wide.upper.exact) <= 0
	return lower && upper
}

func (t *Terms) checkFactors() error {
	for _, f := range []struct {
		arg   string
		value *decimal.Decimal
	}{{"t.MaxFactor", t.MaxFactor}, {"t.RejectBelow", t.RejectBelow}} {
		if f.value == nil {
			continue
		}
		if !fewDigits(*f.value) {
			return stats.Refuse(newPlan, f.arg, "", ErrDigits)
		}
		if err := checkFactor(*f.value); err != nil {
			return stats.Refuse(newPlan, f.arg, short(*f.value), err)
		}
	}
	return nil
}

func (t *Terms) checkComposite() error {
	const arg = "t.Composite"
	c := t.Composite
	if c == nil {
		return nil
	}
	if compositeNames[c.Rule] == "" {
		return stats.Refuse(newPlan, arg+".Rule", "", ErrMissing)
	}
	if err := belongs(arg+".Weight", c.Weight != nil, c.Rule == WeightedSum); err != nil || c.Weight == nil {
		return err
	}
	if !fewDigits(*c.Weight) {
		return stats.Refuse(newPlan, arg+".Weight", "", ErrDigits)
	}
	if c.Weight.Sign() <= 0 || c.Weight.GreaterThanOrEqual(decimal.NewFromInt(1)) {
		return stats.Refuse(newPlan, arg+".Weight", short(*c.Weight), ErrWeights)
	}
	return nil
}

func (t *Terms) checkPrice() error {
	if t.UnitPrice == (decimal.Decimal{}) {
		return stats.Refuse(newPlan, "t.UnitPrice", "", errNoNumber)
	}
	if !fewDigits(t.UnitPrice) {
		return stats.Refuse(newPlan, "t.UnitPrice", "", ErrDigits)
	}
	if t.UnitPrice.Sign() < 0 {
		return stats.Refuse(newPlan, "t.UnitPrice", t.UnitPrice.String(), ErrNegative)
	}
	return nil
}
