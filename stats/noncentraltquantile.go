package stats

import "math"

// Quantile returns the t with P(T ≤ t) = p, for p in (0, 1) and finite ncp;
// otherwise the error wraps [ErrLevel] or [ErrNotFinite]. A t beyond the float64
// range, which takes few degrees of freedom, is [ErrOverflow].
func (d NoncentralT) Quantile(p, ncp float64) (float64, error) {
	const fn = "stats.NoncentralT.Quantile"
	if err := d.checkProbability(fn, "p", p, "ncp", ncp); err != nil {
		return 0, err
	}
	return d.finiteQuantile(fn, p, 1-p, ncp)
}

// UpperQuantile returns the t with P(T > t) = q, under the rules and with the errors of
// [NoncentralT.Quantile]. Ask it for a small upper tail: 1-q loses digits.
func (d NoncentralT) UpperQuantile(q, ncp float64) (float64, error) {
	const fn = "stats.NoncentralT.UpperQuantile"
	if err := d.checkProbability(fn, "q", q, "ncp", ncp); err != nil {
		return 0, err
	}
	return d.finiteQuantile(fn, 1-q, q, ncp)
}

// NCP returns the noncentrality δ with P(T ≤ t) = p, for p in (0, 1) and finite
// t; otherwise the error wraps [ErrLevel] or [ErrNotFinite]. A confidence bound
// for δ after t was observed is such a δ.
func (d NoncentralT) NCP(p, t float64) (float64, error) {
	const fn = "stats.NoncentralT.NCP"
	if err := d.checkProbability(fn, "p", p, "t", t); err != nil {
		return 0, err
	}
	return d.finiteNCP(fn, p, 1-p, t)
}

// UpperNCP returns the noncentrality δ with P(T > t) = q, under the rules and with the
// errors of [NoncentralT.NCP].
func (d NoncentralT) UpperNCP(q, t float64) (float64, error) {
	const fn = "stats.NoncentralT.UpperNCP"
	if err := d.checkProbability(fn, "q", q, "t", t); err != nil {
		return 0, err
	}
	return d.finiteNCP(fn, 1-q, q, t)
}

func (d NoncentralT) checkProbability(fn, arg string, p float64, place string, x float64) error {
	if d.df == 0 {
		return outOfRange(fn, "d", "", "one made with NewNoncentralT")
	}
	if err := checkFraction(fn, arg, p); err != nil {
		return err
	}
	if !isFinite(x) {
		return Refuse(fn, place, text(x), ErrNotFinite)
	}
	return nil
}

func (d NoncentralT) finiteQuantile(fn string, lower, upper, ncp float64) (float64, error) {
	t := d.quantile(lower, upper, ncp)
	if !isFinite(t) {
		return 0, Refuse(fn, "df", text(d.df), ErrOverflow)
	}
	return t, nil
}

func (d NoncentralT) finiteNCP(fn string, lower, upper, t float64) (float64, error) {
	ncp := d.ncp(lower, upper, t)
	if !isFinite(ncp) {
		return 0, Refuse(fn, "t", text(t), ErrOverflow)
	}
	return ncp, nil
}

// normalScore returns the z at which the normal distribution has these tails,
// from the smaller; a tail that underflowed is held finite.
func normalScore(lower, upper float64) float64 {
	if lower <= upper {
		return normalQuantile(max(lower, leastTail))
	}
	return -normalQuantile(max(upper, leastTail))
}

const leastTail = 5e-324

// scoreNoise is the rounding of a score next to z.
func scoreNoise(z float64) float64 { return 2e-16 * (1 + math.Abs(z)) }

// quantile searches in v = asinh((t-c)/√(2ν)): as a function of v the score is
// nearly straight for many degrees of freedom, where it follows t, and for few,
// where it follows ln t.
func (d NoncentralT) quantile(lower, upper, ncp float64) float64 {
	z := normalScore(lower, upper)
	scale := math.Sqrt(2 * d.df)
	start := math.Asinh(ncp/scale) + z/scale*math.Sqrt(1+ncp*ncp/(2*d.df))/math.Hypot(1, ncp/scale)
	v := increasingRoot(func(v float64) float64 {
		l, u := d.tails(scale*math.Sinh(v), ncp)
		return normalScore(l, u) - z
	}, start, 0.5/scale, scoreNoise(z))
	return scale * math.Sinh(v)
}

// ncp searches in δ itself, in which the score is nearly straight.
func (d NoncentralT) ncp(lower, upper, t float64) float64 {
	z := normalScore(lower, upper)
	spread := math.Sqrt(1 + t/(2*d.df)*t)
	start := t - z*spread
	return -increasingRoot(func(negative float64) float64 {
		l, u := d.tails(t, -negative)
		return normalScore(l, u) - z
	}, -start, 0.25*spread, scoreNoise(z))
}
