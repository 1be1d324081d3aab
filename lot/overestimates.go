package lot

import "math"

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
