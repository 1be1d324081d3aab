package stats

import "math"

// EquivalencePower returns the probability that the two one-sided tests of a plan
// find equivalence,
//
//	∫ [Φ(hi - t·w) - Φ(lo + t·w)]⁺ g(w) dw,   lo, hi = (margin - Difference)/standard error
//
// with t = t(1-α; ν), g the density of w = √(χ²_ν/ν), and the standard error and ν
// of the design. Difference is the true one, 0 where the populations agree; Alpha
// is below 0.5. Sizes are those of [TPower].
//
// It assumes what the tests assume and known standard deviations, and is exact,
// within 1e-10 absolute; for Welch, whose critical value depends on the sample
// variances, it is averaged over them.
//
// Errors are those of [TPower], with [ErrNotFinite] or [ErrParameter] also for the
// margins.
//
// Source: D. B. Owen, Biometrika 52 (1965) 437, for the distribution of the two
// tests together (from memory); the integral is evaluated directly.
func EquivalencePower(p MeansPlan, margins Margins) (float64, error) {
	const fn = "stats.EquivalencePower"
	if err := p.checkEquivalence(fn, margins); err != nil {
		return 0, err
	}
	if err := p.checkSizes(fn); err != nil {
		return 0, err
	}
	return equivalencePower(p, margins), nil
}

// EquivalenceSampleSize returns the smallest n with which the two one-sided tests
// of a plan reach the stated power: the number of values or pairs, or the size of
// each of two equal samples. N1 and N2 of the plan do not count. See
// [EquivalencePower], whose errors it shares; [ErrParameter] also says that no n up
// to some 1e9 is enough, as for a true difference outside the margins.
func EquivalenceSampleSize(p MeansPlan, margins Margins, power float64) (int, error) {
	const fn = "stats.EquivalenceSampleSize"
	if err := p.checkEquivalence(fn, margins); err != nil {
		return 0, err
	}
	return leastSize(fn, power, func(n int) float64 { return equivalencePower(p.sized(n), margins) })
}

func (p MeansPlan) checkEquivalence(fn string, margins Margins) error {
	if err := p.check(fn); err != nil {
		return err
	}
	if p.Alpha >= 0.5 {
		return Refuse(fn, "p.Alpha", text(p.Alpha), errHalf)
	}
	return margins.check(fn)
}

// chiReach is how many standard deviations of w = √(χ²/ν), some 1/√(2ν), hold all
// of it that counts.
const chiReach = 9

func equivalencePower(p MeansPlan, margins Margins) float64 {
	stdErr, _ := p.spread()
	lo := (margins.Lower/2 - p.Difference/2) / stdErr * 2
	hi := (margins.Upper/2 - p.Difference/2) / stdErr * 2
	return p.reject(p.Alpha, func(critical, df float64) float64 {
		return bothReject(lo, hi, critical, df)
	})
}

// bothReject integrates over w, which may not exceed (hi-lo)/(2·critical).
func bothReject(lo, hi, critical, df float64) float64 {
	most := (hi/2 - lo/2) / critical
	if !(lo < hi && most > 0) { // margins closer than float64 can tell
		return 0
	}
	reach := chiReach / math.Sqrt(2*df)
	scale := lnChiScale(df)
	return min(1, integral(func(w float64) float64 {
		inside := normalTail(lo+critical*w) - normalTail(hi-critical*w)
		u := math.Log(w)
		return max(inside, 0) * scale / w * math.Exp(df*lnChiExponent(u, w-1))
	}, max(0, 1-reach), min(most, 1+reach)))
}
