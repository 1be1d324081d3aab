package lot

import (
	"fmt"
	"math"
	"math/rand/v2"

	"github.com/densilot/densilot/stats"
)

// LotSource draws the results of one lot into results, from random and from
// nothing else. [Simulate] calls it from several goroutines at once.
type LotSource func(results []float64, random *rand.Rand)

// NormalLots draws independent normal results with that mean and standard
// deviation, in the unit of the limits, as are those of the other sources.
func NormalLots(mean, stdDev float64) LotSource {
	return func(results []float64, random *rand.Rand) {
		for i := range results {
			results[i] = mean + float64(stdDev*random.NormFloat64())
		}
	}
}

// SkewLots draws independent results with that mean, standard deviation and
// skewness, each the sum of a normal and an exponential part,
//
//	mean + stdDev·(√(1-r²)·Z + r·(E-1)),   2r³ = skewness
//
// The error is an [*stats.InputError] around [ErrOutOfDomain] for a skewness that
// is not between -2 and 2.
func SkewLots(mean, stdDev, skewness float64) (LotSource, error) {
	if !(math.Abs(skewness) <= 2) {
		return nil, stats.Refuse("lot.SkewLots", "skewness", fmt.Sprint(skewness), needs(ErrOutOfDomain, "-2 to 2"))
	}
	exponential := math.Cbrt(skewness / 2)
	normal := math.Sqrt((1 - exponential) * (1 + exponential))
	return func(results []float64, random *rand.Rand) {
		for i := range results {
			z := float64(normal*random.NormFloat64()) + float64(exponential*(random.ExpFloat64()-1))
			results[i] = mean + float64(stdDev*z)
		}
	}, nil
}

// TwoModeLots draws independent results that come with probability share from the
// second of two normal populations with one standard deviation, such as the
// product of two plants.
//
// The error is an [*stats.InputError] around [ErrOutOfDomain] for a share that is
// not between 0 and 1.
func TwoModeLots(first, second, share, stdDev float64) (LotSource, error) {
	if !(share >= 0 && share <= 1) {
		return nil, stats.Refuse("lot.TwoModeLots", "share", fmt.Sprint(share), needs(ErrOutOfDomain, "0 to 1"))
	}
	return func(results []float64, random *rand.Rand) {
		for i := range results {
			mean := first
			if random.Float64() < share {
				mean = second
			}
			results[i] = mean + float64(stdDev*random.NormFloat64())
		}
	}, nil
}

// SerialLots draws results that depend on the one before, a stationary
// autoregression of first order,
//
//	x_i - mean = correlation·(x_(i-1) - mean) + √(1-correlation²)·stdDev·Z_i
//
// each of which has that mean and standard deviation.
//
// The error is an [*stats.InputError] around [ErrOutOfDomain] for a correlation
// that is not between -1 and 1.
func SerialLots(mean, stdDev, correlation float64) (LotSource, error) {
	if !(math.Abs(correlation) <= 1) {
		return nil, stats.Refuse("lot.SerialLots", "correlation", fmt.Sprint(correlation), needs(ErrOutOfDomain, "-1 to 1"))
	}
	fresh := math.Sqrt((1 - correlation) * (1 + correlation))
	return func(results []float64, random *rand.Rand) {
		z := random.NormFloat64()
		for i := range results {
			if i > 0 {
				z = float64(correlation*z) + float64(fresh*random.NormFloat64())
			}
			results[i] = mean + float64(stdDev*z)
		}
	}, nil
}

// StratifiedLots draws one result from each sublot, normal about the sublot's own
// mean. There are as many means as results; the lot is the mixture of its
// sublots, so that the estimate is no longer unbiased for it.
//
// The error is an [*stats.InputError] around [stats.ErrTooFew] for fewer than 3
// means.
func StratifiedLots(means []float64, stdDev float64) (LotSource, error) {
	if len(means) < 3 {
		return nil, tooFew("lot.StratifiedLots", "means", len(means))
	}
	means = append([]float64(nil), means...)
	return func(results []float64, random *rand.Rand) {
		for i := range results {
			results[i] = means[i%len(means)] + float64(stdDev*random.NormFloat64())
		}
	}, nil
}

// WithGauge returns the lots of source as a gauge reads them: one offset for the
// whole lot, normal about 0 with standard deviation offset, and an error of each
// result with standard deviation repeatability.
func WithGauge(source LotSource, offset, repeatability float64) LotSource {
	if source == nil {
		return nil // refused by Simulate
	}
	return func(results []float64, random *rand.Rand) {
		source(results, random)
		common := offset * random.NormFloat64()
		for i := range results {
			results[i] += common + float64(repeatability*random.NormFloat64())
		}
	}
}

// lotStream starts random numbers that belong to a seed and the number of a lot,
// so that it makes no difference who draws which lot.
func lotStream(source *rand.PCG, seed uint64, index int) {
	source.Seed(spread64(seed), spread64(uint64(index)))
}

// spread64 is a bijection that spreads neighbouring numbers over all of 64 bits:
// the first output of SplitMix64 from that state.
func spread64(x uint64) uint64 {
	g := splitMix64{state: x}
	return g.next()
}
