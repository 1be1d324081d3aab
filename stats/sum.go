package stats

import "math"

// Sum returns Σx rounded once: the float64 nearest to the exact sum, whatever
// the order, the cancellation and the size of intermediate sums. The sum of no
// values is 0. xs is not changed.
//
// Cost: about 5 ns per value and nothing allocated, some seven times a plain
// loop. For the mean and the standard deviation together [Describe] is faster.
//
// Errors are [*InputError] around [ErrNotFinite] or [ErrOverflow].
//
// Source: R. M. Neal, Fast exact summation using small and large
// superaccumulators, arXiv:1505.05571 (2015).
func Sum(xs []float64) (float64, error) {
	const fn = "stats.Sum"
	if err := checkFinite(fn, "xs", xs); err != nil {
		return 0, err
	}
	var total exactSum
	total.addAll(xs)
	significand, exponent := total.round()
	sum := math.Ldexp(significand, exponent)
	if !isFinite(sum) {
		return 0, refuse(fn, "xs", "", ErrOverflow)
	}
	return sum, nil
}

// Mean returns Σx/n rounded once: the float64 nearest to the exact mean (a mean
// below 2.3e-308 may be the next to nearest). A sum too large for a float64 does
// no harm. xs holds at least one finite value and is
// not changed. Cost: that of [Sum].
//
// Errors are [*InputError] around [ErrTooFew] or [ErrNotFinite].
func Mean(xs []float64) (float64, error) {
	const fn = "stats.Mean"
	if len(xs) < 1 {
		return 0, tooFew(fn, "xs", len(xs), 1)
	}
	if err := checkFinite(fn, "xs", xs); err != nil {
		return 0, err
	}
	var total exactSum
	total.addAll(xs)
	total.divide(len(xs))
	return math.Ldexp(total.round()), nil
}
