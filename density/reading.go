package density

import (
	"strings"

	"github.com/densilot/densilot/units"
)

// Reading is a density as the gauge showed it, before any correction. It is
// relative to the mix: only a [Correction] makes an in-place density of it. The
// zero value is not given.
type Reading struct{ d units.Density }

// Uncorrected marks d as what the gauge showed. A reading that was recorded
// already corrected enters through [AlreadyCorrected] instead.
func Uncorrected(d units.Density) Reading { return Reading{d} }

// Density returns the number that the gauge showed.
func (r Reading) Density() units.Density { return r.d }

// IsZero reports whether r is not given.
func (r Reading) IsZero() bool { return r.d.IsZero() }

// Equal reports whether r and other are the same amount.
func (r Reading) Equal(other Reading) bool { return r.d.Equal(other.d) }

// String returns the record with its stage, such as "144.1 lb/ft3 uncorrected".
func (r Reading) String() string {
	if r.IsZero() {
		return ""
	}
	return r.d.String() + uncorrected
}

const uncorrected = " uncorrected"

// MarshalText returns what String returns. The error is nil.
func (r Reading) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// UnmarshalText reads what String writes; empty text means not given. Errors are those
// of [units.ParseDensity], or [*units.ParseError] around [ErrStage] where the text does
// not say that the reading is uncorrected.
func (r *Reading) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*r = Reading{}
		return nil
	}
	number, ok := strings.CutSuffix(string(text), uncorrected)
	if !ok {
		return &units.ParseError{Func: "density.Reading.UnmarshalText", Text: string(text), Err: ErrStage, Need: "text like 144.1 lb/ft3 uncorrected"}
	}
	d, err := units.ParseDensity(number)
	if err == nil {
		*r = Reading{d}
	}
	return err
}
