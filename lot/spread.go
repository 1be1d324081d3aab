package lot

import "fmt"

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
			return nil, refuseAt(fn, "stdDevs", i, fmt.Sprint(s), err)
		}
		qualities[i] = l.pair().quality(mean, s)
	}
	return qualities, nil
}
