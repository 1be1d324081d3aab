package stats

import (
	"cmp"
	"math/bits"
	"slices"
)

// weightedNth returns the slope that would stand at place k, counted from 0, if each
// slope were written as often as it weighs and all were sorted; a place beyond the last
// is the last. It reorders ws, which is not empty. Pivots are medians of three; should
// they keep failing, the rest is sorted.
func weightedNth(ws []weightedSlope, k int64) float64 {
	for attempts := 2 * bits.Len(uint(len(ws))); len(ws) > insertionLength && attempts > 0; attempts-- {
		pivot := middle(ws[0].slope, ws[len(ws)/2].slope, ws[len(ws)-1].slope)
		below, equal, first, last := parted(ws, pivot)
		switch {
		case k < below:
			ws = ws[:first]
		case k < below+equal || last == len(ws):
			return pivot
		default:
			ws, k = ws[last:], k-below-equal
		}
	}
	slices.SortFunc(ws, func(a, b weightedSlope) int { return cmp.Compare(a.slope, b.slope) })
	for _, w := range ws {
		if k -= w.weight; k < 0 {
			return w.slope
		}
	}
	return ws[len(ws)-1].slope
}

// parted puts the slopes below the pivot first and those above it last. It returns the
// weights below and at the pivot, where the equal ones begin and where those above do.
func parted(ws []weightedSlope, pivot float64) (below, equal int64, first, last int) {
	last = len(ws)
	for i := 0; i < last; {
		switch w := ws[i]; {
		case w.slope < pivot:
			below += w.weight
			ws[i], ws[first] = ws[first], w
			first++
			i++
		case w.slope > pivot:
			last--
			ws[i], ws[last] = ws[last], w
		default:
			equal += w.weight
			i++
		}
	}
	return below, equal, first, last
}
