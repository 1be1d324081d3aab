package stats

import "math"

// profile returns the limits between which component i loses no more likelihood than the
// level allows, with the others as suit it best.
func (m *remlModel) profile(best remlPoint, i int, level float64) (low, high float64, ok bool) {
	const noise = 1e-10
	z := middleScore(level)
	w := remlWalk{remlModel: m, best: best, component: i, last: best, ok: true}
	start, step := math.Log(best.at[m.components-1]/float64(len(m.means))), 1.0
	if best.at[i] > 0 {
		start, step = math.Log(best.at[i]), min(1, z*best.standardErrors(m.components)[i]/best.at[i])
	}
	high = math.Exp(increasingRoot(func(x float64) float64 { return w.fall(math.Exp(x)) - z }, start, step, noise))
	w.last = best
	if best.at[i] == 0 || i < m.components-1 && w.fall(0) >= -z {
		return 0, high, w.ok
	}
	w.last = best
	low = math.Exp(increasingRoot(func(x float64) float64 { return w.fall(math.Exp(x)) + z }, start, step, noise))
	return low, high, w.ok
}

// remlWalk goes along the profile of one component, each time from where it was last.
type remlWalk struct {
	*remlModel
	best      remlPoint
	component int
	last      remlPoint
	ok        bool
}

// fall is the square root of twice what the likelihood loses, below 0 on the near side of
// the best.
func (w *remlWalk) fall(variance float64) float64 {
	if !w.ok {
		return math.NaN()
	}
	start := w.last.at
	start[w.component] = variance
	w.last, w.ok = w.maximize(start, w.component)
	return math.Copysign(math.Sqrt(2*max(0, w.best.likelihood-w.last.likelihood)), variance-w.best.at[w.component])
}

// standardErrors returns those of the components that are not 0, from the observed
// information.
func (p remlPoint) standardErrors(components int) (errors [mostFactors + 1]float64) {
	var out [mostFactors + 1]bool
	for i := range out {
		out[i] = i >= components || p.at[i] == 0
	}
	for i := range components {
		if out[i] {
			continue
		}
		var unit [mostFactors + 1]float64
		unit[i] = 1
		column, _ := solveInformation(p.observed, unit, out)
		errors[i] = math.Sqrt(max(0, column[i]))
	}
	return errors
}
