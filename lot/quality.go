package lot

import (
	"fmt"
	"math"

	"github.com/densilot/densilot/stats"
)

// Quality is the true quality of a normal population: what percentage of it lies
// below the lower and above the upper limit. With n it settles the distribution
// of the estimate, whatever the limits, the mean and the standard deviation are.
// The zero value is a population that lies within its limits as a whole; with one
// limit the other percentage is 0.
type Quality struct{ Below, Above float64 }

// PWL returns the percentage within the limits.
func (q Quality) PWL() float64 { return max(0, 100-q.Below-q.Above) }

// Validate refuses percentages that are negative, NaN or more than 100 together;
// the error wraps [ErrOutOfDomain].
func (q Quality) Validate() error {
	// 100 is not exact: the two come from tails that are rounded each.
	if q.Below >= 0 && q.Above >= 0 && q.Below+q.Above <= 100*(1+1e-15) {
		return nil
	}
	return fmt.Errorf("%w (%v below, %v above); need percentages, at most 100 together", ErrOutOfDomain, q.Below, q.Above)
}

// QualityOneLimit returns the quality of a population with pwl percent within its
// only limit.
func QualityOneLimit(pwl float64) Quality { return Quality{Below: 100 - pwl} }

// QualityCentred returns the quality of a population in the middle of two limits,
// with pwl percent within them.
func QualityCentred(pwl float64) Quality { return Quality{Below: 50 - pwl/2, Above: 50 - pwl/2} }

// standardNormal is shared; it does not change.
var standardNormal = func() stats.Normal {
	d, _ := stats.NewNormal(0, 1) // 0 and 1 are never refused
	return d
}()

// QualityOf returns the quality of a normal population with that mean and
// standard deviation, both in the unit of the limits,
//
//	below = 100·Φ((L-μ)/σ),   above = 100·Φ((μ-U)/σ)
//
// Errors are [*stats.InputError] around [stats.ErrNotFinite],
// [stats.ErrParameter] (a standard deviation that is not positive) or those of
// [Limits.Validate].
func QualityOf(mean, stdDev float64, l Limits) (Quality, error) {
	const fn = "lot.QualityOf"
	if err := checkPopulation(fn, mean, stdDev, l); err != nil {
		return Quality{}, err
	}
	return l.pair().quality(mean, stdDev), nil
}

func checkPopulation(fn string, mean, stdDev float64, l Limits) error {
	switch {
	case l.Validate() != nil:
		return stats.Refuse(fn, "l", "", l.Validate())
	case !isFinite(mean):
		return stats.Refuse(fn, "mean", fmt.Sprint(mean), stats.ErrNotFinite)
	case !(stdDev > 0) || math.IsInf(stdDev, 1):
		return stats.Refuse(fn, "stdDev", fmt.Sprint(stdDev), needs(stats.ErrParameter, "a positive number"))
	}
	return nil
}

func (p *limitPair) quality(mean, stdDev float64) (q Quality) {
	if p.lower != nil {
		q.Below = 100 * normalBelow((p.lower.float-mean)/stdDev)
	}
	if p.upper != nil {
		q.Above = 100 * normalBelow((mean-p.upper.float)/stdDev)
	}
	return q
}

// normalBelow returns Φ(x), for infinite x too.
func normalBelow(x float64) float64 { return 0.5 * math.Erfc(-x/math.Sqrt2) }

// normalDistance returns the z with P(Z > z) = percent/100, +Inf for 0.
func normalDistance(percent float64) float64 {
	switch {
	case percent <= 0:
		return math.Inf(1)
	case percent >= 100:
		return math.Inf(-1)
	}
	z, _ := standardNormal.UpperQuantile(percent / 100) // a fraction is never refused
	return z
}

// QualityOffCentre returns the quality of a population of pwl percent within two
// limits and a known standard deviation, which leaves two places for its mean: the
// one nearer to the lower limit is taken, and the other has the same risks. With
// one limit the standard deviation makes no difference.
//
// Errors are [*stats.InputError] around [stats.ErrParameter], [ErrOutOfDomain]
// (a pwl that is not between 0 and 100, or more than that standard deviation can
// have) or those of [Limits.Validate].
func QualityOffCentre(pwl, stdDev float64, l Limits) (Quality, error) {
	const fn = "lot.QualityOffCentre"
	p, err := populationWithin(fn, pwl, stdDev, l)
	if err != nil {
		return Quality{}, err
	}
	switch pair := l.pair(); {
	case pair.upper == nil:
		return QualityOneLimit(pwl), nil
	case pair.lower == nil:
		return Quality{Above: 100 - pwl}, nil
	default:
		return pair.quality(p.Mean, p.StdDev), nil
	}
}

// QualitiesOverSpread returns the true quality of populations with one mean and
// each of the standard deviations, in the unit of the limits. [AcceptanceCurve]
// and [PayCurve] of it say what a plan does if the spread is not the one that it
// was made for. At one quality with one limit the spread makes no difference;
// [QualityOffCentre] says what it does with two.
//
// Errors are [*stats.InputError] around those of [QualityOf], with the index of
// the standard deviation.
func QualitiesOverSpread(mean float64, stdDevs []float64, l Limits) ([]Quality, error) {
	const fn = "lot.QualitiesOverSpread"
	qualities := make([]Quality, len(stdDevs))
	for i, s := range stdDevs {
		if err := checkPopulation(fn, mean, s, l); err != nil {
			return nil, ofSpread(err, i)
		}
		qualities[i] = l.pair().quality(mean, s)
	}
	return qualities, nil
}

// ofSpread says of a standard deviation where in the list it stands.
func ofSpread(err error, i int) error {
	if e, ok := err.(*stats.InputError); ok && e.Arg == "stdDev" {
		e.Arg, e.Index = "stdDevs", i
	}
	return err
}
