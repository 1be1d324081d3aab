package lot

import "math"

// betterThan returns the probability that a sample from population w of the claim is
// at least as good as the contour, which goes through d and s,
//
//	∫ P(mean no nearer to a limit than the contour is at s) f(s) ds
//
// The spread is A·sin φ, A the largest that is ever as good, and the integral is over
// φ: at A, where the contour has a square root, it becomes smooth.
func (c *contour) betterThan(w, d, s float64, density spreadDensity) float64 {
	mean, variance, _ := c.population(w, s)
	total, deviation := s*math.Exp(-w/2), math.Sqrt(variance)
	lo, hi := spreadRange(density.df)
	most := c.mostSpread(1.01 * total * hi)
	from, to := math.Asin(min(1, total*lo/most)), math.Asin(min(1, total*hi/most))
	return integrate(func(phi float64) float64 {
		sin, cos := math.Sincos(phi)
		inside := c.meanWithin(c.inner(most*sin), mean, deviation)
		return inside * density.at(most*sin/total) * most * cos / total
	}, from, to, panelsFor(d/s))
}

// meanWithin returns the probability of a mean at least the distance inner inside
// both limits, from a normal distribution.
func (c *contour) meanWithin(inner, mean, deviation float64) float64 {
	if inner >= c.half {
		return 0
	}
	near, far := (mean-inner)/deviation, (2*c.half-inner-mean)/deviation
	return max(0, 0.5*(math.Erfc(-near/math.Sqrt2)-math.Erfc(far/math.Sqrt2)))
}

// mostSpread returns the largest spread of a sample that is as good as the contour,
// or enough where that is more.
func (c *contour) mostSpread(enough float64) float64 {
	if c.inner(enough) < c.half {
		return enough
	}
	lo, hi := 0.0, enough
	for range 24 {
		if middle := lo/2 + hi/2; c.inner(middle) < c.half {
			lo = middle
		} else {
			hi = middle
		}
	}
	return hi
}

// panelsFor returns how many panels resolve the integrand: for a quality index Q its
// steepest part is 1/Q of the spread's own width.
func panelsFor(index float64) int { return min(60, 2+int(math.Abs(index)/2)) }
