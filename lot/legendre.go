package lot

import "math"

// node is a place of a quadrature and its weight.
type node struct{ at, weight float64 }

// legendreNodes integrate over [-1, 1] every polynomial of degree to 47 exactly.
var legendreNodes = newLegendre(24)

// newLegendre finds the zeros of the Legendre polynomial of degree n by Newton
// steps from the usual cosines (Abramowitz and Stegun 25.4.29).
func newLegendre(n int) []node {
	nodes := make([]node, n)
	for i := range nodes {
		x := math.Cos(math.Pi * (float64(i) + 0.75) / (float64(n) + 0.5))
		var slope float64
		for range 10 {
			before, p := 1.0, x
			for k := 2; k <= n; k++ {
				before, p = p, (float64(2*k-1)*x*p-float64(k-1)*before)/float64(k)
			}
			slope = float64(n) * (x*p - before) / (x*x - 1)
			x -= p / slope
		}
		nodes[i] = node{x, 2 / ((1 - x*x) * slope * slope)}
	}
	return nodes
}
