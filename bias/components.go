package bias

import (
	"fmt"
	"math"
	"math/big"
	"slices"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Components are the two parts of the scatter of core - reading on a test strip, as
// standard deviations in Unit.
type Components struct {
	Unit       units.DensityUnit
	Locations  int
	Readings   int     // at all of them
	Reading    float64 // of one reading within a location: the repeatability of the gauge
	ReadingDF  float64
	ReadingCI  stats.Interval
	Location   float64 // between locations beyond that: core and gauge do not see the same, and the error of the core
	LocationDF float64 // by Satterthwaite; 0 where the estimate is not above 0
	LocationCI stats.Interval
	Warnings   []stats.Warning
}

// StripComponents splits the scatter of a test strip into the part of a reading and
// the part of a location. With dᵢⱼ = core - reading j at location i,
//
//	s²(reading) = MS within,   s²(location) = (MS between - MS within)/n₀
//
// n₀ being the readings per location, (N - Σnᵢ²/N)/(k-1) where k locations have N of them
// in unequal numbers. More cores make both parts smaller in an offset, more readings at a
// place the first alone. Joined as in [EstimateOffset]; at least two locations with a
// core, and one of them read twice. level is the confidence of the intervals, which are
// those of standard deviations (modified large sample).
//
// It assumes normal parts, independent of each other. A part estimated below 0 is
// given as 0 with [stats.WarnNegative]; [WarnUnpaired] and [WarnWet] are as of
// [EstimateOffset].
//
// Errors are those of [EstimateOffset] for the data, or [*stats.InputError] around
// [stats.ErrTooFew], [stats.ErrNoSpread] or [stats.ErrLevel].
//
// Source: as of [stats.OneWayComponents].
func StripComponents(gauge []Location, cores []Core, level float64) (Components, error) {
	const fn = "bias.StripComponents"
	if !(level > 0 && level < 1) {
		return Components{}, stats.Refuse(fn, "level", fmt.Sprint(level), stats.ErrLevel)
	}
	j, err := join(fn, gauge, cores)
	if err != nil {
		return Components{}, err
	}
	if err := j.enough(fn, 2); err != nil {
		return Components{}, err
	}
	if j.repeats() == 0 {
		return Components{}, stats.Refuse(fn, "gauge", "", fmt.Errorf("%w: no location was read twice", stats.ErrTooFew))
	}
	v, err := stats.OneWayComponents(j.groups(), stats.ComponentOptions{Level: level, Method: stats.ModifiedLargeSample})
	if err != nil {
		return Components{}, stats.Renamed(err, fn, "core - reading")
	}
	for i, w := range v.Warnings {
		if w.Code == stats.WarnNegative { // of the first level, since the last is a mean square
			v.Warnings[i].Where = "location"
		}
	}
	c := newComponents(j, v)
	c.Warnings = append(c.Warnings, j.wetWarnings()...)
	c.Warnings = append(c.Warnings, j.unpairedWarnings(leftOut)...)
	return c, nil
}

// repeats returns how many readings there are beyond the first of each location.
func (j joined) repeats() (n int) {
	for _, p := range j.pairs {
		n += len(p.first.values) - 1
	}
	return n
}

// groups returns core - reading by location.
func (j joined) groups() [][]float64 {
	groups := make([][]float64, len(j.pairs))
	for i, p := range j.pairs {
		for _, r := range p.first.values {
			groups[i] = append(groups[i], float(new(big.Rat).Sub(p.second.mean, r.Exact(j.unit))))
		}
	}
	return groups
}

func newComponents(j joined, v stats.OneWayVariance) Components {
	location, reading := v.Components[0], v.Components[1]
	c := Components{Unit: j.unit, Locations: len(j.pairs), Readings: v.N, Reading: reading.StdDev, ReadingDF: float64(reading.Source.DF),
		ReadingCI: rootOf(reading.CI), Location: location.StdDev, LocationCI: rootOf(location.CI), Warnings: v.Warnings}
	if location.Estimate > 0 {
		above, below := location.Source.MS, reading.Source.MS
		excess, within := (above-below)/above, below/above // relative, so that no square overflows
		c.LocationDF = excess * excess / (1/float64(location.Source.DF) + float64(within*within)/c.ReadingDF)
	}
	return c
}

func rootOf(i stats.Interval) stats.Interval {
	return stats.Interval{Lo: math.Sqrt(i.Lo), Hi: math.Sqrt(i.Hi), Level: i.Level}
}

// HalfWidth returns the half-width that the interval of an offset will have from n
// cores with k readings at each,
//
//	t(1-α/2; n-1) · √((σ²(location) + σ²(reading)/k)/n),   α = 1 - level
//
// if the strip shows the standard deviations of c again; a strip of few cores shows
// others.
//
// Errors are [*stats.InputError] around [stats.ErrTooFew] (cores below 2, readings
// below 1), [stats.ErrLevel], [units.ErrNotGiven] (the unit of c) or [stats.ErrParameter]
// (c negative, not finite or without any scatter).
func (c Components) HalfWidth(cores, readings int, level float64) (units.DensityDifference, error) {
	const fn = "bias.Components.HalfWidth"
	if err := c.check(fn, "c"); err != nil {
		return units.DensityDifference{}, err
	}
	switch {
	case cores < 2:
		return units.DensityDifference{}, stats.Refuse(fn, "cores", fmt.Sprint(cores), fmt.Errorf("%w; an interval needs 2", stats.ErrTooFew))
	case readings < 1:
		return units.DensityDifference{}, stats.Refuse(fn, "readings", fmt.Sprint(readings), stats.ErrTooFew)
	case !(level > 0 && level < 1):
		return units.DensityDifference{}, stats.Refuse(fn, "level", fmt.Sprint(level), stats.ErrLevel)
	}
	return c.Unit.Difference(c.half(cores, float64(readings), level)), nil
}

// half expects arguments that are checked; readings may be infinite.
func (c Components) half(cores int, readings, level float64) float64 {
	sd := math.Hypot(c.Location, c.Reading/math.Sqrt(readings))
	e, err := stats.MeanIntervalOf(stats.Summary{N: cores, StdDev: sd}, level)
	if err != nil { // overflow
		return math.MaxFloat64
	}
	return e.CI.HalfWidth()
}

// negative returns the warnings that a part was estimated below 0, which makes what is
// computed from it look too good.
func (c Components) negative() []stats.Warning {
	return slices.DeleteFunc(slices.Clone(c.Warnings), func(w stats.Warning) bool { return w.Code != stats.WarnNegative })
}

func (c Components) check(fn, arg string) error {
	switch {
	case c.Unit.String() == "":
		return stats.Refuse(fn, arg+".Unit", "", units.ErrNotGiven)
	case !(c.Reading >= 0) || math.IsInf(c.Reading, 1):
		return stats.Refuse(fn, arg+".Reading", fmt.Sprint(c.Reading), stats.ErrParameter)
	case !(c.Location >= 0) || math.IsInf(c.Location, 1):
		return stats.Refuse(fn, arg+".Location", fmt.Sprint(c.Location), stats.ErrParameter)
	case c.Location == 0 && c.Reading == 0:
		return stats.Refuse(fn, arg, "", fmt.Errorf("%w: no scatter at all", stats.ErrParameter))
	}
	return nil
}
