package bias

import (
	"fmt"
	"math"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Term is one part of an uncertainty: a standard deviation in the unit of the reading
// and its degrees of freedom. A term of 0 with 0 degrees of freedom is none.
type Term struct{ StdDev, DF float64 }

// ReadingUncertainty is a corrected reading with what it is uncertain by, in Unit.
// Package lot takes the parts one by one: Correction is common to all results of a
// lot, the other two differ from result to result.
type ReadingUncertainty struct {
	Corrected     density.InPlace
	Unit          units.DensityUnit
	Repeatability Term            // of the corrected mean of the readings: b·σ(reading)/√k
	Location      Term            // that the gauge and a core see one place differently, and the error of a core
	Correction    Term            // of the offset, ratio or line at this reading
	Combined      Term            // root of the sum of squares, with Satterthwaite degrees of freedom
	CI            stats.Interval  // for what a core cut there would show
	Warnings      []stats.Warning // of the correction, used outside its scope by decision or extrapolated; of a part estimated below 0
}

// UncertaintyOf corrects the mean of readings at one location and gives the standard
// uncertainty of the result,
//
//	u² = u²(r) + u²(l) + u²(c)
//	r    b·σ(reading)/√k,   k readings, b the ratio or slope of c, 1 for an offset
//	l    σ(location)
//	c    of the correction itself
//	ν  = u⁴/(u⁴(r)/ν(r) + (u²(l)/√ν(l) + u²(c)/√ν(c))²)
//	interval ± t(1-α/2; ν)·u,   α = 1 - level
//
// Location and correction come from one strip and are too large or too small
// together, so ν adds the standard deviations of their squares, not the variances.
// parts comes from [StripComponents] of the strip that the correction comes from. A
// core sees the mat with an error of its own, which is within σ(location), so as a
// statement about the true density u is on the safe side; so it is for a ratio or a line,
// where σ(location) still holds what their slope explains. Where the correction is used
// outside its scope by decision, u does not cover that; Warnings tells. Coverage of a
// nominal 95 % by simulation, 3 to 10 cores read three times: 94 to 98 %.
//
// For an offset and as many readings as the locations of its strip had, u is
// s·√(1+1/n) and the interval that of the prediction of [EstimateOffset], but for the
// approximate ν.
//
// Errors are those of [density.Correction.Apply] and [density.MeanOf], or
// [*stats.InputError] around [stats.ErrLevel], [stats.ErrParameter] (parts or degrees
// of freedom that are negative, not finite or missing), [density.ErrUnitMismatch] or
// [units.ErrNotGiven] (a correction without a standard error, which is not one of 0).
//
// Source: JCGM 100:2008 (GUM), 5.1.2, 5.2.2 for what goes together, and G.4.1 (from
// memory).
func UncertaintyOf(readings []density.Reading, c density.Correction, at density.Scope, parts Components, level float64) (ReadingUncertainty, error) {
	const fn = "bias.UncertaintyOf"
	mean, unit, err := density.MeanOf(readings)
	if err != nil {
		return ReadingUncertainty{}, stats.Renamed(err, fn, "")
	}
	if err := parts.checkTerms(fn, unit); err != nil {
		return ReadingUncertainty{}, err
	}
	shown := unit.Of(float(mean))
	corrected, err := c.Apply(density.Uncorrected(shown), at)
	if err != nil {
		return ReadingUncertainty{}, stats.Renamed(err, fn, "")
	}
	r := ReadingUncertainty{Corrected: corrected, Unit: unit, Warnings: append(c.Warnings("", shown), parts.negative()...),
		Repeatability: Term{c.Line().Slope * parts.Reading / math.Sqrt(float64(len(readings))), parts.ReadingDF},
		Location:      Term{parts.Location, parts.LocationDF}}
	r.Correction.StdDev, r.Correction.DF = c.StdErrAt(shown)
	if r.Correction.DF == 0 {
		return ReadingUncertainty{}, stats.Refuse(fn, "c", "", fmt.Errorf("%w: its standard error and degrees of freedom", units.ErrNotGiven))
	}
	if r.Combined, err = combine(fn, r.Repeatability, together(r.Location, r.Correction)); err != nil {
		return ReadingUncertainty{}, err
	}
	return r.withInterval(fn, level)
}

func (c Components) checkTerms(fn string, unit units.DensityUnit) error {
	if err := c.check(fn, "parts"); err != nil {
		return err
	}
	if c.Unit != unit {
		return stats.Refuse(fn, "parts.Unit", c.Unit.String(), fmt.Errorf("%w (the readings are in %v)", density.ErrUnitMismatch, unit))
	}
	for _, t := range []struct {
		name string
		Term
	}{{"parts.ReadingDF", Term{c.Reading, c.ReadingDF}}, {"parts.LocationDF", Term{c.Location, c.LocationDF}}} {
		if t.StdDev > 0 && !(t.DF > 0) || t.DF < 0 || !isFinite(t.DF) {
			return stats.Refuse(fn, t.name, fmt.Sprint(t.DF), stats.ErrParameter)
		}
	}
	return nil
}

// together adds two terms that are too large or too small together: the standard
// deviation of a square with ν degrees of freedom is √(2/ν) of it, and these add.
func together(a, b Term) Term {
	total, share := math.Hypot(a.StdDev, b.StdDev), 0.0
	for _, t := range []Term{a, b} {
		if t.StdDev > 0 {
			part := t.StdDev / total
			share += part * part / math.Sqrt(t.DF)
		}
	}
	return Term{total, 1 / (share * share)}
}

// combine adds independent terms. The squares are taken relative to the sum, so that
// none is lost.
func combine(fn string, terms ...Term) (Term, error) {
	var total, share float64
	for _, t := range terms {
		total = math.Hypot(total, t.StdDev)
	}
	for _, t := range terms {
		if t.StdDev > 0 {
			part := t.StdDev / total
			share += part * part * part * part / t.DF
		}
	}
	df := 1 / share
	if !isFinite(total, df) {
		return Term{}, stats.Refuse(fn, "parts", "", stats.ErrOverflow)
	}
	return Term{total, df}, nil
}

func (r ReadingUncertainty) withInterval(fn string, level float64) (ReadingUncertainty, error) {
	if !(level > 0 && level < 1) {
		return ReadingUncertainty{}, stats.Refuse(fn, "level", fmt.Sprint(level), stats.ErrLevel)
	}
	t, err := stats.NewStudentT(r.Combined.DF)
	if err != nil {
		return ReadingUncertainty{}, stats.Renamed(err, fn, "parts")
	}
	quantile, err := t.UpperQuantile((1 - level) / 2)
	if err != nil {
		return ReadingUncertainty{}, stats.Renamed(err, fn, "level")
	}
	x, half := r.Corrected.Density().In(r.Unit), quantile*r.Combined.StdDev
	r.CI = stats.Interval{Lo: x - half, Hi: x + half, Level: level}
	if !isFinite(r.CI.Lo, r.CI.Hi) {
		return ReadingUncertainty{}, stats.Refuse(fn, "parts", "", stats.ErrOverflow)
	}
	return r, nil
}
