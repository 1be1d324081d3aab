package lot

import "github.com/shopspring/decimal"

// splitMix64 is the generator that random locations are drawn with. It is written
// out here, and is as published, so that anyone can draw the same locations again
// from the seed in any language and whatever a library does to its own generators.
//
// Source: G. L. Steele, D. Lea and C. H. Flood, Fast Splittable Pseudorandom Number
// Generators, OOPSLA 2014, with the constants of Java's SplittableRandom and of
// S. Vigna's splitmix64.c (from memory; tested against their published output).
type splitMix64 struct{ state uint64 }

func (g *splitMix64) next() uint64 {
	g.state += 0x9e3779b97f4a7c15
	z := g.state
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// numberPlaces and numberCount: a random number is one of 0.000000 to 0.999999.
const (
	numberPlaces = 6
	numberCount  = 1_000_000
)

// number returns the next random number. Outputs from the largest multiple of
// 1,000,000 below 2^64 on are passed over, so that the remainder favours none.
func (g *splitMix64) number() decimal.Decimal {
	const end = (1 << 64 / numberCount) * numberCount
	x := g.next()
	for x >= end {
		x = g.next()
	}
	return decimal.New(int64(x%numberCount), -numberPlaces)
}
