package stats

import "errors"

// TrendResult is a straight line over time with what it amounts to.
type TrendResult struct {
	Fit      LineFit
	Slope    CoefficientTest // against 0: P is that of no trend
	Change   float64         // Slope times the time from the first to the last value
	ChangeCI Interval
	Serial   SerialTest // von Neumann's ratio of the residuals in order of time, side Low
}

// Trend fits a line to values over the times they were taken, in any unit and any order,
// and says how far they moved from the first to the last:
//
//	change = b₁·(t_max - t_min)
//
// with the t interval of the slope at the level. times and xs hold n ≥ 4 finite values,
// the times not all equal; nothing is changed. It assumes independent normal errors
// about the line. Serial looks whether residuals in order of time (as given where times
// are equal) hang together, which would make the interval too short; its P takes them
// for a sample and is a little too large for the two degrees of freedom the line takes
// off. After an exact fit Serial is left zero.
//
// Errors are those of [FitLine] and [LineFit.SlopeAgainst].
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.4.4.
func Trend(times, xs []float64, level float64) (TrendResult, error) {
	const fn = "stats.Trend"
	if err := checkPoints(fn, times, xs, 4); err != nil {
		return TrendResult{}, overTime(err)
	}
	fit, err := fitLine(fn, times, xs, pairMean(times), pairMean(xs), 2)
	if err != nil {
		return TrendResult{}, overTime(err)
	}
	r := TrendResult{Fit: fit}
	if r.Slope, err = coefficientAgainst(fn, fit.Slope, fit.Residual.DF, 0, level); err != nil {
		return TrendResult{}, err
	}
	span := fit.MaxX - fit.MinX
	r.Change = span * fit.Slope.Value
	r.ChangeCI = Interval{Lo: span * r.Slope.CI.Lo, Hi: span * r.Slope.CI.Hi, Level: level}
	if !areFinite(r.Change, r.ChangeCI.Lo, r.ChangeCI.Hi) {
		return TrendResult{}, Refuse(fn, "times", "", ErrOverflow)
	}
	if fit.ResidualSD > 0 {
		r.Serial, err = VonNeumann(fit.residualsInOrder(times, xs), Low)
	}
	return r, err
}

// overTime gives an error about points the names that they have in [Trend].
func overTime(err error) error {
	var e *InputError
	if !errors.As(err, &e) {
		return err
	}
	renamed := *e
	switch e.Arg {
	case "xs":
		renamed.Arg = "times"
	case "ys":
		renamed.Arg = "xs"
	}
	return &renamed
}

// residualsInOrder returns the residuals in units of their standard deviation, sorted
// by x.
func (f LineFit) residualsInOrder(xs, ys []float64) []float64 {
	var residuals []float64
	meanY := pairMean(ys).hi // offsets from the means keep their digits where times are far from 0
	for _, level := range groupByX(xs, ys) {
		for _, y := range level.ys {
			residuals = append(residuals, ((y-meanY)-f.Slope.Value*(level.x-f.MeanX))/f.ResidualSD)
		}
	}
	return residuals
}
