package lot

import "math"

// smallestResult is the distribution of how far the smallest of n normal results
// lies below their mean,
//
//	y = (x̄ - x_min)/s · √n/(n-1),   1/(n-1) ≤ y ≤ 1
//
// It is that of the largest by symmetry, and independent of mean and standard
// deviation (D. Basu, Sankhyā 15 (1955) 377). What the n-1 others look like is
// again independent of how far the smallest is, so that, k_n being the density of y
// for a named result,
//
//	G_n(y) = ∫ n·k_n(u)·G_(n-1)(u·√n/√((n-2)(1-u²))) du
//
// Where no two results can be that far out, G_n(y) = 1 - n·F(-y), the Grubbs test.
// Below, it is kept as polynomials between the places where one more result can.
//
// Source: the recursion is derived here; F. E. Grubbs, Annals of Mathematical
// Statistics 21 (1950) 27, has that for a known standard deviation (from memory).
type smallestResult struct {
	n      int
	kernel *kernel
	alone  float64 // from here on no second result can be that far out
	pieces []smallPiece
}

// smallPiece is G_n from one such place to the next, a Chebyshev series in t with
// y = to - (to-from)·((1-t)/2)², in which the root at the upper end is smooth.
type smallPiece struct {
	from, to float64
	series   [smallTerms]float64
}

// smallTerms leave an error of 1e-13 for n to mostSmallest.
const smallTerms = 20

// mostSmallest is the largest n that the distribution is worked out for, in some
// 30 ms; the cost rises with its cube.
const mostSmallest = 50

func newSmallestResult(n int) *smallestResult {
	g := &smallestResult{n: 3, kernel: kernelOf(3), alone: 0.5}
	for g.n < n {
		g = g.next()
	}
	return g
}

// next makes the distribution for one result more.
func (g *smallestResult) next() *smallestResult {
	n := float64(g.n + 1)
	before := func(y float64) float64 { return y * math.Sqrt((n-2)/(n+y*y*(n-2))) }
	up := &smallestResult{n: g.n + 1, kernel: kernelOf(g.n + 1), alone: before(1)}
	for _, p := range g.pieces {
		up.pieces = append(up.pieces, smallPiece{from: before(p.from), to: before(p.to)})
	}
	up.pieces = append(up.pieces, smallPiece{from: before(g.alone), to: up.alone})
	scale := betaDensityScale(g.n + 1)
	density := func(y float64) float64 {
		rest := (1 - y) * (1 + y)
		return n * scale * math.Pow(rest, n/2-2) * g.below(y*math.Sqrt(n/((n-2)*rest)))
	}
	reached := 0.0
	for i := range up.pieces {
		reached = up.pieces[i].fit(density, reached)
	}
	return up
}

// fit integrates the density from node to node, in t, and returns what is reached
// at the end.
func (p *smallPiece) fit(density func(y float64) float64, reached float64) float64 {
	var at [smallTerms]float64
	last := -1.0
	step := func(to float64) {
		reached += integrate(func(t float64) float64 { return density(p.y(t)) * (p.to - p.from) * (1 - t) / 2 }, last, to, 1)
		last = to
	}
	for j := range at {
		step(-math.Cos(math.Pi * (float64(j) + 0.5) / smallTerms))
		at[j] = reached
	}
	step(1)
	for k := range p.series {
		for j, value := range at {
			p.series[k] += 2 * value / smallTerms * math.Cos(math.Pi*float64(k)*(1-(float64(j)+0.5)/smallTerms))
		}
	}
	p.series[0] /= 2
	return reached
}

func (p *smallPiece) y(t float64) float64 { return p.to - (p.to-p.from)*(1-t)*(1-t)/4 }

// below returns G_n(y).
func (g *smallestResult) below(y float64) float64 {
	switch {
	case y >= 1:
		return 1
	case y >= g.alone:
		return max(0, 1-float64(g.n)*g.kernel.within(-y))
	case len(g.pieces) == 0 || y <= g.pieces[0].from:
		return 0
	}
	i := len(g.pieces) - 1
	for y < g.pieces[i].from {
		i--
	}
	return min(1, max(0, g.pieces[i].at(y)))
}

// at sums the series by Clenshaw's rule.
func (p *smallPiece) at(y float64) float64 {
	t := 1 - 2*math.Sqrt((p.to-y)/(p.to-p.from))
	var b1, b2 float64
	for k := smallTerms - 1; k > 0; k-- {
		b1, b2 = 2*t*b1-b2+p.series[k], b1
	}
	return t*b1 - b2 + p.series[0]
}

// places appends the y where the distribution changes its form.
func (g *smallestResult) places(dst []float64) []float64 {
	for _, p := range g.pieces {
		dst = append(dst, p.from)
	}
	return append(dst, g.alone, 1)
}
