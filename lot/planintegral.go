package lot

import (
	"math"
	"slices"
)

// planIntegral integrates what a plan does over mean and standard deviation of n
// results of a normal population, in units of its standard deviation and seen from
// its mean:
//
//	∫∫ g(w)·φ(√n·m)·√n · effect(m, w) dm dw
//
// Both integrals are parted wherever the effect jumps or bends, so that in between
// it is analytic but for roots at the ends, which the substitution x = sin²φ takes
// out. So that the inner integral does not bend, w is parted where places along m
// meet.
type planIntegral struct {
	estimator Estimator // for the density of w and its range
	surfaces  []withinSurface
	levels    [][]estimateLevel // of each surface
	results   []resultLimit     // of single results
	spreads   []float64         // further places along w where the effect changes fast
	effect    func(m, w float64) riskSums
}

// riskSums are what is added up: pay, probabilities, and by how much they may be
// off.
type riskSums struct{ factor, rejected, full, off float64 }

func (s *riskSums) add(x riskSums, weight float64) {
	s.factor += weight * x.factor
	s.rejected += weight * x.rejected
	s.full += weight * x.full
	s.off += weight * x.off
}

// resultLimit is a limit for single results, of one sign: the smallest result, or
// with sign -1 the negative of the largest, is at least at.
type resultLimit struct {
	at, sign float64
	smallest *smallestResult
	places   []float64
}

// within returns the probability that all results of a sample are within.
func (r *resultLimit) within(m, w float64) float64 {
	return r.smallest.below((r.sign*m - r.at) * r.smallest.kernel.toY / w)
}

// squareNodes integrate over [0, 1] with the substitution x = sin²φ.
var squareNodes = func() (nodes [quadraturePoints]node) {
	for i, l := range legendreNodes {
		phi := math.Pi / 4 * (1 + l.at)
		sine, cosine := math.Sincos(phi)
		nodes[i] = node{sine * sine, math.Pi / 2 * sine * cosine * l.weight}
	}
	return nodes
}()

// sum returns the integral.
func (p *planIntegral) sum() (total riskSums) {
	e := &p.estimator
	cuts := []float64{e.leastSpread, e.mostSpread}
	for i := range p.surfaces {
		cuts = p.surfaces[i].spreads(cuts, p.levels[i])
	}
	cuts = p.crossings(append(cuts, p.spreads...))
	var places []float64
	overPieces(cuts, e.leastSpread, e.mostSpread, math.Sqrt(2*float64(e.n-1)), func(w, weight float64) {
		places = p.places(places[:0], w)
		total.add(p.overMeans(places, w), weight*e.spreadDensity(w))
	})
	return total
}

// line is a place along the means that goes with w, at + slope·w.
type line struct{ at, slope float64 }

// crossings appends the w at which lines of different origin meet.
func (p *planIntegral) crossings(cuts []float64) []float64 {
	var groups [][]line
	for i := range p.surfaces {
		groups = append(groups, p.surfaces[i].lines(p.levels[i]))
	}
	for i := range p.results {
		groups = append(groups, p.results[i].lines())
	}
	for i, group := range groups {
		for _, other := range groups[:i] {
			for _, a := range group {
				for _, b := range other {
					if w := (a.at - b.at) / (b.slope - a.slope); w > 0 && !math.IsInf(w, 0) {
						cuts = append(cuts, w)
					}
				}
			}
		}
	}
	return cuts
}

// lines returns the places that bend the integral: with more results they become
// smooth, the last ones last.
func (r *resultLimit) lines() (lines []line) {
	places := r.places
	switch n := r.smallest.n; {
	case n > 10:
		return nil
	case n > 5:
		places = places[len(places)-2:]
	}
	for _, y := range places {
		lines = append(lines, line{r.sign * r.at, r.sign * y / r.smallest.kernel.toY})
	}
	return lines
}

// places appends where the effect changes its form along the means.
func (p *planIntegral) places(dst []float64, w float64) []float64 {
	for i := range p.surfaces {
		dst = p.surfaces[i].means(dst, w, p.levels[i])
	}
	for _, r := range p.results {
		for _, y := range r.places {
			dst = append(dst, r.sign*(r.at+y*w/r.smallest.kernel.toY))
		}
	}
	return dst
}

func (p *planIntegral) overMeans(places []float64, w float64) (sum riskSums) {
	root := math.Sqrt(float64(p.estimator.n))
	overPieces(places, -8.5/root, 8.5/root, root, func(m, weight float64) {
		z := m * root
		sum.add(p.effect(m, w), weight*root*math.Exp(-z*z/2)/math.Sqrt(2*math.Pi))
	})
	return sum
}

// overPieces visits the nodes of a quadrature from lo to hi that is parted at the
// cuts, which are changed, for a weight that changes over 1/rate.
func overPieces(cuts []float64, lo, hi, rate float64, visit func(x, weight float64)) {
	slices.Sort(cuts)
	from := lo
	for k := 0; k <= len(cuts) && from < hi; k++ {
		to := hi
		if k < len(cuts) {
			to = min(hi, cuts[k])
		}
		if !(to > from) {
			continue
		}
		count := panels(to-from, rate)
		width := (to - from) / float64(count)
		for i := range count {
			for _, node := range squareNodes {
				visit(from+width*(float64(i)+node.at), width*node.weight)
			}
		}
		from = to
	}
}
