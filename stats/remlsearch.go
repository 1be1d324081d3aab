package stats

import "math"

const (
	mostREMLSteps   = 200
	mostREMLHalving = 60
	// nearGain is the gain in likelihood from which a Newton step is right, while the
	// likelihood no longer shows it; after one from settledGain there is only rounding.
	nearGain, settledGain = 1e-8, 1e-14
)

// best returns the greatest likelihood found from several starts: the analysis of
// variance with what is below 0 at 0, all components alike, and each one beside the
// last. Unbalanced designs of three levels may have two maxima.
func (m *remlModel) best(anova NestedVariance) (best remlPoint, ok bool) {
	last := m.components - 1
	starts := make([][mostFactors + 1]float64, 2+last)
	for i, c := range anova.Components {
		starts[0][i] = c.Variance / m.scale / m.scale
		starts[1][i] = 1 / float64(m.components)
	}
	for i := range last {
		starts[2+i][i], starts[2+i][last] = 0.5, 0.5
	}
	for _, start := range starts {
		if p, settled := m.maximize(start, -1); settled && (!ok || p.likelihood > best.likelihood+nearGain) {
			best, ok = p, true
		}
	}
	return best, ok
}

// maximize climbs to the greatest likelihood from a start, with one component held
// there (none for -1), by Newton steps where the likelihood bends down, else by scoring.
// A component at 0 stays there while the likelihood falls towards either side.
func (m *remlModel) maximize(start [mostFactors + 1]float64, held int) (p remlPoint, ok bool) {
	p = m.evaluate(start)
	for range mostREMLSteps {
		step, gain := p.step(m.components, held)
		if gain <= 0 {
			return p, true
		}
		next, ok := m.follow(p, step, gain)
		if !ok {
			return p, false
		}
		p = next
		if gain < settledGain {
			return p, true
		}
	}
	return p, false
}

// follow goes as far along a step as the likelihood rises and no variance is below 0.
func (m *remlModel) follow(p remlPoint, step [mostFactors + 1]float64, gain float64) (remlPoint, bool) {
	part, hit := 1.0, -1
	for i := range m.components {
		least := 0.0
		if i == m.components-1 {
			least = 0.1 * p.at[i]
		}
		if p.at[i]+part*step[i] < least {
			part, hit = (least-p.at[i])/step[i], i
		}
	}
	for range mostREMLHalving {
		at := p.at
		for i := range m.components {
			at[i] = max(0, at[i]+float64(part*step[i]))
		}
		least := p.likelihood
		if hit >= 0 && hit < m.components-1 {
			at[hit] = 0
			least -= settledGain * (1 + math.Abs(least)) // a component of rounding size gains nothing on its way to 0
		}
		next := m.evaluate(at)
		if next.likelihood > least || gain < nearGain {
			return next, true
		}
		part, hit = part/2, -1
	}
	return p, false
}

// step returns where to go and the gain that a parabola promises, 0 at the top.
func (p remlPoint) step(components, held int) (step [mostFactors + 1]float64, gain float64) {
	var out [mostFactors + 1]bool
	for i := range out {
		out[i] = i >= components || i == held || p.at[i] == 0 && p.gradient[i] <= 0
	}
	for again := true; again; {
		again = false
		var ok bool
		if step, ok = solveInformation(p.observed, p.gradient, out); !ok {
			step, _ = solveInformation(p.expected, p.gradient, out)
		}
		for i := range components {
			if !out[i] && p.at[i] == 0 && step[i] < 0 {
				out[i], again = true, true
			}
		}
	}
	for i, s := range step {
		gain += 0.5 * s * p.gradient[i]
	}
	return step, gain
}

// solveInformation solves for the components that are not left out, by Cholesky's method
// on a matrix scaled to 1 on its diagonal. It reports whether that is positive definite.
func solveInformation(a [mostFactors + 1][mostFactors + 1]float64, b [mostFactors + 1]float64, out [mostFactors + 1]bool) (x [mostFactors + 1]float64, ok bool) {
	var root [mostFactors + 1]float64
	for i := range root {
		if out[i] {
			continue
		}
		if !(a[i][i] > 0) {
			return x, false
		}
		root[i] = math.Sqrt(a[i][i])
	}
	for i := range root {
		for j := range i + 1 {
			switch {
			case i == j && out[i]:
				a[i][j] = 1
			case out[i] || out[j]:
				a[i][j] = 0
			default:
				a[i][j] = a[i][j] / root[i] / root[j]
			}
		}
	}
	if !factorCholesky(&a) {
		return x, false
	}
	for i := range root {
		if !out[i] {
			x[i] = b[i] / root[i]
		}
	}
	x = solveCholesky(a, x)
	for i := range root {
		if !out[i] {
			x[i] /= root[i]
		}
	}
	return x, true
}

// factorCholesky replaces a lower triangle by its root.
func factorCholesky(a *[mostFactors + 1][mostFactors + 1]float64) bool {
	const least = 1e-13 // of the diagonal, below it there is only rounding
	for i := range a {
		for j := range i + 1 {
			sum := a[i][j]
			for k := range j {
				sum -= a[i][k] * a[j][k]
			}
			if i > j {
				a[i][j] = sum / a[j][j]
				continue
			}
			if !(sum > least) {
				return false
			}
			a[i][i] = math.Sqrt(sum)
		}
	}
	return true
}

func solveCholesky(a [mostFactors + 1][mostFactors + 1]float64, x [mostFactors + 1]float64) [mostFactors + 1]float64 {
	for i := range a {
		for k := range i {
			x[i] -= a[i][k] * x[k]
		}
		x[i] /= a[i][i]
	}
	for i := len(a) - 1; i >= 0; i-- {
		for k := i + 1; k < len(a); k++ {
			x[i] -= a[k][i] * x[k]
		}
		x[i] /= a[i][i]
	}
	return x
}
