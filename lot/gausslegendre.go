package lot

import "math"

// quadraturePoints is the number of nodes of a panel. It integrates a Gaussian
// that is cut three standard deviations either side of its centre to 1e-13, and
// every polynomial of degree to 47 exactly.
const quadraturePoints = 24

// node is a place of a quadrature and its weight.
type node struct{ at, weight float64 }

// legendreNodes integrate over [-1, 1]. They are the roots of the Legendre polynomial, by Newton steps from
// their asymptotic places, with the weights 2/((1-x²)·P'(x)²).
//
// Source: NIST Digital Library of Mathematical Functions, 3.5(v).
var legendreNodes = func() (nodes [quadraturePoints]node) {
	for i := range nodes {
		x := -math.Cos(math.Pi * (float64(i) + 0.75) / (quadraturePoints + 0.5))
		for range 10 {
			p, slope := legendre(x)
			x -= p / slope
		}
		_, slope := legendre(x)
		nodes[i] = node{x, 2 / ((1 - x*x) * slope * slope)}
	}
	return nodes
}()

// legendre returns the Legendre polynomial of degree quadraturePoints and its
// derivative, for |x| < 1.
func legendre(x float64) (p, slope float64) {
	before, p := 1.0, x
	for k := 2.0; k <= quadraturePoints; k++ {
		before, p = p, ((2*k-1)*x*p-(k-1)*before)/k
	}
	return p, quadraturePoints * (x*p - before) / (x*x - 1)
}

// panels returns how many panels an interval is cut into for a function that
// changes over 1/rate: each spans at most five times that, where the integrals of
// this package are within 1e-10. At eight times, those for n = 3 are not.
func panels(width, rate float64) int { return 1 + int(width*rate/5) }

// integrate returns the integral of f from lo to hi over that many equal panels.
func integrate(f func(x float64) float64, lo, hi float64, count int) (sum float64) {
	half := (hi - lo) / float64(2*count)
	for i := range count {
		middle := lo + half*float64(2*i+1)
		for _, node := range legendreNodes {
			sum += node.weight * f(middle+half*node.at)
		}
	}
	return half * sum
}
