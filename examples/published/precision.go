package main

import (
	"errors"
	"math"

	"github.com/densilot/densilot/density"
)

var errNoPrecision = errors.New("no such precision statement")

// twoSigmaLimit recomputes the d2s of a precision statement from its s.
func twoSigmaLimit(in *input) (float64, error) {
	for _, p := range density.RememberedPrecision() {
		if p.Standard == in.values["standard"] && p.Edition == in.values["edition"] &&
			p.Property == in.values["property"] && p.Operators.String() == in.values["operators"] {
			return 2 * math.Sqrt2 * p.StdDev.InexactFloat64(), nil
		}
	}
	return 0, errNoPrecision
}
