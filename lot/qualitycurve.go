package lot

import "math"

// qualityCurve is all populations of one quality, one for each spread up to the
// widest: where their means are, from a table. Its argument √(2·ln(widest/spread))
// makes a smooth curve of the square root that the mean has at the widest.
type qualityCurve struct {
	quality
	step, end      float64                       // of the argument; beyond the end only the nearer limit matters
	scores, slopes [qualityCurveRows + 1]float64 // mean/spread of a row, and its slope
}

const qualityCurveRows = 64

// curve makes the table. With x = half/spread, y = mean/spread and t = x - y the
// share stays where y falls by 2/(e^(2xt)+1) for each 1 that t rises.
func (b band) curve(q quality) (c qualityCurve) {
	c.quality = q
	if math.IsInf(b.half, 1) {
		return c
	}
	inner := b.half / q.widest
	c.end = math.Sqrt(2 * math.Log((inner+math.Abs(q.score)+8)/inner))
	c.step = c.end / qualityCurveRows
	c.scores[0], c.slopes[0] = inner, -1
	for i := 1; i <= qualityCurveRows; i++ {
		at := float64(i) * c.step
		x := inner * math.Exp(at*at/2)
		c.scores[i] = b.position(q, b.half/x) * x / b.half
		c.slopes[i] = -2 * at * x / math.Expm1(2*x*(x-c.scores[i]))
	}
	return c
}

// mean returns the distance of the mean inside the nearer limit, by the cubic that
// has the values and the slopes of the rows on either side.
func (c *qualityCurve) mean(spread float64) float64 {
	at := math.Sqrt(2 * math.Log(c.widest/spread))
	if !(at < c.end) {
		return c.score * spread
	}
	row, u := math.Modf(at / c.step)
	i, v := int(row), 1-u
	return spread * (c.scores[i]*v*v*(1+2*u) + c.scores[i+1]*u*u*(1+2*v) + c.step*u*v*(c.slopes[i]*v-c.slopes[i+1]*u))
}
