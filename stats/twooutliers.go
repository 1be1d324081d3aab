package stats

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// TwoOutliersResult is the outcome of [TwoOutliers].
type TwoOutliersResult struct {
	Summary
	Indices  [2]int // positions in xs of the suspects, the more extreme first
	Ratio    float64
	Critical float64 // Ratio at which P equals Alpha
	P        float64 // probability of a ratio this small without any outlier
	Side     Side    // Low or High
	Alpha    float64
	Outliers bool // P is at most Alpha
	Warnings []Warning
}

// MostForTwoOutliers bounds the cost of [TwoOutliers], which rises with n; there it takes
// some 50 ms.
const MostForTwoOutliers = 300

// TwoOutliers tests whether the two smallest values of xs, or the two largest, are
// together too far out to belong to the same normal population as the rest. Two
// outliers on one side hide each other from [Grubbs]; this test sees them:
//
//	ratio = Σ(x-x̄')²/Σ(x-x̄)²
//
// above without the two, with the mean x̄' of the rest, below with all. Small ratios
// are suspicious. p and the critical value come from integrating the exact
// distribution, one deviation at a time, to 1e-6 of themselves; nothing is looked up.
//
// xs holds 4 to 300 finite values in any order and is not changed. side is [Low] or
// [High]; alpha is the significance as a fraction in (0, 1). It assumes a normal
// population and that the number and side of the suspects was not chosen after
// looking: a person who tries one and two, low and high, tests at some four times
// alpha. Equal values throughout are no outliers: p is 1 and Warnings holds
// [WarnConstant].
//
// Errors are [*InputError] around [ErrTooFew], [ErrNotFinite], [ErrLevel],
// [ErrParameter] (side, or more than 300 values) or [ErrOverflow].
//
// Source: F. E. Grubbs, Annals of Mathematical Statistics 21 (1950) 27, and ASTM
// E178 for the ratio (from memory); the integration is described beside the code.
func TwoOutliers(xs []float64, side Side, alpha float64) (TwoOutliersResult, error) {
	const fn = "stats.TwoOutliers"
	d, critical, err := twoOutliersCritical(fn, "xs", len(xs), side, alpha)
	if err != nil {
		return TwoOutliersResult{}, err
	}
	s, err := summarize(fn, "xs", xs)
	if err != nil {
		return TwoOutliersResult{}, err
	}
	r := TwoOutliersResult{Summary: s, Indices: twoExtremes(xs, side), Ratio: 1, Critical: critical, P: 1, Side: side, Alpha: alpha}
	if s.StdDev == 0 {
		r.Warnings = append(r.Warnings, Warning{Code: WarnConstant, Text: "all values are equal, so none is an outlier"})
		return r, nil
	}
	r.Ratio = restRatio(xs, r)
	if r.P = 0; r.Ratio > 0 { // else the rest has no spread, which has probability 0
		r.P = d.ratioCDF(r.Ratio)
	}
	r.Outliers = r.P <= alpha
	r.Warnings = r.doubts(xs)
	return r, nil
}

// TwoOutliersCritical returns the ratio that [TwoOutliers] compares with for n
// values, 4 to 300, which is the same for either side. The errors are those of
// TwoOutliers.
func TwoOutliersCritical(n int, alpha float64) (float64, error) {
	_, critical, err := twoOutliersCritical("stats.TwoOutliersCritical", "n", n, Low, alpha)
	return critical, err
}

func twoOutliersCritical(fn, arg string, n int, side Side, alpha float64) (twoDeviations, float64, error) {
	switch {
	case side != Low && side != High:
		return twoDeviations{}, 0, outOfRange(fn, "side", side.String(), oneSide)
	case n < 4:
		return twoDeviations{}, 0, tooFew(fn, arg, n, 4)
	case n > MostForTwoOutliers:
		return twoDeviations{}, 0, Refuse(fn, arg, "", fmt.Errorf("%w (%d values, at most %d)", ErrParameter, n, MostForTwoOutliers))
	}
	if err := checkFraction(fn, "alpha", alpha); err != nil {
		return twoDeviations{}, 0, err
	}
	d := newTwoDeviations(n)
	return d, d.ratioQuantile(alpha), nil
}

func twoExtremes(xs []float64, side Side) [2]int {
	order := make([]int, len(xs))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		if side == High {
			i, j = j, i
		}
		return cmp.Compare(xs[i], xs[j])
	})
	return [2]int{order[0], order[1]}
}

// restRatio takes the sum of squares of the rest from the rest itself.
func restRatio(xs []float64, r TwoOutliersResult) float64 {
	rest := make([]float64, 0, len(xs)-2)
	for i, x := range xs {
		if i != r.Indices[0] && i != r.Indices[1] {
			rest = append(rest, x)
		}
	}
	d, err := describe("", "", rest) // cannot fail where all of xs did not
	if err != nil {
		return 1
	}
	ratio := d.StdDev / r.StdDev
	return min(1, ratio*ratio*float64(r.N-3)/float64(r.N-1))
}

func (r TwoOutliersResult) doubts(xs []float64) (ws []Warning) {
	if r.N <= fewForOutliers {
		ws = append(ws, Warning{Code: WarnSmallN, Text: fmt.Sprintf("with %d values two of them are a large part of all: the test says little here", r.N)})
	}
	if n := count(xs, xs[r.Indices[1]]); n > 2 || n > 1 && xs[r.Indices[0]] != xs[r.Indices[1]] {
		ws = append(ws, Warning{Code: WarnTies, Text: fmt.Sprintf("%d values tie for the second most extreme; the first is taken", n)})
	}
	return ws
}

// twoDeviations is the joint distribution of the scaled deviations u of the least of
// n values and v of the least of the other n-1, each from the mean of its own n or
// n-1. The configuration of the rest is independent of u but for being no lower than
// the least, which is v ≤ reach(n, u); and ratio = (1-u²)(1-v²).
type twoDeviations struct {
	n    int
	rest deviationTable // of n-1 values
}

func newTwoDeviations(n int) twoDeviations {
	return twoDeviations{n: n, rest: newDeviationTable(n - 1)}
}

// ratioCDF returns P(ratio ≤ r) = ∫ n·f(u)·P(v(r, u) < V ≤ reach(n, u)) du, where
// v² = 1 - r/(1-u²).
func (d twoDeviations) ratioCDF(r float64) float64 {
	beta := newSymmetricBeta(float64(d.n)/2 - 1)
	f := func(u float64) float64 {
		square := max(0, 1-r/((1-u)*(1+u)))
		return beta.density(u) * max(0, d.rest.above(math.Sqrt(square))-d.rest.above(reach(d.n, u)))
	}
	p, from := 0.0, 1/float64(d.n-1)
	for _, to := range d.bends(r) {
		p += integral(f, from, to)
		from = max(from, to)
	}
	return min(1, max(float64(d.n)*p, leastTail))
}

// bends returns the u, in order, at which the integrand of ratioCDF is not smooth:
// where v comes up to reach(n, u), where that comes to 1, where v comes down to the
// limit and to the least of the rest, where it comes to 0, and the end.
func (d twoDeviations) bends(r float64) []float64 {
	limit := math.Sqrt(float64(d.n-2) / float64(2*(d.n-1)))
	atV := func(v float64) float64 { return math.Sqrt(max(0, 1-r/(1-v*v))) }
	bends := []float64{limit * math.Sqrt(1-r), limit, atV(d.rest.limit), atV(d.rest.least), atV(0), 1}
	slices.Sort(bends)
	return bends
}

// ratioQuantile searches in ln r, in which the score is nearly straight.
func (d twoDeviations) ratioQuantile(alpha float64) float64 {
	z := normalScore(alpha, 1-alpha)
	lnR := increasingRoot(func(lnR float64) float64 {
		p := d.ratioCDF(math.Exp(min(lnR, 0)))
		return normalScore(p, 1-p) - z
	}, -1, 0.5, 1e-9)
	return math.Exp(min(lnR, 0))
}
