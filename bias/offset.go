package bias

import (
	"fmt"
	"math"
	"math/big"
	"strings"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Pair is one location with its core.
type Pair struct {
	ID         string
	Readings   int                     // how many were averaged
	Gauge      units.Density           // their mean
	Cores      int                     // densities averaged
	Core       units.Density           // their mean; as recorded where there is one
	Difference units.DensityDifference // core - gauge
	Residual   units.DensityDifference // difference - offset before rounding
	Without    units.DensityDifference // the offset that the other pairs give
	WithoutCI  stats.Interval          // of Without; zero where fewer than two others are left
	Apart      bool                    // Difference lies outside the prediction that the others give for one more location; one good pair in 1/(1 - Level) does
	Influence  float64                 // (offset - Without)/standard error, from -1 to 1, where this pair alone makes the spread
}

// OffsetEstimate is an offset with what decides how far to trust it. The numbers
// of the embedded estimate are in Unit and not rounded.
type OffsetEstimate struct {
	stats.Estimate
	Unit       units.DensityUnit
	Prediction stats.Interval           // for the difference core - gauge at one more location
	Offset     units.DensityDifference  // core - gauge, rounded as Options say
	Correction density.Correction       // ready to apply within its scope
	Pairs      []Pair                   // in the order of the locations
	Unpaired   []string                 // ids found on one side only
	Screen     *stats.GrubbsResult      // nil where no screen was asked for, or for fewer than 4 pairs
	ScreenTwo  *stats.TwoOutliersResult // of the side that shows more, where two pairs may hide each other from Screen; otherwise nil
	Options    Options
	Working    []units.Step
}

// EstimateOffset estimates the constant offset of a gauge from cores cut where it
// was read. With the difference d = core - mean reading of each pair,
//
//	offset      d̄ ± t(1-α/2; n-1) · s/√n,   α = 1 - Level
//	prediction  d̄ ± t(1-α/2; n-1) · s·√(1+1/n)   for one more location
//
// Locations and cores are joined by id, never by position. Everything is in one
// unit. The offset itself is computed in exact rational arithmetic and rounded by
// Options.Rounding; intervals and screen are computed in float64 from the same
// differences. However many readings a location has, it is one comparison: an
// interval from all readings as if they were independent is far too short.
//
// It assumes that the locations are independent and that an offset, not a slope,
// is the right model over their range; see [CompareModels]. Nothing is left out
// for a warning:
//   - [WarnUnpaired]: an id on one side only, listed in Unpaired.
//   - [WarnSuspect]: a difference that the two-sided Grubbs test flags at
//     OutlierAlpha, or two that hide each other from it and that [stats.TwoOutliers]
//     flags at OutlierAlpha/2 on their side; Pairs shows the offset without each pair,
//     with its interval, and whether it lies apart from the others.
//   - [WarnUnequal], [WarnCopied], [WarnWet], [WarnNoSpread]: readings or cores are not
//     alike in number, come back at another location or in the core, were taken on a
//     wet mat, or leave no difference in the differences.
//   - [WarnWide]: the half-width is more than Tolerance, with the cores that would do.
//
// Errors are [*stats.InputError] with the id of the location or core, around [ErrNoID],
// [ErrRepeatedID], [ErrNotCore], [stats.ErrTooFew], [stats.ErrLevel],
// [stats.ErrParameter], [stats.ErrOverflow], [units.ErrNotGiven], [units.ErrRounding],
// [density.ErrNotPositive], [density.ErrUnitMismatch], [density.ErrWater],
// [density.ErrDay] or [density.ErrNoSource].
//
// Source: the sign and the averaging within locations are those of the WAQTC
// procedure for AASHTO T 355 (from memory); the intervals NIST/SEMATECH e-Handbook
// of Statistical Methods, 1.3.5.2, and G. J. Hahn and W. Q. Meeker, Statistical
// Intervals, Wiley 1991, section 4.7 (from memory).
func EstimateOffset(gauge []Location, cores []Core, o Options) (OffsetEstimate, error) {
	const fn = "bias.EstimateOffset"
	if err := o.check(fn); err != nil {
		return OffsetEstimate{}, err
	}
	j, err := join(fn, gauge, cores)
	if err != nil {
		return OffsetEstimate{}, err
	}
	return estimate(fn, j, o)
}

// estimate works on pairs that are checked.
func estimate(fn string, j joined, o Options) (OffsetEstimate, error) {
	if err := o.checkUnit(fn, j.unit); err != nil {
		return OffsetEstimate{}, err
	}
	if err := j.enough(fn, o.minPairs()); err != nil {
		return OffsetEstimate{}, err
	}
	e := OffsetEstimate{Unit: j.unit, Unpaired: j.unpaired, Options: o}
	diffs := j.differences()
	if err := e.infer(fn, diffs); err != nil {
		return OffsetEstimate{}, err
	}
	exact := j.meanDifference()
	if err := e.correct(fn, exact); err != nil {
		return OffsetEstimate{}, err
	}
	if err := e.describe(fn, j, exact); err != nil {
		return OffsetEstimate{}, err
	}
	if err := e.screen(fn, diffs); err != nil {
		return OffsetEstimate{}, err
	}
	e.warn(j)
	return e, nil
}

// infer sets the intervals.
func (e *OffsetEstimate) infer(fn string, diffs []float64) error {
	var err error
	if e.Estimate, err = stats.MeanInterval(diffs, e.Options.Level); err != nil {
		return stats.Renamed(err, fn, "o.Level")
	}
	e.Warnings = nil // those of warn say it in the words of this job
	e.Prediction, err = prediction(fn, e.Estimate)
	return err
}

// prediction widens the interval of a mean to that of one more value.
func prediction(fn string, e stats.Estimate) (stats.Interval, error) {
	half := e.CI.HalfWidth() * math.Sqrt(float64(e.N)+1)
	p := stats.Interval{Lo: e.Mean - half, Hi: e.Mean + half, Level: e.CI.Level}
	if !isFinite(p.Lo, p.Hi) {
		return stats.Interval{}, stats.Refuse(fn, "differences", "", stats.ErrOverflow)
	}
	return p, nil
}

// correct rounds the exact mean difference and makes the correction of it.
func (e *OffsetEstimate) correct(fn string, exact *big.Rat) error {
	rounded, err := e.Options.Rounding.Rat(exact)
	if err != nil {
		return stats.Refuse(fn, "o.Rounding", "", err)
	}
	value, _ := rounded.Float64()
	e.Offset = e.Unit.Difference(value)
	e.Correction, err = density.NewOffset(density.Offset{Offset: e.Offset, Exact: rounded, StdErr: e.StdErr, DF: e.DF,
		Scope: e.Options.Scope, Made: e.Options.Made, Source: e.Options.Source})
	return stats.Renamed(err, fn, "")
}

// influence is the deviation in the kernel of the Grubbs test: at ±1 all the spread
// comes from one pair.
func (e *OffsetEstimate) influence(all, without *big.Rat) float64 {
	if e.StdErr == 0 {
		return 0
	}
	shift := float(new(big.Rat).Sub(all, without))
	return min(max(shift/e.StdErr, -1), 1)
}

// describe fills the table of pairs and the working.
func (e *OffsetEstimate) describe(fn string, j joined, exact *big.Rat) error {
	squares := j.squares(exact)
	var numbers strings.Builder
	for _, p := range j.pairs {
		d := p.difference()
		row := Pair{ID: p.first.id, Readings: len(p.first.values), Gauge: e.Unit.Of(float(p.first.mean)), Cores: len(p.second.values),
			Core: e.Unit.Of(float(p.second.mean)), Difference: e.Unit.Difference(float(d)), Residual: e.Unit.Difference(float(new(big.Rat).Sub(d, exact)))}
		if err := e.leaveOut(fn, &row, d, exact, squares); err != nil {
			return err
		}
		e.Pairs = append(e.Pairs, row)
		numbers.WriteString(signed(d))
	}
	e.Working = []units.Step{{What: "offset", Formula: "Σ(core - mean gauge)/n", Numbers: fmt.Sprintf("(%s)/%d", strings.TrimPrefix(numbers.String(), " + "), e.N),
		Value: units.ExactText(exact) + " " + e.Unit.String(), Rounded: e.Offset.String(), Rounding: e.Options.Rounding.Rule()}}
	return nil
}

// leaveOut sets what the pairs other than that of difference d give. Their mean and sum
// of squares are taken off those of all in exact numbers, where nothing cancels.
func (e *OffsetEstimate) leaveOut(fn string, row *Pair, d, mean, squares *big.Rat) error {
	rest := int64(e.N - 1)
	off := new(big.Rat).Sub(d, mean)
	without := new(big.Rat).Sub(mean, new(big.Rat).Mul(off, big.NewRat(1, rest)))
	row.Without, row.Influence = e.Unit.Difference(float(without)), e.influence(mean, without)
	if rest < 2 {
		return nil
	}
	left := new(big.Rat).Sub(squares, off.Mul(off, off).Mul(off, big.NewRat(rest+1, rest)))
	others, err := stats.MeanIntervalOf(stats.Summary{N: int(rest), Mean: float(without), StdDev: root(left.Mul(left, big.NewRat(1, rest-1)))}, e.Options.Level)
	if err != nil {
		return stats.Renamed(err, fn, "o.Level")
	}
	more, err := prediction(fn, others)
	if err != nil {
		return err
	}
	row.WithoutCI, row.Apart = others.CI, !more.Contains(float(d))
	return nil
}

// squares returns the exact sum of squares of the differences about a mean.
func (j joined) squares(mean *big.Rat) *big.Rat {
	ss := new(big.Rat)
	for _, p := range j.pairs {
		d := p.difference()
		d.Sub(d, mean)
		ss.Add(ss, d.Mul(d, d))
	}
	return ss
}
