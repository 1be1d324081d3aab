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

// spreadRange returns between which multiples of σ a standard deviation with ν
// degrees of freedom lies but for one case in a hundred million.
func spreadRange(df float64) (lo, hi float64) {
	deviation := 1 / math.Sqrt(2*df)
	return math.Exp(-6.5*deviation - 12/df), 1 + 6.5*deviation
}

// spreadDensity is the density of w = √(χ²/ν), with its constant worked out once.
type spreadDensity struct{ df, lnScale float64 }

func newSpreadDensity(df float64) spreadDensity {
	g, _ := math.Lgamma(df / 2)
	return spreadDensity{df, math.Ln2 + df/2*math.Log(df/2) - g - df/2}
}

// at keeps e^(-ν/2) apart, since for a large ν the rest is near it.
func (s spreadDensity) at(w float64) float64 {
	return math.Exp(s.lnScale + (s.df-1)*math.Log(w) - s.df/2*(w-1)*(w+1))
}

// spreadNodes stand for the distribution of w: the trapezoid rule in ln w, which
// on such a density converges geometrically. Infinite ν is w = 1.
func spreadNodes(df float64) []node {
	if math.IsInf(df, 1) {
		return []node{{1, 1}}
	}
	const count = 16
	density := newSpreadDensity(df)
	lo, hi := spreadRange(df)
	nodes, sum := make([]node, count), 0.0
	for i := range nodes {
		w := lo * math.Pow(hi/lo, (float64(i)+0.5)/count)
		nodes[i] = node{w, density.at(w) * w}
		sum += nodes[i].weight
	}
	for i := range nodes {
		nodes[i].weight /= sum
	}
	return nodes
}
