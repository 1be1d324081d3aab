package lot

import (
	"fmt"

	"github.com/densilot/densilot/stats"
)

// AcceptanceCurve fills dst with the operating characteristic of a plan that
// accepts a lot whose estimate from n ≥ 3 results is at least acceptAt percent:
// dst[i] is the probability of acceptance at qualities[i], ready to be plotted
// against qualities[i].PWL(). It allocates nothing. With one limit a point costs
// some 0.25 µs at n = 5, with two limits some 20 µs; the errors are those of
// [Estimator].
//
// Errors are [*stats.InputError] around [stats.ErrTooFew], [stats.ErrLength]
// (dst and qualities differ in length) or [ErrOutOfDomain]; dst is then filled up
// to the quality that was refused.
func AcceptanceCurve(dst []float64, qualities []Quality, n int, acceptAt float64) error {
	const fn = "lot.AcceptanceCurve"
	if err := checkPercent(fn, "acceptAt", acceptAt); err != nil {
		return err
	}
	e, err := curveEstimator(fn, n, len(dst), len(qualities))
	if err != nil {
		return err
	}
	if acceptAt == 0 {
		acceptAt = -1 // every estimate, without a quantile
	}
	y, _ := e.kernel.beta.Quantile(max(0, acceptAt/100))
	for i, q := range qualities {
		if err := q.Validate(); err != nil {
			return refuseAt(fn, "qualities", i, "", err)
		}
		if dst[i] = 1; acceptAt > 0 {
			e.setQuality(q)
			_, dst[i] = e.tails(y)
		}
	}
	return nil
}

// PayCurve fills dst with what a schedule does at each quality, as [ExpectedPay]
// does for one. It allocates nothing.
//
// Errors are those of ExpectedPay and [AcceptanceCurve].
func PayCurve(dst []Pay, qualities []Quality, n int, s Schedule, r Retesting) error {
	const fn = "lot.PayCurve"
	if err := checkPayment(fn, s, r); err != nil {
		return err
	}
	e, err := curveEstimator(fn, n, len(dst), len(qualities))
	if err != nil {
		return err
	}
	for i, q := range qualities {
		if err := q.Validate(); err != nil {
			return refuseAt(fn, "qualities", i, "", err)
		}
		e.setQuality(q)
		if dst[i], err = e.pay(fn, s, r); err != nil {
			return err
		}
	}
	return nil
}

// curveEstimator returns an estimator whose quality is still to be set.
func curveEstimator(fn string, n, have, need int) (Estimator, error) {
	if have != need {
		return Estimator{}, stats.Refuse(fn, "dst", fmt.Sprintf("%d elements", have), fmt.Errorf("%w; need one for each of %d qualities", stats.ErrLength, need))
	}
	return newEstimator(fn, n, Quality{})
}

// QualityRange returns so many qualities with the percentages within evenly spaced
// from lo to hi, both included, made by at: [QualityOneLimit] or
// [QualityCentred], or a function of the caller's own. It is the x axis of a
// curve; 101 of them from 0 to 100 stand at the whole percentages.
//
// Errors are [*stats.InputError] around [ErrOutOfDomain] (lo and hi are not
// percentages in this order, or fewer than 2 or more than a million points).
func QualityRange(lo, hi float64, points int, at func(pwl float64) Quality) ([]Quality, error) {
	const fn = "lot.QualityRange"
	if err := checkPercent(fn, "lo", lo); err != nil {
		return nil, err
	}
	if err := checkPercent(fn, "hi", hi); err != nil {
		return nil, err
	}
	if lo >= hi || points < 2 || points > 1_000_000 || at == nil {
		return nil, stats.Refuse(fn, "points", fmt.Sprintf("%d from %v to %v", points, lo, hi), needs(ErrOutOfDomain, "2 to 1000000 from a lower to a higher percentage, and a function at"))
	}
	qualities := make([]Quality, points)
	for i := range qualities {
		share := float64(i) / float64(points-1)
		qualities[i] = at(float64(lo*(1-share)) + float64(hi*share))
	}
	return qualities, nil
}
