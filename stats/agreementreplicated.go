package stats

import (
	"fmt"
	"math"
)

// ReplicatedAgreementOptions sets how [ReplicatedLimits] and [LinkedLimits] work. Both
// fields are required.
type ReplicatedAgreementOptions struct {
	Level    float64 // confidence of every interval
	Coverage float64 // part of the differences of single measurements between the limits
}

// ReplicatedAgreement says how far single measurements by two methods differ. The
// embedded estimate is that of the differences of the means of each thing: Mean, the mean
// difference x - y, and its interval hold for single measurements as well, StdDev does
// not.
type ReplicatedAgreement struct {
	Estimate
	SingleStdDev float64       // of the difference of single measurements
	SingleCI     Interval      // of SingleStdDev
	X, Y         Repeatability // of either method; zero where measurements are linked
	Differences  Repeatability // of linked differences; zero where measurements are not linked
	Beyond       float64       // standard deviation of the differences beyond repeatability, 0 if its square would be negative
	Limits       Interval      // of agreement; Level is the coverage
	LowerCI      Interval      // of the true lower limit
	UpperCI      Interval
	Options      ReplicatedAgreementOptions
}

// ReplicatedLimits returns limits of agreement for single measurements by two methods,
// from n things that either measured several times while they did not change: xs[i]
// holds the measurements of thing i by one method, ys[i] those by the other, in any
// number of at least one, equal or not. With mᵢ and kᵢ these numbers, d̄ᵢ the difference
// of the means of thing i, and s²(x), s²(y) the variances within things,
//
//	mean difference  d̄ = Σd̄ᵢ/n ± t(1-α/2; n-1)·s(d̄ᵢ)/√n,   α = 1 - Level
//	single           σ² = s²(d̄ᵢ) + s²(x)·(1 - mean of 1/mᵢ) + s²(y)·(1 - mean of 1/kᵢ)
//	beyond           √(s²(d̄ᵢ) - s²(x)·mean of 1/mᵢ - s²(y)·mean of 1/kᵢ)
//	limits           d̄ ± z·σ,   z((1+Coverage)/2)
//
// Beyond is what repeating does not explain: things that the two methods see differently.
// The interval of σ is that of Graybill and Wang for a sum of mean squares. That of the
// upper limit, after Zou, joins those of d̄ and σ,
//
//	from  d̄ + zσ - √((d̄ - d̄_lo)² + z²(σ - σ_lo)²)
//	to    d̄ + zσ + √((d̄_hi - d̄)² + z²(σ_hi - σ)²)
//
// and mirrors for the lower one. To take all measurements for pairs of different things
// instead makes every interval too short.
//
// It assumes normal measurements, with one spread for each method, that do not depend on
// the size of what is measured. xs and ys hold n ≥ 2 things and are not changed.
// Differences that agree to the rounding of their values count as equal; where all are,
// Warnings holds [WarnConstant].
//
// Coverage of a nominal 95 % by simulation, three measurements by each method, or one to
// four in turn (unequal, linked), half of the variance of a difference beyond
// repeatability:
//
//	n                    3      5      10     30
//	limit, three         99 %   98 %   97 %   96 %
//	limit, unequal       99 %   98 %   97 %   96 %
//	limit, linked        99 %   98 %   97 %   95 %
//	σ, three             96 %   96 %   95 %   95 %
//	σ, unequal           97 %   96 %   95 %   95 %
//	σ, linked            96 %   95 %   95 %   95 %
//
// Errors are [*InputError] around [ErrLength], [ErrTooFew], [ErrNotFinite], [ErrLevel],
// [ErrOverflow] or [ErrUnderflow].
//
// Source: J. M. Bland and D. G. Altman, Measuring agreement in method comparison studies,
// Statistical Methods in Medical Research 8 (1999) 135-160, sections 5.1 and 5.2. G. Y. Zou,
// Confidence interval estimation for the Bland-Altman limits of agreement with multiple
// observations per individual, the same 22 (2013) 630-642.
func ReplicatedLimits(xs, ys [][]float64, o ReplicatedAgreementOptions) (ReplicatedAgreement, error) {
	const fn = "stats.ReplicatedLimits"
	if err := o.check(fn, xs, ys); err != nil {
		return ReplicatedAgreement{}, err
	}
	x, err := newReplicates(fn, "xs", xs, 0)
	if err != nil {
		return ReplicatedAgreement{}, err
	}
	y, err := newReplicates(fn, "ys", ys, 0)
	if err != nil {
		return ReplicatedAgreement{}, err
	}
	differences := make([]float64, len(xs))
	for i := range xs {
		differences[i] = x.means[i] - y.means[i]
	}
	a, err := replicatedLimits(fn, differences, o, x, y)
	if err != nil {
		return ReplicatedAgreement{}, err
	}
	a.X, a.Y = x.repeatability(), y.repeatability()
	return a, nil
}

// LinkedLimits is [ReplicatedLimits] for things that change from one measurement to the
// next, so that the two methods measured each state of them together: xs[i][j] and
// ys[i][j] belong to state j of thing i. Everything is then said of the differences
// xs[i][j] - ys[i][j], with mᵢ of them and the variance s²(d) within things,
//
//	single   σ² = s²(d̄ᵢ) + s²(d)·(1 - mean of 1/mᵢ)
//	beyond   √(s²(d̄ᵢ) - s²(d)·mean of 1/mᵢ)
//
// Errors are also around [ErrLength] where xs[i] and ys[i] differ in number.
//
// Source: J. M. Bland and D. G. Altman, Agreement between methods of measurement with
// multiple observations per individual, Journal of Biopharmaceutical Statistics 17 (2007)
// 571-582, with the weights of G. Y. Zou, as for ReplicatedLimits.
func LinkedLimits(xs, ys [][]float64, o ReplicatedAgreementOptions) (ReplicatedAgreement, error) {
	const fn = "stats.LinkedLimits"
	if err := o.check(fn, xs, ys); err != nil {
		return ReplicatedAgreement{}, err
	}
	differences, noise := make([][]float64, len(xs)), 0.0
	for i := range xs {
		name := fmt.Sprintf("ys[%d]", i)
		if len(xs[i]) != len(ys[i]) {
			return ReplicatedAgreement{}, Refuse(fn, name, fmt.Sprintf("%d values for %d", len(ys[i]), len(xs[i])), ErrLength)
		}
		if err := checkFinite(fn, fmt.Sprintf("xs[%d]", i), xs[i]); err != nil {
			return ReplicatedAgreement{}, err
		}
		if err := checkFinite(fn, name, ys[i]); err != nil {
			return ReplicatedAgreement{}, err
		}
		for j, x := range xs[i] {
			differences[i] = append(differences[i], x-ys[i][j])
			noise = max(noise, roundingIn(x), roundingIn(ys[i][j]))
		}
		if !areFinite(differences[i]...) {
			return ReplicatedAgreement{}, Refuse(fn, name, "", ErrOverflow)
		}
	}
	d, err := newReplicates(fn, "xs-ys", differences, noise)
	if err != nil {
		return ReplicatedAgreement{}, err
	}
	a, err := replicatedLimits(fn, d.means, o, d)
	if err != nil {
		return ReplicatedAgreement{}, err
	}
	a.Differences = d.repeatability()
	return a, nil
}

func (o ReplicatedAgreementOptions) check(fn string, xs, ys [][]float64) error {
	if len(xs) != len(ys) {
		return Refuse(fn, "ys", fmt.Sprintf("%d things for %d", len(ys), len(xs)), ErrLength)
	}
	return checkLimits(fn, o.Level, o.Coverage)
}

// replicatedLimits takes the differences of the means and the scatter that went into them.
func replicatedLimits(fn string, differences []float64, o ReplicatedAgreementOptions, within ...replicates) (ReplicatedAgreement, error) {
	if !areFinite(differences...) {
		return ReplicatedAgreement{}, Refuse(fn, "xs-ys", "", ErrOverflow)
	}
	var noise float64
	for _, w := range within {
		noise = max(noise, w.noise)
	}
	d, err := describeTo(fn, "xs-ys", differences, noise)
	if err != nil {
		return ReplicatedAgreement{}, err
	}
	ms, err := d.variance(fn, "xs-ys")
	if err != nil {
		return ReplicatedAgreement{}, err
	}
	a := ReplicatedAgreement{Options: o}
	if a.Estimate, err = meanInterval(fn, d.Summary, o.Level); err != nil {
		return ReplicatedAgreement{}, err
	}
	parts := []meanSquare{{ms: ms, df: a.DF, factor: 1}}
	beyond := ms
	for _, w := range within {
		beyond -= w.share * w.variance
		if w.df > 0 {
			parts = append(parts, meanSquare{ms: w.variance, df: w.df, factor: 1 - w.share})
		}
	}
	a.Beyond = math.Sqrt(max(0, beyond))
	a.single(parts)
	if !areFinite(a.SingleStdDev, a.SingleCI.Hi, a.LowerCI.Lo, a.LowerCI.Hi, a.UpperCI.Lo, a.UpperCI.Hi) {
		return ReplicatedAgreement{}, Refuse(fn, "xs, ys", "", ErrOverflow)
	}
	return a, nil
}

// single joins the mean squares to the variance of a single difference.
func (a *ReplicatedAgreement) single(parts []meanSquare) {
	var variance float64
	for _, part := range parts {
		variance += part.value()
	}
	a.SingleStdDev = math.Sqrt(variance)
	a.SingleCI = sumInterval(a.Options.Level, parts...).sqrt()
	z, half := middleScore(a.Options.Coverage), a.CI.HalfWidth()
	inward := signedHypot(half, z*(a.SingleStdDev-a.SingleCI.Lo))
	outward := signedHypot(half, z*(a.SingleCI.Hi-a.SingleStdDev))
	a.Limits = Interval{Lo: a.Mean - z*a.SingleStdDev, Hi: a.Mean + z*a.SingleStdDev, Level: a.Options.Coverage}
	a.LowerCI = Interval{Lo: a.Limits.Lo - outward, Hi: a.Limits.Lo + inward, Level: a.Options.Level}
	a.UpperCI = Interval{Lo: a.Limits.Hi - inward, Hi: a.Limits.Hi + outward, Level: a.Options.Level}
}
