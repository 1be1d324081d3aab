package lot

import "math"

// claim is that a lot is one of the populations of a curve, measured with errors of
// known size. A sample is given by the distance d of its mean inside the nearer limit
// and its spread s; a population by w = ln(s²/total²), total the standard deviation
// of results, so that w = 0 has the spread of the sample.
type claim struct {
	*qualityCurve
	half          float64
	size          Weighing
	common, noise float64 // standard deviations of the common error, as estimated, and of repeatability
}

// ends returns between which w the curve lies: its widest population, and one that
// does not vary at all.
func (c *claim) ends(s float64) (lo, hi float64) {
	const least = -600 // where e^w is still a number
	return max(least, 2*math.Log(s/math.Hypot(c.widest, c.noise))), 2 * math.Log(s/c.noise)
}

// population returns where the mean of a population is, the variance of the mean of
// a sample, common error included, and the deviance of the sample's spread.
func (c *claim) population(w, s float64) (mean, variance, deviance float64) {
	ratio := math.Exp(w)
	total := s * s / ratio
	spread := min(c.widest, math.Sqrt(max(0, total-c.noise*c.noise)))
	return c.mean(spread), total/c.size.Results + c.common*c.common, c.size.DF * (ratio - 1 - w)
}

// deviance is twice the logarithm of how much likelier the sample would be from a
// population with its own mean and spread. The spread counts with its degrees of freedom, n-1
// for n equal results.
func (c *claim) deviance(w, d, s float64) float64 {
	mean, variance, deviance := c.population(w, s)
	return deviance + (d-mean)*(d-mean)/variance
}

// ownDeviance is that of the population that fits best whatever its quality. It is
// not 0 where results vary less than they repeat.
func (c *claim) ownDeviance(s float64) float64 {
	if s >= c.noise {
		return 0
	}
	w := 2 * math.Log(s/c.noise)
	return c.size.DF * (math.Expm1(w) - w)
}

// spreadsWithin returns the range of w in which the spread alone has less than that
// deviance, ν(e^w - 1 - w). Newton steps from outside come from one side.
func (c *claim) spreadsWithin(deviance float64) (lo, hi float64) {
	each := deviance / c.size.DF
	if each == 0 {
		return 0, 0
	}
	root := math.Sqrt(2 * each)
	lo, hi = -root-each, math.Log1p(root+each)
	for range 12 {
		stepLo, stepHi := (math.Expm1(lo)-lo-each)/math.Expm1(lo), (math.Expm1(hi)-hi-each)/math.Expm1(hi)
		lo, hi = lo-stepLo, hi-stepHi
		if math.Abs(stepLo) < 1e-10 && math.Abs(stepHi) < 1e-10 {
			break
		}
	}
	return lo, hi
}

// signedRoot returns the root of how much more deviance the best population of the
// claim has than the best of all, above 0 for a sample better than claimed, and the
// population.
func (c *claim) signedRoot(d, s float64) (root, w float64) {
	w = c.likeliest(d, s)
	root = math.Sqrt(max(0, c.deviance(w, d, s)-c.ownDeviance(s)))
	own := math.Sqrt(max(0, s*s-c.noise*c.noise))
	if own < c.widest && d > c.mean(own) {
		return root, w
	}
	return -root, w
}

// likeliest returns the population of the claim under which the sample has its
// largest likelihood: a scan and a golden section.
func (c *claim) likeliest(d, s float64) float64 {
	first, last := c.ends(s)
	lo, hi := c.spreadsWithin(c.deviance(max(first, min(last, 0)), d, s))
	lo, hi = max(lo, first), min(hi, last)
	best, least := 0, math.Inf(1)
	steps := scanSteps(lo, hi)
	for i := range steps + 1 {
		if x := c.deviance(scanned(lo, hi, float64(i), steps), d, s); x < least {
			best, least = i, x
		}
	}
	from, to := scanned(lo, hi, float64(max(0, best-1)), steps), scanned(lo, hi, float64(min(steps, best+1)), steps)
	return leastAt(func(w float64) float64 { return c.deviance(w, d, s) }, from, to)
}

// leastAt returns where f, which falls and then rises, is least.
func leastAt(f func(x float64) float64, lo, hi float64) float64 {
	const golden = 0.6180339887498949
	a, b := hi-golden*(hi-lo), lo+golden*(hi-lo)
	fa, fb := f(a), f(b)
	for range 34 {
		if fa < fb {
			hi, b, fb = b, a, fa
			a = hi - golden*(hi-lo)
			fa = f(a)
		} else {
			lo, a, fa = a, b, fb
			b = lo + golden*(hi-lo)
			fb = f(b)
		}
	}
	return lo/2 + hi/2
}

// scanSteps returns in how many steps to scan a range of w: at least eight, and more
// two for each factor of e.
func scanSteps(lo, hi float64) int { return min(maxScan, 8+int(2*(hi-lo))) }

const maxScan = 60

// scanned returns place i of that many steps, closer together at the ends of the
// range, where roots are.
func scanned(lo, hi, i float64, steps int) float64 {
	return lo + (hi-lo)*(0.5-0.5*math.Cos(math.Pi*i/float64(steps)))
}
