package lot_test

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

func totalTerms(price string) lot.TotalTerms {
	return lot.TotalTerms{UnitPrice: d(price), QuantityUnit: "t", Currency: "USD", Factor: halfEven(9), Money: halfEven(2)}
}

// Invented lots.
func threeLots() []lot.LotFactor {
	return []lot.LotFactor{
		{Lot: "1", Quantity: d("2400"), Factor: d("1.035")},
		{Lot: "2", Quantity: d("2100"), Factor: d("0.980")},
		{Lot: "3", Quantity: d("350"), Factor: d("0.760")},
	}
}

// By hand: 2400·82.40·0.035 = 6921.60, 2100·82.40·(-0.020) = -3460.80, 350·82.40·
// (-0.240) = -6921.60; 4850·82.40 = 399640; (2484 + 2058 + 266)/4850 = 4808/4850.
func TestTotalPay(t *testing.T) {
	lots := threeLots()
	kept := slices.Clone(lots)
	p, err := lot.TotalPay(lots, totalTerms("82.40"))
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []string{"6921.60", "-3460.80", "-6921.60"} {
		if got := p.Lots[i].Adjustment; !got.Equal(d(want)) {
			t.Errorf("lot %s: %v, want %s", p.Lots[i].Lot, got, want)
		}
	}
	if !p.Adjustment.Equal(d("-3460.80")) || !p.Base.Equal(d("399640")) || !p.Total.Equal(d("396179.20")) || !p.Quantity.Equal(d("4850")) {
		t.Errorf("adjustment %v, base %v, total %v, quantity %v", p.Adjustment, p.Base, p.Total, p.Quantity)
	}
	if p.Factor.Used != "0.991340206" || math.Abs(p.Factor.Exact-4808.0/4850) > 1e-16 {
		t.Errorf("weighted factor %+v", p.Factor)
	}
	if !slices.EqualFunc(lots, kept, func(a, b lot.LotFactor) bool { return a == b }) || len(p.Warnings) != 0 {
		t.Errorf("lots changed, or warnings %v", p.Warnings)
	}
}

// By hand: 764.92·92.50·0.05 = 3537.755 and 2493·96.25·0.036 = 8638.245, which
// half-even takes to .76 and .24, half-up to .76 and .25.
func TestTotalPayToTheCent(t *testing.T) {
	for _, tt := range []struct {
		quantity, factor, price string
		method                  units.RoundingMethod
		want                    string
	}{
		{"764.92", "1.05", "92.50", units.HalfEven, "3537.76"},
		{"764.92", "1.05", "92.50", units.HalfUp, "3537.76"},
		{"2493", "1.036", "96.25", units.HalfEven, "8638.24"},
		{"2493", "1.036", "96.25", units.HalfUp, "8638.25"},
		{"2493", "0.964", "96.25", units.HalfUp, "-8638.25"},
		{"2493", "0", "96.25", units.HalfUp, "-239951.25"},
	} {
		terms := totalTerms(tt.price)
		terms.Money.Method = tt.method
		p, err := lot.TotalPay([]lot.LotFactor{{Lot: "1", Quantity: d(tt.quantity), Factor: d(tt.factor)}}, terms)
		if err != nil || p.Adjustment.StringFixed(2) != tt.want {
			t.Errorf("%v: %v, %v, want %s", tt, p.Adjustment, err, tt.want)
		}
	}
}

// By hand: three lots of 0.005 each round to 0.00 half-even and to 0.01 half-up;
// their exact sum 0.015 rounds to 0.02 by both.
func TestTotalPayWarnsOfCents(t *testing.T) {
	for _, tt := range []struct {
		method units.RoundingMethod
		want   string
	}{{units.HalfEven, "0.00"}, {units.HalfUp, "0.03"}} {
		terms := totalTerms("1.00")
		terms.Money.Method = tt.method
		var lots []lot.LotFactor
		for i := range 3 {
			lots = append(lots, lot.LotFactor{Lot: fmt.Sprint(i + 1), Quantity: d("1"), Factor: d("1.005")})
		}
		p, err := lot.TotalPay(lots, terms)
		if err != nil || p.Adjustment.StringFixed(2) != tt.want || !has(p.Warnings, lot.WarnCents) {
			t.Errorf("%v: %v, %v, %v", tt.method, p.Adjustment, p.Warnings, err)
		}
	}
}

// By hand: two lots of half a tonne at 0.03 are 0.015 each, so 0.02 and 0.04 together;
// the exact sum is 0.03.
func TestTotalPayWarnsOfCentsOfFullPay(t *testing.T) {
	p, err := lot.TotalPay([]lot.LotFactor{{Lot: "1", Quantity: d("0.5"), Factor: d("1")}, {Lot: "2", Quantity: d("0.5"), Factor: d("1")}}, totalTerms("0.03"))
	want := "the lots' rounded amounts of full pay add up to 0.04 USD; rounding their exact sum once would give 0.03 USD"
	if err != nil || p.Total.StringFixed(2) != "0.04" || len(p.Warnings) != 1 || p.Warnings[0].Where != "full pay" || p.Warnings[0].Text != want {
		t.Errorf("%v, %v, %v", p.Total, p.Warnings, err)
	}
}

func TestTotalPayRefuses(t *testing.T) {
	long := decimal.New(1, 1_000_000_000)
	one := func(f func(*lot.LotFactor)) []lot.LotFactor {
		lots := threeLots()
		f(&lots[1])
		return lots
	}
	change := func(f func(*lot.TotalTerms)) lot.TotalTerms {
		terms := totalTerms("82.40")
		f(&terms)
		return terms
	}
	good := totalTerms("82.40")
	for _, tt := range []struct {
		name  string
		lots  []lot.LotFactor
		terms lot.TotalTerms
		arg   string
		want  error
	}{
		{"no lots", nil, good, "lots", stats.ErrTooFew},
		{"no id", one(func(l *lot.LotFactor) { l.Lot = "" }), good, "lots", lot.ErrNoID},
		{"a lot twice", one(func(l *lot.LotFactor) { l.Lot = "1" }), good, "lots", lot.ErrRepeatedID},
		{"an id that only looks another", one(func(l *lot.LotFactor) { l.Lot = "1\u200b" }), good, "lots", lot.ErrText},
		{"no factor", one(func(l *lot.LotFactor) { l.Factor = decimal.Decimal{} }), good, "lots", lot.ErrMissing},
		{"a negative factor", one(func(l *lot.LotFactor) { l.Factor = d("-0.1") }), good, "lots", lot.ErrNegative},
		{"a factor in percent", one(func(l *lot.LotFactor) { l.Factor = d("98.5") }), good, "lots", lot.ErrOutOfDomain},
		{"a factor that fills the memory", one(func(l *lot.LotFactor) { l.Factor = long }), good, "lots", lot.ErrDigits},
		{"no quantity", one(func(l *lot.LotFactor) { l.Quantity = decimal.Zero }), good, "lots", stats.ErrParameter},
		{"a negative quantity", one(func(l *lot.LotFactor) { l.Quantity = d("-1") }), good, "lots", stats.ErrParameter},
		{"no price", threeLots(), change(func(t *lot.TotalTerms) { t.UnitPrice = decimal.Decimal{} }), "t.UnitPrice", lot.ErrMissing},
		{"a negative price", threeLots(), change(func(t *lot.TotalTerms) { t.UnitPrice = d("-1") }), "t.UnitPrice", lot.ErrNegative},
		{"a price that fills the memory", threeLots(), change(func(t *lot.TotalTerms) { t.UnitPrice = long }), "t.UnitPrice", lot.ErrDigits},
		{"no unit", threeLots(), change(func(t *lot.TotalTerms) { t.QuantityUnit = "" }), "t.QuantityUnit", lot.ErrMissing},
		{"a unit of two lines", threeLots(), change(func(t *lot.TotalTerms) { t.QuantityUnit = "t\n" }), "t.QuantityUnit", lot.ErrText},
		{"a currency with a blank", threeLots(), change(func(t *lot.TotalTerms) { t.Currency = " USD" }), "t.Currency", lot.ErrText},
		{"no currency", threeLots(), change(func(t *lot.TotalTerms) { t.Currency = "" }), "t.Currency", lot.ErrMissing},
		{"no rounding of the factor", threeLots(), change(func(t *lot.TotalTerms) { t.Factor = units.Rounding{} }), "t.Factor", units.ErrRounding},
		{"money as it is", threeLots(), change(func(t *lot.TotalTerms) { t.Money = absolute }), "t.Money", units.ErrAbsolute},
	} {
		_, err := lot.TotalPay(tt.lots, tt.terms)
		var bad *stats.InputError
		if !errors.Is(err, tt.want) || !errors.As(err, &bad) || bad.Arg != tt.arg || bad.Arg == "lots" && len(tt.lots) > 0 && bad.Index != 1 {
			t.Errorf("%s: %v, want %v of %s", tt.name, err, tt.want, tt.arg)
		}
	}
}

// Numbers by hand, as in TestTotalPay.
func ExampleTotalPay() {
	// Invented lots and price.
	p, err := lot.TotalPay([]lot.LotFactor{
		{Lot: "1", Quantity: d("2400"), Factor: d("1.035")},
		{Lot: "2", Quantity: d("2100"), Factor: d("0.980")},
		{Lot: "3", Quantity: d("350"), Factor: d("0.760")},
	}, lot.TotalTerms{UnitPrice: d("82.40"), QuantityUnit: "t", Currency: "USD",
		Factor: units.Rounding{Method: units.HalfEven, Places: 4}, Money: units.Rounding{Method: units.HalfUp, Places: 2}})
	for _, s := range p.Working {
		fmt.Println(s)
	}
	fmt.Println(err)
	// Output:
	// adjustment of lot 1 = quantity·price·(factor - 1) = 2400 t x 82.40 x (1.035 - 1) = 6921.6 USD → 6921.60 USD (half-up to 0.01)
	// adjustment of lot 2 = quantity·price·(factor - 1) = 2100 t x 82.40 x (0.980 - 1) = -3460.8 USD → -3460.80 USD (half-up to 0.01)
	// adjustment of lot 3 = quantity·price·(factor - 1) = 350 t x 82.40 x (0.760 - 1) = -6921.6 USD → -6921.60 USD (half-up to 0.01)
	// weighted factor = Σ quantity·factor/Σ quantity = 4808/4850 = 0.991340206… → 0.9913 (half-even to 0.0001)
	// full pay = sum over the lots = 399640.00 USD
	// adjustment = sum over the lots = -3460.80 USD
	// pay = full pay + adjustment = 396179.20 USD
	// <nil>
}
