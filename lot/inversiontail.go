package lot

import "math"

// atLeast returns the probability that a sample from a population is at least as
// good as seen,
//
//	∫ P(mean no nearer to a limit than d*(s)) f(s) ds
//
// with d* the position of quality seen at the sample's spread, widened. The spread
// is A·sin φ, A the widest of that quality, and the integral is over φ: at the
// widest, where d* has a square root, it becomes smooth.
func (v *inversion) atLeast(seen quality, widening float64, p population) float64 {
	total := p.total()
	lo, hi := spreadRange(v.density.df)
	widest := min(seen.widest/widening, 1.01*total*hi)
	from, to := math.Asin(min(1, total*lo/widest)), math.Asin(min(1, total*hi/widest))
	ofMean := total / math.Sqrt(v.n)
	return integrate(func(phi float64) float64 {
		sin, cos := math.Sincos(phi)
		w := widest * sin / total
		inside := v.meanWithin(v.position(seen, widening*widest*sin), p.d, ofMean)
		return inside * v.density.at(w) * widest * cos / total
	}, from, to, panelsFor(seen.score))
}

// meanWithin returns the probability of a mean, with that standard deviation, at
// least the distance inner inside both limits, from a population at d.
func (v *inversion) meanWithin(inner, d, deviation float64) float64 {
	near, far := (d-inner)/deviation, (2*v.half-inner-d)/deviation
	return max(0, 0.5*(math.Erfc(-near/math.Sqrt2)-math.Erfc(far/math.Sqrt2)))
}

// panelsFor returns how many panels resolve the integrand: for a score z its
// steepest part is 1/z of the spread's own width.
func panelsFor(score float64) int { return min(60, 2+int(math.Abs(score)/2)) }
