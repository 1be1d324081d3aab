package lot

import "math"

// contour is the samples that agree with a claim as well as one whose signed root it
// is. Those inside it, nearer the middle, are better.
type contour struct {
	claim
	root, sign float64
	lo, hi     float64 // the range of w for a sample that varies more than it repeats
}

func (c claim) contour(root float64) contour {
	lo, hi := c.spreadsWithin(root * root)
	return contour{c, root, math.Copysign(1, root), lo, hi}
}

// inner returns the d of the contour for samples of spread s, infinite where none is
// as good. A population of the claim has samples of deviance root² on either side of
// its mean; the contour is the farthest of them all, above 0 inwards, below outwards.
func (c *contour) inner(s float64) float64 {
	deviance, lo, hi := c.root*c.root, c.lo, c.hi
	if s < c.noise {
		deviance += c.ownDeviance(s)
		lo, hi = c.spreadsWithin(deviance)
	}
	first, last := c.ends(s)
	if lo < first && c.root > 0 || hi <= first {
		return math.Inf(1)
	}
	lo, hi = max(lo, first), min(hi, last)
	return c.sign * c.farthest(deviance, lo, hi, s)
}

// farthest scans the range, and then thrice three places about the vertex of the
// parabola through the best of it. It does not begin at an end, about which the scan
// is the same on either side.
func (c *contour) farthest(deviance, lo, hi, s float64) float64 {
	steps := scanSteps(lo, hi)
	reach := func(i float64) float64 { return c.reach(deviance, scanned(lo, hi, i, steps), s) }
	best, most := 0.0, math.Inf(-1)
	for i := range steps + 1 {
		if x := reach(float64(i)); x > most {
			best, most = float64(i), x
		}
	}
	at, top := max(0.5, min(float64(steps)-0.5, best)), most
	for _, width := range [...]float64{1.0 / 2, 1.0 / 8, 1.0 / 32} {
		var shift float64
		shift, top = vertex(reach(at-width), reach(at), reach(at+width))
		at += width * shift
	}
	return max(most, top)
}

// vertex returns where between its outer values, at -1 and 1, the parabola through
// three values is highest, and how high.
func vertex(below, middle, above float64) (at, top float64) {
	rise, bend := (above-below)/2, below-2*middle+above
	if !(bend < 0) {
		return 0, middle
	}
	at = max(-1, min(1, -rise/bend))
	return at, middle + at*(rise+at*bend/2)
}

// reach returns the d of a sample with that deviance from the population, times the
// sign of the root.
func (c *contour) reach(deviance, w, s float64) float64 {
	mean, variance, ofSpread := c.population(w, s)
	return c.sign*mean + math.Sqrt(variance*max(0, deviance-ofSpread))
}
