package stats

import (
	"fmt"
	"math"
)

// LimitMethod names how the intervals of limits of agreement are found. The zero value
// is no method and is refused.
type LimitMethod int

// The methods for the intervals of limits of agreement.
const (
	// LimitExact takes quantiles of the noncentral t distribution.
	LimitExact LimitMethod = iota + 1
	// LimitApproximate is ± t times the standard error of the limit for many pairs, as
	// first published. It undercovers for few pairs, and lies about the limit as if it
	// could be off as far on either side.
	LimitApproximate
)

// String returns "exact" or "approximate".
func (m LimitMethod) String() string {
	switch m {
	case LimitExact:
		return "exact"
	case LimitApproximate:
		return "approximate"
	}
	return fmt.Sprintf("LimitMethod(%d)", int(m))
}

// AgreementOptions sets how [LimitsOfAgreement] and [LimitsOfRatio] work. All fields are
// required.
type AgreementOptions struct {
	Level    float64 // confidence of every interval
	Coverage float64 // part of the differences between the limits, usually 0.95
	Method   LimitMethod
}

// Agreement says how far two methods of measuring differ on one thing. The embedded
// estimate is the mean difference x - y.
type Agreement struct {
	Estimate
	Limits    Interval // of agreement; Level is the coverage
	LowerCI   Interval // of the true lower limit
	UpperCI   Interval
	Tolerance Interval // holds the coverage with confidence Level, whatever the true limits
	Options   AgreementOptions
}

// LimitsOfAgreement returns the mean of the differences d = xs[i] - ys[i] of n things
// measured once by each of two methods, and the limits between which a part coverage of
// all such differences lies:
//
//	mean difference  d̄ ± t(1-α/2; n-1)·s/√n,   α = 1 - Level
//	limits           d̄ ± z·s,   z((1+Coverage)/2)
//	exact            d̄ + t'(α/2 and 1-α/2; n-1, ±z√n)·s/√n,   t' noncentral
//	approximate      limit ± t(1-α/2; n-1)·s·√((1+z²/2)/n)
//	tolerance        d̄ ± k·s, k as of ToleranceTwoSided
//
// LowerCI and UpperCI each hold one limit. Tolerance is for who wants one statement about
// both: that interval holds the coverage with confidence Level. Whether the limits are
// near enough is a question to the user of the two methods, not of statistics. Correlation
// is not given, because methods that differ by a constant correlate perfectly.
//
// It assumes independent normal differences whose mean and spread do not depend on the
// size of what is measured; see [RegressionLimits] and [LimitsOfRatio] for others and
// [ReplicatedLimits] for things measured more than once. Differences that agree to the
// rounding of their values count as equal. xs and ys hold n ≥ 2 finite values each and are
// not changed. Where all differences are equal every interval has no width and Warnings
// holds [WarnConstant].
//
// Coverage of a nominal 95 % by simulation:
//
//	n                    3       5       10     30
//	limit, exact         95 %    95 %    95 %   95 %
//	limit, approximate   90 %    91 %    93 %   94 %
//
// Errors are [*InputError] around [ErrLength], [ErrTooFew], [ErrNotFinite], [ErrLevel],
// [ErrParameter] or [ErrOverflow].
//
// Source: J. M. Bland and D. G. Altman, Statistical methods for assessing agreement between
// two methods of clinical measurement, Lancet 1986 i 307-310, with the same
// approximation: their 3s²/n is that for z = 2. The exact interval is that of a normal
// quantile.
func LimitsOfAgreement(xs, ys []float64, o AgreementOptions) (Agreement, error) {
	const fn = "stats.LimitsOfAgreement"
	c, err := comparePairs(fn, xs, ys)
	if err != nil {
		return Agreement{}, err
	}
	return limitsOfAgreement(fn, Summary{N: len(xs), Mean: c.Difference, StdDev: c.StdDev}, o)
}

// LimitsOfAgreementOf is [LimitsOfAgreement] for a caller who holds only n, mean and
// standard deviation of the differences.
//
// Errors are those of [LimitsOfAgreement], or around [ErrParameter] for a standard
// deviation below 0.
func LimitsOfAgreementOf(differences Summary, o AgreementOptions) (Agreement, error) {
	const fn = "stats.LimitsOfAgreementOf"
	if err := differences.check(fn, "differences", 2); err != nil {
		return Agreement{}, err
	}
	return limitsOfAgreement(fn, differences, o)
}

func limitsOfAgreement(fn string, d Summary, o AgreementOptions) (Agreement, error) {
	if err := o.check(fn); err != nil {
		return Agreement{}, err
	}
	e, err := meanInterval(fn, d, o.Level)
	if err != nil {
		return Agreement{}, err
	}
	k, err := ToleranceTwoSided(min(d.N, mostValues), o.Coverage, o.Level)
	if err != nil {
		return Agreement{}, Refuse(fn, "o", "", err)
	}
	a := Agreement{Estimate: e, Options: o}
	z := middleScore(o.Coverage)
	near, far, err := a.steps(fn, z)
	if err != nil {
		return Agreement{}, err
	}
	a.Limits = Interval{Lo: d.Mean - z*d.StdDev, Hi: d.Mean + z*d.StdDev, Level: o.Coverage}
	a.LowerCI = Interval{Lo: d.Mean - far, Hi: d.Mean - near, Level: o.Level}
	a.UpperCI = Interval{Lo: d.Mean + near, Hi: d.Mean + far, Level: o.Level}
	a.Tolerance = Interval{Lo: d.Mean - k*d.StdDev, Hi: d.Mean + k*d.StdDev, Level: o.Level}
	if !areFinite(a.Limits.Lo, a.Limits.Hi, a.LowerCI.Lo, a.LowerCI.Hi, a.UpperCI.Lo, a.UpperCI.Hi, a.Tolerance.Lo, a.Tolerance.Hi) {
		return Agreement{}, Refuse(fn, "differences", "", ErrOverflow)
	}
	return a, nil
}

// steps returns how far from the mean difference the interval of a limit begins and ends.
func (a Agreement) steps(fn string, z float64) (near, far float64, err error) {
	if a.Options.Method == LimitApproximate {
		half := newStudentT(a.DF).upperQuantile((1-a.Options.Level)/2) * a.StdErr * math.Sqrt(1+z*z/2)
		return z*a.StdDev - half, z*a.StdDev + half, nil
	}
	lo, hi, err := noncentralLimits(fn, a.DF, z*math.Sqrt(float64(a.N)), a.Options.Level)
	return lo * a.StdErr, hi * a.StdErr, err
}

// noncentralLimits returns the quantiles α/2 and 1-α/2 of noncentral t.
func noncentralLimits(fn string, df, ncp, level float64) (lo, hi float64, err error) {
	tail, d := (1-level)/2, newNoncentralT(df)
	if lo, err = d.finiteQuantile(fn, tail, 1-tail, ncp); err != nil {
		return 0, 0, err
	}
	hi, err = d.finiteQuantile(fn, 1-tail, tail, ncp)
	return lo, hi, err
}

// middleScore returns the z for which ±z holds a part of the standard normal.
func middleScore(coverage float64) float64 {
	tail := (1 - coverage) / 2
	return normalScore(1-tail, tail)
}

func (o AgreementOptions) check(fn string) error {
	if o.Method != LimitExact && o.Method != LimitApproximate {
		return outOfRange(fn, "o.Method", o.Method.String(), "LimitExact or LimitApproximate")
	}
	return checkLimits(fn, o.Level, o.Coverage)
}

func checkLimits(fn string, level, coverage float64) error {
	if err := checkFraction(fn, "o.Level", level); err != nil {
		return err
	}
	return checkFraction(fn, "o.Coverage", coverage)
}
