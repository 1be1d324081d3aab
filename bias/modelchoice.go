package bias

import (
	"fmt"
	"math"
	"math/big"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// WarnFlat is the code of the warning that a slope was not shown to be above 0.
const WarnFlat stats.WarningCode = "no-rise"

// recommend applies the rule of [CompareModels] and notes the figures. exact says that
// the pairs leave no scatter, whatever rounding made of it in the fit.
func (m *ModelComparison) recommend(level float64, exact bool) {
	say := func(format string, args ...any) { m.Reasons = append(m.Reasons, fmt.Sprintf(format, args...)) }
	ci := m.Line.SlopeCI
	switch {
	case exact:
		say("the slope is %.3f, and there is no scatter to test it by", m.Line.Slope.Value)
	case ci.Shape == stats.Between:
		say("the slope is %.3f, %g%% interval %.3f to %.3f; slope one has p = %.2g", m.Line.Slope.Value, 100*level, ci.Lo, ci.Hi, m.SlopeP)
	default:
		say("the slope is %.3f and no finite interval holds it; slope one has p = %.2g", m.Line.Slope.Value, m.SlopeP)
	}
	say("%v", m.Errors)
	say("the cores span %.2f %v, the differences have a standard deviation of %.2f", m.CoreRange, m.Unit, m.Offset.StdDev)
	if m.AICc != nil {
		say("AICc: offset %.1f, ratio %.1f, line %.1f; the smallest is best, differences below 2 say little", m.AICc.Offset, m.AICc.Ratio, m.AICc.Line)
	}
	rises := m.rises()
	// by both, because the test by angle takes a slope of -1 for 1
	rejected := rises && !ci.Contains(1) && m.SlopeP < 1-level
	switch intercept := m.Line.InterceptCI; {
	case exact:
		m.Recommended = density.ConstantOffset
		say("the pairs lie on one line to the last digit; the offset stays for want of better")
	case !rises:
		m.Recommended = density.ConstantOffset
		say("the slope was not shown to be above 0, so a ratio or a line has no ground; the offset stays for want of better")
	case !rejected:
		m.Recommended = density.ConstantOffset
		say("slope one is not rejected, so the offset is enough over this range; that does not show that the slope is one")
	case intercept.Contains(0):
		m.Recommended = density.ConstantRatio
		say("slope one is rejected and the intercept can't be told from 0, so a ratio is enough")
	default:
		m.Recommended = density.StraightLine
		say("slope one is rejected and the intercept's interval, %.3g to %.3g, leaves out 0", intercept.Lo, intercept.Hi)
	}
}

// rises reports whether the cores were shown to rise with the readings.
func (m *ModelComparison) rises() bool {
	return m.Line.SlopeCI.Shape == stats.Between && m.Line.SlopeCI.Lo > 0
}

func (m *ModelComparison) warn(exact bool) {
	if exact {
		m.Warnings = append(m.Warnings, stats.Warning{Code: WarnNoSpread,
			Text: fmt.Sprintf("all %d pairs lie on one line to the last digit; check that the cores were not computed from the readings", m.N)})
	} else {
		m.Warnings = append(m.Warnings, m.Line.Warnings...)
	}
	if !m.rises() {
		m.Warnings = append(m.Warnings, stats.Warning{Code: WarnFlat,
			Text: "the cores do not show that they rise with the readings; cut cores over a wider range of density before relying on any correction"})
	}
}

// ModelPredictions is what the three models make of one reading, not rounded.
type ModelPredictions struct {
	Offset, Ratio, Line units.Density
	Extrapolated        bool // the reading lies outside Low to High, where the models part and no core was cut
}

// At corrects one reading by each of the three models, to see what the choice is
// worth.
//
// Errors are [*stats.InputError] around [units.ErrNotGiven] (the reading or m),
// [density.ErrNotPositive] or [density.ErrUnitMismatch].
func (m ModelComparison) At(reading density.Reading) (ModelPredictions, error) {
	const fn = "bias.ModelComparison.At"
	d := reading.Density()
	switch {
	case d.IsZero():
		return ModelPredictions{}, stats.Refuse(fn, "reading", "", units.ErrNotGiven)
	case m.meanGauge == nil:
		return ModelPredictions{}, stats.Refuse(fn, "m", "", units.ErrNotGiven)
	case d.In(d.Unit()) <= 0:
		return ModelPredictions{}, stats.Refuse(fn, "reading", d.String(), density.ErrNotPositive)
	case d.Unit() != m.Unit:
		return ModelPredictions{}, stats.Refuse(fn, "reading", d.String(), fmt.Errorf("%w (the models are in %v)", density.ErrUnitMismatch, m.Unit))
	}
	x := d.In(m.Unit)
	return ModelPredictions{Offset: m.Unit.Of(x + m.Offset.Mean), Ratio: m.Unit.Of(m.Ratio.Ratio * x), Line: m.Unit.Of(m.Line.At(x)),
		Extrapolated: d.Compare(m.Low) < 0 || d.Compare(m.High) > 0}, nil
}

// CorrectionOptions says how a correction is recorded. All fields but Made are
// required, Slope not for an offset and Offset not for a ratio.
type CorrectionOptions struct {
	Offset units.Rounding // of the offset, or of the intercept of a line
	Slope  units.Rounding // of the ratio, or of the slope of a line; with a number of places
	Scope  density.Scope
	Made   density.Date // day of the strip; not given if not known
	Source string
}

// Correction makes the correction of a model, recommended or not. The intercept of a
// line is found anew for the rounded slope,
//
//	intercept = mean core - slope · mean gauge
//
// so that rounding the slope does not move the line where the cores were cut.
//
// Errors are [*stats.InputError] around [units.ErrNotGiven] (a zero m or model),
// [units.ErrRounding], [units.ErrRange] (a slope that is not positive once rounded),
// [units.ErrAbsolute], [density.ErrScope] or [density.ErrNoSource].
func (m ModelComparison) Correction(model density.Model, o CorrectionOptions) (density.Correction, error) {
	const fn = "bias.ModelComparison.Correction"
	if m.meanGauge == nil {
		return density.Correction{}, stats.Refuse(fn, "m", "", units.ErrNotGiven)
	}
	switch model {
	case density.ConstantOffset:
		return m.offsetCorrection(fn, o)
	case density.ConstantRatio:
		ratio, err := roundSlope(fn, new(big.Rat).Quo(m.meanCore, m.meanGauge), o.Slope)
		if err != nil {
			return density.Correction{}, err
		}
		c, err := density.NewRatio(density.Ratio{Ratio: float(ratio), StdErr: m.Ratio.StdErr, DF: m.Ratio.DF, Scope: o.Scope, Made: o.Made, Source: o.Source})
		return c, stats.Renamed(err, fn, "")
	case density.StraightLine:
		return m.lineCorrection(fn, o)
	}
	return density.Correction{}, stats.Refuse(fn, "model", "", units.ErrNotGiven)
}

func (m ModelComparison) offsetCorrection(fn string, o CorrectionOptions) (density.Correction, error) {
	offset, err := o.Offset.Rat(new(big.Rat).Sub(m.meanCore, m.meanGauge))
	if err != nil {
		return density.Correction{}, stats.Refuse(fn, "o.Offset", "", err)
	}
	c, err := density.NewOffset(density.Offset{Offset: m.Unit.Difference(float(offset)), Exact: offset, StdErr: m.Offset.StdErr, DF: m.Offset.DF,
		Scope: o.Scope, Made: o.Made, Source: o.Source})
	return c, stats.Renamed(err, fn, "")
}

func (m ModelComparison) lineCorrection(fn string, o CorrectionOptions) (density.Correction, error) {
	fitted := new(big.Rat).SetFloat64(m.Line.Slope.Value)
	slope, err := roundSlope(fn, fitted, o.Slope)
	if err != nil {
		return density.Correction{}, err
	}
	intercept := new(big.Rat).Mul(slope, m.meanGauge)
	intercept.Sub(m.meanCore, intercept)
	if intercept, err = o.Offset.Rat(intercept); err != nil {
		return density.Correction{}, stats.Refuse(fn, "o.Offset", "", err)
	}
	c, err := density.NewLine(density.Line{Slope: float(slope), Intercept: m.Unit.Difference(float(intercept)), Low: m.Low, High: m.High,
		Centre: m.Unit.Of(float(m.meanGauge)), StdErr: m.centreStdErr(), SlopeStdErr: m.Line.Slope.StdErr, DF: m.Line.DF, Scope: o.Scope, Made: o.Made, Source: o.Source})
	return c, stats.Renamed(err, fn, "")
}

// roundSlope wants places, because a quotient rarely ends.
func roundSlope(fn string, x *big.Rat, r units.Rounding) (*big.Rat, error) {
	if err := r.ValidatePlaces(); err != nil {
		return nil, stats.Refuse(fn, "o.Slope", "", err)
	}
	rounded, err := r.Rat(x)
	if err == nil && rounded.Sign() <= 0 {
		err = fmt.Errorf("%w: the slope, %.4g, is not positive once rounded", units.ErrRange, float(x))
	}
	if err != nil {
		return nil, stats.Refuse(fn, "o.Slope", "", err)
	}
	return rounded, nil
}

// centreStdErr returns s/√n of the scatter of core - slope·gauge, the standard error
// of the line at the mean reading.
func (m ModelComparison) centreStdErr() float64 {
	return math.Hypot(m.Line.ErrorSDY, m.Line.Slope.Value*m.Line.ErrorSDX) / math.Sqrt(float64(m.N))
}
