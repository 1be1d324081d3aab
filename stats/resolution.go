package stats

import (
	"fmt"
	"math"
	"slices"
)

// WarnResolution is the code of the warning that values are recorded too coarsely for
// their spread.
const WarnResolution WarningCode = "coarse-resolution"

// Resolution says how finely values are recorded, as far as they show it.
type Resolution struct {
	Distinct         int     // different values
	Step             float64 // smallest difference of two different values, 0 if all are equal
	OnGrid           bool    // all differences are whole steps, and there are more differences than one
	StepsInDeviation float64 // standard deviation divided by Step, 0 if all values are equal
}

// fewSteps is the number of steps in a standard deviation below which recording shows
// in it: the variance of rounding, step²/12, is then more than 2 % of the whole.
const fewSteps = 2

// RecordedResolution looks for a grid on which all values of xs lie: whole multiples of
// the smallest difference apart, to 1e-6 of a step, with three different values or
// more. It is a diagnostic and changes nothing. xs holds at least 2 finite values and is
// not changed. Cost: one sorted copy.
//
// Errors are [*InputError] around [ErrTooFew], [ErrNotFinite] or [ErrOverflow].
func RecordedResolution(xs []float64) (Resolution, error) {
	const fn = "stats.RecordedResolution"
	s, err := summarize(fn, "xs", xs)
	if err != nil {
		return Resolution{}, err
	}
	sorted := slices.Clone(xs)
	slices.Sort(sorted)
	sorted = slices.Compact(sorted)
	r := Resolution{Distinct: len(sorted)}
	if r.Distinct == 1 {
		return r, nil
	}
	r.Step = smallestStep(sorted)
	r.StepsInDeviation = s.StdDev / r.Step
	r.OnGrid = r.Distinct > 2 && onGrid(sorted, r.Step)
	if !areFinite(r.Step, r.StepsInDeviation) {
		return Resolution{}, Refuse(fn, "xs", "", ErrOverflow)
	}
	return r, nil
}

func smallestStep(sorted []float64) float64 {
	step := math.Inf(1)
	for i, x := range sorted[1:] {
		step = min(step, x-sorted[i])
	}
	return step
}

// onGrid allows for the rounding of the values themselves, so tenths far from 0 are
// still tenths.
func onGrid(sorted []float64, step float64) bool {
	const tolerance = 1e-6 // decimals in float64 miss their grid by far less, other values by far more
	last := len(sorted) - 1
	rounding := 0x1p-50 * max(math.Abs(sorted[0]), math.Abs(sorted[last])) / step
	for _, x := range sorted {
		steps := (x - sorted[0]) / step
		if !(math.Abs(steps-math.Round(steps)) <= tolerance+rounding*steps) {
			return false
		}
	}
	return rounding*(sorted[last]-sorted[0])/step < 0.1
}

// Coarse reports whether recording shows in the spread: the values lie on a grid with
// fewer than two steps in a standard deviation.
func (r Resolution) Coarse() bool {
	return r.OnGrid && r.StepsInDeviation < fewSteps
}

// Warnings returns a [WarnResolution] if the values are recorded coarsely.
func (r Resolution) Warnings() []Warning {
	if !r.Coarse() {
		return nil
	}
	return []Warning{{Code: WarnResolution, Text: fmt.Sprintf(
		"values are recorded in steps of %.3g, %.1f of them in a standard deviation, which rounding inflates; record one more digit",
		r.Step, r.StepsInDeviation)}}
}
