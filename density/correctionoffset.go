package density

import (
	"fmt"
	"math"
	"math/big"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Offset is a constant correction as it is handed over: by package bias, or on
// paper.
type Offset struct {
	Offset units.DensityDifference // core - gauge, added to every reading
	Exact  *big.Rat                // the same without rounding in the same unit; nil if the record is exact
	StdErr float64                 // standard error in the unit of Offset; 0 if not known
	DF     float64                 // degrees of freedom of StdErr; 0 if not known
	Scope  Scope                   // gauge, mix and lift, which are needed; base and days where they matter
	Made   Date                    // day of the comparison; not given if not known
	Source string                  // who estimated it, from what; needed
}

// NewOffset returns the correction that adds a constant offset:
//
//	corrected = reading + offset,   offset = mean core - mean gauge
//
// positive when the gauge reads low. It serves an offset handed over on paper as
// well as one that package bias estimated.
//
// Errors are [*stats.InputError] around [units.ErrNotGiven] (offset), [ErrScope]
// (an empty gauge, mix or lift), [ErrDay] (its days in the wrong order), [ErrNoSource] or [units.ErrRange] (a standard
// error or degrees of freedom that are negative or not finite).
func NewOffset(o Offset) (Correction, error) {
	const fn = "density.NewOffset"
	if o.Offset.IsZero() {
		return Correction{}, stats.Refuse(fn, "o.Offset", "", units.ErrNotGiven)
	}
	if err := checkCorrection(fn, o.Scope, o.Source, o.StdErr, o.DF); err != nil {
		return Correction{}, err
	}
	intercept := o.Offset.Exact(o.Offset.Unit())
	if o.Exact != nil {
		intercept = new(big.Rat).Set(o.Exact) // a copy, so that a caller cannot change it later
	}
	return Correction{model: ConstantOffset, slope: big.NewRat(1, 1), intercept: intercept, record: Line{Slope: 1, Intercept: o.Offset,
		StdErr: o.StdErr, DF: o.DF, Scope: o.Scope, Made: o.Made, Source: o.Source}}, nil
}

// checkCorrection checks what every correction has.
func checkCorrection(fn string, s Scope, source string, stdErr, df float64) error {
	if err := s.check(); err != nil {
		return stats.Refuse(fn, "o.Scope", s.String(), err)
	}
	switch {
	case source == "":
		return stats.Refuse(fn, "o.Source", "", ErrNoSource)
	case !(stdErr >= 0) || math.IsInf(stdErr, 1):
		return stats.Refuse(fn, "o.StdErr", fmt.Sprint(stdErr), units.ErrRange)
	case !(df >= 0) || math.IsInf(df, 1):
		return stats.Refuse(fn, "o.DF", fmt.Sprint(df), units.ErrRange)
	}
	return nil
}
