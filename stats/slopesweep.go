package stats

import (
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
)

// ranked is a point on its way through a sort by height over a line.
type ranked struct {
	height     float64
	at, weight int32 // index among the points held, and the weight there
}

// passedFunc is told that the point right goes below all points of left, which weigh so
// much together.
type passedFunc func(left []ranked, weight int64, right ranked)

// cutAbove goes from one cut to another above it, counting on.
func (s *slopes) cutAbove(from slopeCut, at float64) slopeCut {
	to := slopeCut{at: at, below: from.below, order: make([]int32, len(s.points))}
	sorted := s.sweep(from.order, at, func(left []ranked, weight int64, right ranked) {
		to.below.held += int64(len(left))
		to.below.data += weight * int64(right.weight)
	})
	for i, r := range sorted {
		to.order[i] = r.at
	}
	return to
}

// draw returns about as many of the slopes between two cuts as there are points, one at
// random out of each of so many equal parts of them.
func (s *slopes) draw(rng *rand.Rand, from, to slopeCut) []weightedSlope {
	drawn := make([]weightedSlope, 0, len(s.points))
	part := float64(to.below.held-from.below.held) / float64(len(s.points))
	next := int64(rng.Float64() * part)
	var seen int64
	s.sweep(from.order, to.at, func(left []ranked, _ int64, right ranked) {
		seen += int64(len(left))
		for next < seen {
			drawn = append(drawn, s.slope(left[seen-next-1], right))
			next = max(next+1, int64((float64(len(drawn))+rng.Float64())*part))
		}
	})
	return drawn
}

// sweep sorts an order of the points by height over a line of slope c, or by falling x
// for an infinite c. Points of equal height keep their order. The result is scratch.
func (s *slopes) sweep(order []int32, c float64, passed passedFunc) []ranked {
	if s.scratch[0] == nil {
		s.scratch[0], s.scratch[1] = make([]ranked, len(order)), make([]ranked, len(order))
	}
	sorted, spare := s.scratch[0], s.scratch[1]
	w := sweeper{slopes: s, c: c, passed: passed, huge: !(math.Abs(c)*s.sizeX < hugeHeight && s.sizeY < hugeHeight)}
	w.setHeights(sorted, order)
	for run := range slices.Chunk(sorted, insertionLength) {
		w.insert(run)
	}
	for width := insertionLength; width < len(sorted); width *= 2 {
		for lo := 0; lo < len(sorted); lo += 2 * width {
			mid, hi := min(lo+width, len(sorted)), min(lo+2*width, len(sorted))
			w.merge(spare[lo:hi], sorted[lo:mid], sorted[mid:hi])
		}
		sorted, spare = spare, sorted
	}
	return sorted
}

// sweeper is one sort by height.
type sweeper struct {
	*slopes
	c      float64
	passed passedFunc
	huge   bool // a term of a height could overflow
}

// hugeHeight is what a term of a height is to stay below, so that nothing overflows.
const hugeHeight = 0x1p1000

// setHeights takes y - c·x, rounded once. Where a term is huge all heights stay 0, which
// leaves the comparison to exact arithmetic.
func (w *sweeper) setHeights(to []ranked, order []int32) {
	for i, at := range order {
		p := w.points[at]
		to[i] = ranked{at: at, weight: int32(p.weight)}
		switch {
		case math.IsInf(w.c, 1):
			to[i].height = -p.x
		case !w.huge:
			to[i].height = math.FMA(-w.c, p.x, p.y)
		}
	}
}

// lower reports whether a lies below b.
func (w *sweeper) lower(a, b *ranked) bool {
	lower, sure := surelyLower(a.height, b.height)
	return lower && sure || !sure && w.lowerClose(a, b)
}

// surelyLower compares two rounded heights, and says whether that settles it.
func surelyLower(a, b float64) (lower, sure bool) {
	step := b - a
	return step > 0, math.Abs(step) > 0x1p-50*math.Abs(a)+0x1p-1000
}

// lowerClose settles what rounded heights do not, with twice the precision and at last
// exactly.
func (w *sweeper) lowerClose(a, b *ranked) bool {
	p, q := w.points[a.at], w.points[b.at]
	switch {
	case math.IsInf(w.c, 1):
		return p.x > q.x || p.x == q.x && p.y < q.y
	case !w.huge:
		step := q.over(w.c).sub(p.over(w.c))
		if math.Abs(step.hi) > 0x1p-98*(math.Abs(a.height)+math.Abs(b.height))+0x1p-1000 {
			return step.hi > 0
		}
	}
	return isLowerExactly(p, q, w.c)
}

// over returns y - c·x with an error below 2^-103 of it, or 2^-1000.
func (p slopePoint) over(c float64) pair {
	product := twoProduct(c, p.x)
	sum := twoSum(p.y, -product.hi)
	return quickSum(sum.hi, sum.lo-product.lo)
}

// exactBits holds a sum of products of two float64 without rounding.
const exactBits = 4400

// isLowerExactly reports whether y₂-y₁ > c·(x₂-x₁).
func isLowerExactly(p, q slopePoint, c float64) bool {
	exact := func(x float64) *big.Float { return new(big.Float).SetPrec(exactBits).SetFloat64(x) }
	dx, dy := exact(q.x), exact(q.y)
	dx.Sub(dx, exact(p.x))
	dy.Sub(dy, exact(p.y))
	return dy.Cmp(dx.Mul(dx, exact(c))) > 0
}

// insert sorts a short run.
func (w *sweeper) insert(run []ranked) {
	for i := 1; i < len(run); i++ {
		r, weight := run[i], int64(0)
		j := i
		for ; j > 0 && w.lower(&r, &run[j-1]); j-- {
			weight += int64(run[j-1].weight)
		}
		if j < i {
			w.passed(run[j:i], weight, r)
			copy(run[j+1:i+1], run[j:i])
			run[j] = r
		}
	}
}

// merge joins two sorted runs, the second of which may be empty.
func (w *sweeper) merge(to, left, right []ranked) {
	if len(right) == 0 || !w.lower(&right[0], &left[len(left)-1]) {
		copy(to[copy(to, left):], right)
		return
	}
	var weight int64
	for i := range left {
		weight += int64(left[i].weight)
	}
	i, j, k := 0, 0, 0
	for i < len(left) && j < len(right) {
		lower, sure := surelyLower(right[j].height, left[i].height)
		if !sure {
			lower = w.lowerClose(&right[j], &left[i])
		}
		if lower {
			w.passed(left[i:], weight, right[j])
			to[k] = right[j]
			j++
		} else {
			weight -= int64(left[i].weight)
			to[k] = left[i]
			i++
		}
		k++
	}
	copy(to[k+copy(to[k:], left[i:]):], right[j:])
}
