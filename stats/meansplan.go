package stats

import (
	"fmt"
	"math"
)

// MeansPlan is a comparison of means before it is made. The standard deviations
// are those of the populations, in the unit of the values, as earlier work or a
// specification gives them; one estimated from a handful of values makes the
// answers as uncertain as it is.
type MeansPlan struct {
	Design     Design
	N1, N2     int     // sample sizes, or number of pairs; N2 counts for two samples only
	StdDev1    float64 // of the values, of paired differences, or common to both samples
	StdDev2    float64 // of the second sample for Welch, where StdDev1 is that of the first
	Difference float64 // true difference of the means, or from the stated mean
	Alpha      float64 // significance of the test, as a fraction
}

func (p MeansPlan) check(fn string) error {
	switch {
	case p.Design < DesignOneSample || p.Design > DesignWelch:
		return outOfRange(fn, "p.Design", p.Design.String(), "DesignOneSample, DesignPaired, DesignPooled or DesignWelch")
	case !(p.StdDev1 > 0 && isFinite(p.StdDev1)):
		return outOfRange(fn, "p.StdDev1", text(p.StdDev1), positive)
	case p.Design == DesignWelch && !(p.StdDev2 > 0 && isFinite(p.StdDev2)):
		return outOfRange(fn, "p.StdDev2", text(p.StdDev2), positive)
	case !isFinite(p.Difference):
		return Refuse(fn, "p.Difference", text(p.Difference), ErrNotFinite)
	}
	return checkFraction(fn, "p.Alpha", p.Alpha)
}

func (p MeansPlan) twoSamples() bool { return p.Design >= DesignPooled }

func (p MeansPlan) checkSizes(fn string) error {
	if p.N1 < 2 {
		return tooFew(fn, "p.N1", p.N1, 2)
	}
	if p.twoSamples() && p.N2 < 2 {
		return tooFew(fn, "p.N2", p.N2, 2)
	}
	if p.N1 > mostValues || p.twoSamples() && p.N2 > mostValues {
		return outOfRange(fn, "p.N1", "", mostN)
	}
	return nil
}

// spread returns the true standard error of the difference and the degrees of
// freedom of its estimate, for Welch those of Satterthwaite at the true variances.
func (p MeansPlan) spread() (stdErr, df float64) {
	n, m := float64(p.N1), float64(p.N2)
	switch p.Design {
	case DesignPooled:
		return p.StdDev1 * math.Sqrt(1/n+1/m), n + m - 2
	case DesignWelch:
		return welchSatterthwaite(p.StdDev1, p.StdDev2, p.N1, p.N2)
	}
	return p.StdDev1 / math.Sqrt(n), n - 1
}

// sized returns the plan with samples of n each.
func (p MeansPlan) sized(n int) MeansPlan {
	p.N1, p.N2 = n, n
	return p
}

// leastSize returns the smallest n ≥ 2 with at least the power wanted. power rises
// with n, at least from where it is of any size.
func leastSize(fn string, wanted float64, power func(n int) float64) (int, error) {
	if err := checkFraction(fn, "power", wanted); err != nil {
		return 0, err
	}
	lo, hi := 1, 2
	for power(hi) < wanted {
		if hi > mostValues/2 {
			return 0, Refuse(fn, "p", "", fmt.Errorf("%w; as planned no n up to some 1e9 reaches a power of %v", ErrParameter, wanted))
		}
		lo, hi = hi, 2*hi
	}
	for hi-lo > 1 {
		if mid := lo + (hi-lo)/2; power(mid) < wanted {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi, nil
}
