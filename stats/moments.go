package stats

import "math"

// moments are the figures of one pass over a sample: its mean, the sum of the
// squared deviations from it, and the extremes. A value that is not finite, or
// too large to add up, leaves ss NaN or infinite.
type moments struct {
	mean, ss float64
	lo, hi   float64
}

// A sample of up to shortSample values is compared as integers, whose min and
// max do not branch; in a longer one a new extreme is rare, and a branch that is
// never taken costs less.
const shortSample = 48

// blockSize values fit the fastest cache, so that the second look at a block
// costs no trip to memory, and are few enough for plain sums.
const blockSize = 256

func measure(xs []float64) moments {
	if len(xs) > shortSample {
		return measureLong(xs)
	}
	m := measureShort(xs)
	m.lo, m.hi = shortExtremes(xs)
	return m
}

// measureShort leaves the extremes out, which cost as much as the rest.
func measureShort(xs []float64) moments {
	if len(xs) == 5 {
		return measureFive((*[5]float64)(xs))
	}
	return measureFew(xs)
}

// measureFive is measureFew without its loops, for the sample that most lots
// are judged by.
func measureFive(xs *[5]float64) moments {
	const weight = 1.0 / 5
	a, b, c, d, e := xs[0], xs[1], xs[2], xs[3], xs[4]
	centre := float64((((a + b) + (c + d)) + e) * weight)
	a, b, c, d, e = a-centre, b-centre, c-centre, d-centre, e-centre
	ss := ((float64(a*a) + float64(b*b)) + (float64(c*c) + float64(d*d))) + float64(e*e)
	rest := ((a + b) + (c + d)) + e
	step := float64(rest * weight)
	if float64(rest*step) > ss*farOff {
		return measureFew(xs[:])
	}
	return moments{mean: centre + step, ss: ss - float64(rest*step)}
}

func measureFew(xs []float64) moments {
	// One division, done while the sum is still being formed: the centre need
	// not be the mean to the last bit, since rest makes up for what it lacks.
	weight := 1 / float64(len(xs))
	sum := xs[0]
	for _, x := range xs[1:] {
		sum += x
	}
	centre := float64(sum * weight)
	ss, rest := squaresShort(xs, centre)
	step := float64(rest * weight)
	if float64(rest*step) > ss*farOff {
		centre += step
		ss, rest = squaresShort(xs, centre)
		step = float64(rest * weight)
	}
	return moments{mean: centre + step, ss: ss - float64(rest*step)}
}

func shortExtremes(xs []float64) (lo, hi float64) {
	loBits := orderedBits(xs[0])
	hiBits := loBits
	for _, x := range xs[1:] {
		b := orderedBits(x)
		loBits = min(loBits, b)
		hiBits = max(hiBits, b)
	}
	return fromOrderedBits(loBits), fromOrderedBits(hiBits)
}

// farOff is the part of a sum of squares that a correction for the rounding of
// the centre may take away before the squares are formed again about a better
// one. It takes that much only where the spread is a few roundings of the mean.
const farOff = 1.0 / 64

func squaresShort(xs []float64, centre float64) (ss, rest float64) {
	for _, x := range xs {
		d := x - centre
		ss += float64(d * d)
		rest += d
	}
	return ss, rest
}

// orderedBits maps a float64 to an integer that sorts as it does.
func orderedBits(x float64) int64 {
	b := int64(math.Float64bits(x))
	return b ^ int64(uint64(b>>63)>>1)
}

func fromOrderedBits(b int64) float64 {
	return math.Float64frombits(uint64(b ^ int64(uint64(b>>63)>>1)))
}

// measureLong merges the moments of blocks. Their means differ by less than the
// rounding of a float64 mean may hide, so the means are carried in pairs.
func measureLong(xs []float64) moments {
	var (
		total  moments
		mean   pair
		square pair
		n      float64
	)
	total.lo, total.hi = xs[0], xs[0]
	for len(xs) > 0 {
		block := xs[:min(blockSize, len(xs))]
		xs = xs[len(block):]
		blockMean, ss := measureBlock(block, &total)
		k := float64(len(block))
		n += k
		if n == k {
			mean, square = blockMean, pair{hi: ss}
			continue
		}
		delta := blockMean.sub(mean).value()
		weight := k / n
		square = square.addFloat(ss + float64(float64(delta*delta)*((n-k)*weight)))
		mean = mean.addFloat(float64(delta * weight))
	}
	total.mean, total.ss = mean.value(), square.value()
	return total
}

// measureBlock returns the mean of a block and the squares about it, and widens
// the extremes. Four sums run side by side, because one would wait for itself.
func measureBlock(xs []float64, total *moments) (mean pair, ss float64) {
	n := float64(len(xs))
	lo, hi := total.lo, total.hi
	var s0, s1, s2, s3 float64
	quads := len(xs) &^ 3
	for i := 0; i < quads; i += 4 {
		q := xs[i : i+4 : i+4]
		a, b, c, d := q[0], q[1], q[2], q[3]
		s0 += a
		s1 += b
		s2 += c
		s3 += d
		if a < lo || b < lo || c < lo || d < lo {
			lo = min(lo, a, b, c, d)
		}
		if a > hi || b > hi || c > hi || d > hi {
			hi = max(hi, a, b, c, d)
		}
	}
	for _, x := range xs[quads:] {
		s0 += x
		lo = min(lo, x)
		hi = max(hi, x)
	}
	total.lo, total.hi = lo, hi
	centre := ((s0 + s1) + (s2 + s3)) / n
	ss, rest := squaresAbout(xs, centre)
	step := rest / n
	if float64(rest*step) > ss*farOff {
		centre += step
		ss, rest = squaresAbout(xs, centre)
		step = rest / n
	}
	return twoSum(centre, step), ss - float64(rest*step)
}

// squaresAbout returns Σ(x-centre)² and Σ(x-centre).
func squaresAbout(xs []float64, centre float64) (ss, rest float64) {
	var s0, s1, s2, s3, r0, r1, r2, r3 float64
	quads := len(xs) &^ 3
	for i := 0; i < quads; i += 4 {
		q := xs[i : i+4 : i+4]
		a, b, c, d := q[0]-centre, q[1]-centre, q[2]-centre, q[3]-centre
		s0 += float64(a * a)
		s1 += float64(b * b)
		s2 += float64(c * c)
		s3 += float64(d * d)
		r0 += a
		r1 += b
		r2 += c
		r3 += d
	}
	for _, x := range xs[quads:] {
		d := x - centre
		s0 += float64(d * d)
		r0 += d
	}
	return (s0 + s1) + (s2 + s3), (r0 + r1) + (r2 + r3)
}
