package stats

import "math"

// IndividualsChart is a chart of single values and of the ranges between neighbours.
type IndividualsChart struct {
	N             int
	Mean          float64
	MovingRanges  []float64 // |xᵢ₊₁ - xᵢ|, N-1 of them
	MeanRange     float64
	Sigma         float64  // MeanRange/d₂, the short-term standard deviation
	Limits        Interval // Mean ± Multiple·Sigma; Level is what normal values in control keep
	RangeLimit    float64  // above which a range is out; the lower limit is 0
	Multiple      float64
	Outside       []int // positions of values outside Limits
	OutsideRanges []int // positions in MovingRanges above RangeLimit
	Warnings      []Warning
}

// NewIndividualsChart returns the limits of an individuals and moving-range chart for
// values in the order they were taken:
//
//	x̄ ± L·R̄/d₂,   R̄·(1 + L·d₃/d₂),   d₂ = 2/√π,   d₃ = √(2-4/π)
//
// with R̄ the mean of the ranges |xᵢ₊₁-xᵢ| and L the multiple, usually 3, positive. The
// constants are not rounded: printed tables use d₂ = 1.128 and, for L = 3, 1+L·d₃/d₂ =
// 3.267, which moves the limits by 0.03 %. xs holds n ≥ 2 finite values and is not
// changed. A slow drift hardly shows in R̄ and so ends up outside the limits; that is
// the use of the chart. With fewer than 20 values the limits themselves are uncertain
// ([WarnSmallN]). Equal values leave no width ([WarnConstant]).
//
// Errors are [*InputError] around [ErrTooFew], [ErrNotFinite], [ErrParameter] or
// [ErrOverflow].
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2. d₃ from the half-normal
// distribution.
func NewIndividualsChart(xs []float64, multiple float64) (IndividualsChart, error) {
	const fn = "stats.NewIndividualsChart"
	if len(xs) < 2 {
		return IndividualsChart{}, tooFew(fn, "xs", len(xs), 2)
	}
	if err := checkFinite(fn, "xs", xs); err != nil {
		return IndividualsChart{}, err
	}
	if err := checkMultiple(fn, "multiple", multiple); err != nil {
		return IndividualsChart{}, err
	}
	c := IndividualsChart{N: len(xs), Mean: pairMean(xs).hi, Multiple: multiple}
	for i, x := range xs[1:] {
		c.MovingRanges = append(c.MovingRanges, math.Abs(x-xs[i]))
	}
	c.MeanRange = pairMean(c.MovingRanges).hi
	c.Sigma = c.MeanRange / rangeMean(2)
	c.Limits = limitsAbout(c.Mean, multiple*c.Sigma, multiple)
	c.RangeLimit = c.MeanRange + float64(multiple*rangeStdDev(2)*c.Sigma)
	if !areFinite(c.Limits.Lo, c.Limits.Hi, c.RangeLimit) {
		return IndividualsChart{}, Refuse(fn, "xs", "", ErrOverflow)
	}
	c.Outside = c.Limits.outside(xs)
	c.OutsideRanges = Interval{Hi: c.RangeLimit}.outside(c.MovingRanges)
	c.Warnings = chartWarnings(c.N, "values", c.MeanRange)
	return c, nil
}
