package stats

import (
	"fmt"
	"math"
	"math/big"
	"slices"
)

// RankMethod names how the places of confidence limits among sorted slopes are found.
// The zero value is no method and is refused.
type RankMethod int

// The methods for the places of limits.
const (
	// RankExact counts the orders of the residuals: as many slopes are cut off at each
	// end as leaves a confidence of the level at least. For up to 50 points.
	RankExact RankMethod = iota + 1
	// RankNormal takes Kendall's sum for normal, with its exact variance.
	RankNormal
)

// String returns "exact" or "normal".
func (m RankMethod) String() string {
	switch m {
	case RankExact:
		return "exact"
	case RankNormal:
		return "normal"
	}
	return fmt.Sprintf("RankMethod(%d)", int(m))
}

// mostExactRanks is the most points whose orders are counted, in some 2 ms.
const mostExactRanks = 50

// tieSizes returns how often each value comes.
func tieSizes(xs []float64) []int {
	sorted := slices.Sorted(slices.Values(xs))
	var sizes []int
	for i, x := range sorted {
		if i == 0 || x != sorted[i-1] {
			sizes = append(sizes, 0)
		}
		sizes[len(sizes)-1]++
	}
	return sizes
}

// kendallDeviation returns the standard deviation of Kendall's sum of signs for points
// in random order, of which so many have one x each:
//
//	√((n(n-1)(2n+5) - Σt(t-1)(2t+5))/18)
func kendallDeviation(ties []int) float64 {
	term := func(k float64) float64 { return float64(k * (k - 1) * (2*k + 5)) }
	n, less := 0, 0.0
	for _, t := range ties {
		n += t
		less += term(float64(t))
	}
	return math.Sqrt((term(float64(n)) - less) / 18)
}

// discordantCounts returns, for points in random order of which so many have one x each,
// in how many orders there are 0, 1, 2 … pairs the wrong way round. It is the Gaussian
// multinomial coefficient
//
//	Π(1-qⁱ), i = 1 … n, over Π(1-qⁱ), i = 1 … t, for each t
//
// as a polynomial in q.
func discordantCounts(ties []int) []*big.Int {
	n, pairs := 0, 0
	for _, t := range ties {
		pairs += n * t
		n += t
	}
	counts := make([]*big.Int, pairs+1)
	for i := range counts {
		counts[i] = new(big.Int)
	}
	counts[0].SetInt64(1)
	n = 0
	for _, t := range ties {
		for i := 1; i <= t; i++ {
			n++
			for k := pairs; k >= n; k-- {
				counts[k].Sub(counts[k], counts[k-n])
			}
			for k := i; k <= pairs; k++ {
				counts[k].Add(counts[k], counts[k-i])
			}
		}
	}
	return counts
}

// exactRank returns the largest r for which cutting off r-1 slopes at each end leaves a
// confidence of at least level, with that confidence; 0 where even cutting off none
// leaves less.
func exactRank(ties []int, level float64) (r int64, attained float64) {
	const rounding = 0x1p-52 // of 0.9 and of 1 - 2·0.05, which are to be equal
	counts := discordantCounts(ties)
	all := new(big.Int)
	for _, c := range counts {
		all.Add(all, c)
	}
	below := new(big.Int)
	for k, c := range counts {
		below.Add(below, c)
		tail, _ := new(big.Rat).SetFrac(below, all).Float64()
		confidence := 1 - 2*tail
		if confidence < level-rounding {
			return int64(k), attained
		}
		attained = confidence
	}
	return 0, 0
}
