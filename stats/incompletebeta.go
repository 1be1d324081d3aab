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
	case a*f/(a*f+b) > (a+1)/(a+b+2): // x beyond (a+1)/(a+b+2)
		upper = min(1, betaFraction(b, a, 1/f, (1-f)/f))
		return 1 - upper, upper
	}
	lower = min(1, betaFraction(a, b, f, f-1))
	return lower, 1 - lower
}

const (
	// fractionSettled is the change of a continued fraction that is rounding.
	fractionSettled = 4e-16

	// mostFractionTerms is some ten times what the largest shapes take.
	mostFractionTerms = 1e6
)

// betaFraction returns I_x(a,b) for x up to about its mean, excess = f-1, by
//
//	x^a·y^b/B(a,b) / (β_0 + α_1/(β_1 + α_2/(β_2 + ...)))
//
//	α_m = (a+m-1)·(a+b+m-1)·m·(b-m)·x²/(a+2m-1)²
//	β_m = m + m·(b-m)·x/(a+2m-1) + (a+m)·(a·y - b·x + 1 + m·(1+y))/(a+2m+1)
//
// evaluated forward (Lentz). With a·y - b·x taken from f-1 nothing cancels at the
// start, as it would for a large a and x near 1. The number of terms grows as the
// square root of the larger shape.
//
// Source: A. R. DiDonato and A. H. Morris, ACM Transactions on Mathematical
// Software 18 (1992) 360 (from memory).
func betaFraction(a, b, f, excess float64) float64 {
	power := betaPower(a, b, f, excess)
	if power == 0 {
		return 0
	}
	sum := float64(a*f) + b
	x, y, lead := a*f/sum, b/sum, 1-a*b*excess/sum
	c := a * lead / (a + 1)
	h, d := c, 0.0
	for m := 1.0; m < mostFractionTerms; m++ {
		k := a + 2*m - 1
		alpha := (a + m - 1) / k * ((a + b + m - 1) / k) * m * (b - m) * x * x
		beta := m + m*(b-m)*x/k + (a+m)*(lead+float64(m*(1+y)))/(k+2)
		d = 1 / (beta + float64(alpha*d))
		c = beta + alpha/c
		change := c * d
		h *= change
		if math.Abs(change-1) < fractionSettled {
			break
		}
	}
	return power / h
}

// betaPower returns x^a·y^b/B(a,b) at x = a·f/(a·f+b), as its value at the mean
// times e^D,
//
//	D = a·(ln(1+p) - p) + b·(ln(1+q) - q),   p = b(f-1)/(af+b),   q = -a(f-1)/(af+b)
//
// (a·p + b·q = 0), with the value at the mean from the remainders of Stirling's
// formula. Nothing large cancels, as it would between logarithms of Γ.
func betaPower(a, b, f, excess float64) float64 {
	sum := float64(a*f) + b
	p, q := b*excess/sum, -a*excess/sum
	exponent := float64(a*lnExcess(p, f*(a+b)/sum)) + float64(b*lnExcess(q, (a+b)/sum))
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
	return 2*sum - float64(p*r)
}

// stirlingRemainder returns ln Γ(x) - (x-1/2)·ln x + x - ln(2π)/2, from its
// asymptotic series at x ≥ 8 and the recurrence of Γ below.
//
// Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 6.1.41.
func stirlingRemainder(x float64) float64 {
	var up float64
	for ; x < 8; x++ { // ln Γ(x+1) = ln Γ(x) + ln x
		up += float64((x+0.5)*math.Log1p(1/x)) - 1
	}
	y := 1 / (x * x)
	r := 691.0/360360 - y*(1.0/156-y*(3617.0/122400-y*(43867.0/244188)))
	return up + (1.0/12-y*(1.0/360-y*(1.0/1260-y*(1.0/1680-y*(1.0/1188-y*r)))))/x
}
