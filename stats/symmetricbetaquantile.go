package stats

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// betaRoot is the place u ≥ 0 of a quantile. Each field has full relative
// accuracy, also where another is near its end.
type betaRoot struct{ u, s, w float64 } // s = (1-u)/2, w = 1-u²

// settled is the relative distance from the wanted probability below which one
// more cubic step reaches rounding error.
const settled = 1e-5

// mostSteps is never reached: each iteration below climbs a concave function
// from one side.
const mostSteps = 200

// quantile returns the place with tail p ≤ 1/2.
func (b *SymmetricBeta) quantile(p float64) betaRoot {
	switch {
	case !(p > 0):
		return betaRoot{u: 1}
	case p >= 0.5:
		return betaRoot{s: 0.5, w: 1}
	case p > 0.25 && (b.a >= 0.5 || b.central(0.7) > 0.5-p):
		return rootOfU(b.centralRoot(0.5 - p))
	}
	s, u := b.guess(p)
	if s == 0 {
		return betaRoot{u: 1}
	}
	if s > 0.25 {
		return rootOfU(b.tailRootU(u, p))
	}
	return rootOfTail(b.tailRootS(s, p))
}

func rootOfU(u float64) betaRoot {
	return betaRoot{u: u, s: 0.5 - 0.5*u, w: (1 - u) * (1 + u)}
}

func rootOfTail(s float64) betaRoot {
	return betaRoot{u: 1 - 2*s, s: s, w: 4 * s * (1 - s)}
}

// central returns P(0 < U ≤ u) by the series of positive terms
//
//	u·w^a/B(1/2,a) · Σ (a+1/2)_k/(3/2)_k · u^2k,   w = 1-u²
//
// so that a probability near 1/2 has a quantile with all its digits.
func (b *SymmetricBeta) central(u float64) float64 {
	square := u * u
	sum, term := 1.0, 1.0
	for k := 0.5; term > sum*1e-17; k++ {
		term *= (b.a + k) / (1 + k) * square
		sum += term
	}
	return 2 * b.a * b.norm * u * math.Exp(b.a*math.Log1p(-square)) * sum
}

// centralRoot returns the u with P(0 < U ≤ u) = c.
func (b *SymmetricBeta) centralRoot(c float64) float64 {
	peak := 2 * b.a * b.norm
	u := min(c/peak, 0.7)
	for range mostSteps {
		square := u * u
		slope := peak * math.Exp((b.a-1)*math.Log1p(-square))
		miss := b.central(u) - c
		step := miss / slope
		bend := 1 + step*(b.a-1)*u/(1-square)
		if bend > 0.5 && bend < 2 {
			step /= bend
		}
		u = min(u-step, 0.75)
		if math.Abs(miss) < settled*c {
			break
		}
	}
	return u
}

// guess returns a place near the one with tail p < 1/2. From three degrees of
// freedom on, the tail is close to that of the normal distribution at
//
//	z = r - ln(f)/r + r/(128a²),   r = √(2a·x),   f = √(x/(1-e^-x)),   x = -ln(1-u²)
//
// and below to its own first term. A guess is off by 1e-2 at the smallest shapes
// and 1e-5 from fifteen on.
//
// Source: derived here from the density e^(-ax)·f of √x.
func (b *SymmetricBeta) guess(p float64) (s, u float64) {
	if b.a < 1.5 {
		w := math.Exp(math.Log(p/b.norm) / b.a)
		s = min(0.25*w, 0.25)
		return s, 1 - 2*s
	}
	z := -mathext.NormalQuantile(p)
	first := z * (1 + 0.125/b.a)
	r := z + lnRoot(first*first/(2*b.a))/first - first/(128*b.a*b.a)
	x := r * r / (2 * b.a)
	if x > 0.25 {
		w := math.Exp(-x)
		u = math.Sqrt(1 - w)
		return 0.5 * w / (1 + u), u
	}
	above := -math.Expm1(-x)
	u = math.Sqrt(above)
	return 0.5 * (1 - above) / (1 + u), u
}

// lnRoot returns ln √(x/(1-e^-x)).
func lnRoot(x float64) float64 {
	if x < 1 {
		return x/4 - x*x/48 + x*x*x*x/5760
	}
	return 0.5 * math.Log(-x/math.Expm1(-x))
}

// tailRootS finds the s with tail p by Halley steps on ln tail against ln s,
// which is concave for a ≥ 1; both derivatives follow from the tail itself.
func (b *SymmetricBeta) tailRootS(s, p float64) float64 {
	for range mostSteps {
		excess, ratio := b.excess(s, p)
		slope := b.a * b.norm / ((1 - s) * ratio)
		bend := (b.a-1)*(1-2*s)/(1-s) + 1 - slope
		s *= math.Exp(-halley(excess, slope, bend))
		s = min(s, 0.5)
		if math.Abs(excess) < settled {
			break
		}
	}
	return s
}

// excess returns ln(tail/p) at s, and tail/w^a.
func (b *SymmetricBeta) excess(s, p float64) (excess, ratio float64) {
	if b.rule == smallRule && p > 1e-200 && s > tinyTail {
		tail := b.tail(s)
		return math.Log(tail / p), tail / smallPower(b.row, 4*s*(1-s))
	}
	return b.excessAt(pointOfTail(s), p)
}

func (b *SymmetricBeta) excessAt(at betaPoint, p float64) (excess, ratio float64) {
	ratio = b.ratioAt(at)
	mantissa, exponent := at.power(b.a)
	fraction, shift := math.Frexp(p)
	return math.Log(mantissa*ratio/fraction) + float64(exponent-shift)*math.Ln2, ratio
}

// tailRootU is tailRootS in u, for the places where u is the smaller number.
func (b *SymmetricBeta) tailRootU(u, p float64) float64 {
	for range mostSteps {
		at := pointOfU(u)
		excess, ratio := b.excessAt(at, p)
		slope := -2 * b.a * b.norm / (at.w * ratio)
		bend := -2*(b.a-1)*u/at.w - slope
		u -= halley(excess, slope, bend)
		u = max(0, min(u, 1))
		if math.Abs(excess) < settled {
			break
		}
	}
	return u
}

// halley returns how far the root of a function lies behind a point with this
// value, slope, and second derivative over the slope. Where the correction is
// large it is left out: Newton's step is safe, Halley's is fast.
func halley(value, slope, bend float64) float64 {
	step := value / slope
	if c := 1 - 0.5*step*bend; c > 0.5 && c < 2 {
		step /= c
	}
	return step
}
