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

// stirlingRemainder returns ln Γ(x) - (x-1/2)·ln x + x - ln(2π)/2, from its
// asymptotic series at x ≥ 12 and the recurrence of Γ below.
//
// Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 6.1.41.
func stirlingRemainder(x float64) float64 {
	var up float64
	for ; x < 12; x++ { // μ(x) - μ(x+1) = (x+1/2)·ln(1+1/x) - 1
		up += (x+0.5)*math.Log1p(1/x) - 1
	}
	y := 1 / (x * x)
	return up + (1.0/12-y*(1.0/360-y*(1.0/1260-y*(1.0/1680-y*(1.0/1188-y*691.0/360360)))))/x
}

// lnChiExponent returns u - (e^2u-1)/2 from u and e^u-1, by its series near 0,
// where the difference cancels.
func lnChiExponent(u, growth float64) float64 {
	if math.Abs(u) > 0.1 {
		return u - growth*(1+0.5*growth)
	}
	v := 2 * u // -Σ v^k/(2·k!), k ≥ 2
	return -0.25 * v * v * (1 + v/3*(1+v/4*(1+v/5*(1+v/6*(1+v/7*(1+v/8*(1+v/9*(1+v/10*(1+v/11)))))))))
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
	if math.IsInf(t, 1) {
		return 0
	}
	return d.integral(density, t, ncp)
}

const (
	// spacing is the step in standard deviations of the peak. For a normal peak
	// the trapezoid error is e^(-2π²/spacing²), 5e-35; skewness takes its share.
	spacing = 0.5

	// widestStep is set by e^(-2π·d/step), with d up to π/4 how far the integrand
	// stays bounded into the complex plane.
	widestStep = 0.09

	// rise is the step as a part of 1/δ, over which Φ rises wherever the peak is.
	// The three were set by a scan: at these the reference tables show rounding
	// alone, and each could be a fifth larger before they show more.
	rise = 0.4

	// negligible is the term at which a sum over nodes stops.
	negligible = 1e-18

	// leastExponent is below every logarithm of a float64.
	leastExponent = -760
)

// integral returns ∫ of the integrand times the density of w, t ≥ 0, by the
// trapezoid rule in u = ln w, which converges geometrically. All terms are
// positive and are summed relative to the largest, so that a tail of 1e-300 is
// as accurate as one of 0.1.
func (d NoncentralT) integral(kind integrand, t, ncp float64) float64 {
	peak, width := d.peak(kind, t, ncp)
	step := min(spacing*width, widestStep)
	if kind != density && ncp > 0 {
		step = min(step, rise/ncp)
	}
	value, exponent := d.term(kind, t, ncp, peak)
	top := math.Round(exponent + math.Log(value))
	if !(top > leastExponent) {
		return 0
	}
	sum := value * math.Exp(exponent-top)
	for _, stride := range [2]float64{step, -step} {
		for k := 1.0; ; k++ {
			value, exponent := d.term(kind, t, ncp, peak+k*stride)
			term := value * math.Exp(exponent-top)
			sum += term
			if !(term > negligible*sum) {
				break
			}
		}
	}
	return math.Exp(top) * (step * d.scale * sum)
}

// term returns the integrand at u as a value and the exponent of a factor
// e^exponent.
func (d NoncentralT) term(kind integrand, t, ncp, u float64) (value, exponent float64) {
	growth := math.Expm1(u)
	exponent = d.df * lnChiExponent(u, growth)
	x := math.FMA(t, growth, t-ncp)
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
		return u, 1 / math.Sqrt(2*(d.df+t*t)*w*w-t*ncp*w)
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
