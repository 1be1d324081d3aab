package bias

import (
	"fmt"
	"math"
	"math/big"
	"slices"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// ModelOptions sets how [CompareModels] works. Level and exactly one of the sources of
// the error ratio are required.
type ModelOptions struct {
	Level      float64                 // confidence of the intervals and, as 1 - Level, significance of the test of slope one
	ErrorRatio float64                 // stated: error variance of the core density at a location over that of the gauge mean
	CoreStdDev units.DensityDifference // stated: standard deviation of the density of one core, such as of a precision statement; the gauge's comes from its readings
	Replicates bool                    // both from replicates: the core's from the cores of a location, the gauge's from its readings
}

// ModelComparison holds the three models of a bias and what speaks for each. Numbers
// are in Unit.
type ModelComparison struct {
	N           int
	Unit        units.DensityUnit
	Offset      stats.Estimate // core - gauge
	Ratio       RatioEstimate
	Line        stats.DemingFit // core on gauge, with its intervals
	Errors      ErrorRatio      // of core over gauge: the one used, and what it rests on
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
// The ratio of error variances of the means is stated, or found as
//
//	(s²(core) · mean of 1/mᵢ)/(s²(gauge) · mean of 1/kᵢ)
//
// with s²(gauge) the pooled variance of the kᵢ readings within locations and s²(core)
// that of the mᵢ cores, or CoreStdDev². Options say which; the two are never mixed
// unasked, and Errors tells it with the degrees of freedom of both. It takes the error
// of each side for that of its repetition: readings without lifting the gauge, or
// determinations on one core, show too little. The ratio of the model of that name is
// that of the means, with standard error √(Σ(core - R·gauge)²/((n-1)·n))/mean gauge.
//
// The offset is recommended unless the slope's interval is above 0 and slope one is
// rejected at 1 - Level; then the ratio where the interval of the intercept holds 0,
// otherwise the line. Reasons has the figures. AICc is n·ln(q/n) + 2k + 2k(k+1)/(n-k-1),
// q the squares across each line, (core - a - b·gauge)²/(λ + b²), λ the ratio of error
// variances, k = 2, 2 and 3. With few cores of much the same density nothing is rejected,
// and Reasons says how far from one a slope could be; where it could be 0 or less,
// [WarnFlat] says that no model was shown to follow the mat. Pairs that lie on one line
// to the last digit leave no scatter to judge a slope by, so the offset stays, with
// [WarnNoSpread].
//
// Warnings are also [WarnUnpaired] and [WarnWet], as of [EstimateOffset], and those of
// [stats.FitDeming].
//
// At least 3 pairs are needed. Errors are those of [EstimateOffset] for the data, and
// [*stats.InputError] around [stats.ErrLevel], [stats.ErrParameter] (not exactly one
// source of the error ratio), [density.ErrNotPositive], [density.ErrUnitMismatch],
// [stats.ErrTooFew] (no location with two readings, or with two cores), [stats.ErrNoSpread]
// (equal readings, or cores, within every location), [stats.ErrNoSlope] or
// [stats.ErrOverflow].
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
	if err := j.enough(fn, 3); err != nil {
		return ModelComparison{}, err
	}
	m := ModelComparison{N: len(j.pairs), Unit: j.unit}
	if m.Errors, err = o.errorRatio(fn, j); err != nil {
		return ModelComparison{}, err
	}
	if err := m.fit(fn, j, o.Level); err != nil {
		return ModelComparison{}, err
	}
	exact := j.onOneLine()
	if !exact {
		m.AICc = m.criteria(j.columns())
	}
	m.recommend(o.Level, exact)
	m.warn(exact)
	m.Warnings = append(m.Warnings, j.wetWarnings()...)
	m.Warnings = append(m.Warnings, j.unpairedWarnings(leftOut)...)
	return m, nil
}

func (o ModelOptions) check(fn string) error {
	sources := 0
	for _, given := range []bool{o.ErrorRatio != 0, !o.CoreStdDev.IsZero(), o.Replicates} {
		if given {
			sources++
		}
	}
	switch {
	case !(o.Level > 0 && o.Level < 1):
		return stats.Refuse(fn, "o.Level", fmt.Sprint(o.Level), stats.ErrLevel)
	case sources != 1:
		return stats.Refuse(fn, "o.ErrorRatio", fmt.Sprint(o.ErrorRatio), fmt.Errorf("%w: give one of o.ErrorRatio, o.CoreStdDev and o.Replicates", stats.ErrParameter))
	case o.ErrorRatio != 0 && (!(o.ErrorRatio > 0) || math.IsInf(o.ErrorRatio, 1)):
		return stats.Refuse(fn, "o.ErrorRatio", fmt.Sprint(o.ErrorRatio), stats.ErrParameter)
	case !o.CoreStdDev.IsZero() && o.CoreStdDev.In(o.CoreStdDev.Unit()) <= 0:
		return stats.Refuse(fn, "o.CoreStdDev", o.CoreStdDev.String(), density.ErrNotPositive)
	}
	return nil
}

// fit sets the three models and what compares them.
func (m *ModelComparison) fit(fn string, j joined, level float64) error {
	xs, ys := j.columns()
	m.setRange(j)
	m.CoreRange = slices.Max(ys) - slices.Min(ys)
	var err error
	if m.Offset, err = stats.MeanInterval(j.differences(), level); err != nil {
		return stats.Renamed(err, fn, "o.Level")
	}
	m.meanGauge, m.meanCore = j.means()
	if m.Ratio, err = ratioOf(fn, xs, ys, float(new(big.Rat).Quo(m.meanCore, m.meanGauge)), level); err != nil {
		return err
	}
	if m.Line, err = stats.FitDeming(xs, ys, stats.DemingOptions{VarYOverVarX: m.Errors.Ratio, Level: level, Method: stats.DemingAngle}); err != nil {
		return stats.Renamed(err, fn, "pairs")
	}
	if m.SlopeT, m.SlopeP, err = m.Line.SlopeP(1); err != nil {
		return stats.Renamed(err, fn, "pairs")
	}
	s, err := stats.SummarizePairs(xs, ys)
	if err != nil {
		return stats.Renamed(err, fn, "pairs")
	}
	if s.SXX > 0 && s.SYY > 0 {
		m.R = min(max(s.SXY/math.Sqrt(s.SXX)/math.Sqrt(s.SYY), -1), 1)
	}
	return m.Errors.slopes(fn, s)
}

// setRange sets the lowest and highest mean reading, rounded outwards, so that neither
// location lies outside its own strip.
func (m *ModelComparison) setRange(j joined) {
	low, high := j.pairs[0].first.mean, j.pairs[0].first.mean
	for _, p := range j.pairs {
		if x := p.first.mean; x.Cmp(low) < 0 {
			low = x
		} else if x.Cmp(high) > 0 {
			high = x
		}
	}
	m.Low, m.High = m.Unit.Of(float(low)), m.Unit.Of(float(high))
	if m.Low.Exact(m.Unit).Cmp(low) > 0 {
		m.Low = m.Unit.Of(math.Nextafter(float(low), 0))
	}
	if m.High.Exact(m.Unit).Cmp(high) < 0 {
		m.High = m.Unit.Of(math.Nextafter(float(high), math.MaxFloat64))
	}
}

// onOneLine reports whether the pairs leave no scatter about a line, decided in exact
// numbers, where rounding makes none.
func (j joined) onOneLine() bool {
	from := j.pairs[0]
	var dx, dy *big.Rat
	for _, p := range j.pairs[1:] {
		x, y := new(big.Rat).Sub(p.first.mean, from.first.mean), new(big.Rat).Sub(p.second.mean, from.second.mean)
		if dx == nil || dx.Sign() == 0 && dy.Sign() == 0 {
			dx, dy = x, y
		}
		if new(big.Rat).Mul(dx, y).Cmp(new(big.Rat).Mul(dy, x)) != 0 {
			return false
		}
	}
	return true
}

func (j joined) columns() (gauge, cores []float64) {
	for _, p := range j.pairs {
		gauge, cores = append(gauge, float(p.first.mean)), append(cores, float(p.second.mean))
	}
	return gauge, cores
}

func (j joined) means() (gauge, core *big.Rat) {
	gauge, core = new(big.Rat), new(big.Rat)
	for _, p := range j.pairs {
		gauge.Add(gauge, p.first.mean)
		core.Add(core, p.second.mean)
	}
	n := new(big.Rat).SetInt64(int64(len(j.pairs)))
	return gauge.Quo(gauge, n), core.Quo(core, n)
}
