package stats

import (
	"errors"
	"math"
	"testing"
)

// awkwardNumbers are arguments that break careless formulas.
var awkwardNumbers = []float64{
	math.NaN(), math.Inf(-1), math.Inf(1), 0, math.Copysign(0, -1), 5e-324, -5e-324, 1e-310, 2.2e-308, 1e-300, 1e-160,
	1e-20, 1e-16, 1e-9, 1e-3, 0.1, 0.25, 0.3, 0.49999999999999994, 0.5, 0.5000000000000001, 0.7, 0.95, 0.9999999999999999,
	1, 1.0000000000000002, 1.5, 2, 2.5, 3, 7, 10, 14.5, 15, 15.5, 29, 99, 100, 101, 300, 301, 1e3, 1e5, 1e8, 1e10, 1e15, 1e16, 1e19,
	1e100, 1e154, 1e160, 1e300, 1.7e308, -1e-9, -0.5, -1, -3, -40, -1e5, -1e100, -1.7e308,
}

// sound reports a result that is not finite beside a nil error, an error of
// another type, and for a probability a value outside [0, 1].
func sound(t *testing.T, probability bool, x float64, err error, what string, args ...float64) {
	t.Helper()
	var input *InputError
	switch {
	case err != nil && !errors.As(err, &input):
		t.Errorf("%s%v: error %v is not an *InputError", what, args, err)
	case err == nil && !isFinite(x):
		t.Errorf("%s%v = %v with a nil error", what, args, x)
	case err == nil && probability && !(x >= 0 && x <= 1):
		t.Errorf("%s%v = %v is no probability", what, args, x)
	}
}

func TestDistributionsNeverReturnNonsense(t *testing.T) {
	for _, shape := range awkwardNumbers {
		b, berr := NewSymmetricBeta(shape)
		st, serr := NewStudentT(shape)
		chi, cerr := NewChiSquared(shape)
		sound(t, false, 0, berr, "NewSymmetricBeta", shape)
		sound(t, false, 0, serr, "NewStudentT", shape)
		sound(t, false, 0, cerr, "NewChiSquared", shape)
		slow := shape > 1e6 && shape <= 1e10 // many terms
		for i, x := range awkwardNumbers {
			for _, c := range []struct {
				name        string
				probability bool
				f           func(float64) (float64, error)
			}{
				{"SymmetricBeta.CDF", true, b.CDF}, {"SymmetricBeta.Survival", true, b.Survival},
				{"SymmetricBeta.Incomplete", true, b.Incomplete},
				{"SymmetricBeta.Quantile", false, b.Quantile}, {"SymmetricBeta.UpperQuantile", false, b.UpperQuantile},
				{"SymmetricBeta.InverseIncomplete", true, b.InverseIncomplete},
				{"StudentT.CDF", true, st.CDF}, {"StudentT.Survival", true, st.Survival}, {"StudentT.Density", false, st.Density},
				{"StudentT.Quantile", false, st.Quantile}, {"StudentT.UpperQuantile", false, st.UpperQuantile},
			} {
				got, err := c.f(x)
				sound(t, c.probability, got, err, c.name, shape, x)
			}
			if slow && i%8 != 0 {
				continue
			}
			for _, c := range []struct {
				name        string
				probability bool
				f           func(float64) (float64, error)
			}{
				{"ChiSquared.CDF", true, chi.CDF}, {"ChiSquared.Survival", true, chi.Survival},
				{"ChiSquared.Quantile", false, chi.Quantile}, {"ChiSquared.UpperQuantile", false, chi.UpperQuantile},
			} {
				got, err := c.f(x)
				sound(t, c.probability, got, err, c.name, shape, x)
			}
		}
	}
}

func TestNormalNeverReturnsNonsense(t *testing.T) {
	for _, mean := range awkwardNumbers {
		for _, s := range awkwardNumbers {
			d, err := NewNormal(mean, s)
			sound(t, false, 0, err, "NewNormal", mean, s)
			for _, x := range awkwardNumbers {
				p, err := d.CDF(x)
				sound(t, true, p, err, "Normal.CDF", mean, s, x)
				p, err = d.Survival(x)
				sound(t, true, p, err, "Normal.Survival", mean, s, x)
				q, err := d.Quantile(x)
				sound(t, false, q, err, "Normal.Quantile", mean, s, x)
				q, err = d.UpperQuantile(x)
				sound(t, false, q, err, "Normal.UpperQuantile", mean, s, x)
			}
		}
	}
}

func TestFDistributionNeverReturnsNonsense(t *testing.T) {
	dfs := []float64{math.NaN(), math.Inf(1), -1, 0, 1e-4, 1e-3, 0.1, 1, 2, 3.5, 29, 100, 1e3, 1e5, 1e10, 1e11, 1e300}
	for _, df1 := range dfs {
		for _, df2 := range dfs {
			d, err := NewFDistribution(df1, df2)
			sound(t, false, 0, err, "NewFDistribution", df1, df2)
			for i, x := range awkwardNumbers {
				if err == nil && (i%4 != 0 || max(df1, df2) > 1e4 && i%20 != 0) {
					continue // many terms
				}
				p, err := d.CDF(x)
				sound(t, true, p, err, "FDistribution.CDF", df1, df2, x)
				p, err = d.Survival(x)
				sound(t, true, p, err, "FDistribution.Survival", df1, df2, x)
				if math.IsNaN(x) || math.Signbit(x) || x == 1e-3 || x == 0.95 || x == 1e-300 {
					q, err := d.Quantile(x)
					sound(t, false, q, err, "FDistribution.Quantile", df1, df2, x)
					q, err = d.UpperQuantile(x)
					sound(t, false, q, err, "FDistribution.UpperQuantile", df1, df2, x)
				}
			}
		}
	}
}

func TestNoncentralTNeverReturnsNonsense(t *testing.T) {
	for _, df := range []float64{math.NaN(), math.Inf(1), -1, 0, 1e-4, 1e-3, 0.5, 1, 2, 3, 7.5, 30, 301, 1e5, 1e10, 1e11} {
		d, err := NewNoncentralT(df)
		sound(t, false, 0, err, "NewNoncentralT", df)
		for i, x := range awkwardNumbers {
			for j, ncp := range awkwardNumbers {
				if (3*i+j)%4 != 0 && df > 1 {
					continue
				}
				lower, upper, err := d.Tails(x, ncp)
				sound(t, true, lower, err, "NoncentralT.Tails", df, x, ncp)
				sound(t, true, upper, err, "NoncentralT.Tails", df, x, ncp)
				f, err := d.Density(x, ncp)
				sound(t, false, f, err, "NoncentralT.Density", df, x, ncp)
				if (i+j)%13 != 0 {
					continue
				}
				q, err := d.Quantile(x, ncp)
				sound(t, false, q, err, "NoncentralT.Quantile", df, x, ncp)
				q, err = d.UpperQuantile(x, ncp)
				sound(t, false, q, err, "NoncentralT.UpperQuantile", df, x, ncp)
				q, err = d.NCP(x, ncp)
				sound(t, false, q, err, "NoncentralT.NCP", df, x, ncp)
				q, err = d.UpperNCP(x, ncp)
				sound(t, false, q, err, "NoncentralT.UpperNCP", df, x, ncp)
			}
		}
	}
}

func TestToleranceNeverReturnsNonsense(t *testing.T) {
	for _, n := range []int{-1, 0, 1, 2, 3, 5, 300, 1000, 1000000} {
		for i, p := range awkwardNumbers {
			for j, c := range awkwardNumbers {
				if n > 3 && (i+j)%7 != 0 {
					continue
				}
				k, err := ToleranceOneSided(n, p, c)
				sound(t, false, k, err, "ToleranceOneSided", float64(n), p, c)
				k, err = ToleranceTwoSided(n, p, c)
				sound(t, false, k, err, "ToleranceTwoSided", float64(n), p, c)
				r, err := ConformingIntervalOf(p, n, c)
				sound(t, true, r.Value, err, "ConformingIntervalOf", float64(n), p, c)
				sound(t, true, r.Within.Lo, err, "ConformingIntervalOf", float64(n), p, c)
				sound(t, true, r.Within.Hi, err, "ConformingIntervalOf", float64(n), p, c)
				if err == nil && !(r.Within.Lo <= r.Within.Hi) {
					t.Errorf("n = %d, q = %g, level = %g: %v", n, p, c, r.Within)
				}
				r, err = ConformingInterval(Summary{N: n, Mean: p, StdDev: c}, 1, Low, 0.9)
				sound(t, true, r.Value, err, "ConformingInterval", float64(n), p, c)
			}
		}
	}
}
