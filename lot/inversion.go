package lot

import "math"

// inversion holds a sample and asks of a share within the limits how well the two
// agree. All lengths are in standard deviations of the sample, or, where that is
// less, of its measurement error.
type inversion struct {
	band
	size      Weighing
	d, spread float64       // of the sample
	common    float64       // standard error, as estimated
	commons   spreadNodes   // what it may be
	noises    spreadNodes   // standard deviations that repeatability may have
	density   spreadDensity // of the sample's spread
}

const (
	// mostIndex is the quality index beyond which a larger one changes no bound by
	// 1e-9 percent, up to mostLevel and from two degrees of freedom.
	mostIndex = 340
	// mostError is how many times what else there is of length an error counts as:
	// beyond that nothing but it is left.
	mostError = 1e3
	// leastLength keeps squares of lengths from being 0.
	leastLength = 1e-9
)

// newInversion takes the distances of the mean from the two limits, of which one
// may be infinite.
func newInversion(size Weighing, fromLower, fromUpper, spread float64, e MeasurementError) inversion {
	common, noise := e.pooled(), e.Repeatability
	nearer, room := min(fromLower, fromUpper), fromLower/2+fromUpper/2
	most := mostError * max(spread, math.Abs(nearer))
	if !math.IsInf(room, 1) {
		most = mostError * max(spread, math.Abs(nearer), room)
	}
	common.StdErr, noise.StdErr = min(common.StdErr, most), min(noise.StdErr, most)
	unit := max(spread, common.StdErr, noise.StdErr)
	v := inversion{size: size, density: newSpreadDensity(size.DF)}
	v.d = max(-mostIndex, min(mostIndex, nearer/unit))
	v.half = max(room/unit, v.d, leastLength)
	v.spread = max(spread/unit, math.Abs(v.d)/mostIndex, leastLength)
	v.common = common.StdErr / unit
	v.commons, v.noises = errorNodes(common, unit), errorNodes(noise, unit)
	v.weighNoises()
	return v
}

// weighNoises has what repeatability may be count by its likelihood where it would
// have the results vary more than they do.
func (v *inversion) weighNoises() {
	least, sum := math.Inf(1), 0.0
	var deviances [mostNodes]float64
	for i, x := range v.noises.list() {
		c := claim{size: v.size, noise: x.at}
		deviances[i] = c.ownDeviance(v.spread)
		least = min(least, deviances[i])
	}
	for i := range v.noises.list() {
		v.noises.nodes[i].weight *= math.Exp((least - deviances[i]) / 2)
		sum += v.noises.nodes[i].weight
	}
	for i := range v.noises.list() {
		v.noises.nodes[i].weight /= sum
	}
}

// errorNodes returns what an error of known size and degrees of freedom may be.
func errorNodes(c Component, unit float64) spreadNodes {
	if c.StdErr == 0 {
		return certainly(0)
	}
	nodes := newSpreadNodes(c.DF)
	for i := range nodes.list() {
		nodes.nodes[i].at = c.StdErr / unit / nodes.nodes[i].at
	}
	return nodes
}

// bounds returns the normal scores of the shares within the limits that the
// sample contradicts at significance tail from below and from above.
func (v *inversion) bounds(tail float64) (low, high float64) {
	wanted := -normalScore(tail)
	low = risingRoot(func(score float64) float64 {
		atLeast, _ := v.tails(score)
		return wanted + normalScore(atLeast)
	})
	high = risingRoot(func(score float64) float64 {
		_, atMost := v.tails(score)
		return -wanted - normalScore(atMost)
	})
	return min(low, high), max(low, high)
}

// tails returns the probabilities of a sample at least as good and at most as
// good as this one, from the likeliest population whose share within the limits
// has this normal score, averaged over how large repeatability may be.
func (v *inversion) tails(score float64) (atLeast, atMost float64) {
	curve := v.curve(v.quality(lnUpperTail(score), lnUpperTail(-score)))
	for _, noise := range v.noises.list() {
		c := claim{&curve, v.half, v.size, v.common, noise.at}
		root, w := c.signedRoot(v.d, v.spread)
		edge := c.contour(root)
		atLeast += noise.weight * edge.betterThan(w, v.d, v.spread, v.density, v.commons)
	}
	atLeast = min(1, atLeast)
	return atLeast, 1 - atLeast
}
