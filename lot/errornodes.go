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

// mostNodes is how many nodes the least degrees of freedom take.
const mostNodes = 8

// spreadNodes stand for a distribution by a few places with weights that add up to 1.
type spreadNodes struct {
	nodes [mostNodes]node
	count int
}

func (s *spreadNodes) list() []node { return s.nodes[:s.count] }

// certainly is one place.
func certainly(at float64) (s spreadNodes) {
	s.nodes[0], s.count = node{at, 1}, 1
	return s
}

// newSpreadNodes stand for the distribution of w = √(χ²/ν), farther down than up
// since an error is divided by it: the trapezoid rule in ln w, which on such a density
// converges geometrically. A tail of Student's t distribution is within 1.5 percent of
// itself. With ν of a million or more w is 1.
func newSpreadNodes(df float64) (s spreadNodes) {
	if df >= 1e6 {
		return certainly(1)
	}
	s.count = 5 + int(math.Sqrt(9/df))
	density := newSpreadDensity(df)
	deviation := 1 / math.Sqrt(2*df)
	lo, hi := math.Exp(-4.5*deviation-3/df), 1+3*deviation
	sum := 0.0
	for i := range s.list() {
		w := lo * math.Pow(hi/lo, (float64(i)+0.5)/float64(s.count))
		s.nodes[i] = node{w, density.at(w) * w}
		sum += s.nodes[i].weight
	}
	for i := range s.list() {
		s.nodes[i].weight /= sum
	}
	return s
}
