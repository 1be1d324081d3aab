package stats

import (
	"fmt"
	"math"
)

// FTest is the outcome of a two-sided F test of two variances, the larger over the
// smaller. F is nil where the smaller is 0: Status then is [NoVarianceEqual] if
// both are, else [NoVarianceDifferent].
type FTest struct {
	X, Y     Summary
	XLarger  bool       // whether the variance of X is on top; so it is where both are equal
	F        *Statistic // larger variance over smaller, and its two-sided p
	DF1, DF2 float64    // degrees of freedom of the variance on top and below
	CI       Interval   // of the true ratio, in the same direction; all 0 where F is nil
	Status   Status
	Warnings []Warning
}

// EqualVariances tests whether two independent samples come from populations with
// one variance:
//
//	F = s1²/s2², the larger on top,   p = 2·P(F(n1-1, n2-1) > F), at most 1
//
// which rejects at significance α where F exceeds its upper α/2 point. The
// interval of the ratio is F/F(1-α/2; n1-1, n2-1) to F·F(1-α/2; n2-1, n1-1), α = 1 -
// level. Each sample holds at least 2 finite values of one unit, in any order and
// not changed; level is a fraction in (0, 1).
//
// It assumes independent draws from normal populations, and feels it where they
// are not. A p above 1 - level carries [WarnNotRejected].
//
// Errors are [*InputError] around [ErrTooFew], [ErrNotFinite], [ErrLevel],
// [ErrOverflow] or, for more than 1e9 values, [ErrParameter].
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.9.
func EqualVariances(xs, ys []float64, level float64) (FTest, error) {
	const fn = "stats.EqualVariances"
	x, err := summarize(fn, "xs", xs)
	if err != nil {
		return FTest{}, err
	}
	y, err := summarize(fn, "ys", ys)
	if err != nil {
		return FTest{}, err
	}
	return newFTest(fn, x, y, level)
}

// EqualVariancesOf is [EqualVariances] for a caller who holds only n and standard
// deviation of each sample.
//
// Errors are those of [EqualVariances], or around [ErrParameter] for a standard
// deviation below 0.
func EqualVariancesOf(x, y Summary, level float64) (FTest, error) {
	const fn = "stats.EqualVariancesOf"
	if err := checkSummaries(fn, x, y, 2); err != nil {
		return FTest{}, err
	}
	return newFTest(fn, x, y, level)
}

func newFTest(fn string, x, y Summary, level float64) (FTest, error) {
	if err := checkFraction(fn, "level", level); err != nil {
		return FTest{}, err
	}
	if x.N > mostValues || y.N > mostValues {
		return FTest{}, outOfRange(fn, "x, y", "", mostN)
	}
	r := FTest{X: x, Y: y, XLarger: x.StdDev >= y.StdDev, Status: Tested}
	top, below := x, y
	if !r.XLarger {
		top, below = y, x
	}
	r.DF1, r.DF2 = float64(top.N-1), float64(below.N-1)
	if below.StdDev == 0 {
		return r.untested(top), nil
	}
	err := r.test(fn, top.StdDev/below.StdDev, level)
	return r, err
}

func (r FTest) untested(top Summary) FTest {
	r.Status = NoVarianceEqual
	if top.StdDev > 0 {
		r.Status = NoVarianceDifferent
	}
	r.Warnings = []Warning{{Code: WarnNoVariance, Text: "a sample without spread gives no ratio; check that its values are separate measurements"}}
	return r
}

func (r *FTest) test(fn string, ratio, level float64) error {
	f := ratio * ratio
	up, down := FDistribution{r.DF1, r.DF2}, FDistribution{r.DF2, r.DF1}
	tail := (1 - level) / 2
	r.CI = Interval{Lo: f / up.quantile(1-tail, tail), Hi: f * down.quantile(1-tail, tail), Level: level}
	if !isFinite(f) || !isFinite(r.CI.Hi) || math.IsNaN(r.CI.Lo) {
		*r = FTest{}
		return Refuse(fn, "level", text(level), ErrOverflow)
	}
	_, p := up.tails(f)
	r.F = &Statistic{Value: f, P: min(max(2*p, leastTail), 1)}
	if r.F.P > 1-level {
		r.Warnings = []Warning{{Code: WarnNotRejected, Text: fmt.Sprintf(
			"not rejected is not equal: the %g%% interval of the ratio of variances runs from %.4g to %.4g", 100*level, r.CI.Lo, r.CI.Hi)}}
	}
	return nil
}
