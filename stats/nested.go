package stats

import (
	"fmt"
	"math"
)

// WarnNegative is the code of the warning that a variance was estimated below 0.
const WarnNegative WarningCode = "negative-variance"

// VarianceComponent is the part of the variance that arises at one level of a nested
// design.
type VarianceComponent struct {
	Source   VarianceSource // of the groups of this level within those of the level above
	Groups   int            // at this level; for the last component the values
	Expected []float64      // mean square expected, as multiples of this component and those below it
	Estimate float64        // as the mean squares give it, possibly negative
	Variance float64        // Estimate, or 0 where that is negative
	StdDev   float64        // √Variance
	CI       Interval       // of the variance, not below 0
	F, P     float64        // test that the component is 0; both 0 for the last one
	FDF      float64        // degrees of freedom below F, by Satterthwaite where a combination stands there
}

// NestedVariance is the result of [NestedComponents].
type NestedVariance struct {
	N          int
	Mean       float64
	MeanStdErr float64             // of Mean as an estimate for the population of top-level groups
	Components []VarianceComponent // top level first; the last is the variance of single values
	Total      float64             // sum of the Variances
	TotalDF    float64             // by Satterthwaite, 0 where the Estimates do not add up to more than 0
	TotalCI    Interval            // about the sum of the Estimates, negative ones included, which is unbiased
	Balanced   bool                // all groups of a level are alike, which makes the mean squares independent
	Method     ComponentMethod
	Warnings   []Warning
}

// NestedComponents splits the variance of values in nested groups, such as readings in
// locations in sublots in lots, into the parts that arise at each level. factors holds
// one to three slices, the outermost level first, each with the group of every value;
// a name means a group within its group above, so every lot may have its sublot "1".
// xs holds finite values; nothing is changed. Groups may differ in size (balanced or
// not) but at each level some group is divided.
//
// The estimates are those of analysis of variance: with groups g of level i of size
// n(g), the sums of squares Σ n(g)·(x̄(g)-x̄(above))² have expectations that are known
// multiples of the components, which are solved from the last level up. In balanced
// designs, if none is negative, restricted maximum likelihood gives the same. An
// Estimate below 0 is reported, with 0 as Variance and [WarnNegative]; the negative
// one goes into the levels above.
//
// Intervals use mean squares as independent multiples of chi-square, exactly so in
// balanced designs and normal populations. That of the last component is exact; a
// component above is the difference of its mean square and what would stand there
// without it, Total a sum, both by the method named. For two levels, balanced or not,
// [OneWayComponents] says more. In unbalanced designs intervals and P above the last
// two levels are approximate.
//
// Coverage by simulation, nominal 95 %, two values in each of two groups in each of k
// top groups, all three components 1, modified large sample: each component 95 % at
// k = 3, 5, 10 and 30; Total 96, 95, 95 and 95 %.
//
// Errors are [*InputError] around [ErrTooFew] (a level that divides no group),
// [ErrLength], [ErrParameter] (no factor, more than three, or no method),
// [ErrNotFinite], [ErrLevel], [ErrNoSpread], [ErrOverflow] or [ErrUnderflow].
//
// Source: S. R. Searle, G. Casella and C. E. McCulloch, Variance Components, Wiley
// 1992, chapters 4 and 5. R. K. Burdick and F. A. Graybill, Confidence Intervals on
// Variance Components, Dekker 1992, chapters 3 and 5.
func NestedComponents(xs []float64, factors [][]string, o ComponentOptions) (NestedVariance, error) {
	return nestedComponents("stats.NestedComponents", xs, factors, o)
}

func nestedComponents(fn string, xs []float64, factors [][]string, o ComponentOptions) (NestedVariance, error) {
	if err := checkNested(fn, xs, factors); err != nil {
		return NestedVariance{}, err
	}
	if err := o.check(fn); err != nil {
		return NestedVariance{}, err
	}
	tree := newNestedTree(xs, factors)
	v := NestedVariance{N: len(xs), Mean: tree.levels[0][0].mean.hi, Balanced: tree.balanced(), Method: o.Method}
	if err := tree.fill(fn, &v); err != nil {
		return NestedVariance{}, err
	}
	v.solve()
	v.infer(o)
	v.MeanStdErr = tree.meanStdErr(v.Components)
	return v, v.check(fn)
}

// solve finds the estimates from the last level up.
func (v *NestedVariance) solve() {
	for i := len(v.Components) - 1; i >= 0; i-- {
		c := &v.Components[i]
		rest := c.Source.MS
		for k, below := range v.Components[i+1:] {
			rest -= c.Expected[k+1] * below.Estimate
		}
		c.Estimate = rest / c.Expected[0]
		c.Variance = max(0, c.Estimate)
		c.StdDev = math.Sqrt(c.Variance)
		v.Total += c.Variance
		if c.Estimate < 0 {
			v.Warnings = append(v.Warnings, Warning{Code: WarnNegative, Where: fmt.Sprintf("level %d", i+1),
				Text: fmt.Sprintf("the variance was estimated as %.3g and is reported as 0; it is too small to be told from 0 by these data", c.Estimate)})
		}
	}
}

// infer adds intervals and tests.
func (v *NestedVariance) infer(o ComponentOptions) {
	last := len(v.Components) - 1
	total := make([]float64, last+1) // Total as multiples of the mean squares
	for i := range v.Components {
		c := &v.Components[i]
		weights := v.weights(i)
		own := meanSquare{ms: c.Source.MS, df: float64(c.Source.DF), factor: weights[i]}
		for k, w := range weights {
			total[k] += w
		}
		if i == last {
			c.CI = sumInterval(o.Level, own)
			break
		}
		under := v.combine(weights[i+1:], i+1, -1)
		c.test(under)
		c.CI = componentInterval(o, own, under)
	}
	v.inferTotal(total, o)
}

// weights returns the estimate of component i as multiples of all mean squares.
func (v *NestedVariance) weights(i int) []float64 {
	weights := make([]float64, len(v.Components))
	weights[i] = 1
	for k := i; k < len(weights); k++ { // row i of the inverse of the triangle Expected
		for m := i; m < k; m++ {
			weights[k] -= weights[m] * v.Components[m].Expected[k-m]
		}
		weights[k] /= v.Components[k].Expected[0]
	}
	return weights
}

// combine takes a combination of mean squares from level first on for one with the
// degrees of freedom of Satterthwaite.
func (v *NestedVariance) combine(weights []float64, first int, sign float64) meanSquare {
	parts := make([]meanSquare, len(weights))
	m := meanSquare{factor: 1}
	for k, w := range weights {
		source := v.Components[first+k].Source
		parts[k] = meanSquare{ms: source.MS, df: float64(source.DF), factor: sign * w}
		m.ms += parts[k].value()
	}
	m.df = max(satterthwaite(parts...), fewestDF)
	return m
}

// test compares the mean square with what would be expected without the component.
func (c *VarianceComponent) test(under meanSquare) {
	c.P, c.FDF = 1, under.df
	if c.Source.MS == 0 {
		return
	}
	if under.ms <= 0 {
		c.F, c.P = math.MaxFloat64, leastTail
		return
	}
	c.F = min(c.Source.MS/c.Expected[0]/under.ms, math.MaxFloat64)
	_, p := FDistribution{df1: float64(c.Source.DF), df2: under.df}.tails(c.F)
	c.P = max(p, leastTail)
}

func componentInterval(o ComponentOptions, own, under meanSquare) Interval {
	if under.ms <= 0 {
		return sumInterval(o.Level, own)
	}
	if o.Method == ModifiedLargeSample {
		return differenceInterval(o.Level, own, under)
	}
	under.factor = -1
	return satterthwaiteInterval(o.Level, own.value()-under.ms, satterthwaite(own, under))
}

// inferTotal finds the interval of the sum of all components. No weight is negative:
// a finer level never has the larger multiple in an expected mean square.
func (v *NestedVariance) inferTotal(weights []float64, o ComponentOptions) {
	var parts []meanSquare
	raw := 0.0
	for k, w := range weights {
		source := v.Components[k].Source
		raw += w * source.MS
		parts = append(parts, meanSquare{ms: source.MS, df: float64(source.DF), factor: w})
	}
	v.TotalDF = satterthwaite(parts...)
	if o.Method == ModifiedLargeSample {
		v.TotalCI = sumInterval(o.Level, parts...)
		return
	}
	v.TotalCI = satterthwaiteInterval(o.Level, raw, v.TotalDF)
}

func (v *NestedVariance) check(fn string) error {
	for _, c := range v.Components {
		if !areFinite(c.Estimate, c.CI.Lo, c.CI.Hi, c.F, c.P) {
			return Refuse(fn, "xs", "", ErrOverflow)
		}
	}
	if !areFinite(v.Mean, v.MeanStdErr, v.Total, v.TotalDF, v.TotalCI.Lo, v.TotalCI.Hi) {
		return Refuse(fn, "xs", "", ErrOverflow)
	}
	return nil
}
