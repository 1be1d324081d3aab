package bias

import (
	"math"

	"github.com/densilot/densilot/stats"
)

// RatioEstimate is mean core over mean gauge with its interval.
type RatioEstimate struct {
	Ratio, StdErr, DF float64
	CI                stats.Interval
}

// ratioOf puts an interval about the ratio of the means of ys and xs.
func ratioOf(fn string, xs, ys []float64, ratio, level float64) (RatioEstimate, error) {
	n := float64(len(xs))
	var ss, mean float64
	for i, x := range xs {
		off := ys[i] - ratio*x
		ss += off * off
		mean += x / n
	}
	s := stats.Summary{N: len(xs), Mean: ratio, StdDev: math.Sqrt(ss/(n-1)) / mean}
	if !isFinite(s.Mean, s.StdDev) {
		return RatioEstimate{}, stats.Refuse(fn, "gauge", "", stats.ErrOverflow)
	}
	e, err := stats.MeanIntervalOf(s, level)
	return RatioEstimate{Ratio: ratio, StdErr: e.StdErr, DF: e.DF, CI: e.CI}, stats.Renamed(err, fn, "o.Level")
}
