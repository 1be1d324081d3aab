package lot

import "math"

// band is the room between the limits, seen from the nearer one: a population is
// at d, the distance of its mean inside the nearer limit, negative beyond it. With
// one limit half is infinite. Everything below is in logarithms, so that a share
// of 1e-1000 beyond the limits is as good a number as one of a tenth.
type band struct{ half float64 }

// shares returns the logarithms of the shares of a normal population beyond the
// limits and within them.
func (b band) shares(d, spread float64) (lnBeyond, lnWithin float64) {
	near, far := d/spread, (2*b.half-d)/spread
	if near >= 0 {
		lnBeyond = lnUpperTail(near)
		lnBeyond += math.Log1p(math.Exp(lnUpperTail(far) - lnBeyond))
		return lnBeyond, lnRest(lnBeyond)
	}
	lnWithin = lnUpperTail(-near)
	lnWithin += math.Log1p(-math.Exp(lnUpperTail(far) - lnWithin))
	return lnRest(lnWithin), lnWithin
}

// quality is a share of a population beyond the limits, in the forms that the
// search for such populations starts from.
type quality struct {
	lnBeyond, lnWithin float64
	score              float64 // d/spread where only the nearer limit matters
	widest             float64 // spread of the population in the middle, the widest there is
}

func (b band) quality(lnBeyond, lnWithin float64) quality {
	q := quality{lnBeyond: lnBeyond, lnWithin: lnWithin}
	if lnBeyond <= lnWithin {
		q.score = upperScore(lnBeyond)
		q.widest = b.half / upperScore(lnBeyond-math.Ln2)
	} else {
		q.score = -upperScore(lnWithin)
		q.widest = b.half / (math.Sqrt2 * math.Erfinv(math.Exp(lnWithin)))
	}
	return q
}

// position returns the d at which a population of that spread has quality q, by
// Newton steps on the log odds inside a bracket. A spread of q.widest or more
// gives the middle.
func (b band) position(q quality, spread float64) float64 {
	d := q.score * spread
	if math.IsInf(b.half, 1) || spread == 0 {
		return d
	}
	if spread >= q.widest {
		return b.half
	}
	lo, hi := d, b.half
	for range 60 {
		excess, slope := b.miss(q, d, spread)
		if excess > 0 {
			lo = d
		} else {
			hi = d
		}
		next := d + excess/slope
		if !(next >= lo && next <= hi) {
			next = lo/2 + hi/2
		}
		if math.Abs(next-d) <= 1e-10*spread {
			return next
		}
		d = next
	}
	return d
}

// miss returns by how much the log odds of lying beyond the limits at d exceed
// those of q, and how fast they fall there.
func (b band) miss(q quality, d, spread float64) (excess, slope float64) {
	lnBeyond, lnWithin := b.shares(d, spread)
	excess = (lnBeyond - lnWithin) - (q.lnBeyond - q.lnWithin)
	near, far := d/spread, (2*b.half-d)/spread
	lnPeak := -near*near/2 - math.Log(2*math.Pi)/2
	slope = (math.Exp(lnPeak-lnBeyond) + math.Exp(lnPeak-lnWithin)) * -math.Expm1((near-far)*(near+far)/2) / spread
	return excess, slope
}

// lnUpperTail returns the logarithm of the share of the standard normal
// distribution above z, far out by its asymptotic series (Abramowitz and Stegun
// 26.2.12), which at 30 is good to 1e-10.
func lnUpperTail(z float64) float64 {
	if z < 30 {
		return math.Log(0.5 * math.Erfc(z/math.Sqrt2))
	}
	w := 1 / (z * z)
	return -z*z/2 - math.Log(z) - math.Log(2*math.Pi)/2 + math.Log1p(-w*(1-w*(3-15*w)))
}

// upperScore returns the z ≥ 0 above which a share with this logarithm, at most
// ln ½, lies.
func upperScore(lnShare float64) float64 {
	if lnShare > -400 {
		return max(0, -normalScore(math.Exp(lnShare)))
	}
	z := math.Sqrt(-2 * lnShare)
	for range 8 { // the slope of ln share is -z(1 + 1/z²) but for terms in 1/z³
		z += (lnUpperTail(z) - lnShare) / (z + 1/z)
	}
	return z
}

// lnRest returns the logarithm of what a share leaves, of a share's logarithm.
func lnRest(lnShare float64) float64 { return math.Log(-math.Expm1(lnShare)) }
