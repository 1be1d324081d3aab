package lot

import "math"

// Mean returns the mean of the estimate in percent, the integral of its survival
// function. It is the true percentage within the limits, for the estimate is
// unbiased; the integral is returned and not that number, so that it can be
// checked. Its error is below 1e-8.
//
// The error is an [*stats.InputError] around [ErrEmptyRisk].
func (e Estimator) Mean() (float64, error) {
	const fn = "lot.Estimator.Mean"
	if err := e.check(fn); err != nil {
		return 0, err
	}
	return 100 - e.deficit(1), nil
}

// StdDev returns the standard deviation of the estimate, in percentage points,
// under the rules of [Estimator.Mean]. Its square has an error below 1e-8.
func (e Estimator) StdDev() (float64, error) {
	const fn = "lot.Estimator.StdDev"
	if err := e.check(fn); err != nil {
		return 0, err
	}
	mean := e.deficit(1)
	return math.Sqrt(max(0, e.deficit(2)-mean*mean)), nil
}

// deficit returns the mean of (100 - estimate)^power,
//
//	∫ power·d^(power-1)·P(100 - estimate > d) dd
//
// which keeps its digits where nearly all is within the limits.
func (e *Estimator) deficit(power float64) float64 {
	return e.overEstimates(0, 100, func(below, _, y float64) float64 {
		missing, _ := e.kernel.beta.CDF(-y)
		return power * math.Pow(100*missing, power-1) * below
	})
}

// overEstimates integrates f over estimates x from lo to hi in percent. f gets
// P(estimate < x), P(estimate ≥ x) and the y of x. With y = sin θ
//
//	dx = 100·betaScale·cos(θ)^(n-3) dθ
//
// leaves no singularity, and what lies beyond nine standard deviations of y is
// left out.
func (e *Estimator) overEstimates(lo, hi float64, f func(below, atLeast, y float64) float64) float64 {
	from, to := e.angle(lo), e.angle(hi)
	if e.n > 40 {
		most := 9 / math.Sqrt(float64(e.n-3))
		from, to = max(from, -most), min(to, most)
	}
	if from >= to {
		return 0
	}
	integrand := func(theta float64) float64 {
		y, cosine := math.Sincos(theta)
		below, atLeast := e.tails(y)
		return f(below, atLeast, y) * 100 * e.betaScale * math.Pow(cosine, float64(e.n-3))
	}
	rate, doublings := e.estimateScale()
	sum, end := 0.0, to
	for k := 1; k <= doublings && end > from; k++ {
		start := max(from, math.Ldexp(math.Pi, -k)-math.Pi/2)
		if start < end {
			sum += integrate(integrand, start, end, panels(end-start, rate))
			end = start
		}
	}
	if from < end {
		sum += integrate(integrand, from, end, panels(end-from, rate))
	}
	return sum
}

// estimateScale returns how fast the distribution of the estimate changes with θ,
// and how often the range is halved towards an estimate of 0. With two limits and
// little of the population between them the estimate is close to 0 and its
// relative spread, not its spread, is that of s.
func (e *Estimator) estimateScale() (rate float64, doublings int) {
	rate = float64(e.n - 1)
	if !e.bothLimits {
		return rate, 0
	}
	scarcity := 100 / max(e.quality.PWL(), 1e-3)
	return rate * (1 + math.Log(scarcity)), int(math.Log2(10*scarcity) / float64(e.n-2))
}

// angle returns the θ of an estimate in percent.
func (e *Estimator) angle(pwl float64) float64 {
	y, _ := e.kernel.beta.Quantile(min(1, max(0, pwl/100)))
	return math.Asin(y)
}
