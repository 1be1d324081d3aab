package stats

import "math"

// pair is an unevaluated sum hi+lo with |lo| at most half a unit in the last
// place of hi: about 106 bits, for sums whose cancellation a float64 does not
// survive. An overflow shows as NaN or an infinity in value.
//
// Source: T. J. Dekker, A floating-point technique for extending the available
// precision, Numerische Mathematik 18 (1971) 224-242. M. Joldes, J.-M. Muller and
// V. Popescu, Tight and rigorous error bounds for basic building blocks of
// double-word arithmetic, ACM Transactions on Mathematical Software 44 (2017),
// bound the relative error of each operation by 15·2^-106.
type pair struct{ hi, lo float64 }

// twoSum returns a+b exactly.
func twoSum(a, b float64) pair {
	s := a + b
	t := s - a
	return pair{s, (a - (s - t)) + (b - t)}
}

// quickSum returns a+b exactly where |a| is at least |b|.
func quickSum(a, b float64) pair {
	s := a + b
	return pair{s, b - (s - a)}
}

// twoProduct returns a·b exactly, unless the low part falls below the smallest
// float64.
func twoProduct(a, b float64) pair {
	p := float64(a * b)
	return pair{p, math.FMA(a, b, -p)}
}

func (a pair) value() float64 { return a.hi + a.lo }

func (a pair) neg() pair { return pair{-a.hi, -a.lo} }

func (a pair) addFloat(b float64) pair {
	s := twoSum(a.hi, b)
	return quickSum(s.hi, s.lo+a.lo)
}

func (a pair) add(b pair) pair {
	s, t := twoSum(a.hi, b.hi), twoSum(a.lo, b.lo)
	s = quickSum(s.hi, s.lo+t.hi)
	return quickSum(s.hi, s.lo+t.lo)
}

func (a pair) sub(b pair) pair { return a.add(b.neg()) }

func (a pair) mul(b pair) pair {
	p := twoProduct(a.hi, b.hi)
	cross := float64(a.hi*b.lo) + float64(a.lo*b.hi)
	return quickSum(p.hi, p.lo+cross)
}

func (a pair) mulFloat(b float64) pair {
	p := twoProduct(a.hi, b)
	return quickSum(p.hi, p.lo+float64(a.lo*b))
}

func (a pair) div(b pair) pair {
	q := a.hi / b.hi
	rest := a.sub(b.mulFloat(q))
	return quickSum(q, rest.value()/b.hi)
}

// pairMean returns the mean of xs, right to the last bits of the pair where the
// values do not cancel, and exact where they are all equal.
func pairMean(xs []float64) pair {
	if allEqual(xs) {
		return pair{hi: xs[0]}
	}
	var sum pair
	for _, x := range xs {
		sum = sum.addFloat(x)
	}
	return sum.div(pair{hi: float64(len(xs))})
}

// sqrt returns the root of a, which is not negative.
func (a pair) sqrt() pair {
	if a.hi <= 0 {
		return pair{}
	}
	root := math.Sqrt(a.hi)
	rest := a.sub(twoProduct(root, root))
	return quickSum(root, rest.value()/(2*root))
}
