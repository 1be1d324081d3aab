package lot

import (
	"fmt"
	"math"
	"math/rand/v2"

	"github.com/densilot/densilot/stats"
)

// JointSource draws the results of one lot for several characteristics. The zero
// value draws none and is refused; make one with [SeparateLots], [CorrelatedLots] or
// [JointLots].
type JointSource struct {
	characteristics int
	draw            func(results [][]float64, random *rand.Rand)
}

// JointLots draws so many characteristics by a function: results[c] are those of
// characteristic c, sublot by sublot, from random and from nothing else.
// [SimulatePlans] calls it from several goroutines at once.
func JointLots(characteristics int, draw func(results [][]float64, random *rand.Rand)) JointSource {
	return JointSource{characteristics, draw}
}

// SeparateLots draws each characteristic from a source of its own, independent of
// the others. One source is the way to simulate a single plan.
func SeparateLots(sources ...LotSource) JointSource {
	for _, s := range sources {
		if s == nil {
			return JointSource{} // refused by SimulatePlans
		}
	}
	sources = append([]LotSource(nil), sources...)
	return JointSource{len(sources), func(results [][]float64, random *rand.Rand) {
		for c := range results {
			sources[c](results[c], random)
		}
	}}
}

// CorrelatedLots draws normal results whose characteristics go together within a
// sublot: correlation[i][j] is that of characteristics i and j, such as density
// with air voids; sublots are independent.
//
// Errors are [*stats.InputError] around [stats.ErrTooFew] (no population),
// [stats.ErrParameter] (a population), [stats.ErrLength] (correlation is not square
// with a row for each), or
// [ErrOutOfDomain] (not symmetric, other than 1 along the diagonal, or no
// correlation that there can be).
func CorrelatedLots(populations []Population, correlation [][]float64) (JointSource, error) {
	const fn = "lot.CorrelatedLots"
	for i, p := range populations {
		if !isFinite(p.Mean) || !(p.StdDev > 0) || math.IsInf(p.StdDev, 1) {
			return JointSource{}, refuseAt(fn, "populations", i, fmt.Sprintf("%v, %v", p.Mean, p.StdDev), needs(stats.ErrParameter, "a finite mean and a standard deviation above 0"))
		}
	}
	if len(populations) == 0 {
		return JointSource{}, stats.Refuse(fn, "populations", "", fmt.Errorf("%w (have 0, need 1)", stats.ErrTooFew))
	}
	factor, err := correlationRoot(fn, len(populations), correlation)
	if err != nil {
		return JointSource{}, err
	}
	populations = append([]Population(nil), populations...)
	return JointSource{len(populations), func(results [][]float64, random *rand.Rand) {
		for i := range results[0] {
			for c := range results {
				results[c][i] = random.NormFloat64()
			}
			for c := len(results) - 1; c >= 0; c-- { // from the last, which needs those before it
				z := 0.0
				for k, f := range factor[c] {
					z += float64(f * results[k][i])
				}
				results[c][i] = populations[c].Mean + float64(populations[c].StdDev*z)
			}
		}
	}}, nil
}

// correlationRoot returns the lower triangle L with L·Lᵀ the correlation, row by
// row (Cholesky). A characteristic that the ones before it settle has a 0 there.
func correlationRoot(fn string, size int, correlation [][]float64) ([][]float64, error) {
	if len(correlation) != size {
		return nil, stats.Refuse(fn, "correlation", fmt.Sprintf("%d rows", len(correlation)), fmt.Errorf("%w; need %d", stats.ErrLength, size))
	}
	root := make([][]float64, size)
	for i, row := range correlation {
		if len(row) != size {
			return nil, refuseAt(fn, "correlation", i, fmt.Sprintf("%d elements", len(row)), fmt.Errorf("%w; need %d", stats.ErrLength, size))
		}
		root[i] = make([]float64, i+1)
		for j := range i + 1 {
			if !(len(correlation[j]) == size && row[j] == correlation[j][i] && math.Abs(row[j]) <= 1 && (i != j || row[j] == 1)) {
				return nil, refuseAt(fn, "correlation", i, fmt.Sprint(row[j]), needs(ErrOutOfDomain, "-1 to 1, 1 on the diagonal, and the same above and below it"))
			}
			left := row[j]
			for k := range j {
				left -= float64(root[i][k] * root[j][k])
			}
			switch {
			case i == j && left < -1e-9, i != j && root[j][j] == 0 && math.Abs(left) > 1e-9:
				return nil, refuseAt(fn, "correlation", i, "", fmt.Errorf("%w: there are no characteristics with these correlations", ErrOutOfDomain))
			case i == j:
				root[i][j] = math.Sqrt(max(0, left))
			case root[j][j] > 0:
				root[i][j] = left / root[j][j]
			}
		}
		if root[i][i] < 1e-7 {
			root[i][i] = 0
		}
	}
	return root, nil
}
