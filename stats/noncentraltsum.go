package stats

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

const (
	// mostSpread keeps φ(δ√B) well above underflow.
	mostSpread = 36

	// mostSummedRatio keeps A² in range.
	mostSummedRatio = 1e150

	// leastPerRounding is 2^-53/5e-13: a tail may be 1 minus the other while it is
	// this times the number of roundings in the other, so that they stay below
	// 5e-13 of it.
	leastPerRounding = 2.2e-4

	// fastRatio is the B = ν/(ν+t²) up to which the terms left out die out sooner
	// than a quadrature is done, quickRatio sooner than Owen's T is.
	fastRatio  = 0.9
	quickRatio = 0.6
)

// sumWeights[k] are the factors of the recurrence
//
//	M_k = keep·B·M_{k-2} + mix·B·δA·M_{k-1},   keep = (k-1)/k,   mix = a_k·(k-1)/k
//
// with a_2 = 1 and a_k = 1/((k-2)·a_{k-1}).
var sumWeights = newSumWeights()

func newSumWeights() (w [2048]struct{ keep, mix float64 }) {
	a := 1.0
	for k := 2; k < len(w); k++ {
		if k > 2 {
			a = 1 / (float64(k-2) * a)
		}
		keep := float64(k-1) / float64(k)
		w[k].keep, w[k].mix = keep, a*keep
	}
	return w
}

// sumScales[ν] is lnChiScale(ν).
var sumScales = newSumScales()

func newSumScales() (scales [mostSummed + 1]float64) {
	for df := 1; df < len(scales); df++ {
		scales[df] = lnChiScale(float64(df))
	}
	return scales
}

// finiteTails returns both tails for a whole ν and t > 0 by Owen's sums
//
//	ν even:  P(T ≤ t) = Φ(-δ) + √(2π)·(M_0 + M_2 + ... + M_{ν-2})
//	ν odd:   P(T ≤ t) = Φ(-δ√B) + 2T(δ√B, A) + 2·(M_1 + M_3 + ... + M_{ν-2})
//
// with A = t/√ν, B = ν/(ν+t²), T Owen's function, and
//
//	M_0 = A√B·φ(δ√B)·Φ(δA√B),   M_1 = B·(δA·M_0 + A·φ(δ)/√(2π))
//
// or reports that they lose too much. For δ ≥ 0 every term is positive, and the
// upper tail is the sum of the terms left out, taken where it is small.
func (d NoncentralT) finiteTails(t, ncp float64) (lower, upper float64, ok bool) {
	a := t / math.Sqrt(d.df)
	ratio := 1 / (1 + float64(a*a))
	root := math.Sqrt(ratio)
	if math.Abs(ncp)*root > mostSpread || a > mostSummedRatio {
		return 0, 0, false
	}
	even := d.whole%2 == 0
	m0 := a * root * normalDensity(ncp*root) * normalTail(-ncp*a*root)
	m1 := ratio * (ncp*a*m0 + a*normalDensity(ncp)/(math.Sqrt2*math.SqrtPi))
	if !even && ncp >= 0 && t > ncp && ratio <= quickRatio {
		if upper, ok = d.remainder(m0, m1, ratio, ncp*a); ok && upper <= 0.9 {
			return 1 - upper, upper, true
		}
	}
	sum := d.headSum(m0, m1, ratio, ncp*a)
	if even {
		lower = normalTail(ncp) + math.Sqrt2*math.SqrtPi*sum
	} else {
		lower = normalTail(ncp*root) + 2*owensT(math.Abs(ncp)*root, a) + 2*sum
	}
	upper = 1 - lower
	// Roundings: of B, ν/2 times over, of the exponent δ²B, and a few more.
	least := leastPerRounding * (10 + 0.5*d.df + float64(ncp*root)*float64(ncp*root))
	switch {
	case ncp < 0 && lower < least:
		return 0, 0, false
	case upper >= least:
		return lower, upper, true
	case ncp < 0 || ratio > fastRatio:
		return 0, 0, false
	}
	upper, ok = d.remainder(m0, m1, ratio, ncp*a)
	return 1 - upper, upper, ok
}

// headSum returns the sum of M_k over k < ν of the parity of ν.
func (d NoncentralT) headSum(m0, m1, ratio, mixing float64) float64 {
	keep, mix := ratio, ratio*mixing
	even, odd := m0, m1
	older, old := m0, m1
	for k := 2; k+1 < d.whole; k += 2 {
		older = float64(sumWeights[k].keep*keep*older) + float64(sumWeights[k].mix*mix*old)
		old = float64(sumWeights[k+1].keep*keep*old) + float64(sumWeights[k+1].mix*mix*older)
		even += older
		odd += old
	}
	switch {
	case d.whole == 1:
		return 0
	case d.whole%2 == 1:
		return odd
	}
	return even
}

// remainder returns the upper tail, the sum of M_k over k ≥ ν of the parity of ν
// with its factor.
func (d NoncentralT) remainder(m0, m1, ratio, mixing float64) (float64, bool) {
	keep, mix := ratio, ratio*mixing
	older, old := m0, m1 // M_{k-2}, M_{k-1}
	var even, odd float64
	if d.whole == 1 {
		odd = m1
	}
	for k := 2; k+1 < len(sumWeights); k += 2 {
		older = float64(sumWeights[k].keep*keep*older) + float64(sumWeights[k].mix*mix*old)
		old = float64(sumWeights[k+1].keep*keep*old) + float64(sumWeights[k+1].mix*mix*older)
		if k < d.whole-1 {
			continue
		}
		if k >= d.whole {
			even += older
		}
		odd += old
		if older+old < 1e-17*(1-ratio)*(even+odd) {
			if d.whole%2 == 1 {
				return 2 * odd, true
			}
			return math.Sqrt2 * math.SqrtPi * even, true
		}
	}
	return 0, false
}

const (
	// owenSpread is the h·x up to which the shorter rule below resolves
	// e^(-h²x²/2), and owenReach the one beyond which that adds nothing and up to
	// which the longer rule does.
	owenSpread = 5
	owenReach  = 8
)

// owenNode is a node x > 0 of a Gauss-Legendre rule on [-1, 1] with an even
// number of points, which serves an even function with half of them.
type owenNode struct{ square, weight float64 }

var (
	fewOwenNodes  = newOwenNodes(24)
	manyOwenNodes = newOwenNodes(48)
)

func newOwenNodes(points int) []owenNode {
	x, w := make([]float64, points), make([]float64, points)
	quad.Legendre{}.FixedLocations(x, w, -1, 1)
	nodes := make([]owenNode, points/2)
	for i := range nodes {
		j := points/2 + i
		nodes[i] = owenNode{square: x[j] * x[j], weight: w[j]}
	}
	return nodes
}

// owensT returns Owen's function for h ≥ 0 and a ≥ 0,
//
//	T(h, a) = 1/(2π) · ∫₀^a e^(-h²(1+x²)/2)/(1+x²) dx
//
// by Gauss-Legendre quadrature up to a = 1 and by reflection beyond.
func owensT(h, a float64) float64 {
	if a > 1 {
		p, r := normalTail(h), normalTail(h*a)
		return 0.5*(p+r) - p*r - owensT(h*a, 1/a)
	}
	nodes := fewOwenNodes
	if h*a > owenSpread {
		nodes, a = manyOwenNodes, min(a, owenReach/h)
	}
	spread := -0.5 * h * h
	var sum float64
	for _, node := range nodes {
		y := a * a * node.square
		sum += node.weight * math.Exp(spread*y) / (1 + y)
	}
	return a * sum * math.Exp(spread) / (2 * math.Pi)
}
