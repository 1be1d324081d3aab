package lot

import "math"

// atLeast returns the probability that a sample from the population at d is at
// least as good as seen,
//
//	∫ P(mean no nearer to a limit than d*(s)) f(s) ds
//
// with d* the position of quality seen at the sample's spread without its
// repeatability, widened. That spread is A·sin φ, A the widest of that quality,
// and the integral is over φ: both ends of a sample's spread, where d* has a
// square root, become smooth.
func (v *inversion) atLeast(seen quality, widening, d, spread float64) float64 {
	total := math.Hypot(spread, v.repeatability)
	lo, hi := spreadRange(v.density.df)
	ofMean := v.meanDeviations(total)
	sum := 0.0
	for _, r := range v.repeatNodes {
		noise := v.repeatability * r.at
		widest := min(seen.widest/widening, 1.01*total*hi)
		from, to := angle(total*lo, noise, widest), angle(total*hi, noise, widest)
		part := overPanels(from, to, panelsFor(seen.score), func(phi float64) float64 {
			sin, cos := math.Sincos(phi)
			s := math.Hypot(noise, widest*sin)
			if s == 0 {
				return 0
			}
			inside := v.meanWithin(v.position(seen, widening*widest*sin), d, ofMean)
			return inside * v.density.at(s/total) * widest * widest * sin * cos / (s * total)
		})
		sum += r.weight * part
	}
	below, _ := v.spreadless(d, spread)
	return min(1, sum+below)
}

// spreadless returns the probabilities that a sample's spread is no more than its
// repeatability, with its mean inside the limits and outside.
func (v *inversion) spreadless(d, spread float64) (inside, outside float64) {
	if v.repeatability == 0 {
		return 0, 0
	}
	total := math.Hypot(spread, v.repeatability)
	share := 0.0
	for _, r := range v.repeatNodes {
		w := v.repeatability * r.at / total
		share += r.weight * spreadBelow(w, v.density.df)
	}
	inside = v.meanWithin(0, d, v.meanDeviations(total))
	return share * inside, share * (1 - inside)
}

// meanDeviations returns the standard deviations of a sample's mean, one for each
// node of the common error: its t distribution is a mixture of normal ones.
func (v *inversion) meanDeviations(total float64) []node {
	out := make([]node, len(v.commonNodes))
	for i, c := range v.commonNodes {
		out[i] = node{math.Hypot(total/math.Sqrt(v.n), v.common/c.at), c.weight}
	}
	return out
}

// meanWithin returns the probability of a mean at least the distance inner inside
// both limits, from a population at d.
func (v *inversion) meanWithin(inner, d float64, deviations []node) float64 {
	sum := 0.0
	for _, s := range deviations {
		near, far := (d-inner)/s.at, (2*v.half-inner-d)/s.at
		sum += s.weight * 0.5 * (math.Erfc(-near/math.Sqrt2) - math.Erfc(far/math.Sqrt2))
	}
	return max(0, sum)
}

// angle returns φ with (widest·sin φ)² + noise² = s², from 0 to a right angle.
func angle(s, noise, widest float64) float64 {
	room := (s - noise) * (s + noise)
	if room <= 0 {
		return 0
	}
	return math.Asin(min(1, math.Sqrt(room)/widest))
}

// panelsFor returns how many panels resolve the integrand: for a score z its
// steepest part is 1/z of the spread's own width.
func panelsFor(score float64) int { return min(60, 2+int(math.Abs(score)/4)) }

// overPanels integrates f from a to b by Gauss and Legendre in equal panels.
func overPanels(a, b float64, panels int, f func(float64) float64) float64 {
	half, sum := (b-a)/float64(2*panels), 0.0
	for p := range panels {
		middle := a + float64(2*p+1)*half
		for _, x := range legendreNodes {
			sum += x.weight * f(middle+half*x.at)
		}
	}
	return half * sum
}
