package stats

import (
	"fmt"
	"math"
)

// ShapiroWilkResult is the outcome of [ShapiroWilk].
type ShapiroWilkResult struct {
	Summary
	W        float64 // 1 where the sorted values lie as those of a normal sample do on average
	P        float64 // probability of a W this small from a normal population
	Exact    bool    // whether P is exact, which it is for three values
	Warnings []Warning
}

// mostForShapiroWilk is the largest sample for which the approximations were made.
const mostForShapiroWilk = 5000

// ShapiroWilk tests whether xs may come from a normal population of any mean and standard
// deviation, against every alternative:
//
//	W = (Σ aᵢ·x₍ᵢ₎)² / Σ(xᵢ-x̄)²
//
// of the sorted values, with weights near those of the best linear estimate of σ: in
// proportion to mᵢ = Φ⁻¹((i-3/8)/(n+1/4)), the outermost one or two on either side by
// polynomials in 1/√n, and Σa² = 1. For n from 4 on, ln(1-W), up to 11 in the form
// -ln(γ-ln(1-W)), is taken to be normal with mean and standard deviation by polynomials
// in n or ln n, and P is its upper tail. For n = 3, P is exact, with s the smaller gap
// divided by the range
//
//	p = 6/π·atan(√3·s/(2-s))
//
// which is also the two-sided p of [Dixon] with r10.
//
// A small P speaks against the normal distribution; a large one does not show it. Of few
// values only a gross departure shows ([WarnSmallN] below 20), of hundreds one too small
// to matter. Rounded values tie, which normal ones do not: where that moves P,
// Warnings holds [WarnResolution]. For n = 3 and two equal values P is the least float64.
//
// How good the approximation is: of simulated normal samples, the share with P at most
// 0.01, 0.05, 0.1 and 0.5 is within 0.0016, 0.0022, 0.0028 and 0.017 of that for n up to
// 2000, worst for 5 and where the two forms meet; at 5000 it is smaller by 0.002, 0.006,
// 0.013 and 0.026. Farther out P is an extrapolation: below 1e-4 read it as "very small".
//
// xs holds from 3 to 5000 finite values, not all equal, in any order, and is not changed.
// The values are taken to be independent. Cost: some 1 µs for 10 values, 1 ms for 5000.
//
// Errors are [*InputError] around [ErrTooFew], [ErrNotFinite], [ErrParameter] (more than
// 5000 values), [ErrNoSpread] or [ErrOverflow].
//
// Source: S. S. Shapiro and M. B. Wilk, Biometrika 52 (1965) 591; P. Royston, Statistics
// and Computing 2 (1992) 117 and algorithm AS R94, Applied Statistics 44 (1995) 547, for
// weights and P (from memory; the figures are those of R's shapiro.test to 1e-11).
func ShapiroWilk(xs []float64) (ShapiroWilkResult, error) {
	const fn = "stats.ShapiroWilk"
	switch n := len(xs); {
	case n < 3:
		return ShapiroWilkResult{}, tooFew(fn, "xs", n, 3)
	case n > mostForShapiroWilk:
		return ShapiroWilkResult{}, Refuse(fn, "xs", "", fmt.Errorf("%w (%d values, at most %d)", ErrParameter, n, mostForShapiroWilk))
	}
	s, err := summarize(fn, "xs", xs)
	if err != nil {
		return ShapiroWilkResult{}, err
	}
	shape, err := sortedShape(fn, xs)
	if err != nil {
		return ShapiroWilkResult{}, err
	}
	r := ShapiroWilkResult{Summary: s, Exact: s.N == 3}
	var rest float64
	r.W, rest = shapiroWilkOf(shape)
	if r.Exact {
		r.P = max(shapiroWilkOfThree(shape[1]), leastTail)
		r.Warnings = threeWarnings(xs, r.P)
		return r, nil
	}
	score, typical := shapiroWilkScore(s.N, rest)
	r.P = max(normalTail(score), leastTail)
	r.Warnings = normalityWarnings(xs, roundingBorne*typical)
	return r, nil
}

// shapiroWilkOf returns W and 1-W, which keeps its digits where W is near 1: it is the
// sum of squares that the weights leave.
func shapiroWilkOf(shape []float64) (w, rest float64) {
	z, a := standardize(shape), shapiroWilkWeights(len(shape))
	scale := 1 / math.Sqrt(float64(len(z)-1))
	along := 0.0
	for i := range z {
		z[i] *= scale
		along += float64(a[i] * z[i])
	}
	for i := range z {
		rest += square(z[i] - float64(along*a[i]))
	}
	return 1 - rest, rest
}

// shapiroWilkWeights returns a₁ to aₙ, which rise, sum to 0 and have squares that sum
// to 1.
func shapiroWilkWeights(n int) []float64 {
	a := make([]float64, n)
	if n == 3 {
		a[0], a[2] = -math.Sqrt2/2, math.Sqrt2/2
		return a
	}
	half := n / 2
	squares := 0.0
	for i := range half {
		a[n-1-i] = -normalQuantile((float64(i+1) - 0.375) / (float64(n) + 0.25))
		squares += 2 * square(a[n-1-i])
	}
	outer, u := 1, 1/math.Sqrt(float64(n))
	fixed := [2]float64{a[n-1]/math.Sqrt(squares) + polynomialAt(u, 0, 0.221157, -0.147981, -2.07119, 4.434685, -2.706056)}
	if n > 5 {
		outer = 2
		fixed[1] = a[n-2]/math.Sqrt(squares) + polynomialAt(u, 0, 0.042981, -0.293762, -1.752461, 5.682633, -3.582633)
	}
	left := 1.0
	for i := range outer {
		squares -= 2 * square(a[n-1-i])
		left -= 2 * square(fixed[i])
	}
	scale := math.Sqrt(left / squares)
	for i := range half {
		a[n-1-i] *= scale
		if i < outer {
			a[n-1-i] = fixed[i]
		}
		a[i] = -a[n-1-i]
	}
	return a
}

// shapiroWilkScore returns the normal score of 1-W, large where that is, and the 1-W of
// score 0. For n from 4 to 11, ln(1-W) stays below γ: the least W there is, n·aₙ²/(n-1),
// falls from 0.63 to 0.34, while γ rises from -0.44.
func shapiroWilkScore(n int, rest float64) (score, typical float64) {
	k := float64(n)
	if n <= 11 {
		gamma := polynomialAt(k, -2.273, 0.459)
		mean := polynomialAt(k, 0.544, -0.39978, 0.025054, -6.714e-4)
		deviation := math.Exp(polynomialAt(k, 1.3822, -0.77857, 0.062767, -0.0020322))
		return (-math.Log(gamma-math.Log(rest)) - mean) / deviation, math.Exp(gamma - math.Exp(-mean))
	}
	x := math.Log(k)
	mean := polynomialAt(x, -1.5861, -0.31082, -0.083751, 0.0038915)
	deviation := math.Exp(polynomialAt(x, -0.4803, -0.082676, 0.0030302))
	return (math.Log(rest) - mean) / deviation, math.Exp(mean)
}

// shapiroWilkOfThree takes where the middle value lies between the others, 0 to 1.
func shapiroWilkOfThree(middle float64) float64 {
	s := min(middle, 1-middle)
	return min(1, 6/math.Pi*math.Atan(math.Sqrt(3)*s/(2-s)))
}

// threeWarnings takes the place of [normalityWarnings] for three values.
func threeWarnings(xs []float64, p float64) (ws []Warning) {
	if p == leastTail {
		ws = append(ws, Warning{Code: WarnTies, Text: "two of three values are equal as recorded, which makes p as small as it can be; a finer record would tell more"})
	}
	return append(ws, normalityWarnings(xs, math.Inf(1))...)
}

// polynomialAt returns c₀ + c₁·x + c₂·x² + …
func polynomialAt(x float64, c ...float64) (y float64) {
	for i := len(c) - 1; i >= 0; i-- {
		y = float64(y*x) + c[i]
	}
	return y
}
