package stats

import (
	"fmt"
	"math"
)

// QuantileType is one of the nine definitions of a sample quantile that Hyndman
// and Fan number. The zero value is no type and is refused, because the types
// differ by up to a whole step between neighbouring values.
type QuantileType int

// The types. With n values in order of size x₁ ≤ … ≤ xₙ and h = np + m, the
// quantile lies between xⱼ and xⱼ₊₁, j = ⌊h⌋. Types 1 to 3 take one of the two or
// their mean, types 4 to 9 the fraction h-j of the way.
const (
	Quantile1 QuantileType = iota + 1 // inverse of the empirical distribution, m = 0
	Quantile2                         // the same, the mean of both where np is whole, m = 0
	Quantile3                         // the value nearest to np, ties to the even, m = -1/2
	Quantile4                         // m = 0
	Quantile5                         // m = 1/2, Hazen
	Quantile6                         // m = p, Weibull
	Quantile7                         // m = 1-p, the default of R, S and spreadsheets (INC)
	Quantile8                         // m = (p+1)/3, near the median of the true quantile for any distribution
	Quantile9                         // m = p/4 + 3/8, near the mean for a normal one
)

// String returns "type 7" and so on.
func (q QuantileType) String() string {
	if q < Quantile1 || q > Quantile9 {
		return fmt.Sprintf("QuantileType(%d)", int(q))
	}
	return fmt.Sprintf("type %d", int(q))
}

// smallSample values are copied to the stack rather than to new memory.
const smallSample = 64

// Quantile returns the p-quantile of xs by the named definition: the smallest
// value for p = 0, the largest for p = 1. xs holds at least one finite value in
// any order and is not changed; the result has its unit. p is a fraction in
// [0, 1]; an np within 4 roundings of a whole number counts as whole, since 0.1
// is no float64.
//
// Cost: a partial sort of a copy, about 10 ns per value; nothing is allocated
// for up to 64 values, see [QuantileInto] for more.
//
// Errors are [*InputError] around [ErrTooFew], [ErrNotFinite] or [ErrParameter]
// (p or kind).
//
// Source: R. J. Hyndman and Y. Fan, Sample quantiles in statistical packages,
// The American Statistician 50 (1996) 361-365.
func Quantile(xs []float64, p float64, kind QuantileType) (float64, error) {
	const fn = "stats.Quantile"
	if len(xs) <= smallSample {
		var scratch [smallSample]float64
		return quantile(fn, scratch[:], xs, p, kind)
	}
	return quantile(fn, make([]float64, len(xs)), xs, p, kind)
}

// QuantileInto is [Quantile] without allocation: it works in scratch, which is as
// long as xs at least, does not overlap it and is left in no certain order.
// Errors are also around [ErrLength] for a scratch too short.
func QuantileInto(scratch, xs []float64, p float64, kind QuantileType) (float64, error) {
	const fn = "stats.QuantileInto"
	if len(scratch) < len(xs) {
		return 0, Refuse(fn, "scratch", fmt.Sprintf("%d values for %d", len(scratch), len(xs)), ErrLength)
	}
	return quantile(fn, scratch, xs, p, kind)
}

// Median returns the middle value of xs, or the mean of the two middle ones. It
// is [Quantile] at one half by any type of 2 and 5 to 9, whose cost and errors
// it shares.
func Median(xs []float64) (float64, error) {
	const fn = "stats.Median"
	if len(xs) <= smallSample {
		var scratch [smallSample]float64
		return quantile(fn, scratch[:], xs, 0.5, Quantile7)
	}
	return quantile(fn, make([]float64, len(xs)), xs, 0.5, Quantile7)
}

func quantile(fn string, scratch, xs []float64, p float64, kind QuantileType) (float64, error) {
	switch {
	case len(xs) < 1:
		return 0, tooFew(fn, "xs", len(xs), 1)
	case !(p >= 0 && p <= 1):
		return 0, outOfRange(fn, "p", text(p), "a fraction from 0 to 1")
	case kind < Quantile1 || kind > Quantile9:
		return 0, outOfRange(fn, "kind", kind.String(), "one from Quantile1 to Quantile9")
	}
	if err := checkFinite(fn, "xs", xs); err != nil {
		return 0, err
	}
	scratch = scratch[:copy(scratch, xs)]
	lower, fraction := kind.position(len(xs), p)
	a, b := neighbours(scratch, lower)
	return interpolate(a, b, fraction), nil
}

// position returns the place of xⱼ counted from 0, which is -1 for a quantile
// below x₁, and how far the quantile lies on the way to the next value.
func (q QuantileType) position(n int, p float64) (lower int, fraction float64) {
	h := float64(float64(n)*p) + q.shift(p)
	j := math.Floor(h + 4*roundoff*max(h, 1))
	fraction = h - j
	if fraction < 4*roundoff*max(h, 1) { // also if j was rounded up to
		fraction = 0
	}
	switch {
	case q > Quantile3:
	case fraction > 0, q == Quantile3 && math.Mod(j, 2) != 0:
		fraction = 1
	case q == Quantile2:
		fraction = 0.5
	}
	return int(j) - 1, fraction
}

const roundoff = 0x1p-52

// shift returns m of the definition.
func (q QuantileType) shift(p float64) float64 {
	switch q {
	case Quantile3:
		return -0.5
	case Quantile5:
		return 0.5
	case Quantile6:
		return p
	case Quantile7:
		return 1 - p
	case Quantile8:
		return (p + 1) / 3
	case Quantile9:
		return p/4 + 0.375
	}
	return 0
}

// interpolate returns a+fraction·(b-a) for a ≤ b without overflow, and never outside
// them. Half of the way is rounded once.
func interpolate(a, b, fraction float64) float64 {
	switch {
	case fraction == 0 || a == b:
		return a
	case fraction == 1:
		return b
	case fraction == 0.5 && isFinite(a+b):
		return 0.5 * (a + b)
	}
	if step := b - a; isFinite(step) {
		return min(b, a+float64(fraction*step))
	}
	return float64(a*(1-fraction)) + float64(b*fraction)
}
