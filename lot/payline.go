package lot

import (
	"fmt"
	"math"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
)

// PayLine is a straight pay schedule without steps,
//
//	factor = min(Cap, Intercept + Slope·PWL)
//
// with 1 for full pay and the PWL in percent.
type PayLine struct{ Intercept, Slope, Cap float64 }

// FairPayLine returns the intercept with which a line of that slope, not above
// maximum, pays exactly 1 on average where the true quality is that of e, the
// acceptable quality level. maximum may be +Inf for no cap; then the intercept is
// 1 - slope·PWL, for the estimate is unbiased, and Cap is [math.MaxFloat64]. A cap of 1 or less leaves no bonus
// to make up for the deductions that chance brings, and no line is fair.
//
// slope is per percentage point, such as 0.005. The mean factor is within 1e-10
// of 1.
//
// Errors are [*stats.InputError] around [ErrEmptyRisk], [ErrOutOfDomain] (slope
// not positive, maximum not above 1).
func FairPayLine(e Estimator, slope, maximum float64) (PayLine, error) {
	const fn = "lot.FairPayLine"
	switch err := e.check(fn); {
	case err != nil:
		return PayLine{}, err
	case !(slope > 0 && slope <= 1):
		return PayLine{}, stats.Refuse(fn, "slope", fmt.Sprint(slope), needs(ErrOutOfDomain, "more than 0 and at most 1"))
	case !(maximum > 1):
		return PayLine{}, stats.Refuse(fn, "maximum", fmt.Sprint(maximum), needs(ErrOutOfDomain, "more than 1"))
	}
	line := PayLine{Intercept: 1 - slope*e.quality.PWL(), Slope: slope, Cap: min(maximum, math.MaxFloat64)}
	if line.Cap == math.MaxFloat64 {
		return line, nil
	}
	// The mean factor is a concave function of the intercept and here at most 1, so
	// that Newton's steps rise to the root and never beyond.
	for range 100 {
		mean, rise := line.mean(&e)
		if !(1-mean > 1e-13 && rise > 0) {
			break
		}
		line.Intercept += (1 - mean) / rise
	}
	return line, nil
}

// mean returns the mean factor, that of the line less what the cap takes off,
// slope·∫ P(estimate ≥ x) dx from where the line meets the cap, and how much it
// rises with the intercept.
func (l PayLine) mean(e *Estimator) (mean, rise float64) {
	meets := (l.Cap - l.Intercept) / l.Slope
	capped := e.overEstimates(meets, 100, func(_, atLeast, _ float64) float64 { return atLeast })
	rise = 1
	if meets <= 100 {
		rise = 1 - e.atLeast(meets)
	}
	return l.Intercept + l.Slope*(e.quality.PWL()-capped), rise
}

// Schedule returns the line as a pay schedule over PWL from 0, for a plan or for
// [ExpectedPay]. Its numbers are the shortest decimals of those of the line; round
// the intercept before where a contract is to print fewer digits.
//
// Errors are [*stats.InputError] around [stats.ErrNotFinite] or [ErrDigits].
func (l PayLine) Schedule() (Schedule, error) {
	const fn = "lot.PayLine.Schedule"
	if !isFinite(l.Intercept) || !isFinite(l.Slope) || !isFinite(l.Cap) {
		return Schedule{}, stats.Refuse(fn, "l", fmt.Sprint(l.Intercept, l.Slope, l.Cap), stats.ErrNotFinite)
	}
	row := Segment{From: decimal.Zero, Pay: Formula(decimal.NewFromFloat(l.Intercept), decimal.NewFromFloat(l.Slope))}
	if l.Cap < math.MaxFloat64 {
		most := decimal.NewFromFloat(l.Cap)
		row.Max = &most
	}
	s, err := NewSchedule(row)
	return s, stats.Renamed(err, fn, "")
}
