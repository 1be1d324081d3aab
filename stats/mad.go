package stats

import (
	"fmt"
	"math"
)

// NormalMAD is 1/Φ⁻¹(3/4). The median absolute deviation of a normal population
// times NormalMAD is its standard deviation.
//
// Source: Φ⁻¹(3/4) = 0.67448975019608174320, OEIS A092678.
const NormalMAD = 1 / 0.67448975019608174320

// MAD returns the median absolute deviation from the median
//
//	median |xᵢ - median(x)|
//
// as it is, without a factor; times [NormalMAD] it estimates the standard
// deviation of a normal population and hardly feels a few wild values. xs holds
// at least one finite value in any order and is not changed; the result has its
// unit. Cost: two partial sorts of a copy; nothing is allocated for up to 64
// values, see [MADInto] for more.
//
// Errors are [*InputError] around [ErrTooFew] or [ErrNotFinite].
//
// Source: F. R. Hampel, The influence curve and its role in robust estimation,
// Journal of the American Statistical Association 69 (1974) 383-393.
func MAD(xs []float64) (float64, error) {
	const fn = "stats.MAD"
	if len(xs) <= smallSample {
		var scratch [smallSample]float64
		return mad(fn, scratch[:], xs)
	}
	return mad(fn, make([]float64, len(xs)), xs)
}

// MADInto is [MAD] without allocation, with a scratch as for [QuantileInto]. Its errors
// are those of MAD, or around [ErrLength] for a scratch too short.
func MADInto(scratch, xs []float64) (float64, error) {
	const fn = "stats.MADInto"
	if len(scratch) < len(xs) {
		return 0, Refuse(fn, "scratch", fmt.Sprintf("%d values for %d", len(scratch), len(xs)), ErrLength)
	}
	return mad(fn, scratch, xs)
}

func mad(fn string, scratch, xs []float64) (float64, error) {
	centre, err := quantile(fn, scratch, xs, 0.5, Quantile7)
	if err != nil {
		return 0, err
	}
	scratch = scratch[:len(xs)]
	// Fewer than half of the deviations can overflow, so no middle one does.
	for i, x := range xs {
		scratch[i] = math.Abs(x - centre)
	}
	lower, fraction := Quantile7.position(len(xs), 0.5)
	a, b := neighbours(scratch, lower)
	return interpolate(a, b, fraction), nil
}
