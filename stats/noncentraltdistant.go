package stats

import "math"

const (
	// From distantRatio on, the spread of Z is so small beside that of δ/w, and
	// from distantNCP on beside δ, that the integral over Z is the shorter one.
	distantRatio = 20
	distantNCP   = 300
	distantStep  = 0.5
)

// distantTails integrates the chi-square tails over Z,
//
//	P(T ≤ t) = ∫ φ(z)·P(w ≥ (z+δ)/t) dz
func (d NoncentralT) distantTails(t, ncp float64) (lower, upper float64) {
	chi := newChiSquared(d.df)
	for k := -20; k <= 20; k++ {
		z := float64(k) * distantStep
		w := (z + ncp) / t
		below, above := chi.tails(d.df * w * w)
		weight := distantStep * normalDensity(z)
		lower += weight * above
		upper += weight * below
	}
	return min(lower, 1), min(upper, 1)
}

// distantDensity integrates the density of w = (z+δ)/t over Z. As a density of
// ln w it needs only the factor 1/t.
func (d NoncentralT) distantDensity(t, ncp float64) (sum float64) {
	for k := -20; k <= 20; k++ {
		z := float64(k) * distantStep
		ratio := (z + ncp) / t
		if math.IsInf(ratio*ratio, 1) {
			continue
		}
		u := math.Log(ratio)
		sum += normalDensity(z) * math.Exp(d.df*lnChiExponent(u, math.Expm1(u)))
	}
	return distantStep * d.scale * sum / t
}
