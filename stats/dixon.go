package stats

import (
	"fmt"
	"math"
	"slices"
)

// DixonResult is the outcome of [Dixon]. It flags a value and drops none.
type DixonResult struct {
	Summary
	Ratio    DixonRatio
	Index    int     // position in xs of the suspect, the first one where several tie
	Suspect  float64 // xs[Index]
	R        float64 // the ratio
	Critical float64 // R at which P equals Alpha; where that is an upper bound, so is this
	P        float64 // probability of an R this large without any outlier
	Exact    bool    // whether P is exact; otherwise it is an upper bound
	Side     Side
	Alpha    float64
	Outlier  bool // P is at most Alpha
	Warnings []Warning
}

const (
	mostForDixon    = 300    // largest sample for which the integration was checked
	leastDixonAlpha = 1e-300 // below, scores do not tell tails apart; its critical value serves
)

// Dixon tests whether the most extreme value of xs is too far out to belong to the same
// normal population as the rest, by a ratio of differences between sorted values; see
// [DixonRatio] for the ratios and [UsualDixonRatio] for the common choice. Side Low or
// High means that the suspected end was chosen before looking. [TwoSide] takes the end
// with the larger ratio.
//
// Nothing is looked up. For one side p is the exact probability, with m = n-j-2 values
// between far value y and suspect y+v, and q = 1-r,
//
//	p = n!/(j!·m!) ∫∫ Φ(y)^j·φ(y)·φ(y+v)·K dy dv
//	K = A^m (i = 1),  A^m + m·A^(m-1)·B (i = 2)
//	A = Φ(y+qv) - Φ(y),   B = Φ(y+v) - Φ(y+qv)
//
// to 2e-13 of itself down to 1e-300 (for n = 3 in closed form, 3/π·atan(√3(1-r)/(1+r))).
// For both sides p is twice that, at most 1: exact for r10 of a half and more, where
// both ends cannot exceed it; otherwise an upper bound, above by the chance that both
// do. The test then flags somewhat less than alpha: of normal samples, at alpha 0.05
// and the usual ratio, 0.050 for n to 7 and 0.046 to 0.049 beyond (simulated).
// Critical values go with p, that of an alpha below 1e-300 with 1e-300.
//
// Many printed tables, from calculations of the 1950s, differ from the exact critical
// values by up to 0.002 at 5 %, 0.005 at 1 % and 0.006 at 0.5 %.
//
// xs holds finite values in any order, at least i+j+2 and at most 300, and is not
// changed. alpha is the significance as a fraction in (0, 1). It assumes a normal
// population. Values that are equal throughout, or the suspect equal to the far value,
// give R 0 and p 1. Where the values between are all equal, R is 1 and p the least
// float64: recorded values tie, normal ones do not, so look at the resolution
// ([WarnTies]).
// Cost: some 3 ms, 25 ms for 300 values, nearly all for the critical value.
//
// Errors are [*InputError] around [ErrTooFew], [ErrNotFinite], [ErrLevel],
// [ErrParameter] (ratio, side, or more than 300 values) or [ErrOverflow].
//
// Source: W. J. Dixon, Annals of Mathematical Statistics 21 (1950) 488 and 22 (1951) 68,
// for ratios and distribution (from memory).
func Dixon(xs []float64, ratio DixonRatio, side Side, alpha float64) (DixonResult, error) {
	const fn = "stats.Dixon"
	critical, err := dixonCritical(fn, "xs", len(xs), ratio, side, alpha)
	if err != nil {
		return DixonResult{}, err
	}
	s, err := summarize(fn, "xs", xs)
	if err != nil {
		return DixonResult{}, err
	}
	r := DixonResult{Summary: s, Ratio: ratio, Critical: critical, Side: side, Alpha: alpha}
	parts := r.locate(xs)
	r.P, r.Exact = newDixonDistribution(s.N, ratio).p(parts, side)
	r.Outlier = r.P <= alpha
	r.Warnings = r.doubts(xs, parts)
	return r, nil
}

// DixonCritical returns the ratio that [Dixon] compares with for n values. The errors
// are those of Dixon.
func DixonCritical(n int, ratio DixonRatio, side Side, alpha float64) (float64, error) {
	return dixonCritical("stats.DixonCritical", "n", n, ratio, side, alpha)
}

func dixonCritical(fn, arg string, n int, ratio DixonRatio, side Side, alpha float64) (float64, error) {
	switch {
	case !ratio.valid():
		return 0, outOfRange(fn, "ratio", ratio.String(), "one from DixonR10 to DixonR22")
	case side < Low || side > TwoSide:
		return 0, outOfRange(fn, "side", side.String(), anySide)
	case n < ratio.fewest():
		return 0, tooFew(fn, arg, n, ratio.fewest())
	case n > mostForDixon:
		return 0, Refuse(fn, arg, "", fmt.Errorf("%w (%d values, at most %d)", ErrParameter, n, mostForDixon))
	}
	if err := checkFraction(fn, "alpha", alpha); err != nil {
		return 0, err
	}
	return newDixonDistribution(n, ratio).critical(alpha, side), nil
}

// locate finds the suspect and its ratio.
func (r *DixonResult) locate(xs []float64) dixonParts {
	sorted := slices.Clone(xs)
	slices.Sort(sorted)
	high, low := r.Ratio.of(sorted), r.Ratio.of(mirrored(sorted))
	parts := high
	r.Suspect = sorted[len(sorted)-1]
	if r.Side == Low || r.Side == TwoSide && low.value > high.value {
		parts, r.Suspect = low, sorted[0]
	}
	r.R, r.Index = parts.value, slices.Index(xs, r.Suspect)
	return parts
}

func (r DixonResult) doubts(xs []float64, parts dixonParts) (ws []Warning) {
	if r.StdDev == 0 {
		return []Warning{{Code: WarnConstant, Text: "all values are equal, so none is an outlier"}}
	}
	if r.N <= fewForOutliers {
		ws = append(ws, Warning{Code: WarnSmallN, Text: fmt.Sprintf("with %d values a ratio below %.4f is ordinary: the test says little here", r.N, r.Critical)})
	}
	if n := count(xs, r.Suspect); n > 1 {
		ws = append(ws, Warning{Code: WarnTies, Text: fmt.Sprintf("%d values tie for the most extreme; the first is reported", n)})
	}
	if parts.rest == 0 {
		ws = append(ws, Warning{Code: WarnTies, Text: "the values beside the suspect are equal as recorded, which makes the ratio 1; a finer record would tell more"})
	}
	if !r.Outlier && maskingGap(xs, r.Suspect, r.StdDev) {
		ws = append(ws, Warning{Code: WarnMasking, Text: "the largest gap leaves two or more values on the suspect side; they may hide each other, so look at them together"})
	}
	return ws
}

// dixonDistribution is the distribution of a ratio for one end of n normal values.
type dixonDistribution struct {
	n, gap         int
	spared, inside float64 // j and m
	scale          float64 // n!/(j!·m!)
}

func newDixonDistribution(n int, ratio DixonRatio) dixonDistribution {
	j := ratio.spared()
	d := dixonDistribution{n: n, gap: ratio.gap(), spared: float64(j), inside: float64(n - j - 2), scale: float64(n) * float64(n-1)}
	for k := range j {
		d.scale *= float64(n-2-k) / float64(k+1)
	}
	return d
}

// p returns the probability of a ratio at least as large.
func (d dixonDistribution) p(parts dixonParts, side Side) (p float64, exact bool) {
	switch {
	case parts.rest == 0:
		return leastTail, true
	case parts.value == 0:
		return 1, true
	}
	one := max(d.above(parts.rest), leastTail)
	if side != TwoSide {
		return one, true
	}
	return min(1, 2*one), parts.value >= 0.5 && d.gap == 1 && d.spared == 0
}

// critical searches in the logit of q, in which the score is nearly straight.
func (d dixonDistribution) critical(alpha float64, side Side) float64 {
	if side == TwoSide {
		alpha *= 0.5
	}
	if d.n == 3 {
		t := math.Tan(math.Pi * alpha / 3)
		return (math.Sqrt(3) - t) / (math.Sqrt(3) + t)
	}
	alpha = max(alpha, leastDixonAlpha)
	z := normalScore(alpha, 1-alpha)
	logit := increasingRoot(func(logit float64) float64 {
		p := d.above(1 / (1 + math.Exp(-logit)))
		return normalScore(p, 1-p) - z
	}, 0, 0.5, 1e-12*(1+math.Abs(z)))
	return 1 / (1 + math.Exp(logit))
}

// steps returns those of ln v and y, narrower for more values.
func (d dixonDistribution) steps() (ofLnV, ofY float64) {
	narrow := 1 / math.Sqrt(max(1, d.inside/8))
	return 0.1 * narrow, 0.2 * narrow
}

// above returns P(R > 1-q) for one end. Both integrals are of functions that are smooth
// and fall off fast on the whole line, in y and in ln v, so that the trapezoid rule
// serves.
func (d dixonDistribution) above(q float64) float64 {
	if d.n == 3 {
		return 3 / math.Pi * math.Atan(math.Sqrt(3)*q/(2-q))
	}
	stepV, stepY := d.steps()
	peak := -(1 + 0.5*d.inside*q) / (2 + d.inside) // near y/v there
	sum := lineSum(func(lnV float64) float64 {
		v := math.Exp(lnV)
		return v * lineSum(func(y float64) float64 { return d.term(y, v, q) }, peak*v, stepY)
	}, math.Ln2, stepV)
	return d.probability(stepV*stepY*sum, q)
}

// probability returns the integral with its factors, by logarithms: the power of q may
// underflow where the whole does not.
func (d dixonDistribution) probability(integral, q float64) float64 {
	return min(1, math.Exp(math.Log(d.scale*integral)+d.power()*math.Log(q)))
}

// power is how often A is a factor.
func (d dixonDistribution) power() float64 { return d.inside - float64(d.gap-1) }

// term returns the integrand divided by q to that power, which is of ordinary size also
// far out.
func (d dixonDistribution) term(y, v, q float64) float64 {
	weight := normalDensity(y) * normalDensity(y+v)
	if d.spared > 0 {
		weight *= normalPower(y, d.spared)
	}
	a := normalBetween(y, q*v)
	if d.gap == 2 {
		weight *= a + d.inside*normalBetween(y+q*v, v-q*v)
	}
	return weight * math.Pow(a/q, d.power())
}

// lineSum adds f at start and at steps to either side until its terms, which rise to
// one peak and fall, no longer count.
func lineSum(f func(x float64) float64, start, step float64) float64 {
	sum := f(start)
	largest := sum
	for _, move := range [2]float64{step, -step} {
		for k := 1.0; k < mostLineSteps; k++ {
			term := f(start + k*move)
			sum += term
			if term <= lineSettled*largest {
				break
			}
			largest = max(largest, term)
		}
	}
	return sum
}

const (
	lineSettled   = 1e-17 // share of the largest term from which terms are left out
	mostLineSteps = 1000  // never reached by a function that falls off
)
