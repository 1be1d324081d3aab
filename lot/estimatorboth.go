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
	if bend >= e.mostSpread && e.n > 4 {
		return sum // the rest is at larger w still
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

// alongBend integrates where both tails count. For n = 4, whose kernel is level,
// w stands still there and nothing is added.
func (e *Estimator) alongBend(y float64) float64 {
	switch {
	case y >= 1 || e.n == 4:
		return 0
	case e.n == 3:
		return -e.insideEllipse(y)
	}
	return e.alongTie(y)
}

// insideEllipse is what n = 3 takes off: its kernel is densest at the ends, so
// that the estimate is least in the middle. There a and v lie on an ellipse,
//
//	a²/((1+y)/2) + v²/((1-y)/2) = 1
//
// and with u² = w² - halfWidth²/((1+y)/2) the density of w, 2w·e^(-w²), leaves
// 2u·e^(-u²) and v·w is √((1-y)/2)·u.
func (e *Estimator) insideEllipse(y float64) float64 {
	least := e.halfWidth * e.halfWidth * 2 / (1 + y)
	across := math.Sqrt((1 - y) / 2)
	most := min(e.mostSpread, math.Sqrt(least)*across*math.Sqrt(2/(1+y)))
	if !(least < e.mostSpread*e.mostSpread) {
		return 0
	}
	return integrate(func(u float64) float64 {
		return 2 * u * math.Exp(-least-u*u) * e.meanWithin(across*u)
	}, 0, most, panels(most, 2))
}

// alongTie is what n of 5 and more add. There α = a+v and β = a-v are tied by
// F(α) + F(β) = 1 + F(y), and α = sin θ makes everything analytic in θ, from
// α = β to α = 1:
//
//	dw/dθ = -w/(2a) · (cos θ - (cos θ/c)^(n-3)·c),   c = √(1-β²)
//
// Where the level is low, w falls steeply towards the end, as a power of π/2 - θ,
// and the panels halve towards it.
func (e *Estimator) alongTie(y float64) float64 {
	beta := &e.kernel.beta
	outside, _ := beta.CDF(-y) // 1 - F(y)
	equal, _ := beta.UpperQuantile(outside / 2)
	lo := math.Asin(max(equal, min(1, e.halfWidth/e.mostSpread)))
	hi := math.Pi / 2
	if e.leastSpread > 0 {
		hi = math.Asin(max(-1, min(1, 2*e.halfWidth/e.leastSpread-y))) // as β ≥ y
	}
	scarcity := 1 / max(1-outside, 1e-5)
	rate := float64(e.n-1) * (1 + math.Log(scarcity))
	steepness := math.Sqrt(2*float64(e.n-1)) * float64(e.n-4)
	sum := 0.0
	for k := int(math.Log2(10*scarcity) / float64(e.n-3)); k > 0 && lo < hi; k-- {
		far := math.Ldexp(math.Pi/2, -k) // from the end
		if start := max(lo, math.Pi/2-far); start < hi {
			sum += e.tieIntegral(start, hi, outside, max(rate, steepness/far))
			hi = start
		}
	}
	if lo < hi {
		sum += e.tieIntegral(lo, hi, outside, rate)
	}
	return sum
}

func (e *Estimator) tieIntegral(lo, hi, outside, rate float64) float64 {
	return integrate(func(theta float64) float64 {
		return e.tieTerm(theta, outside)
	}, lo, hi, panels(hi-lo, rate))
}

// tieTerm is the integrand of alongTie.
func (e *Estimator) tieTerm(theta, outside float64) float64 {
	alpha, cosine := math.Sincos(theta)
	tail, _ := e.kernel.beta.CDF(-alpha)
	s, _ := e.kernel.beta.InverseIncomplete(max(0, outside-tail)) // (1-β)/2
	a, v := (alpha+1-2*s)/2, (alpha-1+2*s)/2
	w := e.halfWidth / a
	if !(w < e.mostSpread && s > 0) {
		return 0
	}
	c := 2 * math.Sqrt(s*(1-s))
	change := cosine - c*math.Pow(min(1, cosine/c), float64(e.n-3))
	return e.spreadDensity(w) * e.meanWithin(v*w) * w / (2 * a) * change
}
