package bias

import (
	"fmt"
	"slices"
	"strings"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// fewestScreened is where a screen starts to say something: among three pairs, any
// two that agree make an outlier of the third.
const fewestScreened = 4

// screen looks for one bad core.
func (e *OffsetEstimate) screen(fn string, diffs []float64) error {
	if e.Options.OutlierAlpha == 0 || len(diffs) < fewestScreened {
		return nil
	}
	r, err := stats.Grubbs(diffs, stats.TwoSide, e.Options.OutlierAlpha)
	if err != nil {
		return stats.Renamed(err, fn, "pairs")
	}
	e.Screen = &r
	if r.Outlier || len(diffs) > stats.MostForTwoOutliers || !slices.ContainsFunc(r.Warnings, isMasking) {
		return nil
	}
	return e.screenTwo(fn, diffs)
}

func isMasking(w stats.Warning) bool { return w.Code == stats.WarnMasking }

// screenTwo looks for two bad cores on one side, which hide each other.
func (e *OffsetEstimate) screenTwo(fn string, diffs []float64) error {
	for _, side := range []stats.Side{stats.Low, stats.High} {
		r, err := stats.TwoOutliers(diffs, side, e.Options.OutlierAlpha/2)
		if err != nil {
			return stats.Renamed(err, fn, "pairs")
		}
		if e.ScreenTwo == nil || r.P < e.ScreenTwo.P {
			e.ScreenTwo = &r
		}
	}
	return nil
}

func (e *OffsetEstimate) add(code stats.WarningCode, where, format string, args ...any) {
	e.Warnings = append(e.Warnings, stats.Warning{Code: code, Where: where, Text: fmt.Sprintf(format, args...)})
}

func (e *OffsetEstimate) warn(j joined) {
	e.Warnings = append(e.Warnings, j.unpairedWarnings(leftOut)...)
	e.warnReadings(j.pairs)
	e.Warnings = append(e.Warnings, j.wetWarnings()...)
	if e.StdDev == 0 {
		e.add(WarnNoSpread, "", "all %d differences are equal; check that the cores were not computed from the readings", e.N)
	}
	e.warnSuspect()
	if half := e.CI.HalfWidth(); !e.Options.Tolerance.IsZero() && half > e.Options.Tolerance.In(e.Unit) {
		e.add(WarnWide, "", "the half-width %.2f %v is more than the tolerance %v; %s", half, e.Unit, e.Options.Tolerance, e.moreCores())
	}
}

// warnSuspect reports both versions of an offset with a bad core and drops nothing.
func (e *OffsetEstimate) warnSuspect() {
	if e.Screen != nil && e.Screen.Outlier {
		p := e.Pairs[e.Screen.Index]
		e.add(WarnSuspect, p.ID, "the difference %+v does not fit the others (p = %.2g); it is kept: the offset is %+.2f ± %.2f with it and %+.2f ± %.2f without; look at the core before deciding",
			p.Difference, e.Screen.P, e.Mean, e.CI.HalfWidth(), p.Without.In(e.Unit), p.WithoutCI.HalfWidth())
	}
	if two := e.ScreenTwo; two != nil && two.Outliers {
		for i, k := range two.Indices {
			p, other := e.Pairs[k], e.Pairs[two.Indices[1-i]]
			e.add(WarnSuspect, p.ID, "the difference %+v and that of %s, %+v, do not fit the others together (p = %.2g) and hide each other from the test of one; both are kept; look at the cores before deciding",
				p.Difference, other.ID, other.Difference, two.P)
		}
	}
}

// warnReadings looks at what the gauge was given to read.
func (e *OffsetEstimate) warnReadings(pairs []exactPair) {
	if fewest, most := counts(pairs, func(p exactPair) int { return len(p.first.values) }); fewest < most {
		e.add(WarnUnequal, "", "the locations have %d to %d readings; each counts once, and the prediction is for a location read about as often", fewest, most)
	}
	if fewest, most := counts(pairs, func(p exactPair) int { return len(p.second.values) }); fewest < most {
		e.add(WarnUnequal, "", "the locations have %d to %d cores or determinations; each location counts once", fewest, most)
	}
	e.warnCopied(pairs)
	e.warnFromCores(pairs)
}

func counts(pairs []exactPair, of func(exactPair) int) (fewest, most int) {
	fewest = of(pairs[0])
	for _, p := range pairs {
		fewest, most = min(fewest, of(p)), max(most, of(p))
	}
	return fewest, most
}

// warnFromCores looks for readings that were written down from the cores: a location
// counts where all its readings are the density of its core to the last digit.
func (e *OffsetEstimate) warnFromCores(pairs []exactPair) {
	var ids []string
	var readings int
	for _, p := range pairs {
		if !slices.ContainsFunc(p.first.values, func(d units.Density) bool { return d.Exact(e.Unit).Cmp(p.second.mean) != 0 }) {
			ids, readings = append(ids, p.first.id), readings+len(p.first.values)
		}
	}
	if e.Options.Copied > 0 && readings >= e.Options.Copied {
		e.add(WarnCopied, strings.Join(ids, ", "), "%d readings are the density of their own core to the last digit; look at the original record", readings)
	}
}

func (e *OffsetEstimate) warnCopied(pairs []exactPair) {
	least := e.Options.Copied
	if least == 0 {
		return
	}
	first := make(map[string]string, len(pairs))
	for _, p := range pairs {
		if len(p.first.values) < least {
			continue
		}
		series := p.first.series()
		if id, repeated := first[series]; repeated {
			e.add(WarnCopied, p.first.id, "the %d readings are those of %s, in the same order; look at the original record", len(p.first.values), id)
			continue
		}
		first[series] = p.first.id
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
