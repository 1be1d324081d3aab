package bias

import (
	"fmt"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
)

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

func (e *OffsetEstimate) add(code stats.WarningCode, where, format string, args ...any) {
	e.Warnings = append(e.Warnings, stats.Warning{Code: code, Where: where, Text: fmt.Sprintf(format, args...)})
}

func (e *OffsetEstimate) warn(j joined) {
	for _, id := range e.Unpaired {
		e.add(WarnUnpaired, id, "found among the locations or the cores but not both, so it was left out")
	}
	e.warnReadings(j.pairs)
	if e.StdDev == 0 {
		e.add(WarnNoSpread, "", "all %d differences are equal; check that the cores were not computed from the readings", e.N)
	}
	if e.Screen != nil && e.Screen.Outlier {
		p := e.Pairs[e.Screen.Index]
		e.add(WarnSuspect, p.ID, "the difference %+v does not fit the others (p = %.2g); it is kept, the offset without it is %+.2f; look at the core before deciding",
			p.Difference, e.Screen.P, p.Without)
	}
	if half := e.CI.HalfWidth(); !e.Options.Tolerance.IsZero() && half > e.Options.Tolerance.In(e.Unit) {
		e.add(WarnWide, "", "the half-width %.2f %v is more than the tolerance %v; %s", half, e.Unit, e.Options.Tolerance, e.moreCores())
	}
}

// warnReadings looks at what the gauge was given to read.
func (e *OffsetEstimate) warnReadings(pairs []exactPair) {
	fewest, most := len(pairs[0].Readings), len(pairs[0].Readings)
	for _, p := range pairs {
		fewest, most = min(fewest, len(p.Readings)), max(most, len(p.Readings))
	}
	if fewest < most {
		e.add(WarnUnequal, "", "the locations have %d to %d readings; each counts once, and the prediction is for a location read about as often", fewest, most)
	}
	e.warnCopied(pairs)
	e.warnWet(pairs)
}

func (e *OffsetEstimate) warnCopied(pairs []exactPair) {
	least := e.Options.Copied
	if least == 0 {
		return
	}
	first := make(map[string]string, len(pairs))
	for _, p := range pairs {
		if len(p.Readings) < least {
			continue
		}
		series := p.series()
		if id, repeated := first[series]; repeated {
			e.add(WarnCopied, p.ID, "the %d readings are those of %s, in the same order; look at the original record", len(p.Readings), id)
			continue
		}
		first[series] = p.ID
	}
}

func (e *OffsetEstimate) warnWet(pairs []exactPair) {
	var dry, damp int
	for _, p := range pairs {
		switch p.Moisture {
		case density.MatDry:
			dry++
		case density.MatDamp:
			damp++
		case density.MatWet:
			e.add(WarnWet, p.ID, "read on a film of water, which moves an electromagnetic gauge; dry the mat and read again, or leave the location out with this reason")
		}
	}
	if dry > 0 && damp > 0 {
		e.add(WarnWet, "", "%d locations were damp and %d dry; an offset holds for one state of the mat", damp, dry)
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
