package lot

import (
	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// RoundingPolicy says where a contract rounds. Every rule is needed;
// units.Absolute uses a number as it is. Factor and Money need a number of
// places.
type RoundingPolicy struct {
	Value  units.Rounding // each result before anything else
	Mean   units.Rounding
	StdDev units.Rounding // of the mean before rounding
	Q      units.Rounding // each quality index
	PWL    units.Rounding // percent within limits, after both tails are taken off
	Factor units.Rounding // the pay factor
	Money  units.Rounding // each amount
}

// OutlierPolicy is the screen of a contract: one look by the Grubbs test. It
// flags; removal needs a cause, and what the contract says about it.
type OutlierPolicy struct {
	Side  stats.Side
	Alpha float64 // significance as a fraction
	MinN  int     // fewest results that are screened, at least 3
}

// Terms are what a contract says about one characteristic. All fields without a
// remark are needed.
type Terms struct {
	Name           string // of the plan, such as "item 402 mat density"
	Characteristic string // such as "mat density"
	Unit           string // of results and limits, such as "% of maximum theoretical density"
	Limits         Limits
	Plausible      Limits // results outside are mistakes, not results
	Rounding       RoundingPolicy
	Outlier        *OutlierPolicy // nil for no screen
	Schedule       Schedule       // over PWL from 0
	UnitPrice      decimal.Decimal
	QuantityUnit   string // such as "t"
	Currency       string // such as "USD"
	AnyScale       bool   // take limits 80 to 125 fold off the results; otherwise that is refused
}

// Plan is a contract that has been checked. It does not change. The zero value is
// empty and is refused; make one with [NewPlan].
type Plan struct {
	terms Terms
	ready bool
}

// NewPlan checks terms and keeps a copy.
//
// Errors are [*stats.InputError] with the field, around [ErrMissing],
// [ErrNoLimit], [ErrLimitOrder], [ErrDigits], [ErrPlausible] (a limit outside the
// plausible range), [units.ErrRounding], [units.ErrRange], [ErrAbsolute],
// [ErrNegative], [ErrNotCovered] (a schedule that does not start at 0 or below),
// [stats.ErrLevel] or [stats.ErrParameter].
func NewPlan(t Terms) (Plan, error) {
	for _, check := range []func() error{t.checkNames, t.checkLimits, t.Rounding.check, t.checkOutlier, t.checkPay} {
		if err := check(); err != nil {
			return Plan{}, err
		}
	}
	if t.Outlier != nil {
		o := *t.Outlier
		t.Outlier = &o
	}
	return Plan{terms: t, ready: true}, nil
}

// Terms returns a copy of what the plan was made from.
func (p Plan) Terms() Terms {
	t := p.terms
	if t.Outlier != nil {
		o := *t.Outlier
		t.Outlier = &o
	}
	return t
}

const newPlan = "lot.NewPlan"

func (t Terms) checkNames() error {
	for _, f := range []struct{ name, value string }{{"Name", t.Name}, {"Characteristic", t.Characteristic},
		{"Unit", t.Unit}, {"QuantityUnit", t.QuantityUnit}, {"Currency", t.Currency}} {
		if f.value == "" {
			return refuse(newPlan, "t."+f.name, "", ErrMissing)
		}
	}
	return nil
}

func (t Terms) checkLimits() error {
	if err := t.Limits.Validate(); err != nil {
		return refuse(newPlan, "t.Limits", "", err)
	}
	if err := t.Plausible.Validate(); err != nil {
		return refuse(newPlan, "t.Plausible", "", err)
	}
	l, plausible := t.Limits.pair(), t.Plausible.pair()
	if l.lower != nil && !plausible.contains(l.lower.exact) || l.upper != nil && !plausible.contains(l.upper.exact) {
		return refuse(newPlan, "t.Limits", t.Limits.String(), ErrPlausible)
	}
	return nil
}

func (r RoundingPolicy) check() error {
	for _, f := range []struct {
		name string
		rule units.Rounding
	}{{"Value", r.Value}, {"Mean", r.Mean}, {"StdDev", r.StdDev}, {"Q", r.Q}, {"PWL", r.PWL}} {
		if err := f.rule.Validate(); err != nil {
			return refuse(newPlan, "t.Rounding."+f.name, "", err)
		}
	}
	if err := placed(newPlan, "t.Rounding.Factor", r.Factor); err != nil {
		return err
	}
	return placed(newPlan, "t.Rounding.Money", r.Money)
}

func (t Terms) checkOutlier() error {
	if t.Outlier == nil {
		return nil
	}
	if t.Outlier.MinN < 3 {
		return refuse(newPlan, "t.Outlier.MinN", decimal.NewFromInt(int64(t.Outlier.MinN)).String(), stats.ErrParameter)
	}
	if _, err := stats.GrubbsCritical(t.Outlier.MinN, t.Outlier.Side, t.Outlier.Alpha); err != nil {
		return inName(newPlan, err)
	}
	return nil
}

func (t Terms) checkPay() error {
	switch {
	case t.Schedule.IsZero():
		return refuse(newPlan, "t.Schedule", "", ErrMissing)
	case t.Schedule.rows[0].From.Sign() > 0:
		return refuse(newPlan, "t.Schedule", "from "+t.Schedule.rows[0].From.String(), ErrNotCovered)
	case !fewDigits(t.UnitPrice):
		return refuse(newPlan, "t.UnitPrice", "", ErrDigits)
	case t.UnitPrice.Sign() < 0:
		return refuse(newPlan, "t.UnitPrice", t.UnitPrice.String(), ErrNegative)
	}
	return nil
}
