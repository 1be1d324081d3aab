package bias

import "math"

// ModelAICc is Akaike's criterion, corrected for few pairs; the smallest is best and
// differences below 2 say little.
type ModelAICc struct{ Offset, Ratio, Line float64 }

// criteria returns AICc of the three, nil where it has no meaning.
func (m *ModelComparison) criteria(xs, ys []float64) *ModelAICc {
	if m.N < 5 {
		return nil
	}
	a := ModelAICc{Offset: m.aicc(xs, ys, m.Offset.Mean, 1, 2), Ratio: m.aicc(xs, ys, 0, m.Ratio.Ratio, 2),
		Line: m.aicc(xs, ys, m.Line.Intercept.Value, m.Line.Slope.Value, 3)}
	if !isFinite(a.Offset, a.Ratio, a.Line) {
		return nil
	}
	return &a
}

func (m *ModelComparison) aicc(xs, ys []float64, intercept, slope, k float64) float64 {
	n, across := float64(len(xs)), 0.0
	for i, x := range xs {
		off := ys[i] - intercept - slope*x
		across += off * off
	}
	across /= m.Errors.Ratio + slope*slope
	return n*math.Log(across/n) + 2*k + 2*k*(k+1)/(n-k-1)
}
