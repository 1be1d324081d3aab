package lot

import "math"

// inversion holds a sample and asks of a share within the limits how well the two
// agree. All lengths are in standard deviations of the sample, or, where that is
// less, of its measurement error.
type inversion struct {
	band
	n       float64
	spread  float64       // of the sample
	means   []node        // its distance inside the nearer limit, for each common error there may be
	noises  []node        // standard deviations that repeatability may have
	density spreadDensity // of the sample's spread
}

// mostIndex is the quality index beyond which a larger one changes no bound by
// 1e-9 percent.
const mostIndex = 340

// newInversion takes the distances of the mean from the two limits, of which one
// may be infinite.
func newInversion(n int, fromLower, fromUpper, spread float64, e MeasurementError) inversion {
	common := e.pooled()
	unit := max(spread, e.Repeatability.StdErr, common.StdErr)
	v := inversion{n: float64(n), density: newSpreadDensity(float64(n - 1))}
	d := max(-mostIndex, min(mostIndex, min(fromLower, fromUpper)/unit))
	v.half = max((fromLower/2+fromUpper/2)/unit, d)
	v.spread = max(spread/unit, math.Abs(d)/mostIndex)
	v.means, v.noises = []node{{d, 1}}, []node{{0, 1}}
	if r := e.Repeatability; r.StdErr > 0 {
		v.noises = spreadNodes(r.DF)
		for i := range v.noises {
			v.noises[i].at = r.StdErr / unit / v.noises[i].at
		}
	}
	if common.StdErr > 0 {
		v.shift(d, common.StdErr/unit, common.DF)
	}
	return v
}

// farShift is how many spreads a shifted mean counts as being from a limit at
// most: farther out a probability of three results changes by less than 0.002, of
// more by far less.
const farShift = 30

// shift spreads the mean by the t distribution of the common error, in steps that
// resolve the sampling of the mean.
func (v *inversion) shift(d, stdErr, df float64) {
	step := max(0.1, min(0.7, 0.9*v.spread/math.Sqrt(v.n)/stdErr))
	v.means = shiftNodes(df, step)
	for i := range v.means {
		at := d + stdErr*v.means[i].at
		at = min(at, 2*v.half-at) // the other limit may become the nearer
		v.means[i].at = max(-farShift*v.spread, min(farShift*v.spread, at))
	}
}

// bounds returns the normal scores of the shares within the limits that the
// sample contradicts at significance tail from below and from above.
func (v *inversion) bounds(tail float64) (low, high float64) {
	wanted := -normalScore(tail)
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
// has this normal score, averaged over what the errors of measurement may be.
func (v *inversion) tails(score float64) (atLeast, atMost float64) {
	claimed := v.quality(lnUpperTail(score), lnUpperTail(-score))
	widening := v.widening(math.Exp(claimed.lnBeyond))
	for _, mean := range v.means {
		seen := v.quality(v.shares(mean.at, widening*v.spread))
		for _, noise := range v.noises {
			p := v.likeliest(claimed, mean.at, noise.at)
			atLeast += mean.weight * noise.weight * v.atLeast(seen, widening, p)
		}
	}
	atLeast = min(1, atLeast)
	return atLeast, 1 - atLeast
}

// population is a lot as it is and the noise in measuring it.
type population struct {
	d, spread float64
	noise     float64 // standard deviation of repeatability
}

// total is the standard deviation of results.
func (p population) total() float64 { return math.Hypot(p.spread, p.noise) }

// widening is the factor on the spread of a sample in the estimate that orders
// samples by quality. With one limit it has no influence. It was chosen by
// simulation so that the upper bound of a centred population covers what it
// should; the tables of [WithinInterval] were measured with it.
func (v *inversion) widening(beyond float64) float64 {
	return math.Sqrt(1 + (8*beyond-1.6)/v.n)
}

// likeliest returns the population of that quality under which the sample has
// its largest likelihood: a scan of the spread and a golden section.
func (v *inversion) likeliest(q quality, mean, noise float64) population {
	lo, hi, step := v.spreadsToScan(q, mean, noise)
	best, most := hi, math.Inf(-1)
	for x := hi; x > lo-step/2; x -= step {
		if l := v.lnLikelihood(q, mean, noise, x); l > most {
			best, most = x, l
		}
	}
	lo, hi = best-step, min(hi, best+step)
	const golden = 0.6180339887498949
	a, b := hi-golden*(hi-lo), lo+golden*(hi-lo)
	la, lb := v.lnLikelihood(q, mean, noise, a), v.lnLikelihood(q, mean, noise, b)
	for range 18 {
		if la > lb {
			hi, b, lb = b, a, la
			a = hi - golden*(hi-lo)
			la = v.lnLikelihood(q, mean, noise, a)
		} else {
			lo, a, la = a, b, lb
			b = lo + golden*(hi-lo)
			lb = v.lnLikelihood(q, mean, noise, b)
		}
	}
	spread := min(math.Exp(lo/2+hi/2), q.widest)
	return population{v.position(q, spread), spread, noise}
}

// spreadsToScan returns a range of ln spread around the closed answer for one
// limit without measurement error.
func (v *inversion) spreadsToScan(q quality, mean, noise float64) (lo, hi, step float64) {
	a, b := (v.n-1)*v.spread*v.spread+v.n*mean*mean, v.n*mean*q.score
	reach := math.Sqrt(b*b + 4*a*v.n)
	oneLimit := 2 * a / (b + reach)
	if b < 0 { // b + reach cancels
		oneLimit = (reach - b) / (2 * v.n)
	}
	down := 1.5
	if noise > 0 {
		down = 8
	}
	middle := math.Log(oneLimit)
	hi = min(math.Log(q.widest), middle+1.5)
	return min(middle, hi) - down, hi, 0.5
}

func (v *inversion) lnLikelihood(q quality, mean, noise, lnSpread float64) float64 {
	spread := math.Exp(lnSpread)
	total := spread*spread + noise*noise
	off := mean - v.position(q, spread)
	return -0.5 * (v.n*math.Log(total) + ((v.n-1)*v.spread*v.spread+v.n*off*off)/total)
}
