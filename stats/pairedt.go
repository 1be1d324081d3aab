package stats

import (
	"fmt"
	"math"
)

// PairedT tests whether the differences xs[i] - ys[i] come from a population with
// mean 0. It is [OneSampleT] of the differences and the test for two values of
// each thing measured, such as the halves of one core. Differences that agree to
// the rounding of their values count as equal. A caller who kept only n, mean and
// standard deviation of the differences uses [OneSampleTOf].
//
// Errors are those of OneSampleT and [ErrLength].
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 7.3.1.1.
func PairedT(xs, ys []float64, level float64) (TTest, error) {
	const fn = "stats.PairedT"
	c, err := comparePairs(fn, xs, ys)
	return newTTest(fn, c, err, level)
}

// comparePairs works on the differences, which are good to the rounding of the values
// themselves.
func comparePairs(fn string, xs, ys []float64) (Comparison, error) {
	if len(xs) != len(ys) {
		return Comparison{}, Refuse(fn, "ys", "", fmt.Errorf("%w (%d and %d)", ErrLength, len(xs), len(ys)))
	}
	x, err := summarize(fn, "xs", xs)
	if err != nil {
		return Comparison{}, err
	}
	y, err := summarize(fn, "ys", ys)
	if err != nil {
		return Comparison{}, err
	}
	differences, noise := make([]float64, len(xs)), 0.0
	for i, x := range xs {
		differences[i] = x - ys[i]
		noise = max(noise, roundingIn(x), roundingIn(ys[i]))
	}
	d, err := describeTo(fn, "xs-ys", differences, noise)
	if err != nil {
		return Comparison{}, err
	}
	c := Comparison{Design: DesignPaired, X: x, Y: y, Difference: d.Mean, StdDev: d.StdDev, DF: float64(d.N - 1)}
	c.StdErr = d.StdDev / math.Sqrt(float64(d.N))
	return c, nil
}

// roundingIn returns how far what is computed from x may be off by rounding.
func roundingIn(x float64) float64 { return 0x1p-51 * math.Abs(x) }

// describeTo is describe for values that are off by noise. Where they agree to it they
// are equal, and 0 where they are no larger: 93.2 - 92.9 and 94.4 - 94.1 differ by
// 2e-14, which is no variance to test by.
func describeTo(fn, arg string, xs []float64, noise float64) (Description, error) {
	d, err := describe(fn, arg, xs)
	if err != nil || d.Max-d.Min > noise {
		return d, err
	}
	d.StdDev = 0
	if math.Abs(d.Mean) <= noise {
		d.Mean = 0
	}
	return d, nil
}
