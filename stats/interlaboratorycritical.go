package stats

import "math"

// ConsistencyHCritical returns what |h| of one of p laboratories, chosen before looking, is
// above with probability alpha, when all differ by chance alone; see [Interlaboratory]:
//
//	(p-1)·t/√(p·(t² + p-2)),   t(1-α/2; p-2)
//
// It assumes normal means with one spread. p is from 3 to 1e6.
//
// Errors are [*InputError] around [ErrParameter] or [ErrLevel].
//
// Source: ASTM E691 (from memory), which tables it for alpha = 0.005.
func ConsistencyHCritical(laboratories int, alpha float64) (float64, error) {
	const fn = "stats.ConsistencyHCritical"
	if err := checkConsistency(fn, laboratories, 2, alpha); err != nil {
		return 0, err
	}
	return consistencyH(float64(laboratories), alpha), nil
}

func consistencyH(p, alpha float64) float64 {
	t := newStudentT(p - 2).upperQuantile(alpha / 2)
	return (p - 1) / math.Sqrt(p) / math.Hypot(1, math.Sqrt(p-2)/t)
}

// ConsistencyKCritical returns what k of one of p laboratories with n results each, chosen
// before looking, is above with probability alpha, when all have one repeatability; see
// [Interlaboratory]:
//
//	√(p/(1 + (p-1)/F)),   F(1-α; n-1, (p-1)(n-1))
//
// It assumes normal results. p is from 3, n from 2, both to 1e6.
//
// Errors are [*InputError] around [ErrParameter] or [ErrLevel].
//
// Source: ASTM E691 (from memory), which tables it for alpha = 0.005.
func ConsistencyKCritical(laboratories, replicates int, alpha float64) (float64, error) {
	const fn = "stats.ConsistencyKCritical"
	if err := checkConsistency(fn, laboratories, replicates, alpha); err != nil {
		return 0, err
	}
	return consistencyK(float64(laboratories), float64(replicates), alpha), nil
}

func consistencyK(p, n, alpha float64) float64 {
	f := FDistribution{df1: n - 1, df2: (p - 1) * (n - 1)}.quantile(1-alpha, alpha)
	return math.Sqrt(p / (1 + (p-1)/f))
}

// mostConsistency bounds what no study reaches and where the distributions are still
// accurate.
const mostConsistency = 1e6

func checkConsistency(fn string, laboratories, replicates int, alpha float64) error {
	if laboratories < 3 || laboratories > mostConsistency {
		return outOfRange(fn, "laboratories", text(float64(laboratories)), "3 to 1e6")
	}
	if replicates < 2 || replicates > mostConsistency {
		return outOfRange(fn, "replicates", text(float64(replicates)), "2 to 1e6")
	}
	return checkFraction(fn, "alpha", alpha)
}
