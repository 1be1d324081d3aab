package stats

import (
	"fmt"
	"math"
	"slices"
)

// sortedShape returns the sorted values as (x-x₁)/(xₙ-x₁), from 0 to 1. What tests of
// normality see does not depend on the unit and the zero of the values, bit for bit where
// these move without rounding.
func sortedShape(fn string, xs []float64) ([]float64, error) {
	if allEqual(xs) {
		return nil, Refuse(fn, "xs", "", ErrNoSpread)
	}
	shape := slices.Clone(xs)
	slices.Sort(shape)
	first := shape[0]
	width := shape[len(shape)-1] - first
	if math.IsInf(width, 1) {
		return nil, Refuse(fn, "xs", "", ErrOverflow)
	}
	for i, x := range shape {
		shape[i] = (x - first) / width
	}
	return shape, nil
}

// standardize returns deviations from the mean in standard deviations, divisor n-1.
func standardize(shape []float64) []float64 {
	d, err := describe("", "", shape)
	if err != nil { // never: from 0 to 1
		return nil
	}
	z := make([]float64, len(shape))
	for i, x := range shape {
		z[i] = (x - d.Mean) / d.StdDev
	}
	return z
}

// fewForNormality is the number of values below which tests of normality find gross
// departures only: of 20 values from an exponential distribution four in five samples
// are rejected at 5 %, of 10 two in five (simulated).
const fewForNormality = 20

// roundingBorne steers when to warn of rounding. A grid adds its variance, step²/12, as a
// share of the whole to 1-W, and a term of n times that to A²; from a tenth of what these
// are in normal samples on, a test at 5 % rejects 6 % and more of them (simulated for n
// from 8 to 1000).
const roundingBorne = 0.1

// normalityWarnings warns of few values, and of recording so coarse that its variance is
// more than the share of the whole that the test bears.
func normalityWarnings(xs []float64, share float64) (ws []Warning) {
	if n := len(xs); n < fewForNormality {
		ws = append(ws, Warning{Code: WarnSmallN, Text: fmt.Sprintf(
			"of %d values the test sees only a gross departure from normal: a large p says little", n)})
	}
	r, err := RecordedResolution(xs)
	if err == nil && r.OnGrid && 1/square(r.StepsInDeviation) > 12*share {
		ws = append(ws, Warning{Code: WarnResolution, Text: fmt.Sprintf(
			"values are recorded in steps of %.3g, %.1f of them in a standard deviation: equal values count against the normal distribution, and p is too small",
			r.Step, r.StepsInDeviation)})
	}
	return ws
}
