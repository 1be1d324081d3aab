package lot

import (
	"fmt"
	"math"

	"github.com/densilot/densilot/stats"
)

// Population is a normal population of results, in the unit of the limits.
// [QualityOf] says what share of it is within them.
type Population struct{ Mean, StdDev float64 }

// PopulationWithin returns the population of pwl percent within the limits that has
// this standard deviation. With two limits two means do; the one nearer to the
// lower limit is taken, and the other has the same risks wherever nothing but these
// limits matters.
//
// Errors are [*stats.InputError] around [stats.ErrParameter], [ErrOutOfDomain]
// (a pwl that is not between 0 and 100, or more than that standard deviation can
// have between two limits, or a standard deviation so small or large beside the limits
// that no float64 is such a mean) or those of [Limits.Validate].
func PopulationWithin(pwl, stdDev float64, l Limits) (Population, error) {
	return populationWithin("lot.PopulationWithin", pwl, stdDev, l)
}

func populationWithin(fn string, pwl, stdDev float64, l Limits) (Population, error) {
	if err := checkPopulation(fn, 0, stdDev, l); err != nil {
		return Population{}, err
	}
	if !(pwl > 0 && pwl < 100) {
		return Population{}, stats.Refuse(fn, "pwl", fmt.Sprint(pwl), needs(ErrOutOfDomain, "more than 0 and less than 100"))
	}
	p := l.pair()
	mean := 0.0
	switch distance := normalDistance(100 - pwl); {
	case p.upper == nil:
		mean = p.lower.float + float64(distance*stdDev)
	case p.lower == nil:
		mean = p.upper.float - float64(distance*stdDev)
	default:
		if most := p.quality(p.middle, stdDev).PWL(); pwl > most {
			return Population{}, stats.Refuse(fn, "pwl", fmt.Sprint(pwl), fmt.Errorf("%w; a standard deviation of %v has at most %.6g between the limits", ErrOutOfDomain, stdDev, most))
		}
		mean = p.offCentre(pwl, stdDev)
	}
	if !isFinite(mean) || math.Abs(p.quality(mean, stdDev).PWL()-pwl) > mostOff {
		return Population{}, stats.Refuse(fn, "stdDev", fmt.Sprint(stdDev), fmt.Errorf("%w; no float64 is a mean with so much within the limits", ErrOutOfDomain))
	}
	return Population{mean, stdDev}, nil
}

// mostOff is how far the percentage of a population may be from the one that was asked
// for: with a standard deviation of some last places of a limit no mean comes near.
const mostOff = 1e-3

// offCentre halves the interval of means in which the percentage within rises.
func (p *limitPair) offCentre(pwl, stdDev float64) (mean float64) {
	lo, hi := p.lower.float-40*stdDev, p.middle
	for range 100 {
		middle := lo + (hi-lo)/2
		if p.quality(middle, stdDev).PWL() < pwl {
			lo = middle
		} else {
			hi = middle
		}
	}
	return hi
}

// PopulationsWithin returns the populations of evenly spaced percentages within the
// limits, lo and hi included, that share a standard deviation: the x axis of a
// [Plan.Risk] curve. Made for several standard deviations, they show what a plan
// does if the spread is not the one it was made for.
//
// Errors are those of [PopulationWithin] and [QualityRange].
func PopulationsWithin(lo, hi float64, points int, stdDev float64, l Limits) ([]Population, error) {
	const fn = "lot.PopulationsWithin"
	qualities, err := QualityRange(lo, hi, points, QualityOneLimit)
	if err != nil {
		return nil, stats.Renamed(err, fn, "")
	}
	populations := make([]Population, points)
	for i, q := range qualities {
		if populations[i], err = populationWithin(fn, q.PWL(), stdDev, l); err != nil {
			return nil, err
		}
	}
	return populations, nil
}
