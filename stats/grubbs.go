package stats

import (
	"fmt"
	"math"
	"slices"
)

// Side says in which direction a test looks. The zero value is no side and is
// refused, because the side moves decisions.
type Side int

// The sides of a test.
const (
	Low     Side = iota + 1 // only the smallest value is suspected
	High                    // only the largest value is suspected
	TwoSide                 // either may be wrong
)

// String returns "low", "high" or "two-sided".
func (s Side) String() string {
	switch s {
	case Low:
		return "low"
	case High:
		return "high"
	case TwoSide:
		return "two-sided"
	}
	return fmt.Sprintf("Side(%d)", int(s))
}

// GrubbsResult is the outcome of [Grubbs]. It flags a value; whether the value
// is wrong is for the person who can look at the core, the log and the mat.
type GrubbsResult struct {
	Summary
	Index         int     // position in xs of the suspect, the first one where several tie
	Suspect       float64 // xs[Index]
	G             float64 // |Suspect - Mean|/StdDev
	Critical      float64 // G at which P equals Alpha; where that is an upper bound, so is this
	CriticalLower float64 // lower bound of the critical value, equal to Critical where that is exact
	P             float64 // probability of a G this large without any outlier
	PLower        float64 // lower bound of it, equal to P where Exact
	Exact         bool    // whether P is exact; otherwise it is an upper bound
	Side          Side
	Alpha         float64
	Outlier       bool // P is at most Alpha
	Warnings      []Warning
}

// Grubbs tests whether the most extreme value of xs is too far out to belong to
// the same normal population as the rest:
//
//	G = |x - x̄|/s,   p = k · P(T(n-2) > t),   t = G·√(n(n-2)/((n-1)²-nG²))
//
// with k = n for one side and 2n for both. That p is exact while
// G > √((n-1)(n-2)/(2n)) (one side) or G > √((n-1)/2) (both), where no second
// value can be as far out; below it is an upper bound, capped at 1, Exact is false,
// and PLower and CriticalLower are the other ends: see [GrubbsCriticalBounds]. The
// verdict goes by P; where PLower would overturn it, Warnings holds [WarnBound]. The
// bounds cost some 10 µs for p and, where the critical value itself is not exact (n
// from about 20 on), some 0.3 ms for that.
//
// xs holds n ≥ 3 finite values and is not changed. alpha is the significance as
// a fraction in (0, 1). The test looks once, at one value. Two outliers on one
// side can hide each other; a gap below the flag is warned of with
// [WarnMasking]. Equal values throughout are no outlier: p is 1 and Warnings
// holds [WarnConstant].
//
// Errors are [*InputError] around [ErrTooFew], [ErrNotFinite], [ErrLevel],
// [ErrParameter] (side) or [ErrOverflow].
//
// Source: ASTM E178 and NIST/SEMATECH e-Handbook of Statistical Methods,
// 1.3.5.17.1.
func Grubbs(xs []float64, side Side, alpha float64) (GrubbsResult, error) {
	const fn = "stats.Grubbs"
	if side < Low || side > TwoSide {
		return GrubbsResult{}, outOfRange(fn, "side", side.String(), anySide)
	}
	critical, err := grubbsCritical(fn, "xs", len(xs), side, alpha)
	if err != nil {
		return GrubbsResult{}, err
	}
	s, err := summarize(fn, "xs", xs)
	if err != nil {
		return GrubbsResult{}, err
	}
	r := GrubbsResult{Summary: s, Critical: critical, Side: side, Alpha: alpha, P: 1, PLower: 1}
	r.CriticalLower = grubbsCriticalLower(critical, s.N, side, alpha)
	r.Index = suspect(xs, s.Mean, side)
	r.Suspect = xs[r.Index]
	if s.StdDev == 0 {
		r.Warnings = append(r.Warnings, Warning{Code: WarnConstant, Text: "all values are equal, so none is an outlier"})
		return r, nil
	}
	r.G = min(math.Abs(r.Suspect-s.Mean)/s.StdDev, maxDeviation(s.N))
	r.PLower, r.P, r.Exact = grubbsP(r.G, restShare(xs, r), s.N, side)
	r.Outlier = r.P <= alpha
	r.Warnings = append(r.Warnings, grubbsWarnings(xs, r)...)
	return r, nil
}

// GrubbsCritical returns the value of G that [Grubbs] compares with for n values:
//
//	G = (n-1)/√n · (1-2q),   q the α/k quantile of the beta distribution with shapes n/2-1
//
// which is the usual t formula, and also the quality index whose estimated
// fraction beyond the limit is α/k. It accepts n ≥ 3; the errors are those of
// Grubbs.
func GrubbsCritical(n int, side Side, alpha float64) (float64, error) {
	const fn = "stats.GrubbsCritical"
	if side < Low || side > TwoSide {
		return 0, outOfRange(fn, "side", side.String(), anySide)
	}
	return grubbsCritical(fn, "n", n, side, alpha)
}

func grubbsCritical(fn, arg string, n int, side Side, alpha float64) (float64, error) {
	if n < 3 {
		return 0, tooFew(fn, arg, n, 3)
	}
	if err := checkFraction(fn, "alpha", alpha); err != nil {
		return 0, err
	}
	return grubbsCriticalOf(n, side, alpha), nil
}

func grubbsCriticalOf(n int, side Side, alpha float64) float64 {
	kernel := newSymmetricBeta(float64(n)/2 - 1)
	return maxDeviation(n) * kernel.quantile(alpha/comparisons(n, side)).u
}

// comparisons returns how many deviations the test could have picked.
func comparisons(n int, side Side) float64 {
	if side == TwoSide {
		return 2 * float64(n)
	}
	return float64(n)
}

// maxDeviation returns (n-1)/√n, the largest deviation from the mean, in
// standard deviations, that one of n values can have.
func maxDeviation(n int) float64 { return float64(n-1) / math.Sqrt(float64(n)) }

func suspect(xs []float64, mean float64, side Side) int {
	lo, hi := 0, 0
	for i, x := range xs {
		if x < xs[lo] {
			lo = i
		}
		if x > xs[hi] {
			hi = i
		}
	}
	if side == Low || side == TwoSide && mean-xs[lo] > xs[hi]-mean {
		return lo
	}
	return hi
}

// restShare returns the sum of squares of the values other than the suspect as a
// share of that of all. With u = G/max it is 1-u², and formed from the values it
// keeps the digits that the difference loses where the rest lie close together.
func restShare(xs []float64, r GrubbsResult) float64 {
	rest := slices.Delete(slices.Clone(xs), r.Index, r.Index+1)
	d, err := describe("", "", rest) // cannot fail where all of xs did not
	if err != nil {
		return 1
	}
	ratio := d.StdDev / r.StdDev
	return ratio * ratio * float64(r.N-2) / float64(r.N-1)
}

// grubbsP takes 1-u² beside G: the tail is at (1-u)/2 = (1-u²)/(2(1+u)).
func grubbsP(g, share float64, n int, side Side) (lower, upper float64, exact bool) {
	u := g / maxDeviation(n)
	kernel := newSymmetricBeta(float64(n)/2 - 1)
	one := kernel.tail(min(0.5, share/(2*(1+u))))
	upper = max(comparisons(n, side)*one, leastTail)
	if g > exactBeyond(n, side) {
		return min(upper, 1), min(upper, 1), true
	}
	lower = max(upper-pairTerm(u, n, side), comparisons(n, side)/float64(n)*one)
	return min(lower, 1), min(upper, 1), false
}

// fewForOutliers is the largest n at which general references warn that a
// single outlier test says little.
const fewForOutliers = 6

func grubbsWarnings(xs []float64, r GrubbsResult) []Warning {
	var ws []Warning
	if r.N <= fewForOutliers {
		ws = append(ws, Warning{Code: WarnSmallN, Text: fmt.Sprintf(
			"with %d values the largest possible G is %.4f and the critical value %.4f: the test says little here", r.N, maxDeviation(r.N), r.Critical)})
	}
	if r.PLower <= r.Alpha && r.P > r.Alpha {
		ws = append(ws, Warning{Code: WarnBound, Text: fmt.Sprintf("p is between %.4g and %.4g, and alpha lies between these", r.PLower, r.P)})
	}
	if n := count(xs, r.Suspect); n > 1 {
		ws = append(ws, Warning{Code: WarnTies, Text: fmt.Sprintf("%d values tie for the most extreme; the first is reported", n)})
	}
	if !r.Outlier && maskingGap(xs, r.Suspect, r.StdDev) {
		ws = append(ws, Warning{Code: WarnMasking, Text: "the largest gap leaves two or more values on the suspect side; they may hide each other, so look at them together"})
	}
	return ws
}

func count(xs []float64, v float64) (n int) {
	for _, x := range xs {
		if x == v {
			n++
		}
	}
	return n
}

// maskingGap reports whether the suspect lies in the smaller of two groups.
func maskingGap(xs []float64, suspect, stdDev float64) bool {
	g := largestGap(xs)
	if !g.SplitsInTwo(stdDev) {
		return false
	}
	if suspect <= g.Lo {
		return g.Below <= g.Above
	}
	return g.Above <= g.Below
}
