package density_test

import (
	"errors"
	"math"
	"testing"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/units"
)

func TestPlausible(t *testing.T) {
	sg := units.SpecificGravityOf
	both := density.Plausible[units.SpecificGravity]{Low: sg(2.48), High: sg(2.53)}
	for _, tt := range []struct {
		p    density.Plausible[units.SpecificGravity]
		x    units.SpecificGravity
		warn bool
	}{
		{both, sg(2.48), false}, {both, sg(2.53), false}, {both, sg(2.479), true}, {both, sg(2.531), true}, {both, units.SpecificGravity{}, false},
		{density.Plausible[units.SpecificGravity]{Low: sg(2.48)}, sg(9), false}, {density.Plausible[units.SpecificGravity]{High: sg(2.53)}, sg(9), true},
		{density.Plausible[units.SpecificGravity]{}, sg(9), false},
	} {
		if ws := tt.p.Warnings("x", tt.x); hasWarning(ws, density.WarnImplausible) != tt.warn {
			t.Errorf("%v in %v: %v", tt.x, tt.p, ws)
		}
	}
	for _, bad := range []density.Plausible[units.SpecificGravity]{{}, {Low: sg(2.6), High: sg(2.4)}} {
		if err := bad.Validate(); !errors.Is(err, density.ErrBounds) {
			t.Errorf("%v: %v", bad, err)
		}
	}
	if err := both.Validate(); err != nil {
		t.Error(err)
	}
	// A range in one unit judges a mass in another.
	sample := density.Plausible[units.Mass]{Low: units.Gram.Of(1500)}
	if ws := sample.Warnings("sample", units.Pound.Of(3)); len(ws) != 1 || ws[0].Text != "3 lb is not within the range that the project expects (at least 1500 g); check the record for a slip" {
		t.Errorf("a small sample: %v", ws)
	}
}

// d2s is 2√2·s to the rounding of the standard, which catches a slip in either; the
// one that is not is known.
func TestRememberedPrecisionIsConsistent(t *testing.T) {
	for _, p := range density.RememberedPrecision() {
		if err := p.Validate(); err != nil {
			t.Error(err)
		}
		s, d2s := p.StdDev.InexactFloat64(), p.D2S.InexactFloat64()
		half := 0.5 * math.Pow10(int(p.D2S.Exponent()))
		half += 2 * math.Sqrt2 * 0.5 * math.Pow10(int(p.StdDev.Exponent()))                                          // s is rounded too
		odd := p.Edition == "2005" && p.Property == "Gmm without dry-back" && p.Operators == density.Multilaboratory // 0.0064 and 0.019
		if (math.Abs(2*math.Sqrt2*s-d2s) > half) != odd {
			t.Errorf("%v: 2√2·s is %.4f", p, 2*math.Sqrt2*s)
		}
		if p.Note != "from memory" {
			t.Errorf("%v does not say how it is known", p)
		}
	}
	density.RememberedPrecision()[0].D2S = anyMass
	if density.RememberedPrecision()[0].D2S.Equal(anyMass) {
		t.Error("the list of one caller is the list of another")
	}
}

func TestDuplicates(t *testing.T) {
	p := density.Precision{Standard: "invented", Edition: "1", Property: "Gmm", Operators: density.SingleOperator, D2S: decimal.RequireFromString("0.014")}
	sg := units.SpecificGravityOf
	for _, tt := range []struct {
		a, b   float64
		within bool
	}{{2.512, 2.512, true}, {2.501, 2.515, true}, {2.515, 2.501, true}, {2.501, 2.5151, false}, {2.5, 2.4, false}} {
		d, err := p.GravityDuplicates(sg(tt.a), sg(tt.b))
		if err != nil || d.Within != tt.within || hasWarning(d.Warnings, density.WarnBeyondD2S) == tt.within {
			t.Errorf("%v and %v: %+v, %v", tt.a, tt.b, d, err)
		}
	}
	// In float64, 2.515 - 2.501 is more than 0.014: noise that must not count.
	if x, y := 2.515, 2.501; x-y <= 0.014 {
		t.Error("the pair above shows nothing")
	}
	for name, err := range map[string]error{
		"not given":      second(p.GravityDuplicates(sg(2.5), units.SpecificGravity{})),
		"negative":       second(p.Duplicates(anyMass, anyMass.Neg())),
		"no standard":    second(density.Precision{Operators: density.SingleOperator, D2S: anyMass}.Duplicates(anyMass, anyMass)),
		"no operators":   second(density.Precision{Standard: "x", D2S: anyMass}.Duplicates(anyMass, anyMass)),
		"no d2s":         second(density.Precision{Standard: "x", Operators: density.Multilaboratory}.Duplicates(anyMass, anyMass)),
		"a negative s":   density.Precision{Standard: "x", Operators: density.Multilaboratory, D2S: anyMass, StdDev: anyMass.Neg()}.Validate(),
		"memory filling": second(p.Duplicates(decimal.New(1, math.MaxInt32), anyMass)),
	} {
		if err == nil {
			t.Errorf("%s was judged", name)
		}
	}
	// An exponent of two thousand million is refused before its digits are written out.
	absurd := decimal.New(1, math.MaxInt32)
	for _, p := range []density.Precision{{Standard: "x", Operators: density.Multilaboratory, D2S: absurd}, {D2S: anyMass, StdDev: absurd}} {
		if err := p.Validate(); !errors.Is(err, density.ErrPrecision) || !errors.Is(err, units.ErrDigits) {
			t.Error(err)
		}
	}
}
