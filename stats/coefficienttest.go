package stats

import (
	"fmt"
	"math"
)

// CoefficientTest is a coefficient with its t interval and the test of one value.
type CoefficientTest struct {
	Coefficient
	DF       float64 // of the residual
	CI       Interval
	Against  float64 // the value tested
	T        float64 // (Value-Against)/StdErr
	P        float64 // two-sided
	Warnings []Warning
}

// SlopeAgainst returns the two-sided Student t interval of the slope and tests it
// against a value, such as 1 for two methods that should agree, or 0:
//
//	b₁ ± t(1-α/2; ν)·s/√Σ(x-x̄)²,   T = (b₁ - against)/StdErr
//
// with ν the degrees of freedom of the residual and α = 1 - level. It assumes what
// [FitLine] does, and normal errors. The interval is then exact; where x is
// measured with error it holds the slope for predicting y from such an x, not the
// slope between the true values.
//
// After an exact fit the interval has no width, T is 0 or ±math.MaxFloat64, P is 1
// or 0, and Warnings holds [WarnNoResidual].
//
// Errors are [*InputError] around [ErrTooFew] (a zero LineFit), [ErrNotFinite],
// [ErrLevel], [ErrParameter] or [ErrOverflow].
//
// Source: N. R. Draper and H. Smith, Applied Regression Analysis, 3rd edition,
// Wiley 1998, section 1.4.
func (f LineFit) SlopeAgainst(against, level float64) (CoefficientTest, error) {
	return coefficientAgainst("stats.LineFit.SlopeAgainst", f.Slope, f.Residual.DF, against, level)
}

// InterceptAgainst is [LineFit.SlopeAgainst] for the intercept. A line through the
// origin has none, which is [ErrParameter].
func (f LineFit) InterceptAgainst(against, level float64) (CoefficientTest, error) {
	const fn = "stats.LineFit.InterceptAgainst"
	if f.throughOrigin() {
		return CoefficientTest{}, outOfRange(fn, "f", "a line through the origin", "a line with an intercept")
	}
	return coefficientAgainst(fn, f.Intercept, f.Residual.DF, against, level)
}

// CoefficientAgainst is [LineFit.SlopeAgainst] for Coefficients[j], with its errors;
// [ErrParameter] also for a j that is none.
func (f LinearFit) CoefficientAgainst(j int, against, level float64) (CoefficientTest, error) {
	const fn = "stats.LinearFit.CoefficientAgainst"
	if j < 0 || j >= len(f.Coefficients) {
		return CoefficientTest{}, outOfRange(fn, "j", text(float64(j)), fmt.Sprintf("0 to %d", len(f.Coefficients)-1))
	}
	return coefficientAgainst(fn, f.Coefficients[j], f.Residual.DF, against, level)
}

// throughOrigin tells the two kinds of line apart by what they left for the
// residual.
func (f LineFit) throughOrigin() bool { return f.Residual.DF == f.N-1 }

func coefficientAgainst(fn string, c Coefficient, df int, against, level float64) (CoefficientTest, error) {
	if err := checkCoefficient(fn, c, df); err != nil {
		return CoefficientTest{}, err
	}
	if !isFinite(against) {
		return CoefficientTest{}, Refuse(fn, "against", text(against), ErrNotFinite)
	}
	if err := checkFraction(fn, "level", level); err != nil {
		return CoefficientTest{}, err
	}
	r := CoefficientTest{Coefficient: c, DF: float64(df), Against: against}
	r.CI = tInterval(c, r.DF, level)
	if !areFinite(r.CI.Lo, r.CI.Hi) {
		return CoefficientTest{}, Refuse(fn, "level", text(level), ErrOverflow)
	}
	r.T, r.P = tRatio(c.Value-against, c.StdErr, r.DF)
	if c.StdErr == 0 {
		r.Warnings = []Warning{{Code: WarnNoResidual, Text: "the fit is exact, so it leaves no residual to judge it by"}}
	}
	return r, nil
}

// checkCoefficient refuses a coefficient that no fit can have returned.
func checkCoefficient(fn string, c Coefficient, df int) error {
	switch {
	case df < 1:
		return tooFew(fn, "f.Residual.DF", df, 1)
	case !areFinite(c.Value, c.StdErr):
		return Refuse(fn, "f", "", ErrNotFinite)
	case c.StdErr < 0:
		return outOfRange(fn, "f", text(c.StdErr), "a standard error of 0 or more")
	}
	return nil
}

func tInterval(c Coefficient, df, level float64) Interval {
	half := newStudentT(df).upperQuantile((1-level)/2) * c.StdErr
	return Interval{Lo: c.Value - half, Hi: c.Value + half, Level: level}
}

// tRatio returns off/stdErr, kept within the float64 range, and its two-sided p.
func tRatio(off, stdErr, df float64) (t, p float64) {
	if off == 0 {
		return 0, 1
	}
	t = min(max(off/stdErr, -math.MaxFloat64), math.MaxFloat64)
	if stdErr == 0 {
		return t, 0
	}
	return t, min(1, max(2*newStudentT(df).survival(math.Abs(t)), leastTail))
}
