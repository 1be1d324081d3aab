package lot

import "math"

// betterThan returns the probability that a sample from population w of the claim is
// at least as good as the contour, which goes through d and s,
//
//	∫ P(mean no nearer to a limit than the contour is at s) f(s) ds
//
// whatever the common error may be. The spread is A·sin φ, A the largest that is ever
// as good, and the integral is over φ: at A, where the contour has a square root, it
// becomes smooth. It is in two parts, for spreads below that of repeatability and above,
// where the contour bends.
func (c *contour) betterThan(w, d, s float64, density spreadDensity, commons spreadNodes) float64 {
	mean, _, _ := c.population(w, s)
	total := s * math.Exp(-w/2)
	for i := range commons.list() {
		commons.nodes[i].at = math.Hypot(total/math.Sqrt(c.size.Results), commons.nodes[i].at)
	}
	lo, hi := spreadRange(density.df)
	most := c.mostSpread(1.01 * total * hi)
	from, to := math.Asin(min(1, total*lo/most)), math.Asin(min(1, total*hi/most))
	share := func(phi float64) float64 {
		sin, cos := math.Sincos(phi)
		return c.meanWithin(c.inner(most*sin), mean, commons.list()) * density.at(most*sin/total) * most * cos / total
	}
	noise := max(from, min(to, math.Asin(min(1, c.noise/most))))
	count := panelsFor(d / max(s, c.noise))
	probability := integrate(share, noise, to, count)
	if noise > from {
		probability += integrate(share, from, noise, count)
	}
	return probability
}

// meanWithin returns the probability of a mean at least the distance inner inside
// both limits, from a normal distribution of which the standard deviation may be any
// of the nodes.
func (c *contour) meanWithin(inner, mean float64, deviations []node) (sum float64) {
	if inner >= c.half {
		return 0
	}
	for _, x := range deviations {
		near, far := (mean-inner)/x.at/math.Sqrt2, (2*c.half-inner-mean)/x.at/math.Sqrt2
		sum += x.weight * max(0, 0.5*(math.Erfc(-near)-math.Erfc(far)))
	}
	return sum
}

// mostSpread returns the largest spread of a sample that is as good as the contour,
// or enough where that is more. A little too large does no harm.
func (c *contour) mostSpread(enough float64) float64 {
	if c.inner(enough) < c.half {
		return enough
	}
	widest := math.Hypot(c.widest, c.noise)
	if c.root < 0 {
		return min(enough, widest*math.Exp(c.hi/2))
	}
	lo, hi := 0.0, min(enough, widest)
	for range 14 {
		if middle := lo/2 + hi/2; c.inner(middle) < c.half {
			lo = middle
		} else {
			hi = middle
		}
	}
	return hi
}

// panelsFor returns how many panels resolve the integrand: for an index Q of distance by
// spread its steepest part is 1/Q of the spread's own width.
func panelsFor(index float64) int { return min(60, 2+int(math.Abs(index)/2)) }
