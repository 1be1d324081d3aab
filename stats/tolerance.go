package stats

import (
	"math"
	"strconv"
)

// ToleranceOneSided returns the factor k of a one-sided normal tolerance limit:
// with the stated confidence at least the fraction coverage of the population
// lies above mean - k·s, and likewise below mean + k·s,
//
//	k = t'(confidence; n-1, z·√n)/√n
//
// where t' is a quantile of the noncentral t distribution and z the normal
// quantile of coverage. n is 2 to 1e9; coverage and confidence are fractions in (0, 1).
// k is negative where a coverage below one half is asked with little confidence.
//
// It assumes n independent values from one normal population, and is exact then:
// within 1e-12 of k, in some 3 µs at n = 5.
//
// Errors are [*InputError] around [ErrTooFew], [ErrParameter], [ErrLevel] or, at
// n = 2 with extreme fractions, [ErrOverflow].
//
// Source: ISO 16269-6 states the factor (from memory); the noncentral t is
// [NoncentralT].
func ToleranceOneSided(n int, coverage, confidence float64) (float64, error) {
	const fn = "stats.ToleranceOneSided"
	if err := checkTolerance(fn, n, coverage, confidence); err != nil {
		return 0, err
	}
	root := math.Sqrt(float64(n))
	ncp := normalScore(coverage, 1-coverage) * root
	t, err := newNoncentralT(float64(n-1)).finiteQuantile(fn, confidence, 1-confidence, ncp)
	return t / root, err
}

func checkTolerance(fn string, n int, coverage, confidence float64) error {
	if n < 2 {
		return tooFew(fn, "n", n, 2)
	}
	if n > mostValues {
		return outOfRange(fn, "n", strconv.Itoa(n), mostN)
	}
	if err := checkFraction(fn, "coverage", coverage); err != nil {
		return err
	}
	return checkFraction(fn, "confidence", confidence)
}

// ToleranceTwoSided returns the factor k of a two-sided normal tolerance
// interval: with the stated confidence mean ± k·s holds at least the fraction
// coverage of the population, wherever in the interval that lies. It solves
//
//	∫ φ(x) · P(χ²(n-1) > (n-1)·r(x/√n)²/k²) dx = confidence
//
// for k, with r(m) the half-width that holds the coverage of a normal population
// whose mean is m standard deviations from the middle,
// Φ(m+r) - Φ(m-r) = coverage. n is 2 to 1e9; coverage and confidence are fractions in
// (0, 1).
//
// It assumes n independent values from one normal population, and is exact then:
// within 1e-10 of k, in some 40 µs.
//
// Errors are [*InputError] around [ErrTooFew], [ErrParameter], [ErrLevel] or, at
// n = 2 with extreme fractions, [ErrOverflow].
//
// Source: ISO 16269-6 and Odeh and Owen, Tables for Normal Tolerance Limits
// (1980), for the definition (from memory).
func ToleranceTwoSided(n int, coverage, confidence float64) (float64, error) {
	const fn = "stats.ToleranceTwoSided"
	if err := checkTolerance(fn, n, coverage, confidence); err != nil {
		return 0, err
	}
	k := toleranceTwoSided(n, coverage, confidence)
	if !isFinite(k) {
		return 0, Refuse(fn, "confidence", text(confidence), ErrOverflow)
	}
	return k, nil
}

const (
	// toleranceStep is the step of the trapezoid rule over the standardized mean;
	// its error is e^(-2π²/step²) at most, 1e-34, for an integrand that is the
	// normal density times a smooth factor.
	toleranceStep = 0.25

	// toleranceNodes reach 8.75 standard deviations.
	toleranceNodes = 36
)

func toleranceTwoSided(n int, coverage, confidence float64) float64 {
	df := float64(n - 1)
	var squares, weights [toleranceNodes]float64
	for i := range squares {
		x := float64(i) * toleranceStep
		r := coveringRadius(x/math.Sqrt(float64(n)), coverage)
		squares[i] = df * r * r
		weights[i] = 2 * toleranceStep * normalDensity(x)
	}
	weights[0] *= 0.5
	z := normalScore(confidence, 1-confidence)
	chi := newChiSquared(df)
	score := func(lnK float64) float64 {
		shrink := math.Exp(-2 * lnK)
		var lower, upper float64
		for i, w := range weights {
			below, above := chi.tails(squares[i] * shrink)
			lower += w * above // the interval holds enough where s is large
			upper += w * below
		}
		return normalScore(lower, upper) - z
	}
	start := 0.5 * math.Log(squares[4]/chi.quantile(1-confidence, confidence))
	return math.Exp(increasingRoot(score, start, 0.1/math.Sqrt(df), 1e-14*(1+math.Abs(z))))
}

// coveringRadius returns the r with Φ(m+r) - Φ(m-r) = coverage, m ≥ 0, by
// Halley steps in r from the side where the difference, concave for r ≥ m, is
// met from below. The missing part is compared, so that a coverage next to 1
// keeps its digits.
func coveringRadius(m, coverage float64) float64 {
	missing := 1 - coverage
	r := -normalQuantile(0.5*missing) + m
	for range mostRootSteps {
		near, far := normalDensity(m-r), normalDensity(m+r)
		slope := near + far
		excess := missing - (normalTail(r+m) + normalTail(r-m))
		bend := ((m-r)*near - (m+r)*far) / slope
		step := halley(excess, slope, bend)
		r = max(r-step, 0.1*r)
		if math.Abs(step) < 1e-6*r {
			break
		}
	}
	return r
}
