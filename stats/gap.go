package stats

import (
	"math"
	"slices"
)

// Gap is the widest empty stretch between neighbouring values of a sample.
type Gap struct {
	Lo, Hi float64 // the values on either side of it
	Below  int     // how many values are at or below Lo
	Above  int     // how many values are at or above Hi
}

// Width returns Hi-Lo.
func (g Gap) Width() float64 { return g.Hi - g.Lo }

// wideGap is the width, in standard deviations of the whole sample, from which a
// gap with two or more values on either side suggests two groups. Two equal
// groups without any spread of their own stand 2·√((n-1)/n) apart; in samples of
// 5 to 10 from one normal population 1.5 is rare. It steers a warning only.
const wideGap = 1.5

// LargestGap returns the widest gap between neighbouring values of xs in order
// of size, the lowest one where several are equally wide to the rounding of the
// values. xs holds at least 2 finite values and is not changed. Cost: one sorted copy.
//
// Errors are [*InputError] around [ErrTooFew] or [ErrNotFinite].
func LargestGap(xs []float64) (Gap, error) {
	const fn = "stats.LargestGap"
	if len(xs) < 2 {
		return Gap{}, tooFew(fn, "xs", len(xs), 2)
	}
	if err := checkFinite(fn, "xs", xs); err != nil {
		return Gap{}, err
	}
	return largestGap(xs), nil
}

func largestGap(xs []float64) Gap {
	sorted := slices.Clone(xs)
	slices.Sort(sorted)
	noise := roundingIn(max(math.Abs(sorted[0]), math.Abs(sorted[len(sorted)-1])))
	at := 1
	for i := 2; i < len(sorted); i++ {
		if sorted[i]-sorted[i-1] > (sorted[at]-sorted[at-1])+noise { // one of them at most overflows
			at = i
		}
	}
	return Gap{Lo: sorted[at-1], Hi: sorted[at], Below: at, Above: len(sorted) - at}
}

// SplitsInTwo reports whether the gap suggests two groups rather than one
// population: it is at least 1.5 standard deviations of the whole sample wide
// and two or more values lie on either side. A single value apart is the
// business of [Grubbs].
func (g Gap) SplitsInTwo(stdDev float64) bool {
	noise := 2 * roundingIn(max(math.Abs(g.Lo), math.Abs(g.Hi)))
	return stdDev > 0 && g.Width() >= wideGap*stdDev-noise && min(g.Below, g.Above) >= 2
}
