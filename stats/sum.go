package stats

import "math"

// Sum returns Σx rounded once: the float64 nearest to the exact sum, whatever
// the order, the cancellation and the size of intermediate sums. The sum of no
// values is 0. xs is not changed.
//
// A compensated sum is tried first; where its error bound leaves the last bit in
// doubt, the values are added again in fixed point, wide enough for all of them.
// Cost: about 2 ns per value, 5 ns more in case of doubt; nothing is allocated.
//
// Errors are [*InputError] around [ErrNotFinite] or [ErrOverflow].
//
// Source: T. Ogita, S. M. Rump and S. Oishi, Accurate sum and dot product, SIAM
// Journal on Scientific Computing 26 (2005) 1955-1988; R. M. Neal, Fast exact
// summation using small and large superaccumulators, arXiv:1505.05571 (2015).
func Sum(xs []float64) (float64, error) {
	const fn = "stats.Sum"
	if sum, bound := compensatedSum(xs); sum.isNearest(bound) {
		return sum.hi, nil
	}
	if err := checkFinite(fn, "xs", xs); err != nil {
		return 0, err
	}
	var total exactSum
	total.addAll(xs)
	significand, exponent := total.round()
	sum := math.Ldexp(significand, exponent)
	if !isFinite(sum) {
		return 0, Refuse(fn, "xs", "", ErrOverflow)
	}
	return sum, nil
}

// Mean returns Σx/n rounded once: the float64 nearest to the exact mean (a mean
// below 2.3e-308 may be the next to nearest). A sum too large for a float64 does
// no harm. xs holds at least one finite value and is not changed. Cost: that of
// [Sum].
//
// Errors are [*InputError] around [ErrTooFew] or [ErrNotFinite].
func Mean(xs []float64) (float64, error) {
	const fn = "stats.Mean"
	if len(xs) < 1 {
		return 0, tooFew(fn, "xs", len(xs), 1)
	}
	sum, bound := compensatedSum(xs)
	n := float64(len(xs))
	mean := sum.div(pair{hi: n})
	// A pair is divided with a relative error below 2^-98 while far from underflow.
	if size := math.Abs(mean.hi); size > safeSquare && mean.isNearest(bound/n+float64(size*0x1p-98)) {
		return mean.hi, nil
	}
	if err := checkFinite(fn, "xs", xs); err != nil {
		return 0, err
	}
	var total exactSum
	total.addAll(xs)
	total.divide(len(xs))
	return math.Ldexp(total.round()), nil
}
