package density

import (
	"fmt"
	"math/big"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Gradation is the side of the maximum density line on which a mix lies. The zero
// value is not given.
type Gradation uint8

// The gradations.
const (
	FineGraded Gradation = iota + 1
	CoarseGraded
)

// String returns the gradation in words.
func (g Gradation) String() string {
	switch g {
	case FineGraded:
		return "fine-graded"
	case CoarseGraded:
		return "coarse-graded"
	}
	return "no gradation"
}

// MarshalText returns the words, empty for no gradation. The error is nil.
func (g Gradation) MarshalText() ([]byte, error) { return wordsOf(g) }

// UnmarshalText reads the words; empty text means no gradation. The error is a
// [*units.ParseError] around [ErrGradation].
func (g *Gradation) UnmarshalText(text []byte) error {
	return readWords(g, CoarseGraded, "density.Gradation.UnmarshalText", text, ErrGradation)
}

// LiftPolicy is how many times its nominal maximum aggregate size a compacted lift
// must at least be thick. That of the gradation is needed. NCHRP Report 531 (2004)
// recommends 3 for fine-graded and 4 for coarse-graded mixes (from memory).
type LiftPolicy struct{ Fine, Coarse decimal.Decimal }

// Lift says whether a lift is thick enough to be compacted.
type Lift struct {
	Ratio    float64         // thickness over nominal maximum aggregate size
	Required decimal.Decimal // the ratio of the policy for the gradation
	Least    units.Length    // thickness that would do, in the unit of the thickness
	Met      bool            // thickness is at least Required · size, decided exactly
	Warnings []stats.Warning // [WarnThinLift] where not met
}

// CheckLift compares the thickness of a compacted lift with the nominal maximum
// aggregate size of its mix:
//
//	thickness ≥ ratio · size
//
// decided exactly, also for a thickness in inches and a size in millimetres. A lift
// that is too thin cools and bridges before it is dense, so a gauge or a core from
// it says little about the rolling.
//
// Errors are [*stats.InputError] around [units.ErrNotGiven] and [units.ErrRange]
// (lengths, ratios of the policy) or [ErrGradation].
func CheckLift(thickness, size units.Length, g Gradation, p LiftPolicy) (Lift, error) {
	const fn = "density.CheckLift"
	required, err := p.ratio(fn, g)
	if err != nil {
		return Lift{}, err
	}
	if err := positiveLength(fn, "thickness", thickness); err != nil {
		return Lift{}, err
	}
	if err := positiveLength(fn, "size", size); err != nil {
		return Lift{}, err
	}
	unit := thickness.Unit()
	have, one := thickness.Exact(unit), size.Exact(unit)
	least := new(big.Rat).Mul(required.Rat(), one)
	l := Lift{Ratio: float(new(big.Rat).Quo(have, one)), Required: required, Least: unit.Of(float(least)), Met: have.Cmp(least) >= 0}
	if l.Least.IsZero() || l.Ratio > maxRatio {
		return Lift{}, stats.Refuse(fn, "size", size.String(), units.ErrRange)
	}
	if !l.Met {
		l.Warnings = []stats.Warning{{Code: WarnThinLift, Text: fmt.Sprintf("the lift is %.2f times the nominal maximum aggregate size, less than %v for a %v mix; %s would do",
			l.Ratio, required, g, l.Least.Text(unit))}}
	}
	return l, nil
}

// maxRatio is far beyond any lift; more is a slip of the unit.
const maxRatio = 1e6

func (p LiftPolicy) ratio(fn string, g Gradation) (decimal.Decimal, error) {
	if g != FineGraded && g != CoarseGraded {
		return decimal.Decimal{}, stats.Refuse(fn, "g", g.String(), ErrGradation)
	}
	ratio, name := p.Fine, "p.Fine"
	if g == CoarseGraded {
		ratio, name = p.Coarse, "p.Coarse"
	}
	// the exponent first: an absurd one would fill the memory
	if e := ratio.Exponent(); e > 6 || e < -30 || ratio.Sign() <= 0 {
		return decimal.Decimal{}, stats.Refuse(fn, name, "", fmt.Errorf("%w; a ratio such as 3 is needed", units.ErrRange))
	}
	return ratio, nil
}

func positiveLength(fn, arg string, l units.Length) error {
	switch {
	case l.IsZero():
		return stats.Refuse(fn, arg, "", units.ErrNotGiven)
	case l.In(l.Unit()) <= 0:
		return stats.Refuse(fn, arg, l.String(), units.ErrRange)
	}
	return nil
}
