package stats

import "math"

// AndersonDarlingResult is the outcome of [AndersonDarling].
type AndersonDarlingResult struct {
	Summary
	A2       float64 // A², 0 where sample and normal distribution agree throughout
	Adjusted float64 // A²·(1 + 0.75/n + 2.25/n²), from which P is taken
	P        float64 // probability of an A² this large from a normal population
	Warnings []Warning
}

// fewestForAndersonDarling is the n from which the adjustment holds.
const fewestForAndersonDarling = 8

// AndersonDarling tests whether xs may come from a normal population whose mean and
// standard deviation are estimated from xs, against every alternative:
//
//	A² = -n - 1/n·Σ (2i-1)·(ln Φ(zᵢ) + ln(1-Φ(zₙ₊₁₋ᵢ))),   z = (x-x̄)/s sorted
//	A* = A²·(1 + 0.75/n + 2.25/n²)
//
//	p = exp(1.2937 - 5.709·A* + 0.0186·A*²)          A* at least 0.6
//	p = exp(0.9177 - 4.279·A* - 1.38·A*²)            A* at least 0.34
//	p = 1 - exp(-8.318 + 42.796·A* - 59.938·A*²)     A* more than 0.2
//	p = 1 - exp(-13.436 + 101.14·A* - 223.73·A*²)    otherwise
//
// It weighs the tails, where percent within limits is decided, more than the middle.
// These formulas for p are the ones in general use. Where they meet p is not quite
// continuous: it steps up by 0.003 at 0.6 and down by 0.003 at 0.34. Of simulated normal
// samples the share with P at most 0.01, 0.05, 0.1 and 0.5 is within 0.0008, 0.0007, 0.0031
// and 0.03 of that, from n = 20 on the last two within 0.0012 and 0.008. Far out P is an
// extrapolation: below 1e-4 read it as "very small". Beyond A* = 10, P stays at the 3.7e-24
// it has there and is an upper bound.
//
// A small P speaks against the normal distribution; a large one does not show it. Of few
// values only a gross departure shows ([WarnSmallN] below 20), of hundreds one too small
// to matter. Rounded values tie, which normal ones do not: where that moves P,
// Warnings holds [WarnResolution].
//
// xs holds n ≥ 8 finite values, not all equal, in any order, and is not changed. The values
// are taken to be independent. Cost: some 0.2 µs per value.
//
// Errors are [*InputError] around [ErrTooFew], [ErrNotFinite], [ErrNoSpread] or
// [ErrOverflow].
//
// Source: M. A. Stephens in R. B. D'Agostino and M. A. Stephens, Goodness-of-Fit
// Techniques (1986), table 4.9 (from memory).
func AndersonDarling(xs []float64) (AndersonDarlingResult, error) {
	const fn = "stats.AndersonDarling"
	if len(xs) < fewestForAndersonDarling {
		return AndersonDarlingResult{}, tooFew(fn, "xs", len(xs), fewestForAndersonDarling)
	}
	s, err := summarize(fn, "xs", xs)
	if err != nil {
		return AndersonDarlingResult{}, err
	}
	shape, err := sortedShape(fn, xs)
	if err != nil {
		return AndersonDarlingResult{}, err
	}
	r := AndersonDarlingResult{Summary: s, A2: andersonDarlingOf(standardize(shape))}
	n := float64(s.N)
	r.Adjusted = r.A2 * (1 + 0.75/n + 2.25/(n*n))
	r.P = andersonDarlingP(r.Adjusted)
	r.Warnings = normalityWarnings(xs, roundingBorne/n)
	return r, nil
}

// andersonDarlingOf returns A² of sorted standard values. Terms of one index are those
// of the distances from both ends.
func andersonDarlingOf(z []float64) float64 {
	n := len(z)
	var sum pair
	for i := range z {
		sum = sum.addFloat(float64(2*i+1) * (lnNormalTail(-z[i]) + lnNormalTail(z[n-1-i])))
	}
	return max(0, -float64(n)-sum.value()/float64(n))
}

// lnNormalTail returns ln P(Z > x), beyond 37 by φ(x)/x·(1 - 1/x² + 3/x⁴ - 15/x⁶ + 105/x⁸).
func lnNormalTail(x float64) float64 {
	switch {
	case x < 0:
		return math.Log1p(-normalTail(-x))
	case x < 37:
		return math.Log(normalTail(x))
	}
	v := 1 / (x * x)
	return -0.5*x*x - math.Log(x*math.Sqrt(2*math.Pi)) + math.Log1p(-v*(1-v*(3-v*(15-105*v))))
}

// mostAdjusted is the A* from which the formula of P is not used any more: its square
// term would turn it.
const mostAdjusted = 10

func andersonDarlingP(a float64) float64 {
	switch {
	case a >= 0.6:
		a = min(a, mostAdjusted)
		return math.Exp(polynomialAt(a, 1.2937, -5.709, 0.0186))
	case a >= 0.34:
		return math.Exp(polynomialAt(a, 0.9177, -4.279, -1.38))
	case a > 0.2:
		return -math.Expm1(polynomialAt(a, -8.318, 42.796, -59.938))
	}
	return -math.Expm1(polynomialAt(a, -13.436, 101.14, -223.73))
}
