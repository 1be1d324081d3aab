package lot

import (
	"fmt"
	"math/big"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// WarnCents says that a total of rounded amounts is not the rounded total.
const WarnCents stats.WarningCode = "cents"

// LotFactor is the pay factor of one lot. A lot that was rejected has none and is
// left out.
type LotFactor struct {
	Lot      string          // id
	Quantity decimal.Decimal // more than 0
	Factor   decimal.Decimal // 1 for full pay; decimal.Zero, the zero value of the type, is not given and refused
}

// TotalTerms are what a contract says about pay over several lots. All fields are
// needed; both roundings need a number of places.
type TotalTerms struct {
	UnitPrice    decimal.Decimal
	QuantityUnit string         // such as "t"
	Currency     string         // such as "USD"
	Factor       units.Rounding // of the weighted factor, which is for information
	Money        units.Rounding // of each amount of a lot
}

// LotAmount is the money for one lot.
type LotAmount struct {
	LotFactor
	Base       decimal.Decimal // Quantity · UnitPrice
	Adjustment decimal.Decimal // Quantity · UnitPrice · (Factor - 1)
}

// PayTotal is the pay over several lots, such as those of a year.
type PayTotal struct {
	Terms      TotalTerms
	Lots       []LotAmount
	Quantity   decimal.Decimal
	Factor     Number          // weighted by quantity
	Base       decimal.Decimal // sum of the lots'
	Adjustment decimal.Decimal // sum of the lots'
	Total      decimal.Decimal // Base + Adjustment
	Working    []units.Step
	Warnings   []stats.Warning
}

// TotalPay adds up the pay of lots of one price and weights their factors by
// quantity,
//
//	Σ q·price·(factor - 1),   Σ q·factor/Σ q
//
// in exact arithmetic on the recorded decimals. Each amount of a lot is rounded once
// and totals are sums of rounded amounts, so that they agree with the lots' own
// statements to the last cent; where rounding the exact total alone would give
// another amount, Warnings holds [WarnCents]. A plain mean of factors is not what
// is paid. Lots stand in the order given; lots is not changed.
//
// Errors are [*stats.InputError] with the id of the lot, around [stats.ErrTooFew]
// (no lot), [ErrNoID], [ErrRepeatedID], [ErrText], [ErrMissing], [ErrDigits],
// [ErrNegative], [ErrOutOfDomain] (a factor above 10, as in percent),
// [stats.ErrParameter] (a quantity of 0), [units.ErrAbsolute] or [units.ErrRounding].
func TotalPay(lots []LotFactor, t TotalTerms) (PayTotal, error) {
	const fn = "lot.TotalPay"
	if err := t.check(fn); err != nil {
		return PayTotal{}, err
	}
	if err := checkFactors(fn, lots); err != nil {
		return PayTotal{}, err
	}
	p := PayTotal{Terms: t, Lots: make([]LotAmount, len(lots))}
	exact, weighted := decimal.Zero, decimal.Zero
	for i, l := range lots {
		base := l.Quantity.Mul(t.UnitPrice)
		adjustment := base.Mul(l.Factor.Sub(decimal.NewFromInt(1)))
		p.Lots[i] = LotAmount{l, t.money(base), t.money(adjustment)}
		p.Quantity = p.Quantity.Add(l.Quantity)
		p.Base = p.Base.Add(p.Lots[i].Base)
		p.Adjustment = p.Adjustment.Add(p.Lots[i].Adjustment)
		exact = exact.Add(adjustment)
		weighted = weighted.Add(l.Quantity.Mul(l.Factor))
		p.explainLot(p.Lots[i], adjustment)
	}
	p.Total = p.Base.Add(p.Adjustment)
	p.finish(exact, weighted)
	return p, nil
}

func (t TotalTerms) check(fn string) error {
	switch {
	case t.QuantityUnit == "":
		return stats.Refuse(fn, "t.QuantityUnit", "", ErrMissing)
	case t.Currency == "":
		return stats.Refuse(fn, "t.Currency", "", ErrMissing)
	case !plainText(t.QuantityUnit):
		return stats.Refuse(fn, "t.QuantityUnit", fmt.Sprintf("%.80q", t.QuantityUnit), ErrText)
	case !plainText(t.Currency):
		return stats.Refuse(fn, "t.Currency", fmt.Sprintf("%.80q", t.Currency), ErrText)
	case t.UnitPrice == decimal.Decimal{}:
		return stats.Refuse(fn, "t.UnitPrice", "", errNoNumber)
	case !fewDigits(t.UnitPrice):
		return stats.Refuse(fn, "t.UnitPrice", "", ErrDigits)
	case t.UnitPrice.Sign() < 0:
		return stats.Refuse(fn, "t.UnitPrice", t.UnitPrice.String(), ErrNegative)
	}
	if err := placed(fn, "t.Factor", t.Factor); err != nil {
		return err
	}
	return placed(fn, "t.Money", t.Money)
}

func checkFactors(fn string, lots []LotFactor) error {
	if len(lots) == 0 {
		return stats.Refuse(fn, "lots", "", fmt.Errorf("%w (have 0, need 1)", stats.ErrTooFew))
	}
	seen := make(map[string]bool, len(lots))
	for i, l := range lots {
		if err := l.check(); err != nil {
			return &stats.InputError{Func: fn, Arg: "lots", Index: i, ID: l.Lot, Err: err}
		}
		if seen[l.Lot] {
			return &stats.InputError{Func: fn, Arg: "lots", Index: i, ID: l.Lot, Err: ErrRepeatedID}
		}
		seen[l.Lot] = true
	}
	return nil
}

func (l LotFactor) check() error {
	switch {
	case l.Lot == "":
		return ErrNoID
	case !plainText(l.Lot):
		return ErrText
	case l.Factor == decimal.Decimal{}:
		return fmt.Errorf("factor %w; leave a rejected lot out", errNoNumber)
	case !fewDigits(l.Quantity) || !fewDigits(l.Factor):
		return ErrDigits
	case l.Quantity.Sign() <= 0:
		return fmt.Errorf("quantity %w", needs(stats.ErrParameter, "more than 0"))
	}
	if err := checkFactor(l.Factor); err != nil {
		return fmt.Errorf("factor %s %w", digits(l.Factor), err)
	}
	return nil
}

// money rounds an exact amount by the rule, which was checked.
func (t TotalTerms) money(amount decimal.Decimal) decimal.Decimal {
	return toDecimal(roundRat(t.Money, amount.Rat()), t.Money)
}

func (t TotalTerms) amountText(amount decimal.Decimal) string {
	return amount.StringFixed(int32(max(0, t.Money.Places))) + " " + t.Currency
}

func (p *PayTotal) explainLot(l LotAmount, exact decimal.Decimal) {
	p.Working = append(p.Working, units.Step{What: "adjustment of lot " + l.Lot, Formula: "quantity·price·(factor - 1)",
		Numbers: fmt.Sprintf("%s %s x %s x (%s - 1)", digits(l.Quantity), p.Terms.QuantityUnit, digits(p.Terms.UnitPrice), digits(l.Factor)),
		Value:   exact.String() + " " + p.Terms.Currency, Rounded: p.Terms.amountText(l.Adjustment), Rounding: p.Terms.Money.Rule()})
}

// finish works out the weighted factor and the totals.
func (p *PayTotal) finish(exact, weighted decimal.Decimal) {
	t := p.Terms
	factor := new(big.Rat).Quo(weighted.Rat(), p.Quantity.Rat())
	p.Factor = number(rational(factor), rational(roundRat(t.Factor, factor)), t.Factor)
	p.Working = append(p.Working,
		units.Step{What: "weighted factor", Formula: "Σ quantity·factor/Σ quantity", Numbers: weighted.String() + "/" + p.Quantity.String(),
			Value: units.ExactText(factor), Rounded: p.Factor.Used, Rounding: t.Factor.Rule()},
		units.Step{What: "full pay", Formula: "sum over the lots", Value: t.amountText(p.Base)},
		units.Step{What: "adjustment", Formula: "sum over the lots", Value: t.amountText(p.Adjustment)},
		units.Step{What: "pay", Formula: "full pay + adjustment", Value: t.amountText(p.Total)})
	p.warnCents("full pay", "amounts of full pay", p.Base, p.Quantity.Mul(t.UnitPrice))
	p.warnCents("adjustment", "adjustments", p.Adjustment, exact)
}

// warnCents compares a sum of rounded amounts with the exact sum.
func (p *PayTotal) warnCents(where, what string, sum, exact decimal.Decimal) {
	if once := p.Terms.money(exact); !once.Equal(sum) {
		p.Warnings = append(p.Warnings, stats.Warning{Code: WarnCents, Where: where, Text: fmt.Sprintf(
			"the lots' rounded %s add up to %s; rounding their exact sum once would give %s", what, p.Terms.amountText(sum), p.Terms.amountText(once))})
	}
}
