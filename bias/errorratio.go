package bias

import (
	"fmt"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
)

// ErrorRatioSource says what a ratio of error variances rests on.
type ErrorRatioSource uint8

// The sources of a ratio of error variances.
const (
	StatedRatio    ErrorRatioSource = iota + 1 // the caller stated the ratio
	StatedCore                                 // the caller stated the standard deviation of a core; the gauge's is from its readings
	FromReplicates                             // both are from replicates
)

// String returns the source in words.
func (s ErrorRatioSource) String() string {
	switch s {
	case StatedRatio:
		return "stated"
	case StatedCore:
		return "stated for the core, from its readings for the gauge"
	case FromReplicates:
		return "from replicates of both"
	}
	return "no source"
}

// ErrorRatio is the error variance of the core density at a location over that of the
// gauge mean there, with what it rests on.
type ErrorRatio struct {
	Ratio  float64
	Source ErrorRatioSource
	Gauge  Term           // of one reading; none where the ratio is stated
	Core   Term           // of one core; no degrees of freedom where it is stated, none where the ratio is
	CI     stats.Interval // of Ratio, by F; zero where anything is stated
	Slopes [2]float64     // of the line if Ratio were at the ends of CI; 0 without CI
}

// String returns the ratio with its source and what it moves.
func (r ErrorRatio) String() string {
	text := fmt.Sprintf("the ratio of error variances, core over gauge, is %.3g, %v", r.Ratio, r.Source)
	switch r.Source {
	case StatedCore:
		text += fmt.Sprintf(" (%g degrees of freedom)", r.Gauge.DF)
	case FromReplicates:
		text += fmt.Sprintf(" (%g and %g degrees of freedom), %g%% interval %.3g to %.3g, at whose ends the slope is %.3f and %.3f",
			r.Core.DF, r.Gauge.DF, 100*r.CI.Level, r.CI.Lo, r.CI.Hi, r.Slopes[0], r.Slopes[1])
	}
	return text
}

// errorRatio finds the ratio by the source that the caller chose.
func (o ModelOptions) errorRatio(fn string, j joined) (ErrorRatio, error) {
	if o.ErrorRatio != 0 {
		return ErrorRatio{Ratio: o.ErrorRatio, Source: StatedRatio}, nil
	}
	r, shareCore, err := o.coreError(fn, j)
	if err != nil {
		return ErrorRatio{}, err
	}
	var shareGauge float64
	r.Gauge, shareGauge = j.within(func(p exactPair) measured { return p.first })
	if err := r.Gauge.check(fn, "gauge", "no location was read twice"); err != nil {
		return ErrorRatio{}, err
	}
	apart := r.Core.StdDev / r.Gauge.StdDev
	r.Ratio = apart * apart * (shareCore / shareGauge)
	if !isFinite(r.Ratio) || r.Ratio == 0 {
		return ErrorRatio{}, stats.Refuse(fn, "cores", fmt.Sprint(r.Core.StdDev), stats.ErrOverflow)
	}
	return r.withInterval(fn, o.Level)
}

// coreError returns the error of a core, stated or from cores side by side, and the
// mean of 1/mᵢ.
func (o ModelOptions) coreError(fn string, j joined) (r ErrorRatio, share float64, err error) {
	r.Core, share = j.within(func(p exactPair) measured { return p.second })
	if o.Replicates {
		r.Source = FromReplicates
		return r, share, r.Core.check(fn, "cores", "no location has two cores; state the error of a core instead")
	}
	r.Source, r.Core = StatedCore, Term{StdDev: o.CoreStdDev.In(j.unit)}
	if o.CoreStdDev.Unit() != j.unit {
		err = stats.Refuse(fn, "o.CoreStdDev", o.CoreStdDev.String(), fmt.Errorf("%w (the readings are in %v)", density.ErrUnitMismatch, j.unit))
	}
	return r, share, err
}

// check refuses an error that its repetitions do not show.
func (t Term) check(fn, arg, why string) error {
	switch {
	case t.DF == 0:
		return stats.Refuse(fn, arg, "", fmt.Errorf("%w: %s", stats.ErrTooFew, why))
	case t.StdDev == 0:
		return stats.Refuse(fn, arg, "", stats.ErrNoSpread)
	}
	return nil
}

// withInterval puts the exact interval for normal errors about a ratio from replicates.
func (r ErrorRatio) withInterval(fn string, level float64) (ErrorRatio, error) {
	if r.Source != FromReplicates {
		return r, nil
	}
	f, err := stats.NewFDistribution(r.Core.DF, r.Gauge.DF)
	if err != nil {
		return ErrorRatio{}, stats.Renamed(err, fn, "cores")
	}
	low, err := f.Quantile((1 - level) / 2)
	if err != nil {
		return ErrorRatio{}, stats.Renamed(err, fn, "o.Level")
	}
	high, err := f.UpperQuantile((1 - level) / 2)
	if err != nil {
		return ErrorRatio{}, stats.Renamed(err, fn, "o.Level")
	}
	r.CI = stats.Interval{Lo: r.Ratio / high, Hi: r.Ratio / low, Level: level}
	if !isFinite(r.CI.Hi) || r.CI.Lo == 0 {
		return ErrorRatio{}, stats.Refuse(fn, "cores", fmt.Sprint(r.Core.StdDev), stats.ErrOverflow)
	}
	return r, nil
}

// slopes sets what the line would be at the ends of the interval.
func (r *ErrorRatio) slopes(fn string, s stats.PairSummary) error {
	if r.Source != FromReplicates {
		return nil
	}
	for i, ratio := range []float64{r.CI.Lo, r.CI.Hi} {
		line, err := stats.DemingLine(s, ratio)
		if err != nil {
			return stats.Renamed(err, fn, "pairs")
		}
		r.Slopes[i] = line.Slope
	}
	return nil
}
