package lot

import "math"

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
	const count = 5
	density := newSpreadDensity(df)
	deviation := 1 / math.Sqrt(2*df)
	lo, hi := math.Exp(-3.5*deviation-2/df), 1+3.5*deviation
	nodes := make([]node, count)
	for i := range nodes {
		w := lo * math.Pow(hi/lo, (float64(i)+0.5)/count)
		nodes[i] = node{w, density.at(w) * w}
	}
	return normalised(nodes)
}

// shiftNodes stand for Student's t distribution with ν degrees of freedom: the
// trapezoid rule in η, t = √ν·sinh(η/√ν), whose weights are cosh(η/√ν)^-ν, to
// where those are 1e-5. Infinite ν is the normal distribution.
func shiftNodes(df, step float64) []node {
	root := math.Sqrt(min(df, 1e6))
	reach := root * math.Acosh(math.Pow(1e5, 1/(root*root)))
	each := int(math.Ceil(reach / step))
	nodes := make([]node, 0, 2*each+1)
	for k := -each; k <= each; k++ {
		x := float64(k) * step / root
		nodes = append(nodes, node{root * math.Sinh(x), math.Pow(math.Cosh(x), -root*root)})
	}
	return normalised(nodes)
}

// normalised makes the weights add up to 1.
func normalised(nodes []node) []node {
	sum := 0.0
	for _, x := range nodes {
		sum += x.weight
	}
	for i := range nodes {
		nodes[i].weight /= sum
	}
	return nodes
}
