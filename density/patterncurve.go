package density

import "math/big"

// curve is density against passes, in exact numbers.
type curve struct {
	averages  []*big.Rat
	tolerance *big.Rat
}

// exceeds reports whether a is more than the tolerance above b.
func (c curve) exceeds(a, b *big.Rat) bool {
	return new(big.Rat).Sub(a, b).Cmp(c.tolerance) > 0
}

func (c curve) peak() int {
	best := 0
	for i, a := range c.averages {
		if a.Cmp(c.averages[best]) > 0 {
			best = i
		}
	}
	return best
}

// optimum walks back from the end while the highest average seen stays within
// the tolerance.
func (c curve) optimum() int {
	last := len(c.averages) - 1
	best, highest := last, c.averages[last]
	for i := last - 1; i >= 0; i-- {
		if !c.exceeds(highest, c.averages[i]) {
			best = i
		}
		if c.averages[i].Cmp(highest) > 0 {
			highest = c.averages[i]
		}
	}
	return best
}

func (c curve) roseBefore(i int) bool {
	for _, a := range c.averages[:i] {
		if c.exceeds(c.averages[i], a) {
			return true
		}
	}
	return false
}

// fell returns the first pass of a break-over, 0 for none.
func (c curve) fell() int {
	peak := c.averages[c.peak()]
	first := 0
	for i := c.peak() + 1; i < len(c.averages); i++ {
		low := c.exceeds(peak, c.averages[i])
		switch {
		case low && first == 0:
			first = i
		case !low && first > 0:
			return 0
		}
	}
	return first
}

// endsLow reports whether the last average is more than the tolerance below the
// peak, also where an earlier drop came back and the rule sees no break-over.
func (c curve) endsLow() bool {
	return c.exceeds(c.averages[c.peak()], c.averages[len(c.averages)-1])
}

// dip returns the first pass of a drop that came back to within the tolerance of
// what was reached before it, and the pass that was back; 0, 0 for none.
func (c curve) dip() (fall, back int) {
	highest := c.averages[0]
	for i, a := range c.averages {
		low := c.exceeds(highest, a)
		switch {
		case low && fall == 0:
			fall = i
		case !low && fall > 0:
			return fall, i
		case a.Cmp(highest) > 0:
			highest = a
		}
	}
	return 0, 0
}

// meanRat returns the mean of one number or more.
func meanRat(xs []*big.Rat) *big.Rat {
	sum := addAll(new(big.Rat), xs)
	return sum.Quo(sum, ratOf(len(xs)))
}

func ratOf(n int) *big.Rat { return new(big.Rat).SetInt64(int64(n)) }

func float(x *big.Rat) float64 {
	f, _ := x.Float64()
	return f
}

// sqrt stays finite for squares that are beyond the range of float64.
func sqrt(x *big.Rat) float64 {
	f, _ := new(big.Float).Sqrt(new(big.Float).SetPrec(80).SetRat(x)).Float64()
	return f
}
