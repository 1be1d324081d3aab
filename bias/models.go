package bias

import (
	"fmt"
	"math"
	"math/big"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// ModelOptions sets how [CompareModels] works. Level and one of the other two are
// required.
type ModelOptions struct {
	Level      float64                 // confidence of the intervals and, as 1 - Level, significance of the test of slope one
	ErrorRatio float64                 // error variance of a core over that of the gauge mean at a location; 0 where CoreStdDev is given
	CoreStdDev units.DensityDifference // standard deviation of the density of a core, such as of a precision statement; the gauge's comes from its readings
}

// ModelComparison holds the three models of a bias and what speaks for each. Numbers
// are in Unit.
type ModelComparison struct {
	N           int
	Unit        units.DensityUnit
	Offset      stats.Estimate // core - gauge
	Ratio       RatioEstimate
	Line        stats.DemingFit // core on gauge, with its intervals
	ErrorRatio  float64         // the one used
	SlopeT      float64         // of slope one
	SlopeP      float64         // two-sided
	Low, High   units.Density   // lowest and highest mean reading
	CoreRange   float64         // highest core - lowest core
	AICc        *ModelAICc      // supporting evidence; nil for fewer than 5 pairs or a fit without scatter
	R           float64         // correlation coefficient: information only, it says nothing about bias
	Recommended density.Model
	Reasons     []string
	Warnings    []stats.Warning

	meanGauge, meanCore *big.Rat
}

// CompareModels fits the three models of the bias of a gauge,
//
//	core = gauge + offset,   core = ratio · gauge,   core = slope · gauge + intercept
//
// joined and averaged as in [EstimateOffset]. The line is that of Deming, because the
// gauge is measured with error too and least squares then makes the slope too small.
// The ratio of error variances is given, or found as
//
//	CoreStdDev²/(s² · mean of 1/nᵢ),   s² the pooled variance of readings within locations
//
// which takes the gauge's error for that of its repetition. The ratio is that of the
// means, with standard error √(Σ(core - R·gauge)²/((n-1)·n))/mean gauge.
//
// The offset is recommended unless the slope's interval is above 0 and slope one is
// rejected at 1 - Level; then the ratio where the interval of the intercept holds 0, otherwise the line. Reasons has
// the figures. AICc is n·ln(q/n) + 2k + 2k(k+1)/(n-k-1), q the squares across each
// line, (core - a - b·gauge)²/(ErrorRatio + b²), k = 2, 2 and 3. With few cores of much
// the same density nothing is rejected, and Reasons says how far from one a slope
// could be; where it could be 0 or less, [WarnFlat] says that no model was shown to
// follow the mat.
//
// At least 3 pairs are needed. Errors are those of [EstimateOffset] for the data, and
// [*stats.InputError] around [stats.ErrLevel], [stats.ErrParameter] (not exactly one
// of ErrorRatio and CoreStdDev), [density.ErrNotPositive], [density.ErrUnitMismatch],
// [stats.ErrTooFew] (no location with two readings), [stats.ErrNoSpread] (equal
// readings within every location), [stats.ErrNoSlope] or [stats.ErrOverflow].
//
// Source: K. Linnet, Clinical Chemistry 39 (1993) 424-432, for the line; W. G. Cochran,
// Sampling Techniques, 3rd edition, section 6.3, for the ratio; C. M. Hurvich and C.-L.
// Tsai, Biometrika 76 (1989) 297, for AICc (the last two from memory).
func CompareModels(gauge []Location, cores []Core, o ModelOptions) (ModelComparison, error) {
	const fn = "bias.CompareModels"
	if err := o.check(fn); err != nil {
		return ModelComparison{}, err
	}
	j, err := join(fn, gauge, cores)
	if err != nil {
		return ModelComparison{}, err
	}
	if n := len(j.pairs); n < 3 {
		return ModelComparison{}, refuse(fn, "pairs", "", fmt.Errorf("%w (have %d, need 3)", stats.ErrTooFew, n))
	}
	m := ModelComparison{N: len(j.pairs), Unit: j.unit}
	if m.ErrorRatio, err = o.ratio(fn, j); err != nil {
		return ModelComparison{}, err
	}
	if err := m.fit(fn, j, o.Level); err != nil {
		return ModelComparison{}, err
	}
	m.recommend(o.Level)
	for _, id := range j.unpaired {
		m.Warnings = append(m.Warnings, stats.Warning{Code: WarnUnpaired, Where: id, Text: "found among the locations or the cores but not both, so it was left out"})
	}
	return m, nil
}

func (o ModelOptions) check(fn string) error {
	byRatio, bySD := o.ErrorRatio != 0, !o.CoreStdDev.IsZero()
	switch {
	case !(o.Level > 0 && o.Level < 1):
		return refuse(fn, "o.Level", fmt.Sprint(o.Level), stats.ErrLevel)
	case byRatio == bySD:
		return refuse(fn, "o.ErrorRatio", fmt.Sprint(o.ErrorRatio), fmt.Errorf("%w: give it or o.CoreStdDev", stats.ErrParameter))
	case byRatio && (!(o.ErrorRatio > 0) || math.IsInf(o.ErrorRatio, 1)):
		return refuse(fn, "o.ErrorRatio", fmt.Sprint(o.ErrorRatio), stats.ErrParameter)
	case bySD && o.CoreStdDev.In(o.CoreStdDev.Unit()) <= 0:
		return refuse(fn, "o.CoreStdDev", o.CoreStdDev.String(), density.ErrNotPositive)
	}
	return nil
}

// ratio returns the error variance of a core over that of a gauge mean.
func (o ModelOptions) ratio(fn string, j joined) (float64, error) {
	if o.ErrorRatio != 0 {
		return o.ErrorRatio, nil
	}
	if o.CoreStdDev.Unit() != j.unit {
		return 0, refuse(fn, "o.CoreStdDev", o.CoreStdDev.String(), fmt.Errorf("%w (the readings are in %v)", density.ErrUnitMismatch, j.unit))
	}
	within, _, err := j.within(fn)
	if err != nil {
		return 0, err
	}
	var share float64
	for _, p := range j.pairs {
		share += 1 / float64(len(p.Readings)) / float64(len(j.pairs))
	}
	core := o.CoreStdDev.In(j.unit)
	ratio := core * core / (within * share)
	if !(within > 0) {
		return 0, refuse(fn, "gauge", "", stats.ErrNoSpread)
	}
	if !isFinite(ratio) || ratio == 0 {
		return 0, refuse(fn, "o.CoreStdDev", o.CoreStdDev.String(), stats.ErrOverflow)
	}
	return ratio, nil
}

// fit sets the three models and what compares them.
func (m *ModelComparison) fit(fn string, j joined, level float64) error {
	xs, ys := j.columns()
	m.setRange(xs, ys)
	var err error
	if m.Offset, err = stats.MeanInterval(j.differences(), level); err != nil {
		return err
	}
	m.meanGauge, m.meanCore = j.means()
	if m.Ratio, err = ratioOf(fn, xs, ys, float(new(big.Rat).Quo(m.meanCore, m.meanGauge)), level); err != nil {
		return err
	}
	if m.Line, err = stats.FitDeming(xs, ys, stats.DemingOptions{VarYOverVarX: m.ErrorRatio, Level: level, Method: stats.DemingAngle}); err != nil {
		return err
	}
	if m.SlopeT, m.SlopeP, err = m.Line.SlopeP(1); err != nil {
		return err
	}
	m.Warnings = append(m.Warnings, m.Line.Warnings...)
	s, err := stats.SummarizePairs(xs, ys)
	if err != nil {
		return err
	}
	if s.SXX > 0 && s.SYY > 0 {
		m.R = min(max(s.SXY/math.Sqrt(s.SXX)/math.Sqrt(s.SYY), -1), 1)
	}
	m.AICc = m.criteria(xs, ys)
	return nil
}

func (m *ModelComparison) setRange(xs, ys []float64) {
	low, high, least, most := xs[0], xs[0], ys[0], ys[0]
	for i, x := range xs {
		low, high = min(low, x), max(high, x)
		least, most = min(least, ys[i]), max(most, ys[i])
	}
	m.Low, m.High, m.CoreRange = m.Unit.Of(low), m.Unit.Of(high), most-least
}

func (j joined) columns() (gauge, cores []float64) {
	for _, p := range j.pairs {
		gauge, cores = append(gauge, float(p.gauge)), append(cores, p.core.In(j.unit))
	}
	return gauge, cores
}

func (j joined) means() (gauge, core *big.Rat) {
	gauge, core = new(big.Rat), new(big.Rat)
	for _, p := range j.pairs {
		gauge.Add(gauge, p.gauge)
		core.Add(core, p.core.Exact(j.unit))
	}
	n := new(big.Rat).SetInt64(int64(len(j.pairs)))
	return gauge.Quo(gauge, n), core.Quo(core, n)
}
