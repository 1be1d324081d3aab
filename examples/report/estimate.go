package main

import (
	"github.com/densilot/densilot/examples/internal/shift"
	"github.com/densilot/densilot/lot"
)

// estimate is a lot with the interval of its true percent within limits.
type estimate struct {
	shift.Lot
	Bounds lot.WithinBounds
}

// estimateLots asks for intervals with the confidence that the contract names for
// the offset; no decision rests on them.
func estimateLots(a shift.Answers) ([]estimate, error) {
	var out []estimate
	for _, l := range a.Lots {
		var xs []float64
		for _, r := range l.Results {
			xs = append(xs, r.Value.InexactFloat64())
		}
		w, err := lot.WithinInterval(xs, a.Contract.Plan.Terms().Limits, a.Contract.Strip.Level)
		if err != nil {
			return nil, err
		}
		out = append(out, estimate{l, w})
	}
	return out, nil
}
