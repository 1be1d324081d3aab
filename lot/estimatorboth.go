package lot

import "math"

// atLeastBoth returns P(estimate ≥ 100·F(y)) with two limits, F being the
// distribution function of the kernel. With w = s/σ, a = halfWidth/w and
// v = (x̄-middle)·√n/((n-1)·s) the estimate is
//
//	100·(F(a+v) + F(a-v) - 1)
//
// which reaches 100·F(y) at v = ±(a-y) as long as one of the two tails is exactly
// zero, that is for a ≥ (1+y)/2, and along a bend beyond. Given w, v·w·(n-1) is
// normal, so what is left is an integral over w along both parts. Each part has an
// analytic integrand.
func (e *Estimator) atLeastBoth(y float64) float64 {
	bend := 2 * e.halfWidth / (1 + y) // the w at which a = (1+y)/2
	sum := 0.0
	if lo, hi := e.leastSpread, min(bend, e.mostSpread); lo < hi {
		rate := max(math.Sqrt(2*float64(e.n-1)), float64(e.n-1)*math.Abs(y))
		sum = integrate(func(w float64) float64 {
			return e.spreadDensity(w) * e.meanWithin(e.halfWidth-y*w)
		}, lo, hi, panels(hi-lo, rate))
	}
	return sum + e.alongBend(y)
}

// spreadDensity is the density of w = s/σ.
func (e *Estimator) spreadDensity(w float64) float64 {
	if w <= 0 {
		return 0
	}
	df := float64(e.n - 1)
	return math.Exp(e.logScale + (df-1)*math.Log(w) - df/2*w*w)
}

// meanWithin returns P(|v|·w ≤ reach).
func (e *Estimator) meanWithin(reach float64) float64 {
	if reach <= 0 {
		return 0
	}
	reach *= float64(e.n - 1)
	if e.offCentre > 0 {
		return normalBelow(reach-e.offCentre) - normalBelow(-reach-e.offCentre)
	}
	return normalBelow(reach+e.offCentre) - normalBelow(-reach+e.offCentre)
}

// alongBend integrates where both tails count. There α = a+v and β = a-v are tied
// by F(α) + F(β) = 1 + F(y), and α = sin θ makes everything analytic in θ, from
// α = β to α = 1:
//
//	dw/dθ = -halfWidth/(2a²) · (cos θ - cos(θ)^(n-3)·(1-β²)^(2-n/2))
//
// For n = 3, whose kernel is densest at its ends, w falls where it rises for n
// above 4, so that the inner interval, where the estimate is less, is taken off.
// For n = 4 w stands still and there is nothing to add.
func (e *Estimator) alongBend(y float64) float64 {
	if y >= 1 || e.n == 4 {
		return 0
	}
	beta := &e.kernel.beta
	outside, _ := beta.CDF(-y) // 1 - F(y)
	equal, _ := beta.UpperQuantile(outside / 2)
	lo := math.Asin(max(equal, min(1, e.halfWidth/e.mostSpread)))
	hi := math.Pi / 2
	if e.leastSpread > 0 {
		hi = math.Asin(max(-1, min(1, 2*e.halfWidth/e.leastSpread-y))) // as β ≥ y
	}
	if lo >= hi {
		return 0
	}
	return integrate(func(theta float64) float64 {
		return e.bendTerm(theta, outside)
	}, lo, hi, panels(hi-lo, float64(e.n-1)))
}

// bendTerm is the integrand of alongBend.
func (e *Estimator) bendTerm(theta, outside float64) float64 {
	alpha, cosine := math.Sincos(theta)
	tail, _ := e.kernel.beta.CDF(-alpha)
	beta, _ := e.kernel.beta.UpperQuantile(max(0, outside-tail))
	a, v := (alpha+beta)/2, (alpha-beta)/2
	w := e.halfWidth / a
	if !(w < e.mostSpread) {
		return 0
	}
	power := float64(e.n - 4)
	change := cosine * (1 - math.Pow(cosine/math.Sqrt((1-beta)*(1+beta)), power))
	return e.spreadDensity(w) * e.meanWithin(v*w) * w / (2 * a) * change
}
