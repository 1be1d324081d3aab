package stats

import "math"

// incompleteBeta returns I_x(a,b) and I_y(b,a), y = 1-x, where x and y are given
// by odds: x = a·f/(a·f+b), so that f = 1 is the mean. Each is computed to full
// relative accuracy where it is the smaller.
func incompleteBeta(a, b, f float64) (lower, upper float64) {
	switch {
	case !(f > 0):
		return 0, 1
	case math.IsInf(f, 1) || math.IsInf(a*f, 1):
		return 1, 0
	case a*f/(a*f+b) > (a+1)/(a+b+2):
		upper = min(1, betaFraction(b, a, 1/f))
		return 1 - upper, upper
	}
	lower = min(1, betaFraction(a, b, f))
	return lower, 1 - lower
}

const (
	// fractionSettled is the change of a continued fraction that is rounding.
	fractionSettled = 4e-16

	// mostFractionTerms is some ten times what the largest shapes take.
	mostFractionTerms = 1e6
)

// betaFraction returns I_x(a,b) for x up to about its mean, by
//
//	x^a·y^b/(a·B(a,b)) / (1 + d_1/(1 + d_2/(1 + ...)))
//
// evaluated forward (Lentz). The number of terms grows as the square root of the
// larger shape.
//
// Source: NIST Digital Library of Mathematical Functions, 8.17.22.
func betaFraction(a, b, f float64) float64 {
	power := betaPower(a, b, f)
	if power == 0 {
		return 0
	}
	x := a * f / (a*f + b)
	const tiny = 1e-290
	c, d, h := 1.0, 1-(a+b)*x/(a+1), 0.0
	if math.Abs(d) < tiny {
		d = tiny
	}
	d = 1 / d
	h = d
	for m := 1.0; m < mostFractionTerms; m++ {
		even := m * (b - m) * x / ((a + 2*m - 1) * (a + 2*m))
		d = 1 / (1 + even*d)
		c = 1 + even/c
		h *= d * c
		odd := -(a + m) * (a + b + m) * x / ((a + 2*m) * (a + 2*m + 1))
		d = 1 / (1 + odd*d)
		c = 1 + odd/c
		change := d * c
		h *= change
		if math.Abs(change-1) < fractionSettled {
			break
		}
	}
	return power / a * h
}

// betaPower returns x^a·y^b/B(a,b) at x = a·f/(a·f+b), as its value at the mean
// times e^D,
//
//	D = a·(ln(1+p) - p) + b·(ln(1+q) - q),   p = b(f-1)/(af+b),   q = -a(f-1)/(af+b)
//
// (a·p + b·q = 0), with the value at the mean from the remainders of Stirling's
// formula. Nothing large cancels, as it would between logarithms of Γ.
func betaPower(a, b, f float64) float64 {
	sum := a*f + b
	p, q := b*(f-1)/sum, -a*(f-1)/sum
	exponent := a*lnExcess(p, f*(a+b)/sum) + b*lnExcess(q, (a+b)/sum)
	exponent += stirlingRemainder(a+b) - stirlingRemainder(a) - stirlingRemainder(b)
	return math.Sqrt(b/(a+b)*a/(2*math.Pi)) * math.Exp(exponent)
}

// lnExcess returns ln(1+p) - p, from p and 1+p, by a series in p/(2+p) near 0,
// where the difference cancels.
func lnExcess(p, onePlus float64) float64 {
	if math.IsInf(onePlus, 1) {
		return math.Inf(-1)
	}
	if math.Abs(p) > 0.3 {
		return math.Log(onePlus) - p
	}
	r := p / (2 + p) // ln(1+p) = 2·(r + r³/3 + ...), and 2r - p = -p·r
	square := r * r
	sum, power := 0.0, r*square
	for k := 3.0; math.Abs(power) > 1e-18*math.Abs(sum); k += 2 {
		sum += power / k
		power *= square
	}
	return 2*sum - p*r
}

// stirlingRemainder returns ln Γ(x) - (x-1/2)·ln x + x - ln(2π)/2, from its
// asymptotic series at x ≥ 8 and the recurrence of Γ below.
//
// Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 6.1.41.
func stirlingRemainder(x float64) float64 {
	var up float64
	for ; x < 8; x++ { // ln Γ(x+1) = ln Γ(x) + ln x
		up += (x+0.5)*math.Log1p(1/x) - 1
	}
	y := 1 / (x * x)
	r := 691.0/360360 - y*(1.0/156-y*(3617.0/122400-y*(43867.0/244188)))
	return up + (1.0/12-y*(1.0/360-y*(1.0/1260-y*(1.0/1680-y*(1.0/1188-y*r)))))/x
}
