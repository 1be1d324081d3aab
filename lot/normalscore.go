package lot

import (
	"math"

	"github.com/densilot/densilot/stats"
)

// mostScore bounds a search for a share: 1e-299 lies beyond it.
const mostScore = 37

// standard is the standard normal distribution; those parameters are never refused.
var standard, _ = stats.NewNormal(0, 1)

// normalScore returns the z below which the share p lies, within ±mostScore.
func normalScore(p float64) float64 {
	switch {
	case p >= 1:
		return mostScore
	case p <= 0:
		return -mostScore
	}
	z, _ := standard.Quantile(p) // p is a fraction now
	return max(-mostScore, min(mostScore, z))
}

// percentBelow returns the percent of the standard normal distribution below a
// score, all of it and nothing of it at the ends of a search.
func percentBelow(score float64) float64 {
	switch {
	case score >= mostScore:
		return 100
	case score <= -mostScore:
		return 0
	}
	return 50 * math.Erfc(-score/math.Sqrt2)
}

// risingRoot returns the score at which f, which rises and is nearly straight,
// is 0, or the end of the range where it is not: a bracket by doubled steps from
// 0, then secants, an end that stays counting half (the Illinois rule).
func risingRoot(f func(score float64) float64) float64 {
	a, fa := 0.0, f(0)
	step := -math.Copysign(1, fa)
	b, fb := a, fa
	for fa*fb > 0 {
		if math.Abs(b) >= mostScore {
			return b
		}
		a, fa = b, fb
		b = max(-mostScore, min(mostScore, b+step))
		fb, step = f(b), 2*step
	}
	for range 60 {
		x := b - fb*(b-a)/(fb-fa)
		if math.Abs(x-b) < 1e-7 || fb == 0 {
			return x
		}
		fx := f(x)
		if fx*fb < 0 {
			a, fa = b, fb
		} else {
			fa /= 2
		}
		b, fb = x, fx
	}
	return b
}
