package stats

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// slopes finds places in the sorted order of all slopes of n points,
// (yⱼ-yᵢ)/(xⱼ-xᵢ) as float64 arithmetic gives them, without forming them all. A pair
// with equal x has no slope. Equal points are held once, with their number.
//
// The order of the points by their height y - c·x over a line of slope c differs from
// that by x in just the pairs whose slope is below c, so that sorting counts these. Cuts
// c close in on the place wanted until few slopes lie between two of them, which are
// then formed. Heights are compared exactly, so every count is that of the exact slopes;
// what float64 arithmetic makes of these differs by roundings, which a margin around the
// last two cuts allows for. Time is O(n log n), and O(1) for each slope within a few
// roundings of the one wanted where these are more than O(n); memory is O(n).
//
// Source: J. Matoušek, Randomized optimal algorithm for slope selection, Information
// Processing Letters 39 (1991) 183-187. The draws have a fixed seed, and decide nothing
// but the time.
type slopes struct {
	points       []slopePoint // by x, then y
	total        slopeCount   // pairs with a slope
	vertical     int64        // pairs with equal x and unequal y
	sizeX, sizeY float64      // the largest |x| and |y|
	cuts         []slopeCut   // made so far, the lowest first
	found        slopeWindow
	scratch      [2][]ranked
}

// slopePoint is a point of the plane and how many of the data it stands for.
type slopePoint struct {
	x, y   float64
	weight int64
}

// slopeCount counts pairs of the points held, and the pairs of data they stand for.
type slopeCount struct{ held, data int64 }

// slopeCut is the slope of a line, the points in order of height over it, and how many
// pairs have a slope below it.
type slopeCut struct {
	at    float64
	order []int32
	below slopeCount
}

// slopeWindow holds all slopes at the places from first to before last, and some beside
// them.
type slopeWindow struct {
	slopes      []weightedSlope
	low         int64 // place of the smallest held
	first, last int64
	recent      [64]int // where slopes with these last bits may stand
}

// weightedSlope is a slope of so many pairs of data.
type weightedSlope struct {
	slope  float64
	weight int64
}

const (
	// slopesFormed times the number of points is how many slopes between two cuts are
	// formed rather than cut again.
	slopesFormed = 4

	// slopeMargin is more than twice the units in the last place by which float64
	// arithmetic misses an exact slope, with three roundings.
	slopeMargin = 8

	// slopesApart is how many float64 values two cuts are apart at most when more cuts
	// are given up, because the slopes between them may all be equal.
	slopesApart = 4 * slopeMargin
)

// newSlopes takes at least one point. Values and the range of each column are finite.
func newSlopes(xs, ys []float64) *slopes {
	s := &slopes{points: make([]slopePoint, len(xs))}
	for i, x := range xs {
		s.points[i] = slopePoint{x, ys[i], 1}
		s.sizeX, s.sizeY = max(s.sizeX, math.Abs(x)), max(s.sizeY, math.Abs(ys[i]))
	}
	slices.SortFunc(s.points, func(p, q slopePoint) int {
		return cmp.Or(cmp.Compare(p.x, q.x), cmp.Compare(p.y, q.y))
	})
	s.joinEqual()
	s.countPairs()
	start := slopeCut{at: math.Inf(-1), order: make([]int32, len(s.points))}
	for i := range start.order {
		start.order[i] = int32(i)
	}
	s.cuts = []slopeCut{start, {at: math.Inf(1), below: s.total}}
	return s
}

// joinEqual holds equal points once.
func (s *slopes) joinEqual() {
	kept := s.points[:1]
	for _, p := range s.points[1:] {
		if last := &kept[len(kept)-1]; p.x == last.x && p.y == last.y {
			last.weight++
		} else {
			kept = append(kept, p)
		}
	}
	s.points = kept
}

func (s *slopes) countPairs() {
	var before, column slopeCount // points with a smaller x, and with this one
	for i, p := range s.points {
		if i > 0 && p.x != s.points[i-1].x {
			before, column = slopeCount{before.held + column.held, before.data + column.data}, slopeCount{}
		}
		s.total.held += before.held
		s.total.data += before.data * p.weight
		s.vertical += column.data * p.weight
		column.held++
		column.data += p.weight
	}
}

// nth returns the slope at place k of the sorted order, counted from 0, as float64
// arithmetic gives it: an infinity where that overflows.
func (s *slopes) nth(k int64) float64 {
	if k < s.found.first || k >= s.found.last {
		s.find(k)
	}
	return weightedNth(s.found.slopes, k-s.found.low)
}

// find closes in on place k, from the cuts next to it.
func (s *slopes) find(k int64) {
	rng := rand.New(rand.NewPCG(uint64(len(s.points)), uint64(k)))
	for {
		lo, hi := s.beside(k)
		between := hi.below.held - lo.below.held
		if between <= slopesFormed*int64(len(s.points)) || apart(lo.at, hi.at) <= slopesApart {
			s.form(lo, hi)
			return
		}
		share := (float64(k-lo.below.data) + 0.5) / float64(hi.below.data-lo.below.data)
		s.close(lo, hi, s.draw(rng, lo, hi), share)
	}
}

// beside returns the highest cut with no more than k slopes below and the next one.
func (s *slopes) beside(k int64) (lo, hi slopeCut) {
	i, _ := slices.BinarySearchFunc(s.cuts, k, func(c slopeCut, k int64) int {
		if c.below.data <= k {
			return -1
		}
		return 1
	})
	return s.cuts[i-1], s.cuts[i]
}

// close cuts on both sides of the place that a share of the slopes drawn leads to, or
// in the middle where that leads no further.
func (s *slopes) close(lo, hi slopeCut, drawn []weightedSlope, share float64) {
	var all float64
	for _, d := range drawn {
		all += float64(d.weight)
	}
	between := func(at float64) bool { return lo.at < at && at < hi.at }
	doubt := 1 / math.Sqrt(float64(len(drawn)))
	below, above := lo.at, hi.at
	if share > doubt {
		below = nudge(weightedNth(drawn, int64((share-doubt)*all)), -slopeMargin)
	}
	if share < 1-doubt {
		above = nudge(weightedNth(drawn, int64((share+doubt)*all)), slopeMargin)
	}
	if !between(below) && !between(above) {
		below = fromOrderedBits(orderedBits(lo.at)/2 + orderedBits(hi.at)/2)
	}
	for _, at := range []float64{below, above} {
		if between(at) {
			s.cut(at)
		}
	}
}

// cut returns the cut at a slope, and makes it from the next one below if need be.
func (s *slopes) cut(at float64) slopeCut {
	i, made := slices.BinarySearchFunc(s.cuts, at, func(c slopeCut, at float64) int { return cmp.Compare(c.at, at) })
	if !made {
		s.cuts = slices.Insert(s.cuts, i, s.cutAbove(s.cuts[i-1], at))
	}
	return s.cuts[i]
}

// form forms all slopes between two cuts and a margin beside them. The slopes beyond
// keep their side of every place between the cuts, because the arithmetic moves none of
// them by half of the margin.
func (s *slopes) form(lo, hi slopeCut) {
	s.found = slopeWindow{first: lo.below.data, last: hi.below.data}
	from, to := s.cut(nudge(lo.at, -slopeMargin)), nudge(hi.at, slopeMargin)
	s.found.low = from.below.data
	limit := 2 * slopesFormed * len(s.points)
	s.sweep(from.order, to, func(left []ranked, _ int64, right ranked) {
		for _, l := range left {
			s.found.add(s.slope(l, right))
		}
		if len(s.found.slopes) > limit {
			s.found.slopes = joinEqualSlopes(s.found.slopes)
			limit = max(limit, 2*len(s.found.slopes))
		}
	})
}

// add holds a slope, with its equal if that was met not long ago.
func (w *slopeWindow) add(next weightedSlope) {
	at := &w.recent[math.Float64bits(next.slope)%uint64(len(w.recent))]
	if *at < len(w.slopes) && w.slopes[*at].slope == next.slope {
		w.slopes[*at].weight += next.weight
		return
	}
	*at = len(w.slopes)
	w.slopes = append(w.slopes, next)
}

// slope returns the quotient for a pair of unequal x, with 0 for -0.
func (s *slopes) slope(a, b ranked) weightedSlope {
	p, q := s.points[a.at], s.points[b.at]
	return weightedSlope{(q.y-p.y)/(q.x-p.x) + 0, p.weight * q.weight}
}

// joinEqualSlopes sorts slopes and holds equal ones once.
func joinEqualSlopes(ws []weightedSlope) []weightedSlope {
	slices.SortFunc(ws, func(a, b weightedSlope) int { return cmp.Compare(a.slope, b.slope) })
	kept := ws[:1]
	for _, w := range ws[1:] {
		if last := &kept[len(kept)-1]; w.slope == last.slope {
			last.weight += w.weight
		} else {
			kept = append(kept, w)
		}
	}
	return kept
}

// aboutMinusOne counts the pairs of data whose slope is below -1, and those where it is -1
// to the rounding of the coordinates: of recorded decimals the quotient may miss -1 by a
// few roundings, while no other slope of theirs comes near it.
func (s *slopes) aboutMinusOne() (below, equal int64) {
	from := s.cut(-1 - nearMinusOne)
	below = from.below.data
	s.sweep(from.order, -1+nearMinusOne, func(left []ranked, _ int64, right ranked) {
		for _, l := range left {
			w := s.slope(l, right)
			switch {
			case s.points[l.at].isMinusOne(s.points[right.at]):
				equal += w.weight
			case w.slope < -1:
				below += w.weight
			}
		}
	})
	return below, equal
}

// nearMinusOne is how near to -1 a slope is looked at.
const nearMinusOne = 0x1p-20

// isMinusOne reports whether two points lie on a line of slope -1 as nearly as four
// roundings of coordinates, and one of each difference, can tell.
func (p slopePoint) isMinusOne(q slopePoint) bool {
	size := max(math.Abs(p.x), math.Abs(p.y), math.Abs(q.x), math.Abs(q.y))
	return math.Abs((q.y-p.y)+(q.x-p.x)) <= 2*roundingIn(size)
}

// nudge returns the float64 so many values further on, at most an infinity.
func nudge(x float64, steps int64) float64 {
	if math.IsInf(x, 0) {
		return x
	}
	b := orderedBits(x) + steps
	return fromOrderedBits(min(max(b, orderedBits(math.Inf(-1))), orderedBits(math.Inf(1))))
}

// apart returns how many float64 values lie between a and b, b included, for a ≤ b.
func apart(a, b float64) uint64 { return uint64(orderedBits(b) - orderedBits(a)) }
