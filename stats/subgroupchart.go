package stats

import (
	"fmt"
	"math"
	"slices"
)

// SpreadMeasure names what a chart of subgroups takes the spread from. The zero value is
// none and is refused.
type SpreadMeasure int

// The measures of spread.
const (
	SpreadRange  SpreadMeasure = iota + 1 // largest less smallest value; common for subgroups of at most 10
	SpreadStdDev                          // s, divisor n-1
)

// String returns "range" or "standard deviation".
func (m SpreadMeasure) String() string {
	switch m {
	case SpreadRange:
		return "range"
	case SpreadStdDev:
		return "standard deviation"
	}
	return fmt.Sprintf("SpreadMeasure(%d)", int(m))
}

// SubgroupChart is a chart of the means of subgroups and of their spreads.
type SubgroupChart struct {
	Subgroups      int
	Size           int       // values in each subgroup
	Mean           float64   // of all values
	Means          []float64 // of the subgroups
	Spreads        []float64 // of the subgroups, as Spread says
	MeanSpread     float64
	Sigma          float64  // standard deviation of one value: MeanSpread/d₂ or MeanSpread/c₄
	MeanSigma      float64  // of the mean of a subgroup, Sigma/√Size
	Limits         Interval // of means; Level is what means of normal values in control keep
	SpreadLimits   Interval // of spreads; Level likewise
	Spread         SpreadMeasure
	Multiple       float64
	Outside        []int // positions of means outside Limits
	OutsideSpreads []int // positions of spreads outside SpreadLimits
	Warnings       []Warning
}

// NewSubgroupChart returns the limits of an X̄ chart with its R or s chart for subgroups
// in the order they were taken:
//
//	R:  x̄ ± A2·R̄,  D3·R̄ to D4·R̄      s:  x̄ ± A3·s̄,  B3·s̄ to B4·s̄
//
// with the factors of [NewChartConstants] at L = multiple, usually 3, not rounded. Where
// D3 or B3 is 0 there is no lower limit. The Level of SpreadLimits is the exact
// probability for normal values: with L = 3 and five values 0.9954 for ranges and
// 0.9961 for s, not the 0.9973 of the means.
//
// subgroups holds at least two, all with the same number n ≥ 2 of finite values, and is
// not changed. The limits come from the spread within subgroups alone, so a shift
// between them ends up outside, which is the use of the chart; two gauges or two mixes
// within each subgroup would hide it. With fewer than 20 subgroups the limits are
// uncertain ([WarnSmallN]). Equal values within each subgroup leave no width
// ([WarnConstant]). For run rules hand Means, Mean and MeanSigma to [RunSignals].
// Cost: some 0.1 µs per value, and with ranges 0.7 ms for d₃ and the level.
//
// Errors are [*InputError] around [ErrTooFew], [ErrLength] (subgroups of unequal size),
// [ErrNotFinite], [ErrParameter] or [ErrOverflow].
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.1.
func NewSubgroupChart(subgroups [][]float64, spread SpreadMeasure, multiple float64) (SubgroupChart, error) {
	const fn = "stats.NewSubgroupChart"
	if err := checkSubgroups(fn, subgroups, spread, multiple); err != nil {
		return SubgroupChart{}, err
	}
	c := SubgroupChart{Subgroups: len(subgroups), Size: len(subgroups[0]), Spread: spread, Multiple: multiple}
	for i, group := range subgroups {
		d, err := describe(fn, fmt.Sprintf("subgroups[%d]", i), group)
		if err != nil {
			return SubgroupChart{}, err
		}
		c.Means = append(c.Means, d.Mean)
		if spread == SpreadRange {
			c.Spreads = append(c.Spreads, d.Max-d.Min)
		} else {
			c.Spreads = append(c.Spreads, d.StdDev)
		}
	}
	c.Mean, c.MeanSpread = pairMean(c.Means).hi, pairMean(c.Spreads).hi
	c.limit()
	if !areFinite(c.Mean, c.MeanSpread, c.Limits.Lo, c.Limits.Hi, c.SpreadLimits.Hi) {
		return SubgroupChart{}, Refuse(fn, "subgroups", "", ErrOverflow)
	}
	c.Outside, c.OutsideSpreads = c.Limits.outside(c.Means), c.SpreadLimits.outside(c.Spreads)
	c.Warnings = chartWarnings(c.Subgroups, "subgroups", c.MeanSpread)
	return c, nil
}

func checkSubgroups(fn string, subgroups [][]float64, spread SpreadMeasure, multiple float64) error {
	switch {
	case spread != SpreadRange && spread != SpreadStdDev:
		return outOfRange(fn, "spread", spread.String(), "SpreadRange or SpreadStdDev")
	case len(subgroups) < 2:
		return tooFew(fn, "subgroups", len(subgroups), 2)
	}
	size := len(subgroups[0])
	if err := checkChart(fn, "subgroups[0]", size, multiple); err != nil {
		return err
	}
	for i, group := range subgroups {
		if len(group) != size {
			return &InputError{Func: fn, Arg: "subgroups", Index: i, Err: fmt.Errorf("%w (%d values, the first has %d; leave incomplete subgroups out)", ErrLength, len(group), size)}
		}
		if err := checkFinite(fn, fmt.Sprintf("subgroups[%d]", i), group); err != nil {
			return err
		}
	}
	return nil
}

// limit finds the limits, those of the spread by its mean and standard deviation in σ.
func (c *SubgroupChart) limit() {
	var mean, stdDev float64
	if c.Spread == SpreadRange {
		mean, stdDev = rangeMean(c.Size), rangeStdDev(c.Size)
	} else {
		lnC4 := lnMeanStdDev(c.Size)
		mean, stdDev = math.Exp(lnC4), math.Sqrt(-math.Expm1(2*lnC4))
	}
	c.Sigma = c.MeanSpread / mean
	c.MeanSigma = c.Sigma / math.Sqrt(float64(c.Size))
	c.Limits = limitsAbout(c.Mean, c.Multiple*c.MeanSigma, c.Multiple)
	lower, upper := aboutOne(c.Multiple * stdDev / mean)
	c.SpreadLimits = Interval{Lo: lower * c.MeanSpread, Hi: upper * c.MeanSpread, Level: c.spreadLevel(lower*mean, upper*mean)}
}

// spreadLevel returns the probability of a spread between these, in σ.
func (c *SubgroupChart) spreadLevel(lower, upper float64) float64 {
	if c.Spread == SpreadRange {
		return rangeBelow(c.Size, upper) - rangeBelow(c.Size, lower)
	}
	df := float64(c.Size - 1)
	below, _ := newChiSquared(df).tails(df * lower * lower)
	_, above := newChiSquared(df).tails(df * upper * upper)
	return 1 - below - above
}

// limitsAbout returns limits at a multiple of a standard deviation to both sides, with
// the share of normal values between them.
func limitsAbout(centre, half, multiple float64) Interval {
	half = float64(half) // a product, not to be fused
	return Interval{Lo: centre - half, Hi: centre + half, Level: 1 - 2*normalTail(multiple)}
}

// outside returns the positions of values outside of the interval.
func (i Interval) outside(values []float64) (positions []int) {
	for k, v := range values {
		if !i.Contains(v) {
			positions = append(positions, k)
		}
	}
	return slices.Clip(positions)
}

// fewForChart is the number of points from which limits are usually trusted.
const fewForChart = 20

func chartWarnings(n int, points string, spread float64) (ws []Warning) {
	if spread == 0 {
		ws = append(ws, Warning{Code: WarnConstant, Text: "the values show no spread, so the limits have no width; check that they are separate measurements"})
	}
	if n < fewForChart {
		ws = append(ws, Warning{Code: WarnSmallN, Text: fmt.Sprintf("limits from fewer than %d %s are uncertain by a tenth and more; 20 to 30 would do", fewForChart, points)})
	}
	return ws
}
