package lot

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

const newPlan = "lot.NewPlan"

func (t *Terms) checkNames() error {
	for _, f := range []struct{ name, value string }{{"Name", t.Name}, {"Characteristic", t.Characteristic}, {"Unit", t.Unit},
		{"GmmSource", t.GmmSource}, {"QuantityUnit", t.QuantityUnit}, {"Currency", t.Currency}} {
		if f.value == "" {
			return stats.Refuse(newPlan, "t."+f.name, "", ErrMissing)
		}
		if !plainText(f.value) {
			return stats.Refuse(newPlan, "t."+f.name, fmt.Sprintf("%.80q", f.value), ErrText)
		}
	}
	return nil
}

// plainText reports whether s is a line of valid text of at most maxText bytes that
// looks like what it is: two texts that differ must not be read as one because a
// blank at an end or a character that no one sees tells them apart.
func plainText(s string) bool {
	return len(s) <= maxText && utf8.ValidString(s) && strings.TrimSpace(s) == s && !strings.ContainsFunc(s, unseen) && !idleJoiner(s)
}

// unseen holds of controls, blanks that are not the plain one, what turns the order of
// reading and what is shown by nothing, but not of the joiners that some scripts are
// written with.
func unseen(r rune) bool {
	if r == ' ' || joins(r) {
		return false
	}
	return unicode.IsControl(r) || unicode.In(r, unicode.Z, unicode.Cf, unicode.Variation_Selector, unicode.Other_Default_Ignorable_Code_Point)
}

func joins(r rune) bool { return unicode.Is(unicode.Join_Control, r) }

// idleJoiner reports whether a joiner stands between plain letters or ends, where no
// script has any use for it and no one sees it.
func idleJoiner(s string) bool {
	for i, r := range s {
		before, behind := strings.TrimRightFunc(s[:i], joins), strings.TrimLeftFunc(s[i:], joins)
		if joins(r) && (before == "" || before[len(before)-1] < utf8.RuneSelf) && (behind == "" || behind[0] < utf8.RuneSelf) {
			return true
		}
	}
	return false
}

// maxText bounds every text of a plan or a lot.
const maxText = 1000

func (t *Terms) checkEstimator() error {
	const arg = "t.Estimation"
	e := t.Estimation
	if methodNames[e.Method] == "" {
		return stats.Refuse(newPlan, arg+".Method", fmt.Sprint(uint8(e.Method)), ErrMissing)
	}
	if err := e.Weights.check(arg+".Weights", e.Method); err != nil {
		return err
	}
	for _, f := range []struct {
		name   string
		given  bool
		method Method
	}{{"Table", e.Table != nil, TableWithin}, {"Ranges", len(e.Ranges) > 0, RangeWithin},
		{"Target", e.Target != nil, MeanDeviation}, {"Window", e.Window != 0, AverageWithin}} {
		if err := belongs(arg+"."+f.name, f.given, e.Method == f.method); err != nil {
			return err
		}
	}
	switch e.Method {
	case TableWithin:
		return e.Table.check()
	case RangeWithin:
		return checkRanges(e.Ranges)
	case MeanDeviation:
		return t.checkTarget(arg+".Target", *e.Target)
	case AverageWithin:
		if e.Window < 2 || e.Window > maxCount {
			return stats.Refuse(newPlan, arg+".Window", fmt.Sprint(e.Window), needs(ErrOutOfDomain, "2 or more results"))
		}
	}
	return nil
}

// maxCount bounds every number of results that a plan names.
const maxCount = 1_000_000

// belongs refuses a field that is needed and not given, or given and not needed.
func belongs(arg string, given, needed bool) error {
	switch {
	case needed && !given:
		return stats.Refuse(newPlan, arg, "", ErrMissing)
	case given && !needed:
		return stats.Refuse(newPlan, arg, "", ErrUnused)
	}
	return nil
}

func (r *TableRule) check() error {
	if negativeNames[r.Negative] == "" {
		return stats.Refuse(newPlan, "t.Estimation.Table.Negative", "", ErrMissing)
	}
	return checkCell(newPlan, "t.Estimation.Table.Cell", r.Cell)
}

func checkRanges(rows []RangeConstant) error {
	for i, r := range rows {
		switch {
		case r.N < 3 || r.N > maxCount:
			return refuseAt(newPlan, "t.Estimation.Ranges", i, fmt.Sprintf("N %d", r.N), needs(ErrOutOfDomain, "3 to 1,000,000 results"))
		case i > 0 && r.N <= rows[i-1].N:
			return refuseAt(newPlan, "t.Estimation.Ranges", i, fmt.Sprintf("N %d", r.N), ErrOrder)
		case r.Group < 2 || r.N%r.Group != 0:
			return refuseAt(newPlan, "t.Estimation.Ranges", i, fmt.Sprintf("group %d of %d", r.Group, r.N), needs(ErrOutOfDomain, "groups of 2 or more that share the results evenly"))
		case !fewDigits(r.C):
			return refuseAt(newPlan, "t.Estimation.Ranges", i, "", ErrDigits)
		case r.C.Sign() <= 0:
			return refuseAt(newPlan, "t.Estimation.Ranges", i, short(r.C), ErrNegative)
		}
	}
	return nil
}

// checkTarget refuses a target that no result could meet.
func (t *Terms) checkTarget(arg string, target decimal.Decimal) error {
	if err := checkRecorded(target); err != nil {
		return stats.Refuse(newPlan, arg, "", err)
	}
	if t.Plausible.Validate() == nil && !t.Plausible.Contains(target) {
		return stats.Refuse(newPlan, arg, short(target), ErrPlausible)
	}
	return nil
}

func (t *Terms) checkLimits() error {
	if err := t.Plausible.Validate(); err != nil {
		return stats.Refuse(newPlan, "t.Plausible", "", err)
	}
	if t.Estimation.Method == MeanDeviation {
		return belongs("t.Limits", t.Limits.p != nil, false)
	}
	return t.checkInside("t.Limits", t.Limits)
}

// checkInside refuses limits that are none or lie outside the plausible range.
func (t *Terms) checkInside(arg string, limits Limits) error {
	if err := limits.Validate(); err != nil {
		return stats.Refuse(newPlan, arg, "", err)
	}
	l, plausible := limits.pair(), t.Plausible.pair()
	if l.lower != nil && !plausible.contains(l.lower.exact) || l.upper != nil && !plausible.contains(l.upper.exact) {
		return stats.Refuse(newPlan, arg, limits.String(), ErrPlausible)
	}
	return nil
}

func (r *RoundingPolicy) check() error {
	for _, f := range []struct {
		name string
		rule units.Rounding
	}{{"Value", r.Value}, {"Mean", r.Mean}, {"StdDev", r.StdDev}, {"Q", r.Q}, {"Measure", r.Measure}} {
		if err := f.rule.Validate(); err != nil {
			return stats.Refuse(newPlan, "t.Rounding."+f.name, "", err)
		}
	}
	if err := placed(newPlan, "t.Rounding.Factor", r.Factor); err != nil {
		return err
	}
	return placed(newPlan, "t.Rounding.Money", r.Money)
}

func (t *Terms) checkOutlier() error {
	const arg = "t.Outlier"
	o := t.Outlier
	if o == nil {
		return nil
	}
	switch {
	case testNames[o.Test] == "":
		return stats.Refuse(newPlan, arg+".Test", "", ErrMissing)
	case o.MinN < o.fewest() || o.MinN > maxCount:
		return stats.Refuse(newPlan, arg+".MinN", fmt.Sprint(o.MinN), needs(stats.ErrParameter, fmt.Sprintf("%d or more results", o.fewest())))
	case o.MaxRemoved < 0 || o.MaxRemoved > maxCount:
		return stats.Refuse(newPlan, arg+".MaxRemoved", fmt.Sprint(o.MaxRemoved), needs(ErrOutOfDomain, "0 or more"))
	case o.Side < stats.Low || o.Side > stats.TwoSide || o.Test == TwoOutliersTest && o.Side == stats.TwoSide:
		return stats.Refuse(newPlan, arg+".Side", o.Side.String(), needs(stats.ErrParameter, "stats.Low or stats.High, or stats.TwoSide but for two outliers"))
	case !(o.Alpha > 0 && o.Alpha < 1):
		return stats.Refuse(newPlan, arg+".Alpha", fmt.Sprint(o.Alpha), stats.ErrLevel)
	case !fewDigits(decimal.NewFromFloat(o.Alpha)):
		return stats.Refuse(newPlan, arg+".Alpha", fmt.Sprint(o.Alpha), ErrDigits)
	case o.RetestNeeded && t.Retest == NoRetests:
		return stats.Refuse(newPlan, arg+".RetestNeeded", "", fmt.Errorf("%w: the plan takes no retests", ErrRetest))
	case o.Suspects < 0 || o.Suspects > o.MinN-2:
		return stats.Refuse(newPlan, arg+".Suspects", fmt.Sprint(o.Suspects), needs(ErrOutOfDomain, "at least 0 and at most MinN - 2"))
	}
	return belongs(arg+".Suspects", o.Suspects != 0, o.Test == GeneralizedESDTest)
}

// fewest returns the smallest number of results that the test takes.
func (o *OutlierPolicy) fewest() int {
	if o.Test == TwoOutliersTest {
		return 4
	}
	return 3
}

func (t *Terms) checkIndividual() error {
	if t.Individual == nil {
		return nil
	}
	if actionNames[t.Individual.Action] == "" {
		return stats.Refuse(newPlan, "t.Individual.Action", "", ErrMissing)
	}
	return t.checkInside("t.Individual.Limits", t.Individual.Limits)
}
