package stats

import (
	"math/bits"
	"slices"
)

// neighbours returns the values that would stand at lower and lower+1 if xs were
// sorted, or the first or last value for a place outside. It reorders xs.
func neighbours(xs []float64, lower int) (a, b float64) {
	last := len(xs) - 1
	i := min(max(lower, 0), last)
	selectNth(xs, i)
	if lower < 0 || i == last {
		return xs[i], xs[i]
	}
	return xs[i], slices.Min(xs[i+1:])
}

// selectNth puts the value that belongs at place k of the sorted order there,
// none larger before it and none smaller behind. Pivots are medians of three;
// should they keep failing, as on data made for it, the rest is sorted.
//
// Source: C. A. R. Hoare, Algorithm 65: Find, Communications of the ACM 4 (1961)
// 321-322.
func selectNth(xs []float64, k int) {
	lo, hi := 0, len(xs)-1
	for attempts := 2 * bits.Len(uint(len(xs))); hi-lo > insertionLength; attempts-- {
		if attempts == 0 {
			slices.Sort(xs[lo : hi+1])
			return
		}
		i, j := partition(xs, lo, hi)
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return
		}
	}
	insertionSort(xs[lo : hi+1])
}

// insertionLength values or fewer are sorted outright.
const insertionLength = 12

// partition returns i > j such that no value up to j is larger than any from i
// on, and those between are equal to the pivot.
func partition(xs []float64, lo, hi int) (i, j int) {
	pivot := middle(xs[lo], xs[lo+(hi-lo)/2], xs[hi])
	for i, j = lo, hi; i <= j; {
		for xs[i] < pivot {
			i++
		}
		for xs[j] > pivot {
			j--
		}
		if i <= j {
			xs[i], xs[j] = xs[j], xs[i]
			i++
			j--
		}
	}
	return i, j
}

func middle(a, b, c float64) float64 { return max(min(a, b), min(max(a, b), c)) }

func insertionSort(xs []float64) {
	for i := 1; i < len(xs); i++ {
		x := xs[i]
		j := i
		for ; j > 0 && xs[j-1] > x; j-- {
			xs[j] = xs[j-1]
		}
		xs[j] = x
	}
}
