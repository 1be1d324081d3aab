package stats

import "math"

// compensatedSum returns Σx and a bound of its error: it keeps what each addition
// loses, adds that to the sum, and bounds what those additions lose in turn. A
// value that is not finite, or a sum that overflows, leaves NaN or an infinity.
//
// Source: T. Ogita, S. M. Rump and S. Oishi, Accurate sum and dot product, SIAM
// Journal on Scientific Computing 26 (2005) 1955-1988.
func compensatedSum(xs []float64) (sum pair, bound float64) {
	var s0, s1, s2, s3, lost0, lost1, lost2, lost3, size float64
	quads := len(xs) &^ 3
	for i := 0; i < quads; i += 4 {
		q := xs[i : i+4 : i+4]
		p0, p1, p2, p3 := twoSum(s0, q[0]), twoSum(s1, q[1]), twoSum(s2, q[2]), twoSum(s3, q[3])
		s0, s1, s2, s3 = p0.hi, p1.hi, p2.hi, p3.hi
		lost0 += p0.lo
		lost1 += p1.lo
		lost2 += p2.lo
		lost3 += p3.lo
		size += (math.Abs(q[0]) + math.Abs(q[1])) + (math.Abs(q[2]) + math.Abs(q[3]))
	}
	left, right := twoSum(s0, s1), twoSum(s2, s3)
	total := twoSum(left.hi, right.hi)
	lost := ((lost0 + lost1) + (lost2 + lost3)) + ((left.lo + right.lo) + total.lo)
	for _, x := range xs[quads:] {
		total = twoSum(total.hi, x)
		lost += total.lo
		size += math.Abs(x)
	}
	// With u = 2^-53, each of at most m additions one after another loses at most
	// u·size, and gathering those losses loses at most m²u²·size; it is taken
	// twice for the rounding of size and of the bound.
	m := float64(len(xs)/4 + 10)
	return twoSum(total.hi, lost), float64(2 * m * m * 0x1p-106 * size)
}

// isNearest reports whether p.hi is certainly the float64 nearest to a number
// that differs from p by no more than bound.
func (p pair) isNearest(bound float64) bool {
	// A little more than |p.lo| settles which side of a tie the number is on.
	far := float64(math.Abs(p.lo)*(1+0x1p-40)) + bound
	return p.hi+far == p.hi && p.hi-far == p.hi
}
