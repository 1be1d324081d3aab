package main

import (
	"fmt"

	"github.com/densilot/densilot/stats"
)

func dixonCritical(in *input) (float64, error) {
	return stats.DixonCritical(in.int("n"), in.dixonRatio("ratio"), in.side("side"), in.float("alpha"))
}

// dixonRatio is the ratio of data; no critical value is asked for, so any alpha serves.
func dixonRatio(in *input) (float64, error) {
	r, err := stats.Dixon(in.floats("x"), in.dixonRatio("ratio"), in.side("side"), 0.05)
	return r.R, err
}

func (in *input) dixonRatio(name string) stats.DixonRatio {
	return get(in, name, func(s string) (stats.DixonRatio, error) {
		for ratio := stats.DixonR10; ratio <= stats.DixonR22; ratio++ {
			if ratio.String() == s {
				return ratio, nil
			}
		}
		return 0, fmt.Errorf("%q is no ratio", s)
	})
}
