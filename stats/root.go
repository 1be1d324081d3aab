package stats

import "math"

// mostRootSteps ends a search that rounding keeps from settling; a usual one takes
// five to ten.
const mostRootSteps = 200

// increasingRoot returns the x where f, which rises, is 0. It brackets from a
// start by steps that double and then takes secants, halving the value at an end
// that stays (the Illinois rule), which on a nearly straight f settles in a few
// steps. A value within rounding of noise ends the search.
func increasingRoot(f func(x float64) float64, start, step, noise float64) float64 {
	a, fa := start, f(start)
	if fa > 0 {
		step = -step
	}
	b, fb := a, fa
	for k := 0; fa*fb > 0; k++ {
		if k > mostRootSteps {
			return b
		}
		a, fa = b, fb
		b = a + step
		fb = f(b)
		step *= 2
	}
	va, vb := fa, fb
	for range mostRootSteps {
		x := b - vb*(b-a)/(vb-va)
		if !(min(a, b) < x && x < max(a, b)) { // also a secant too short to move
			x = 0.5*a + 0.5*b
		}
		if x == a || x == b {
			return b
		}
		fx := f(x)
		if math.Abs(fx) <= noise {
			return x
		}
		if fx*fb < 0 {
			a, fa, va = b, fb, fb
		} else {
			va *= 0.5
		}
		b, fb, vb = x, fx, fx
	}
	return b
}

// tailPlace is a place ln x with its tails, the derivative of the lower one by
// ln x, and the derivative of the logarithm of that.
type tailPlace struct{ lower, upper, slope, bend float64 }

// tailRoot returns the ln x with these tails by Halley steps on the logarithm of
// the smaller. Where they do not settle (few degrees of freedom, far out, from a
// poor start) a search comes between, and one more step takes off its rounding.
func tailRoot(at func(lnX float64) tailPlace, lower, upper, start, step float64) float64 {
	const enough, patience = 1e-5, 8
	lnX := start
	for range patience {
		excess, move := at(lnX).miss(lower, upper)
		if !(math.Abs(move) < 100) {
			break
		}
		lnX -= move
		if math.Abs(excess) < enough {
			return lnX
		}
	}
	z := normalScore(lower, upper)
	lnX = increasingRoot(func(lnX float64) float64 {
		place := at(lnX)
		return normalScore(place.lower, place.upper) - z
	}, start, step, scoreNoise(z))
	if _, move := at(lnX).miss(lower, upper); math.Abs(move) < enough {
		lnX -= move
	}
	return lnX
}

// miss returns ln(tail/wanted) of the smaller wanted tail and the Halley step
// from here.
func (place tailPlace) miss(lower, upper float64) (excess, move float64) {
	tail, slope, wanted := place.lower, place.slope, lower
	if upper < lower {
		tail, slope, wanted = place.upper, -place.slope, upper
	}
	excess = math.Log(tail / wanted)
	return excess, halley(excess, slope/tail, place.bend-slope/tail)
}
