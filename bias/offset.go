package bias

import (
	"errors"
	"fmt"
	"math/big"
	"strings"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Reasons a comparison is refused, to be found with errors.Is.
var (
	ErrRepeatedID = errors.New("id is used more than once")
	ErrNoID       = errors.New("has no id")
	ErrNotCore    = errors.New("is not the density of a core")
)

// Codes of the warnings that functions of this package give.
const (
	WarnUnpaired stats.WarningCode = "unpaired"      // a location without its core, or a core without readings
	WarnSuspect  stats.WarningCode = "suspect-core"  // one difference does not fit the others
	WarnWide     stats.WarningCode = "wide-interval" // the offset is known less well than wanted
	WarnNoSpread stats.WarningCode = "no-spread"     // all differences are equal
)

// Location is what the gauge showed at one place of a test strip.
type Location struct {
	ID       string
	Readings []density.Reading // one or more, uncorrected
}

// Core is the density of the core cut at the location of the same id.
type Core struct {
	ID      string
	Density density.InPlace
}

// Options sets how [EstimateOffset] works. Nothing that moves the offset or its
// use has a default.
type Options struct {
	Level        float64                 // confidence of the interval, in (0, 1); required
	Rounding     units.Rounding          // of the offset in the unit of the readings; required
	Scope        density.Scope           // what the offset will hold for; required
	Source       string                  // who made the comparison, where and when; required
	OutlierAlpha float64                 // significance of the two-sided screen for a bad core, from 4 pairs; 0 means no screen
	Tolerance    units.DensityDifference // half-width that is good enough; not given means it is not judged
	MinPairs     int                     // fewest pairs accepted; 0 means 3
}

// Pair is one location with its core.
type Pair struct {
	ID         string
	Readings   int                     // how many were averaged
	Gauge      units.Density           // their mean
	Core       units.Density           // as recorded
	Difference units.DensityDifference // core - gauge
	Residual   units.DensityDifference // difference - offset before rounding
	Without    units.DensityDifference // the offset that the other pairs give
}

// OffsetEstimate is an offset with what decides how far to trust it. The numbers
// of the embedded estimate are in Unit and not rounded.
type OffsetEstimate struct {
	stats.Estimate
	Unit       units.DensityUnit
	Offset     units.DensityDifference // core - gauge, rounded as Options say
	Correction density.Correction      // ready to apply within its scope
	Pairs      []Pair                  // in the order of the locations
	Unpaired   []string                // ids found on one side only
	Screen     *stats.GrubbsResult     // nil where no screen was asked for, or for fewer than 4 pairs
	Options    Options
	Working    []units.Step
}

// EstimateOffset estimates the constant offset of a gauge from cores cut where it
// was read. With the difference d = core - mean reading of each pair,
//
//	offset = d̄ ± t(1-α/2; n-1) · s/√n,   α = 1 - Level
//
// Locations and cores are joined by id, never by position. Everything is in one
// unit. The offset itself is computed in exact rational arithmetic and rounded by
// Options.Rounding; interval and screen are computed in float64 from the same
// differences.
//
// It assumes that the locations are independent and that an offset, not a slope,
// is the right model over their range. An unpaired id is listed and warned of
// with [WarnUnpaired]. A difference that the two-sided Grubbs test flags at
// OutlierAlpha is warned of with [WarnSuspect] and stays in; Pairs shows the
// offset without it.
//
// Errors are [*stats.InputError] with the id of the location or core, around
// [ErrNoID], [ErrRepeatedID], [ErrNotCore], [stats.ErrTooFew], [stats.ErrLevel],
// [units.ErrNotGiven], [units.ErrRounding], [density.ErrNotPositive],
// [density.ErrUnitMismatch], [density.ErrScope] or [density.ErrNoSource].
func EstimateOffset(gauge []Location, cores []Core, o Options) (OffsetEstimate, error) {
	const fn = "bias.EstimateOffset"
	if err := o.check(fn); err != nil {
		return OffsetEstimate{}, err
	}
	j, err := join(fn, gauge, cores)
	if err != nil {
		return OffsetEstimate{}, err
	}
	if need := o.minPairs(); len(j.pairs) < need {
		return OffsetEstimate{}, refuse(fn, "pairs", "", fmt.Errorf("%w (have %d, need %d)", stats.ErrTooFew, len(j.pairs), need))
	}
	e := OffsetEstimate{Unit: j.unit, Unpaired: j.unpaired, Options: o}
	diffs := j.differences()
	if e.Estimate, err = stats.MeanInterval(diffs, o.Level); err != nil {
		return OffsetEstimate{}, err
	}
	e.Warnings = nil // the warnings below say it in the words of this job
	exact := j.meanDifference()
	if err := e.correct(exact); err != nil {
		return OffsetEstimate{}, err
	}
	e.describe(j, exact)
	if err := e.screen(diffs); err != nil {
		return OffsetEstimate{}, err
	}
	e.warn()
	return e, nil
}

func (o Options) minPairs() int {
	if o.MinPairs == 0 {
		return 3
	}
	return o.MinPairs
}

func (o Options) check(fn string) error {
	switch {
	case !(o.Level > 0 && o.Level < 1):
		return refuse(fn, "o.Level", fmt.Sprint(o.Level), stats.ErrLevel)
	case o.OutlierAlpha != 0 && !(o.OutlierAlpha > 0 && o.OutlierAlpha < 1):
		return refuse(fn, "o.OutlierAlpha", fmt.Sprint(o.OutlierAlpha), stats.ErrLevel)
	case o.MinPairs < 0 || o.MinPairs == 1:
		return refuse(fn, "o.MinPairs", fmt.Sprint(o.MinPairs), fmt.Errorf("%w; an interval needs 2 or more", stats.ErrParameter))
	case !o.Tolerance.IsZero() && o.Tolerance.In(o.Tolerance.Unit()) <= 0:
		return refuse(fn, "o.Tolerance", o.Tolerance.String(), density.ErrNotPositive)
	}
	if err := o.Rounding.Validate(); err != nil {
		return refuse(fn, "o.Rounding", "", err)
	}
	return nil
}

// correct rounds the exact mean difference and makes the correction of it.
func (e *OffsetEstimate) correct(exact *big.Rat) error {
	rounded, err := e.Options.Rounding.Rat(exact)
	if err != nil {
		return err
	}
	value, _ := rounded.Float64()
	e.Offset = e.Unit.Difference(value)
	e.Correction, err = density.NewOffset(density.Offset{Offset: e.Offset, Exact: rounded, StdErr: e.StdErr, DF: e.DF,
		Scope: e.Options.Scope, Source: e.Options.Source})
	return err
}

// describe fills the table of pairs and the working.
func (e *OffsetEstimate) describe(j joined, exact *big.Rat) {
	n := int64(len(j.pairs))
	sum := new(big.Rat).Mul(exact, big.NewRat(n, 1))
	var numbers string
	for _, p := range j.pairs {
		d := p.difference()
		without := new(big.Rat).Sub(sum, d)
		without.Quo(without, big.NewRat(max(n-1, 1), 1))
		e.Pairs = append(e.Pairs, Pair{ID: p.id, Readings: p.n, Gauge: e.Unit.Of(float(p.gauge)), Core: p.core,
			Difference: e.Unit.Difference(float(d)), Residual: e.Unit.Difference(float(new(big.Rat).Sub(d, exact))),
			Without: e.Unit.Difference(float(without))})
		numbers += signed(d)
	}
	e.Working = []units.Step{{What: "offset", Formula: "Σ(core - mean gauge)/n", Numbers: fmt.Sprintf("(%s)/%d", strings.TrimPrefix(numbers, " + "), n),
		Value: units.ExactText(exact) + " " + e.Unit.String(), Rounded: e.Offset.String(), Rounding: e.Options.Rounding.Rule()}}
}

// fewestScreened is where a screen starts to say something: among three pairs, any
// two that agree make an outlier of the third.
const fewestScreened = 4

// screen looks for one bad core.
func (e *OffsetEstimate) screen(diffs []float64) error {
	if e.Options.OutlierAlpha == 0 || len(diffs) < fewestScreened {
		return nil
	}
	r, err := stats.Grubbs(diffs, stats.TwoSide, e.Options.OutlierAlpha)
	if err != nil {
		return err
	}
	e.Screen = &r
	return nil
}

func (e *OffsetEstimate) warn() {
	add := func(code stats.WarningCode, where, format string, args ...any) {
		e.Warnings = append(e.Warnings, stats.Warning{Code: code, Where: where, Text: fmt.Sprintf(format, args...)})
	}
	for _, id := range e.Unpaired {
		add(WarnUnpaired, id, "found among the locations or the cores but not both, so it was left out")
	}
	if e.StdDev == 0 {
		add(WarnNoSpread, "", "all %d differences are equal; check that the cores were not computed from the readings", e.N)
	}
	if e.Screen != nil && e.Screen.Outlier {
		p := e.Pairs[e.Screen.Index]
		add(WarnSuspect, p.ID, "the difference %+v does not fit the others (p = %.2g); it is kept, the offset without it is %+.2f; look at the core before deciding",
			p.Difference, e.Screen.P, p.Without)
	}
	if half := e.CI.HalfWidth(); !e.Options.Tolerance.IsZero() && half > e.Options.Tolerance.In(e.Unit) {
		add(WarnWide, "", "the half-width %.2f %v is more than the tolerance %v; %s", half, e.Unit, e.Options.Tolerance, e.moreCores())
	}
}

// moreCores says how many cores of the same spread would meet the tolerance.
func (e *OffsetEstimate) moreCores() string {
	const most = 1000
	want := e.Options.Tolerance.In(e.Unit)
	for n := e.N + 1; n <= most; n++ {
		i, err := stats.MeanIntervalOf(stats.Summary{N: n, Mean: e.Mean, StdDev: e.StdDev}, e.Options.Level)
		if err == nil && i.CI.HalfWidth() <= want {
			return fmt.Sprintf("%d cores of the same spread would give ±%.2f", n, i.CI.HalfWidth())
		}
	}
	return fmt.Sprintf("not even %d cores of this spread would meet it", most)
}

func refuse(fn, arg, value string, err error) error {
	return &stats.InputError{Func: fn, Arg: arg, Index: -1, Value: value, Err: err}
}

func float(x *big.Rat) float64 {
	f, _ := x.Float64()
	return f
}

// signed writes x with a blank and its sign before it, for a sum.
func signed(x *big.Rat) string {
	if x.Sign() < 0 {
		return " - " + units.ExactText(new(big.Rat).Neg(x))
	}
	return " + " + units.ExactText(x)
}
