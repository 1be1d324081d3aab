package stats

import "math"

// lnChiScale returns C of the density C·exp(ν(u - (e^2u-1)/2)) of u = ln w,
// w = √(χ²_ν/ν),
//
//	C = 2·(ν/2)^(ν/2)·e^(-ν/2)/Γ(ν/2) = √(ν/π)·e^(-μ)
//
// with μ the remainder of Stirling's formula at ν/2.
func lnChiScale(df float64) float64 {
	return math.Sqrt(df/math.Pi) * math.Exp(-stirlingRemainder(df/2))
}

// lnChiExponent returns u - (e^2u-1)/2 from u and e^u-1, by its series
// -Σ 2^(k-1)/k!·u^k, k ≥ 2, near 0, where the difference cancels.
func lnChiExponent(u, growth float64) float64 {
	if math.Abs(u) > 0.1 {
		return u - growth*(1+0.5*growth)
	}
	r := 4.0/155925 + u*(2.0/467775)
	r = 1.0/315 + u*(2.0/2835+u*(2.0/14175+u*r))
	r = 2.0/15 + u*(2.0/45+u*(4.0/315+u*r))
	return -u * u * (1 + u*(2.0/3+u*(1.0/3+u*r)))
}

// integrand is what stands beside the density of w in an integral over w.
type integrand uint8

const (
	lowerTail integrand = iota // Φ(t·w-δ)
	upperTail                  // Φ(δ-t·w)
	density                    // w·φ(t·w-δ)
)

// integralTails integrates the tail that looks smaller and takes the other from
// 1, or integrates that too if the look deceived.
func (d NoncentralT) integralTails(t, ncp float64) (lower, upper float64) {
	if t*(1-0.25/d.df)-ncp < 0 {
		lower = d.integral(lowerTail, t, ncp)
		if lower > 0.9 {
			return lower, d.integral(upperTail, t, ncp)
		}
		return lower, 1 - lower
	}
	upper = d.integral(upperTail, t, ncp)
	if upper > 0.9 {
		return d.integral(lowerTail, t, ncp), upper
	}
	return 1 - upper, upper
}

func (d NoncentralT) density(t, ncp float64) float64 {
	if t < 0 {
		t, ncp = -t, -ncp
	}
	switch {
	case math.IsInf(t, 1) || ncp < -lastNormal || t == 0 && ncp > lastNormal:
		return 0
	case ncp > distantNCP && ncp > distantRatio*math.Sqrt(2*d.df):
		return d.distantDensity(t, ncp)
	}
	return d.integral(density, t, ncp)
}

// lastNormal is beyond every x with e^(-x²/2) in float64.
const lastNormal = 39

const (
	// spacing is the step over the width of a normal curve. With both the
	// curvature of the peak and the rise of Φ over 1/δ in u, wherever the peak
	// is, the widths combine as those of a product: 1/width² + δ². For a normal
	// curve the trapezoid error is e^(-2π²/spacing²); skewness takes its share.
	spacing = 0.5

	// widestStep is set by e^(-2π·d/step), with d up to π/4 how far the integrand
	// stays bounded into the complex plane. Both steps were set by scans in which
	// a fifth more is where an error of 1e-12 begins to show.
	widestStep = 0.13

	// From nearNormalDF on peaks are so near normal that all steps can be longer.
	nearNormalDF      = 100
	nearNormalStretch = 1.4

	// negligible is the term at which a sum over nodes stops.
	negligible = 1e-17

	// mostNodes is never reached; it bounds what rounding could do.
	mostNodes = 1e5

	// leastExponent is below every logarithm of a float64.
	leastExponent = -760
)

// integral returns ∫ of the integrand times the density of w, t ≥ 0, by the
// trapezoid rule, which converges geometrically on a smooth peak. All terms are
// positive and are summed relative to the largest, so that a tail of 1e-300 is
// as accurate as one of 0.1.
//
// The variable is u = ln w, or for few degrees of freedom x with u = x - e^-x,
// because e^(νu) alone takes 40/ν to die out on the left.
func (d NoncentralT) integral(kind integrand, t, ncp float64) float64 {
	peak, width := d.peak(kind, t, ncp)
	value, exponent := d.term(kind, t, ncp, peak)
	top := math.Round(exponent + math.Log(value))
	if !(top > leastExponent) {
		return 0
	}
	rate := 1 / width
	if kind != density && ncp > 0 {
		rate = math.Hypot(rate, ncp)
	}
	step := min(spacing/rate, widestStep)
	if d.df >= nearNormalDF {
		step *= nearNormalStretch
	}
	var sum float64
	if d.df > fewDF {
		sum = value*math.Exp(exponent-top) +
			d.sum(kind, t, ncp, peak, step, top) + d.sum(kind, t, ncp, peak, -step, top)
	} else {
		x := bentVariable(peak)
		bend := math.Exp(-x)
		step /= 1 + bend
		value, exponent = d.term(kind, t, ncp, x-bend)
		sum = (1+bend)*value*math.Exp(exponent-top) +
			d.bentSum(kind, t, ncp, x, step, top) + d.bentSum(kind, t, ncp, x, -step, top)
	}
	result := math.Exp(top) * (math.Abs(step) * d.scale * sum)
	if kind == density {
		return result
	}
	return min(result, 1)
}

// sum adds the terms on one side of a peak in u, over e^top.
func (d NoncentralT) sum(kind integrand, t, ncp, peak, step, top float64) (sum float64) {
	for k := 1.0; k < mostNodes; k++ {
		value, exponent := d.term(kind, t, ncp, peak+k*step)
		term := value * math.Exp(exponent-top)
		sum += term
		if !(term > negligible*sum) {
			break
		}
	}
	return sum
}

// fewDF is the ν up to which the bent variable has the shorter sum.
const fewDF = 10

// bentSum adds the terms on one side of a peak in x.
func (d NoncentralT) bentSum(kind integrand, t, ncp, peak, step, top float64) (sum float64) {
	bend, factor := math.Exp(-peak), math.Exp(-step)
	for k := 1.0; k < mostNodes; k++ {
		bend *= factor
		value, exponent := d.term(kind, t, ncp, peak+k*step-bend)
		term := (1 + bend) * value * math.Exp(exponent-top)
		sum += term
		if !(term > negligible*sum) {
			break
		}
	}
	return sum
}

// bentVariable returns the x with x - e^-x = u, closely enough for a centre.
func bentVariable(u float64) float64 {
	x := u + 0.57*math.Exp(-max(u, 0))
	if u < -1 {
		x = -math.Log(-u)
	}
	for range 4 {
		bend := math.Exp(-x)
		x -= (x - bend - u) / (1 + bend)
	}
	return x
}

// term returns the integrand at u as a value and the exponent of a factor
// e^exponent.
func (d NoncentralT) term(kind integrand, t, ncp, u float64) (value, exponent float64) {
	growth := math.Expm1(u)
	exponent = d.df * lnChiExponent(u, growth)
	x := math.FMA(t, growth, t-ncp)
	if u < -1 {
		x = t*math.Exp(u) - ncp
	}
	switch kind {
	case density:
		return (1 + growth) / (math.Sqrt2 * math.SqrtPi), exponent - 0.5*x*x
	case lowerTail:
		x = -x
	}
	if x < 37 {
		return normalTail(x), exponent
	}
	return 0.5 * scaledErfc(x/math.Sqrt2), exponent - 0.5*x*x
}

// peak returns the u near which the integrand, log-concave in w, is largest, and
// the standard deviation of a normal curve with its curvature. With Φ(x) about
// e^(-x²/2), or w·φ itself, the largest w solves
//
//	(ν+t²)·w² - tδ·w - ν' = 0,   ν' = ν, or ν+1 for w·φ
//
// and for a tail Newton steps finish the work; where Φ is near 1 they start at 0.
func (d NoncentralT) peak(kind integrand, t, ncp float64) (u, width float64) {
	r := math.Hypot(math.Sqrt(d.df), t)
	b, c := t/r*(ncp/r), d.df
	if kind == density {
		c++
	}
	root := math.Hypot(b, 2*math.Sqrt(c)/r)
	w := 0.5 * (b + root)
	if b < 0 {
		w = 2 * c / (r * r * (root - b))
	}
	u = math.Log(w)
	if kind == density {
		tw := t * w
		return u, 1 / math.Sqrt(2*d.df*w*w+2*tw*tw-tw*ncp)
	}
	sign := 1.0
	if kind == upperTail {
		sign = -1
	}
	if sign*(t*w-ncp) > 0 {
		u = 0
	}
	for range 12 {
		w = math.Exp(u)
		rate := sign * t * w
		x := sign * (t*w - ncp)
		h := hazard(x)
		slope := rate*h + d.df*(1-w*w)
		curvature := 2*d.df*w*w + rate*rate*h*(x+h) - rate*h
		width = 1 / math.Sqrt(max(curvature, 2*d.df*w*w*1e-3))
		move := max(-1, min(slope*width*width, 1))
		u += move
		if math.Abs(move) < 0.3*width {
			break
		}
	}
	return u, width
}
