package lot_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

func schedule(t testing.TB) lot.Schedule {
	t.Helper()
	third, err := lot.Through(d("75"), d("0.90"), d("90"), d("1"))
	if err != nil {
		t.Fatal(err)
	}
	s, err := lot.NewSchedule(
		lot.Segment{From: d("0"), Reject: true},
		lot.Segment{From: d("50"), Pay: lot.Formula(d("0.40"), d("0.006"))},
		lot.Segment{From: d("75"), Pay: third},
		lot.Segment{From: d("90"), Pay: lot.Step(d("1.02"))})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// By hand: 0.4 + 0.006·60 = 0.76; from 0.90 at 75 to 1.00 at 90 is 0.95 at 82.5;
// each row starts at its first value.
func TestScheduleRows(t *testing.T) {
	s := schedule(t)
	for _, tt := range []struct {
		pwl, want string
		reject    bool
	}{{"0", "0", true}, {"49.99", "0", true}, {"50", "0.7", false}, {"60", "0.76", false}, {"74.999", "0.849994", false}, {"75", "0.9", false},
		{"82.5", "0.95", false}, {"89.999999", "0.999999993333", false}, {"90", "1.02", false}, {"100", "1.02", false}} {
		factor, reject, err := s.Factor(d(tt.pwl), halfEven(12))
		if err != nil || !factor.Equal(d(tt.want)) || reject != tt.reject {
			t.Errorf("PWL %s: %v, %v, %v; want %s, %v", tt.pwl, factor, reject, err, tt.want, tt.reject)
		}
		x, _ := d(tt.pwl).Float64()
		fast, fastReject, err := s.FactorAt(x)
		if want, _ := d(tt.want).Float64(); err != nil || math.Abs(fast-want) > 1e-11 || fastReject != tt.reject {
			t.Errorf("PWL %s, fast: %v, %v, %v; want %s", tt.pwl, fast, fastReject, err, tt.want)
		}
	}
}

func TestScheduleRefuses(t *testing.T) {
	s := schedule(t)
	for _, tt := range []struct {
		name string
		f    func() error
		want error
	}{
		{"no rows", func() error { _, err := lot.NewSchedule(); return err }, lot.ErrMissing},
		{"rows out of order", func() error {
			_, err := lot.NewSchedule(lot.Segment{From: d("50")}, lot.Segment{From: d("50")})
			return err
		}, lot.ErrOrder},
		{"an endless start", func() error { _, err := lot.NewSchedule(lot.Segment{From: decimal.New(1, 1<<30)}); return err }, lot.ErrDigits},
		{"an endless factor", func() error {
			_, err := lot.NewSchedule(lot.Segment{Pay: lot.Step(decimal.New(1, -1<<30))})
			return err
		}, lot.ErrDigits},
		{"factors in percent", func() error { _, err := lot.NewSchedule(lot.Segment{Pay: lot.Step(d("80"))}); return err }, lot.ErrOutOfDomain},
		{"a line in percent", func() error {
			_, err := lot.NewSchedule(lot.Segment{Reject: true}, lot.Segment{From: d("50"), Pay: lot.Formula(d("55"), d("0.5"))})
			return err
		}, lot.ErrOutOfDomain},
		{"a line in percent with a cap", func() error {
			_, err := lot.NewSchedule(lot.Segment{Pay: lot.Formula(d("55"), d("0.5")), Max: p("1.04")})
			return err
		}, lot.ErrOutOfDomain},
		{"the percentage up to 50", func() error {
			_, err := lot.NewSchedule(lot.Segment{Pay: lot.Formula(d("0"), d("1"))}, lot.Segment{From: d("50"), Pay: lot.Step(d("1"))})
			return err
		}, lot.ErrOutOfDomain},
		{"a cap in percent", func() error {
			_, err := lot.NewSchedule(lot.Segment{Pay: lot.Formula(d("0.55"), d("0.005")), Max: p("105")})
			return err
		}, lot.ErrOutOfDomain},
		{"a line through one point", func() error { _, err := lot.Through(d("1"), d("1"), d("1"), d("2")); return err }, lot.ErrOrder},
		{"an endless point", func() error { _, err := lot.Through(decimal.New(1, 1<<30), d("1"), d("2"), d("2")); return err }, lot.ErrDigits},
		{"below the schedule", func() error { _, _, err := s.Factor(d("-1"), halfEven(3)); return err }, lot.ErrNotCovered},
		{"a fraction", func() error { _, _, err := s.Factor(d("0.92"), halfEven(3)); return err }, lot.ErrScale},
		{"no places", func() error { _, _, err := s.Factor(d("92"), absolute); return err }, units.ErrAbsolute},
		{"no rule", func() error { _, _, err := s.Factor(d("92"), units.Rounding{}); return err }, units.ErrRounding},
		{"no schedule", func() error { _, _, err := lot.Schedule{}.Factor(d("92"), halfEven(3)); return err }, lot.ErrMissing},
		{"an endless measure", func() error { _, _, err := s.Factor(decimal.New(1, 1<<30), halfEven(3)); return err }, lot.ErrDigits},
		{"fast, NaN", func() error { _, _, err := s.FactorAt(math.NaN()); return err }, stats.ErrNotFinite},
		{"fast, infinite", func() error { _, _, err := s.FactorAt(math.Inf(-1)); return err }, stats.ErrNotFinite},
		{"fast, below", func() error { _, _, err := s.FactorAt(-1); return err }, lot.ErrNotCovered},
		{"fast, no schedule", func() error { _, _, err := lot.Schedule{}.FactorAt(1); return err }, lot.ErrMissing},
	} {
		if err := tt.f(); !errors.Is(err, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}

// The percentage itself as the factor of a last row: a full lot would be paid a
// hundredfold, or as much as the cap says, whatever it is worth.
func TestFactorsInPercentAreNotPaid(t *testing.T) {
	for _, most := range []*decimal.Decimal{nil, p("1.04")} {
		c := terms(t, lot.AtLeast(92))
		c.Schedule = rows(t, lot.Segment{Pay: lot.Formula(d("0"), d("1")), Max: most})
		if e, err := plan(t, c).Evaluate(lotOf("93.2", "92.1", "94.3", "91.8")); !errors.Is(err, lot.ErrOutOfDomain) {
			t.Errorf("cap %v: factor %v, %v", most, e.Factor, err)
		}
	}
}

// What is taken for a fraction. By hand: 0.55 + 0.005·0.92 = 0.5546 would pay a lot of
// 92 percent little more than half; 0.55 + 0.5·0.92 = 1.01 is that of a line over a
// fraction, 0.9 a step of a table of deviations.
func TestFactorOfAFraction(t *testing.T) {
	one := func(rows ...lot.Segment) lot.Schedule {
		s, err := lot.NewSchedule(rows...)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	line, err := lot.PayLine{Intercept: 0.55, Slope: 0.005, Cap: 1.05}.Schedule()
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name string
		s    lot.Schedule
		want string // "" where it is refused
	}{
		{"a line", one(lot.Segment{Pay: lot.Formula(d("0.55"), d("0.005"))}), ""},
		{"a line with a cap", line, ""},
		{"rejection below 40", one(lot.Segment{Reject: true}, lot.Segment{From: d("40"), Pay: lot.Step(d("1"))}), ""},
		{"a line over a fraction", one(lot.Segment{Pay: lot.Formula(d("0.55"), d("0.5"))}), "1.01"},
		{"the same with a cap", one(lot.Segment{Pay: lot.Formula(d("0.55"), d("0.5")), Max: p("1.05")}), "1.01"},
		{"a table of deviations", one(lot.Segment{Pay: lot.Step(d("1"))}, lot.Segment{From: d("0.5"), After: true, Pay: lot.Step(d("0.9"))}), "0.9"},
	} {
		f, _, err := tt.s.Factor(d("0.92"), halfEven(4))
		if tt.want == "" && !errors.Is(err, lot.ErrScale) || tt.want != "" && (err != nil || !f.Equal(d(tt.want))) {
			t.Errorf("%s: %v, %v", tt.name, f, err)
		}
	}
	if f, _, err := line.Factor(d("92"), halfEven(4)); err != nil || !f.Equal(d("1.01")) {
		t.Errorf("percent: %v, %v", f, err)
	}
}

// The exact and the fast form agree but for rounding.
func TestScheduleFormsAgree(t *testing.T) {
	s, rng := schedule(t), rand.New(rand.NewPCG(19, 20))
	for range 2000 {
		pwl := decimal.New(int64(1e5+rng.IntN(100e5-1e5)), -5)
		exact, reject, err := s.Factor(pwl, halfEven(15))
		if err != nil {
			t.Fatal(err)
		}
		x, _ := pwl.Float64()
		fast, fastReject, err := s.FactorAt(x)
		if want, _ := exact.Float64(); err != nil || math.Abs(fast-want) > 1e-13 || reject != fastReject {
			t.Errorf("PWL %v: %v and %v, %v", pwl, exact, fast, err)
		}
	}
	if n := testing.AllocsPerRun(100, func() { _, _, _ = s.FactorAt(83.7) }); n != 0 {
		t.Errorf("FactorAt allocates %v times", n)
	}
}

func TestCompositeRefuses(t *testing.T) {
	for name, parts := range map[string][]lot.CharacteristicFactor{
		"nothing":            nil,
		"weights short of 1": {{Factor: d("1"), Weight: d("0.5")}, {Factor: d("1"), Weight: d("0.4")}},
		"a negative weight":  {{Factor: d("1"), Weight: d("1.5")}, {Factor: d("1"), Weight: d("-0.5")}},
		"an endless factor":  {{Factor: decimal.New(1, 1<<30), Weight: d("1")}},
		"no factor":          {{Weight: d("1")}},
		"a negative factor":  {{Factor: d("-1"), Weight: d("1")}},
		"factors in percent": {{Factor: d("95"), Weight: d("1")}},
		"weights in percent": {{Factor: d("1"), Weight: d("60")}, {Factor: d("1"), Weight: d("40")}},
	} {
		if f, err := lot.Composite(parts, lot.CompositeTerms{Rule: lot.WeightedSum, Rounding: halfEven(3)}); err == nil {
			t.Errorf("%s: %v", name, f)
		}
	}
	twice := []lot.CharacteristicFactor{{Name: "density", Factor: d("0.9")}, {Name: "voids", Factor: d("1")}, {Name: "density", Factor: d("0.9")}}
	if f, err := lot.Composite(twice, lot.CompositeTerms{Rule: lot.Product, Rounding: halfEven(3)}); !errors.Is(err, lot.ErrRepeatedID) || !strings.Contains(err.Error(), "parts[2]") {
		t.Errorf("a characteristic twice: %v, %v", f, err)
	}
	twice[2].Name = "density "
	if f, err := lot.Composite(twice, lot.CompositeTerms{Rule: lot.Product, Rounding: halfEven(3)}); !errors.Is(err, lot.ErrText) || !strings.Contains(err.Error(), "parts[2]") {
		t.Errorf("a characteristic twice, with a blank: %v, %v", f, err)
	}
	// Two factors below 0 would make a product above it.
	negative := []lot.CharacteristicFactor{{Factor: d("-1")}, {Factor: d("-1")}}
	if f, err := lot.Composite(negative, lot.CompositeTerms{Rule: lot.Product, Rounding: halfEven(3)}); !errors.Is(err, lot.ErrNegative) {
		t.Errorf("negative factors: %v, %v", f, err)
	}
	if f, err := lot.Composite([]lot.CharacteristicFactor{{Factor: d("1")}}, lot.CompositeTerms{Rule: lot.Lowest, Max: p("-1"), Rounding: halfEven(3)}); !errors.Is(err, lot.ErrNegative) {
		t.Errorf("a negative cap: %v, %v", f, err)
	}
	if _, err := lot.MeanAbsoluteDeviation(nil, d("4"), halfEven(2)); !errors.Is(err, stats.ErrTooFew) {
		t.Errorf("no values: %v", err)
	}
	if _, err := lot.MeanAbsoluteDeviation([]decimal.Decimal{decimal.New(1, 1<<30)}, d("4"), halfEven(2)); !errors.Is(err, lot.ErrDigits) {
		t.Errorf("an endless value: %v", err)
	}
	if v, err := lot.MeanAbsoluteDeviation([]decimal.Decimal{d("3.5"), {}}, decimal.Zero, halfEven(2)); !errors.Is(err, lot.ErrMissing) || !strings.Contains(err.Error(), "values[1]") {
		t.Errorf("a missing value: %v, %v", v, err)
	}
}
