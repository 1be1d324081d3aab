package density

import (
	"fmt"
	"math"
	"math/big"
	"strconv"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Ratio is a proportional correction as it is handed over.
type Ratio struct {
	Ratio  float64 // core/gauge, as recorded, such as 1.015
	StdErr float64 // standard error of Ratio; 0 if not known
	DF     float64 // degrees of freedom of StdErr; 0 if not known
	Scope  Scope   // gauge, mix and lift, which are needed; base and days where they matter
	Made   Date    // day of the comparison; not given if not known
	Source string  // who estimated it, from what; needed
}

// NewRatio returns the correction by a constant ratio:
//
//	corrected = ratio · reading,   ratio = mean core/mean gauge
//
// The ratio is the decimal number recorded: 1.015 is exactly 1.015. It holds in
// any unit of density.
//
// Errors are [*stats.InputError] around [units.ErrRange] (a ratio that is not
// positive and finite) or as of [NewOffset].
func NewRatio(o Ratio) (Correction, error) {
	const fn = "density.NewRatio"
	slope, err := exactSlope(fn, "o.Ratio", o.Ratio)
	if err != nil {
		return Correction{}, err
	}
	if err := checkCorrection(fn, o.Scope, o.Source, o.StdErr, o.DF); err != nil {
		return Correction{}, err
	}
	return Correction{model: ConstantRatio, slope: slope, intercept: new(big.Rat), record: Line{Slope: o.Ratio, SlopeStdErr: o.StdErr,
		DF: o.DF, Scope: o.Scope, Made: o.Made, Source: o.Source}}, nil
}

// Line is a correction by a straight line as it is handed over.
type Line struct {
	Slope       float64                 // of core on gauge, as recorded
	Intercept   units.DensityDifference // added to Slope·reading
	Low, High   units.Density           // lowest and highest reading it was estimated from; needed
	Centre      units.Density           // mean of those readings; needed where SlopeStdErr is given
	StdErr      float64                 // of the corrected density at Centre, in the unit of Intercept; 0 if not known
	SlopeStdErr float64                 // standard error of Slope; 0 if not known
	DF          float64                 // degrees of freedom of both; 0 if not known
	Scope       Scope                   // gauge, mix and lift, which are needed; base and days where they matter
	Made        Date                    // day of the comparison; not given if not known
	Source      string                  // who estimated it, from what; needed
}

// NewLine returns the correction by a straight line:
//
//	corrected = slope · reading + intercept
//
// Slope and intercept are the decimal numbers recorded. A reading beyond Low or
// High is corrected all the same, and where there is a result to carry it
// [WarnExtrapolated] says so.
//
// Errors are [*stats.InputError] around [units.ErrRange] (a slope that is not
// positive and finite, Low above High, Centre not between), [units.ErrNotGiven]
// (intercept, Low, High, Centre), [ErrUnitMismatch], or as of [NewOffset].
func NewLine(o Line) (Correction, error) {
	const fn = "density.NewLine"
	slope, err := exactSlope(fn, "o.Slope", o.Slope)
	if err != nil {
		return Correction{}, err
	}
	if err := checkCorrection(fn, o.Scope, o.Source, o.StdErr, o.DF); err != nil {
		return Correction{}, err
	}
	if err := o.check(fn); err != nil {
		return Correction{}, err
	}
	return Correction{model: StraightLine, slope: slope, intercept: o.Intercept.Exact(o.Intercept.Unit()), record: o}, nil
}

func (o Line) check(fn string) error {
	if o.Intercept.IsZero() {
		return stats.Refuse(fn, "o.Intercept", "", units.ErrNotGiven)
	}
	if !(o.SlopeStdErr >= 0) || math.IsInf(o.SlopeStdErr, 1) {
		return stats.Refuse(fn, "o.SlopeStdErr", fmt.Sprint(o.SlopeStdErr), units.ErrRange)
	}
	for _, f := range []struct {
		name string
		d    units.Density
	}{{"o.Low", o.Low}, {"o.High", o.High}, {"o.Centre", o.Centre}} {
		if f.name == "o.Centre" && f.d.IsZero() && o.SlopeStdErr == 0 {
			continue
		}
		if err := check(fn, f.name, -1, f.d); err != nil {
			return err
		}
		if err := checkUnit(fn, f.name, -1, f.d, o.Intercept.Unit()); err != nil {
			return err
		}
	}
	if o.Low.Compare(o.High) > 0 {
		return stats.Refuse(fn, "o.Low", o.Low.String(), fmt.Errorf("%w: above o.High", units.ErrRange))
	}
	if !o.Centre.IsZero() && (o.Centre.Compare(o.Low) < 0 || o.Centre.Compare(o.High) > 0) {
		return stats.Refuse(fn, "o.Centre", o.Centre.String(), fmt.Errorf("%w: not from o.Low to o.High", units.ErrRange))
	}
	return nil
}

// exactSlope takes the shortest decimal text of a number as the number.
func exactSlope(fn, arg string, x float64) (*big.Rat, error) {
	text := strconv.FormatFloat(x, 'g', -1, 64)
	if !(x > 0) || math.IsInf(x, 1) {
		return nil, stats.Refuse(fn, arg, text, fmt.Errorf("%w: must be positive and finite", units.ErrRange))
	}
	exact, _ := new(big.Rat).SetString(text)
	return exact, nil
}
