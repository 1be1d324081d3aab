package lot_test

import (
	"errors"
	"math"
	"testing"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
)

func pairTerms(d2s string, difference, power float64) lot.PairTerms {
	return lot.PairTerms{Characteristic: "density of a core", Unit: "% of maximum theoretical density", D2S: d(d2s), Source: "invented, two laboratories", Difference: difference, Power: power}
}

// Decided on decimals: 93.2 - 92.9 and 95.1 - 94.8 are more than 0.3 as float64,
// and not as recorded.
func TestVerifyPair(t *testing.T) {
	for _, tt := range []struct {
		contractor, agency, d2s, difference string // by hand
		finding                             lot.Finding
	}{
		{"93.2", "92.9", "0.3", "0.3", lot.DifferenceNotShown},
		{"94.8", "95.1", "0.3", "-0.3", lot.DifferenceNotShown},
		{"93.21", "92.9", "0.3", "0.31", lot.DifferenceShown},
		{"92.9", "93.21", "0.3", "-0.31", lot.DifferenceShown},
		{"2.345", "2.345", "0.02", "0", lot.DifferenceNotShown},
	} {
		v, err := lot.VerifyPair(d(tt.contractor), d(tt.agency), pairTerms(tt.d2s, 0.5, 0.9))
		if err != nil || !v.Difference.Equal(d(tt.difference)) || v.Finding != tt.finding {
			t.Errorf("%s and %s: %v, %v, %v", tt.contractor, tt.agency, v.Difference, v.Finding, err)
		}
	}
}

// R 4.2.2 with s <- d2s/qnorm(.975): pnorm((D-d2s)/s) + pnorm((-D-d2s)/s), uniroot of
// it, and the pairs by power.t.test(delta = D, sd = s, type = "paired", strict = TRUE).
func TestDetectionOfAPair(t *testing.T) {
	for _, tt := range []struct{ power, want, detectable float64 }{
		{0.9, 0.231897776161, 1.32309165367},
		{0.06, 0.231897776161, 0.120244505754},
	} {
		v, err := lot.VerifyPair(d("93.2"), d("92.9"), pairTerms("0.8", 0.5, tt.power))
		if err != nil || math.Abs(v.Detection.Power-tt.want) > 1e-11 || math.Abs(v.Detection.Detectable-tt.detectable) > 1e-10 {
			t.Errorf("%+v, %v", v.Detection, err)
		}
		if tt.power == 0.9 && (v.Detection.Enough != 10 || !has(v.Warnings, lot.WarnLittlePower)) {
			t.Errorf("%d pairs, %v", v.Detection.Enough, v.Warnings)
		}
	}
}

func TestVerifyPairRefuses(t *testing.T) {
	good := pairTerms("0.8", 0.5, 0.9)
	change := func(f func(*lot.PairTerms)) lot.PairTerms {
		terms := good
		f(&terms)
		return terms
	}
	long := decimal.New(1, 1_000_000_000)
	for _, tt := range []struct {
		name       string
		contractor decimal.Decimal
		agency     decimal.Decimal
		terms      lot.PairTerms
		arg        string
		want       error
	}{
		{"no characteristic", d("1"), d("1"), change(func(t *lot.PairTerms) { t.Characteristic = "" }), "t.Characteristic", lot.ErrMissing},
		{"no unit", d("1"), d("1"), change(func(t *lot.PairTerms) { t.Unit = "" }), "t.Unit", lot.ErrMissing},
		{"a characteristic of two lines", d("1"), d("1"), change(func(t *lot.PairTerms) { t.Characteristic = "G\nmb" }), "t.Characteristic", lot.ErrText},
		{"a unit that no one sees", d("1"), d("1"), change(func(t *lot.PairTerms) { t.Unit = "\u200b" }), "t.Unit", lot.ErrText},
		{"a source of two lines", d("1"), d("1"), change(func(t *lot.PairTerms) { t.Source = "a\nb" }), "t.Source", lot.ErrText},
		{"no source", d("1"), d("1"), change(func(t *lot.PairTerms) { t.Source = "" }), "t.Source", lot.ErrMissing},
		{"no result", decimal.Decimal{}, d("1"), good, "contractor", lot.ErrMissing},
		{"no result of the agency", d("0"), decimal.Decimal{}, good, "agency", lot.ErrMissing},
		{"no limit", d("1"), d("1"), change(func(t *lot.PairTerms) { t.D2S = decimal.Zero }), "t.D2S", stats.ErrParameter},
		{"a limit that fills the memory", d("1"), d("1"), change(func(t *lot.PairTerms) { t.D2S = long }), "t.D2S", lot.ErrDigits},
		{"no difference", d("1"), d("1"), change(func(t *lot.PairTerms) { t.Difference = 0 }), "t.Difference", stats.ErrParameter},
		{"difference NaN", d("1"), d("1"), change(func(t *lot.PairTerms) { t.Difference = math.NaN() }), "t.Difference", stats.ErrParameter},
		{"difference infinite", d("1"), d("1"), change(func(t *lot.PairTerms) { t.Difference = math.Inf(1) }), "t.Difference", stats.ErrParameter},
		{"no power", d("1"), d("1"), change(func(t *lot.PairTerms) { t.Power = 0 }), "t.Power", stats.ErrLevel},
		{"power of the limit", d("1"), d("1"), change(func(t *lot.PairTerms) { t.Power = 0.05 }), "t.Power", stats.ErrParameter},
		{"contractor that fills the memory", long, d("1"), good, "contractor", lot.ErrDigits},
		{"agency that fills the memory", d("1"), long, good, "agency", lot.ErrDigits},
	} {
		_, err := lot.VerifyPair(tt.contractor, tt.agency, tt.terms)
		var bad *stats.InputError
		if !errors.Is(err, tt.want) || !errors.As(err, &bad) || bad.Arg != tt.arg || bad.Func != "lot.VerifyPair" {
			t.Errorf("%s: %v, want %v of %s", tt.name, err, tt.want, tt.arg)
		}
	}
}
