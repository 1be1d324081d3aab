package stats

import "math"

// GrubbsCriticalBounds returns two values of G between which the exact critical
// value lies: upper is that of [GrubbsCritical], where the first Bonferroni term is
// alpha, and lower the one where the first less the second term is:
//
//	n·p1(G) - C(n,2)·p2(G) ≤ P(some deviation > G) ≤ n·p1(G)
//
// p1 is the probability that one deviation is beyond G, p2 that two named ones both
// are, in either direction for [TwoSide]. Where no two values can be that far out
// p2 is 0 and both bounds are the exact value: one-sided from G > √((n-1)(n-2)/(2n)),
// two-sided from G > √((n-1)/2). Where not even the lower term reaches alpha,
// which takes a large alpha, lower is the least value that G can have.
//
// p2 is one integral: the deviations, scaled to u = G·√n/(n-1), are two coordinates
// of a point on a sphere, with correlation -1/(n-1), so that given the first the
// second is again a [SymmetricBeta], of shape (n-3)/2. Errors are those of Grubbs.
//
// Source: D. M. Hawkins, Identification of Outliers (1980), chapter 3, for the
// bounds (from memory); the integral is derived beside the code.
func GrubbsCriticalBounds(n int, side Side, alpha float64) (lower, upper float64, err error) {
	const fn = "stats.GrubbsCriticalBounds"
	if side < Low || side > TwoSide {
		return 0, 0, outOfRange(fn, "side", side.String(), anySide)
	}
	if upper, err = grubbsCritical(fn, "n", n, side, alpha); err != nil {
		return 0, 0, err
	}
	return grubbsCriticalLower(upper, n, side, alpha), upper, nil
}

// exactBeyond returns the G beyond which two values cannot both be.
func exactBeyond(n int, side Side) float64 {
	if side == TwoSide {
		return math.Sqrt(float64(n-1) / 2)
	}
	return math.Sqrt(float64(n-1) * float64(n-2) / (2 * float64(n)))
}

// grubbsCriticalLower walks down from the upper bound to where the lower bound of p
// has reached alpha; past its largest value it comes down again and says nothing.
func grubbsCriticalLower(upper float64, n int, side Side, alpha float64) float64 {
	if upper > exactBeyond(n, side) {
		return upper
	}
	most, kernel := maxDeviation(n), newSymmetricBeta(float64(n)/2-1)
	bound := func(g float64) float64 {
		u := g / most
		p := comparisons(n, side) * kernel.below(-u)
		return p - pairTerm(u, n, side)
	}
	least := leastDeviation(n, side)
	hi, at := upper, bound(upper)
	for at < alpha {
		lo := hi - 0.01*upper
		next := bound(lo)
		if lo < least || next < at {
			return least
		}
		if next >= alpha {
			return increasingRoot(func(g float64) float64 { return alpha - bound(g) }, hi, 0.01*upper, 1e-14*alpha)
		}
		hi, at = lo, next
	}
	return hi
}

// leastDeviation returns the smallest value that G can have: of n-1 equal values on
// the side looked at, or of two equal halves.
func leastDeviation(n int, side Side) float64 {
	if side == TwoSide {
		return math.Sqrt(float64(n-1) / float64(n))
	}
	return 1 / math.Sqrt(float64(n))
}

// pairTerm returns the second Bonferroni term, C(n,2) times the probability that two
// scaled deviations are both beyond u.
func pairTerm(u float64, n int, side Side) float64 {
	if n < 4 { // the largest of three is beyond the limit or on it
		return 0
	}
	pairs := float64(n) * float64(n-1) / 2
	if side == TwoSide {
		return 2 * pairs * (bothBeyond(u, n, 1) + bothBeyond(u, n, -1))
	}
	return pairs * bothBeyond(u, n, 1)
}

// bothBeyond returns P(u1 > u and ±u2 > u) for two scaled deviations, by integrating
// over u1. With ρ = ∓1/(n-1) the second is ρ·u1 + √((1-ρ²)(1-u1²))·v, v symmetric
// beta of shape (n-3)/2, which must exceed (u - ρ·u1)/√((1-ρ²)(1-u1²)); that is no
// more than 1 up to u1 = ρ·u + √((1-ρ²)(1-u²)).
func bothBeyond(u float64, n int, sign float64) float64 {
	correlation := -sign / float64(n-1)
	first, second := newSymmetricBeta(float64(n)/2-1), newSymmetricBeta(float64(n-3)/2)
	rest := (1 - correlation) * (1 + correlation)
	last := correlation*u + math.Sqrt(rest*(1-u)*(1+u))
	return integral(func(u1 float64) float64 {
		left := (1 - u1) * (1 + u1)
		return first.density(u1) * second.below((correlation*u1-u)/math.Sqrt(rest*left))
	}, u, min(last, 1))
}

// density returns (1-u²)^(a-1)/(2^(2a-1)·B(a,a)), from 1/(4^a·a·B(a,a)) = norm.
func (b SymmetricBeta) density(u float64) float64 {
	return 2 * b.a * b.norm * math.Pow((1-u)*(1+u), b.a-1)
}
