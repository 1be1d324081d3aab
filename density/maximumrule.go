package density

import (
	"errors"
	"strconv"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// ErrRule is the reason for refusing a rule for the maximum density that is not
// complete.
var ErrRule = errors.New("the rule for the maximum density needs a basis, a count for the moving average only, and a water density")

// MaximumBasis says which determinations of Gmm make the maximum density of a
// sublot. The zero value says nothing and is refused, because the basis moves
// decisions.
type MaximumBasis uint8

// The bases in use. Which one applies is for the contract to say.
const (
	OfSublot      MaximumBasis = iota + 1 // the mean of those from the sublot itself
	OfDay                                 // the mean of those of its day of production
	MovingAverage                         // the mean of the last k sampled by the time of the sublot
	Latest                                // the last one sampled by the time of the sublot
)

// String returns the basis in words, such as "mean of the day".
func (b MaximumBasis) String() string {
	switch b {
	case OfSublot:
		return "of the sublot"
	case OfDay:
		return "mean of the day"
	case MovingAverage:
		return "moving average"
	case Latest:
		return "latest"
	}
	return "no basis"
}

// MarshalText returns the words of the basis; empty for none. The error is nil.
func (b MaximumBasis) MarshalText() ([]byte, error) { return wordsOf(b) }

// UnmarshalText reads the words of a basis; empty text means none. The error is a
// [*units.ParseError] around [ErrRule].
func (b *MaximumBasis) UnmarshalText(text []byte) error {
	return readWords(b, Latest, "density.MaximumBasis.UnmarshalText", text, ErrRule)
}

// MaximumRule is what a contract says about the maximum density, as data: every
// field reads and writes as text in JSON.
type MaximumRule struct {
	Basis    MaximumBasis
	Count    int                   // k of MovingAverage, 1 or more; 0 for the others
	Rounding units.Rounding        // of the mean Gmm; 0.001 is usual
	Water    units.WaterConvention // that turns Gmm into a density
}

// Validate refuses a rule that is not complete. The error is a
// [*stats.InputError] around [ErrRule], [units.ErrRounding] or [units.ErrRange].
func (r MaximumRule) Validate() error { return r.validate("density.MaximumRule.Validate") }

func (r MaximumRule) validate(fn string) error {
	if err := r.Rounding.Validate(); err != nil {
		return stats.Refuse(fn, "Rounding", "", err)
	}
	switch {
	case r.Basis < OfSublot || r.Basis > Latest:
		return stats.Refuse(fn, "Basis", r.Basis.String(), ErrRule)
	case (r.Basis == MovingAverage) != (r.Count >= 1) || r.Count < 0:
		return stats.Refuse(fn, "Count", strconv.Itoa(r.Count), ErrRule)
	case r.Water.Density().IsZero():
		return stats.Refuse(fn, "Water", "", ErrRule)
	}
	return nil
}

// String returns the rule in words, such as "moving average of 4, half-even to
// 0.001, water 62.245 lb/ft3".
func (r MaximumRule) String() string {
	s := r.Basis.String()
	if r.Basis == MovingAverage {
		s += " of " + strconv.Itoa(r.Count)
	}
	return s + ", " + r.Rounding.String() + ", water " + r.Water.String()
}
