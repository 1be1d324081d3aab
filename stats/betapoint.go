package stats

import "math"

// betaPoint is a place u ≥ 0 of the symmetric beta distribution, held so that
// nothing is lost at either end.
type betaPoint struct {
	s       float64 // (1-u)/2
	w, rest float64 // 1-u² = (w+rest)·2^shift
	shift   int
}

// pointOfTail returns the place u = 1-2s, 0 < s ≤ 1/2.
func pointOfTail(s float64) betaPoint {
	y := 1 - s
	s4 := 4 * s
	w := float64(s4 * y)
	return betaPoint{s: s, w: w, rest: math.FMA(s4, y, -w) + float64(s4*((1-y)-s))}
}

// pointOfU returns the place u, 0 ≤ u < 1.
func pointOfU(u float64) betaPoint {
	d, e := 1-u, 1+u
	dRest, eRest := (1-d)-u, (1-e)+u
	w := float64(d * e)
	return betaPoint{s: 0.5 * d, w: w, rest: math.FMA(d, e, -w) + float64(d*eRest) + float64(e*dRest) + float64(dRest*eRest)}
}

// pointOfT returns the place of Student's t > 0, 1-u² = ν/(ν+t²), and u.
func pointOfT(t, df float64) (at betaPoint, u float64) {
	f, shift := math.Frexp(t)
	_, dfShift := math.Frexp(df)
	if dfShift-2*shift > 900 {
		return betaPoint{s: 0.5, w: 1}, 0
	}
	square := float64(f * f)
	squareRest := math.FMA(f, f, -square)
	if 2*shift-dfShift > 200 { // ν+t² is t²
		w := df / square
		at = betaPoint{w: w, rest: (math.FMA(-w, square, df) - float64(w*squareRest)) / square, shift: -2 * shift}
		at.s = math.Ldexp(w, at.shift-2)
		return at, 1
	}
	v := math.Ldexp(df, -2*shift)
	sum := v + square
	larger, smaller := max(v, square), min(v, square)
	sumRest := ((larger - sum) + smaller) + squareRest
	w := v / sum
	at = betaPoint{w: w, rest: (math.FMA(-w, sum, v) - float64(w*sumRest)) / sum}
	u = f / math.Sqrt(sum)
	at.s = 0.5 * w / (1 + u)
	return at, u
}

// exponent returns -ln(1-u²).
func (at betaPoint) exponent() float64 {
	if at.shift == 0 && at.w > 0.5 {
		return -math.Log1p(-((1 - at.w) - at.rest))
	}
	return -math.Log(at.w) - float64(float64(at.shift)*math.Ln2)
}

// hugeShape is where the exponent itself, not the power, is the accurate form:
// only places with a tiny exponent have a tail.
const hugeShape = 1e15

// power returns (1-u²)^a as a mantissa and a power of two. The whole part of a
// is taken by squaring in pairs of float64s, so the relative error stays at a
// few roundings whatever a is, and nothing underflows before the result does.
func (at betaPoint) power(a float64) (mantissa float64, exponent int) {
	if a > hugeShape {
		return math.Exp(-a * at.exponent()), 0
	}
	hi, e := math.Frexp(at.w)
	lo := math.Ldexp(at.rest, -e)
	e += at.shift
	whole := math.Floor(a)
	mantissa, exponent = fractionalPower(hi, lo, e, a-whole)
	r, rRest := 1.0, 0.0
	for k := uint64(whole); k > 0; {
		if k&1 == 1 {
			exponent += e
			if exponent < -2200 {
				return 0, 0
			}
			r, rRest = multiplyPair(r, rRest, hi, lo)
			if r < 0.5 {
				r, rRest, exponent = 2*r, 2*rRest, exponent-1
			}
		}
		if k >>= 1; k == 0 {
			break
		}
		hi, lo = multiplyPair(hi, lo, hi, lo)
		e *= 2
		if hi < 0.5 {
			hi, lo, e = 2*hi, 2*lo, e-1
		}
		e = max(e, -1<<20)
	}
	return mantissa * (r + rRest), exponent
}

// multiplyPair returns the product of two numbers held as sums of two float64s.
func multiplyPair(a, aRest, b, bRest float64) (hi, lo float64) {
	p := float64(a * b)
	rest := math.FMA(a, b, -p) + (float64(a*bRest) + float64(aRest*b))
	hi = p + rest
	return hi, rest - (hi - p)
}

// fractionalPower returns ((hi+lo)·2^e)^f for 0 ≤ f < 1 as a mantissa and a
// power of two.
func fractionalPower(hi, lo float64, e int, f float64) (mantissa float64, exponent int) {
	switch f {
	case 0:
		return 1, 0
	case 0.5:
		if e&1 != 0 {
			hi, lo, e = 2*hi, 2*lo, e-1
		}
		return math.Sqrt(hi) * (1 + 0.5*lo/hi), e / 2
	}
	shift := float64(float64(e) * f)
	whole := math.Round(shift)
	part := (shift - whole) + math.FMA(float64(e), f, -shift)
	return math.Exp(float64(f*(math.Log(hi)+lo/hi)) + float64(part*math.Ln2)), int(whole)
}
