package density

import (
	"math/big"

	"github.com/densilot/densilot/units"
)

// UnimodalFit is the curve f₁ ≤ … ≤ f_m ≥ … ≥ f_k that is nearest to the pass
// averages a by weighted least squares,
//
//	Σ n_i (a_i - f_i)²  least,   n_i readings in pass i
//
// over all modes m. For one split of the passes the rise and the fall are pooled
// isotonic regressions; the split with the least sum is taken. Everything is
// compared in exact rational arithmetic. Where two curves are equally near, the one
// that turns first is taken, which asks for fewer passes; Mode is the first pass of
// the highest level.
//
// Source: Frisén, Unimodal regression, The Statistician 35 (1986) 479-485, from
// memory; pooling of adjacent violators, Ayer et al., Annals of Mathematical
// Statistics 26 (1955) 641-647, from memory.
type UnimodalFit struct {
	Mode   int             // pass at which the fitted curve reaches its highest level
	Fitted []units.Density // by pass, in the unit of the readings
	RMS    float64         // √(Σn(a-f)²/Σn) in that unit: 0 where the averages rise and fall without a break
}

// block is a run of passes with one fitted value, sum/weight. explained is Σ of
// sum²/weight over the blocks up to this one; the greater, the nearer the fit.
type block struct {
	passes                 int
	sum, weight, explained *big.Rat
}

func newBlock(passes int, sum, weight *big.Rat, before []block) block {
	explained := new(big.Rat).Mul(sum, sum)
	explained.Quo(explained, weight)
	if len(before) > 0 {
		explained.Add(explained, before[len(before)-1].explained)
	}
	return block{passes, sum, weight, explained}
}

func (b block) mean() *big.Rat { return new(big.Rat).Quo(b.sum, b.weight) }

// rise fits a curve that never falls by pooling neighbours out of order. It
// returns the blocks and, for every number of passes taken, what the fit to just
// those explains.
func rise(averages []*big.Rat, weights []int) (blocks []block, explained []*big.Rat) {
	for i, a := range averages {
		w := ratOf(weights[i])
		b := newBlock(1, new(big.Rat).Mul(a, w), w, blocks)
		for n := len(blocks); n > 0 && blocks[n-1].mean().Cmp(b.mean()) >= 0; n = len(blocks) {
			last := blocks[n-1]
			blocks = blocks[:n-1]
			b = newBlock(last.passes+b.passes, new(big.Rat).Add(last.sum, b.sum), new(big.Rat).Add(last.weight, b.weight), blocks)
		}
		blocks = append(blocks, b)
		explained = append(explained, b.explained)
	}
	return blocks, explained
}

func fitUnimodal(averages []*big.Rat, passes []Pass, unit units.DensityUnit) UnimodalFit {
	weights := make([]int, len(passes))
	for i, pass := range passes {
		weights[i] = len(pass.Readings)
	}
	split := bestSplit(averages, weights)
	rising, _ := rise(averages[:split], weights[:split])
	falling, _ := rise(reversed(averages[split:]), reversed(weights[split:]))
	exact := append(levels(rising), reversed(levels(falling))...)
	fit := UnimodalFit{RMS: rootMeanSquare(averages, exact, weights)}
	highest := 0
	for i, f := range exact {
		fit.Fitted = append(fit.Fitted, record(f, unit))
		if f.Cmp(exact[highest]) > 0 {
			highest = i
		}
	}
	fit.Mode = highest + 1
	return fit
}

// bestSplit returns how many passes rise: the fewest where several numbers are
// equally near.
func bestSplit(averages []*big.Rat, weights []int) int {
	_, up := rise(averages, weights)
	_, down := rise(reversed(averages), reversed(weights))
	k := len(averages)
	best := k
	most := up[k-1]
	for split := k - 1; split >= 1; split-- {
		if both := new(big.Rat).Add(up[split-1], down[k-1-split]); both.Cmp(most) >= 0 {
			best, most = split, both
		}
	}
	return best
}

func levels(blocks []block) (fitted []*big.Rat) {
	for _, b := range blocks {
		for range b.passes {
			fitted = append(fitted, b.mean())
		}
	}
	return fitted
}

func rootMeanSquare(averages, fitted []*big.Rat, weights []int) float64 {
	sum, n := new(big.Rat), 0
	for i, a := range averages {
		d := new(big.Rat).Sub(a, fitted[i])
		sum.Add(sum, d.Mul(d, d).Mul(d, ratOf(weights[i])))
		n += weights[i]
	}
	return sqrt(sum.Quo(sum, ratOf(n)))
}

func reversed[T any](xs []T) []T {
	out := make([]T, len(xs))
	for i, x := range xs {
		out[len(xs)-1-i] = x
	}
	return out
}
