package stats

import "math"

// normalBetween returns P(x < Z < x+width) of the standard normal distribution for
// width ≥ 0, to full relative accuracy: a narrow one by its series about the middle,
//
//	φ(m)·w·(1 + w²(m²-1)/24 + w⁴(m⁴-6m²+3)/1920 + …)
//
// another as a difference on the side where both tails are small.
func normalBetween(x, width float64) float64 {
	if middle := x + 0.5*width; width*(1+math.Abs(middle)) < 0.1 {
		m, w := middle*middle, width*width
		series := w * (m - 1) / 24
		series += w * w * (m*(m-6) + 3) / 1920
		series += w * w * w * (m*(m*(m-15)+45) - 15) / 322560
		return normalDensity(middle) * width * (1 + series)
	}
	if x+width < 0 {
		return normalTail(-x-width) - normalTail(-x)
	}
	return normalTail(x) - normalTail(x+width)
}

// normalPower returns Φ(x)^k to full relative accuracy.
func normalPower(x, k float64) float64 {
	if x < 0 {
		return math.Pow(normalTail(-x), k)
	}
	return math.Exp(k * math.Log1p(-normalTail(x)))
}
