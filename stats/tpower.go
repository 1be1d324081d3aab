package stats

import "math"

// TPower returns the probability that the two-sided t test of a plan finds its
// true difference,
//
//	P(|T'| > t(1-α/2; ν)),   T' noncentral t with ν and δ = Difference/standard error
//
// with the standard error and ν of the design. N1, and N2 for two samples, are at
// least 2 and at most 1e9.
//
// It assumes what the test assumes and known standard deviations, and is exact. For
// Welch, whose critical value depends on the sample variances, the formula is
// averaged over them; N1 = N2 = 3 with one true variance, where Satterthwaite's
// formula at the true variances would promise 0.78, really have 0.68.
//
// Errors are [*InputError] around [ErrParameter] (design, standard deviation,
// size), [ErrTooFew], [ErrNotFinite] or [ErrLevel].
//
// Source: J. L. Hodges and E. L. Lehmann, and D. B. Owen, Journal of the American
// Statistical Association 60 (1965) 320 (from memory); the distribution is
// [NoncentralT].
func TPower(p MeansPlan) (float64, error) {
	const fn = "stats.TPower"
	if err := p.check(fn); err != nil {
		return 0, err
	}
	if err := p.checkSizes(fn); err != nil {
		return 0, err
	}
	return tPower(p), nil
}

// largestNCP is a noncentrality at which any test rejects.
const largestNCP = 1e100

func tPower(p MeansPlan) float64 {
	stdErr, _ := p.spread()
	ncp := math.Abs(p.Difference)
	if ncp > 0 {
		ncp = min(ncp/stdErr, largestNCP)
	}
	return p.reject(p.Alpha/2, func(critical, df float64) float64 {
		d := newNoncentralT(df)
		_, above := d.tails(critical, ncp)
		below, _ := d.tails(-critical, ncp)
		return min(above+below, 1)
	})
}

// TSampleSize returns the smallest n with which the test of a plan reaches the
// stated power: the number of values or pairs, or the size of each of two equal
// samples. N1 and N2 of the plan do not count. See [TPower], whose errors it
// shares; [ErrParameter] also says that no n up to some 1e9 is enough, as for a
// difference of 0.
func TSampleSize(p MeansPlan, power float64) (int, error) {
	const fn = "stats.TSampleSize"
	if err := p.check(fn); err != nil {
		return 0, err
	}
	return leastSize(fn, power, func(n int) float64 { return tPower(p.sized(n)) })
}

// DetectableDifference returns the smallest true difference, above 0 and in the
// unit of the standard deviations, that the test of a plan finds with the stated
// power. Difference of the plan does not count. See [TPower], whose errors it
// shares; power must be more than Alpha, else the error wraps [ErrParameter].
func DetectableDifference(p MeansPlan, power float64) (float64, error) {
	return detectable("stats.DetectableDifference", p, power)
}

func detectable(fn string, p MeansPlan, power float64) (float64, error) {
	p.Difference = 0
	if err := p.check(fn); err != nil {
		return 0, err
	}
	if err := p.checkSizes(fn); err != nil {
		return 0, err
	}
	if err := checkFraction(fn, "power", power); err != nil {
		return 0, err
	}
	if power <= p.Alpha {
		return 0, outOfRange(fn, "power", text(power), "more than the significance")
	}
	stdErr, _ := p.spread()
	z := normalScore(power, 1-power)
	difference := math.Exp(increasingRoot(func(lnDifference float64) float64 {
		p.Difference = math.Exp(lnDifference)
		reached := tPower(p)
		return normalScore(reached, 1-reached) - z
	}, math.Log(stdErr), 0.25, 1e-14*(1+math.Abs(z))))
	if !isFinite(difference) {
		return 0, Refuse(fn, "power", text(power), ErrOverflow)
	}
	return difference, nil
}
