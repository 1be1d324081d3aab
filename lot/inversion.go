package lot

import "math"

// inversion holds a sample and asks of a share within the limits how well the two
// agree. All lengths are in standard deviations of the sample, or, where that is
// less, of its measurement error.
type inversion struct {
	band
	n             float64
	d, spread     float64 // of the sample
	common        float64 // standard error of what all results share
	commonNodes   []node
	repeatability float64 // standard deviation of the measurement error of one result
	repeatNodes   []node
	density       spreadDensity // of the sample's spread
}

// mostIndex is the quality index beyond which a larger one changes no bound by
// 1e-9 percent.
const mostIndex = 340

// newInversion takes the distances of the mean from the two limits, of which one
// may be infinite.
func newInversion(n int, fromLower, fromUpper, spread float64, e MeasurementError) inversion {
	common := e.pooled()
	unit := max(spread, e.Repeatability.StdErr)
	v := inversion{n: float64(n), spread: spread / unit}
	v.half = (fromLower/2 + fromUpper/2) / unit
	v.d = max(-mostIndex, min(mostIndex, min(fromLower, fromUpper)/unit))
	v.half = max(v.half, v.d)
	v.common, v.commonNodes = common.StdErr/unit, spreadNodes(common.DF)
	v.repeatability, v.repeatNodes = e.Repeatability.StdErr/unit, []node{{1, 1}}
	if v.common == 0 {
		v.commonNodes = []node{{1, 1}}
	}
	if v.repeatability > 0 {
		v.repeatNodes = spreadNodes(e.Repeatability.DF)
	}
	v.density = newSpreadDensity(v.n - 1)
	return v
}

// bounds returns the normal scores of the shares within the limits that the
// sample contradicts at significance tail from below and from above.
func (v *inversion) bounds(tail float64) (low, high float64) {
	wanted := math.Sqrt2 * math.Erfcinv(2*tail)
	low = risingRoot(func(score float64) float64 {
		atLeast, _ := v.tails(score)
		return wanted + normalScore(atLeast)
	})
	high = risingRoot(func(score float64) float64 {
		_, atMost := v.tails(score)
		return -wanted - normalScore(atMost)
	})
	return min(low, high), max(low, high)
}

// tails returns the probabilities of a sample at least as good and at most as
// good as this one, from the likeliest population whose share within the limits
// has this normal score.
func (v *inversion) tails(score float64) (atLeast, atMost float64) {
	claimed := v.quality(lnUpperTail(score), lnUpperTail(-score))
	widening := v.widening(math.Exp(claimed.lnBeyond))
	d, spread := v.likeliest(claimed)
	room := (v.spread - v.repeatability) * (v.spread + v.repeatability)
	if room <= 0 { // no spread is left: the best of samples, or the worst
		inside, outside := v.spreadless(d, spread)
		if v.d >= 0 {
			return inside, 1
		}
		return 1, outside
	}
	seen := v.quality(v.shares(v.d, widening*math.Sqrt(room)))
	atLeast = v.atLeast(seen, widening, d, spread)
	return atLeast, 1 - atLeast
}

// widening is the factor on the spread of a sample in the estimate that orders
// samples by quality. With one limit it has no influence. It was chosen by
// simulation so that the upper bound of a centred population covers what it
// should; the tables of [WithinInterval] were measured with it.
func (v *inversion) widening(beyond float64) float64 {
	return math.Sqrt(1 + (8*beyond-1.6)/v.n)
}

// likeliest returns the population of that quality under which the sample has
// its largest likelihood: a scan of the spread and a golden section.
func (v *inversion) likeliest(q quality) (d, spread float64) {
	lo, hi, step := v.spreadsToScan(q)
	best, most := hi, math.Inf(-1)
	for x := hi; x > lo-step/2; x -= step {
		if l := v.lnLikelihood(q, x); l > most {
			best, most = x, l
		}
	}
	lo, hi = best-step, min(hi, best+step)
	const golden = 0.6180339887498949
	a, b := hi-golden*(hi-lo), lo+golden*(hi-lo)
	la, lb := v.lnLikelihood(q, a), v.lnLikelihood(q, b)
	for range 24 {
		if la > lb {
			hi, b, lb = b, a, la
			a = hi - golden*(hi-lo)
			la = v.lnLikelihood(q, a)
		} else {
			lo, a, la = a, b, lb
			b = lo + golden*(hi-lo)
			lb = v.lnLikelihood(q, b)
		}
	}
	spread = min(math.Exp(lo/2+hi/2), q.widest)
	return v.position(q, spread), spread
}

// spreadsToScan returns a range of ln spread around the closed answer for one
// limit without measurement error.
func (v *inversion) spreadsToScan(q quality) (lo, hi, step float64) {
	a, b := (v.n-1)*v.spread*v.spread+v.n*v.d*v.d, v.n*v.d*q.score
	reach := math.Sqrt(b*b + 4*a*v.n)
	oneLimit := 2 * a / (b + reach)
	if b < 0 { // b + reach cancels
		oneLimit = (reach - b) / (2 * v.n)
	}
	down := 1.5
	if v.repeatability > 0 {
		down = 5
	}
	middle := math.Log(oneLimit)
	hi = min(math.Log(q.widest), middle+1.5)
	return min(middle, hi) - down, hi, 0.25
}

func (v *inversion) lnLikelihood(q quality, lnSpread float64) float64 {
	spread := math.Exp(lnSpread)
	total := spread*spread + v.repeatability*v.repeatability
	ofMean := total/v.n + v.common*v.common
	off := v.d - v.position(q, spread)
	return -0.5 * ((v.n-1)*(math.Log(total)+v.spread*v.spread/total) + math.Log(ofMean) + off*off/ofMean)
}
