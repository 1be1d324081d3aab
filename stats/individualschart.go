package stats

import "math"

// The range of two values from a normal population is |Z|·√2 standard deviations: its
// mean is d₂ and its standard deviation d₃ of them.
var (
	rangeMeanOfTwo = 2 / math.Sqrt(math.Pi)   // d₂ = 1.12838…
	rangeSDOfTwo   = math.Sqrt(2 - 4/math.Pi) // d₃ = 0.85250…
)

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
	if !(multiple > 0) || math.IsInf(multiple, 1) {
		return IndividualsChart{}, refuse(fn, "multiple", text(multiple), ErrParameter)
	}
	c := IndividualsChart{N: len(xs), Mean: pairMean(xs).hi, Multiple: multiple}
	for i, x := range xs[1:] {
		c.MovingRanges = append(c.MovingRanges, math.Abs(x-xs[i]))
	}
	c.MeanRange = pairMean(c.MovingRanges).hi
	c.Sigma = c.MeanRange / rangeMeanOfTwo
	half := multiple * c.Sigma
	c.Limits = Interval{Lo: c.Mean - half, Hi: c.Mean + half, Level: 1 - 2*normalTail(multiple)}
	c.RangeLimit = c.MeanRange + multiple*rangeSDOfTwo*c.Sigma
	if !areFinite(c.Limits.Lo, c.Limits.Hi, c.RangeLimit) {
		return IndividualsChart{}, refuse(fn, "xs", "", ErrOverflow)
	}
	c.mark(xs)
	return c, nil
}

// fewForChart is the number of values from which limits are usually trusted.
const fewForChart = 20

func (c *IndividualsChart) mark(xs []float64) {
	for i, x := range xs {
		if !c.Limits.Contains(x) {
			c.Outside = append(c.Outside, i)
		}
	}
	for i, r := range c.MovingRanges {
		if r > c.RangeLimit {
			c.OutsideRanges = append(c.OutsideRanges, i)
		}
	}
	if c.MeanRange == 0 {
		c.Warnings = append(c.Warnings, Warning{Code: WarnConstant, Text: "all values are equal, so the limits have no width; check that they are separate measurements"})
	}
	if c.N < fewForChart {
		c.Warnings = append(c.Warnings, Warning{Code: WarnSmallN, Text: "limits from fewer than 20 values are uncertain by a fifth and more; 20 to 30 would do"})
	}
}
