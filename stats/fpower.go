package stats

// VariancesPlan is a comparison of two variances before it is made. The standard
// deviations are those of the populations, both in one unit.
type VariancesPlan struct {
	N1, N2           int
	StdDev1, StdDev2 float64
	Alpha            float64 // significance of the two-sided test, as a fraction
}

func (p VariancesPlan) check(fn string) error {
	if !(p.StdDev1 > 0 && isFinite(p.StdDev1)) {
		return outOfRange(fn, "p.StdDev1", text(p.StdDev1), positive)
	}
	if !(p.StdDev2 > 0 && isFinite(p.StdDev2)) {
		return outOfRange(fn, "p.StdDev2", text(p.StdDev2), positive)
	}
	return checkFraction(fn, "p.Alpha", p.Alpha)
}

// FPower returns the probability that the two-sided F test of a plan,
// [EqualVariances], rejects:
//
//	P(F > F(1-α/2)/λ) + P(F < F(α/2)/λ),   λ = StdDev1²/StdDev2²
//
// with F on N1-1 and N2-1 degrees of freedom. N1 and N2 are at least 2 and at most
// 1e9. It assumes what the test assumes and is exact.
//
// Errors are [*InputError] around [ErrTooFew], [ErrParameter] or [ErrLevel].
//
// Source: from the distribution of the ratio, which is λ times central F.
func FPower(p VariancesPlan) (float64, error) {
	const fn = "stats.FPower"
	if err := p.check(fn); err != nil {
		return 0, err
	}
	if p.N1 < 2 {
		return 0, tooFew(fn, "p.N1", p.N1, 2)
	}
	if p.N2 < 2 {
		return 0, tooFew(fn, "p.N2", p.N2, 2)
	}
	if p.N1 > mostValues || p.N2 > mostValues {
		return 0, outOfRange(fn, "p.N1", "", mostN)
	}
	return fPower(p), nil
}

func fPower(p VariancesPlan) float64 {
	top, below := FDistribution{float64(p.N1 - 1), float64(p.N2 - 1)}, FDistribution{float64(p.N2 - 1), float64(p.N1 - 1)}
	tail := p.Alpha / 2
	ratio := p.StdDev1 / p.StdDev2
	_, above := top.tails(top.quantile(1-tail, tail) / ratio / ratio)
	_, beneath := below.tails(below.quantile(1-tail, tail) * ratio * ratio)
	return min(above+beneath, 1)
}

// FSampleSize returns the smallest size of each of two equal samples with which the
// test of a plan reaches the stated power. N1 and N2 of the plan do not count. See
// [FPower], whose errors it shares; [ErrParameter] also says that no n up to some
// 1e9 is enough, as for equal standard deviations.
func FSampleSize(p VariancesPlan, power float64) (int, error) {
	const fn = "stats.FSampleSize"
	if err := p.check(fn); err != nil {
		return 0, err
	}
	return leastSize(fn, power, func(n int) float64 {
		p.N1, p.N2 = n, n
		return fPower(p)
	})
}
