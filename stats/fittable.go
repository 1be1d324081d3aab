package stats

import (
	"errors"
	"math"
)

// fitTable is what is said of every least squares fit beside its coefficients.
type fitTable struct {
	regression, residual VarianceSource
	rSquared, f, p       float64
	warnings             []Warning
}

// noResidual is the part of Σy², per value, that the residuals of an exact fit
// can show after rounding in pairs. Data that miss an exact fit by no more than
// their own rounding to float64 leave 2^-106 of it, which is far more.
const noResidual = 0x1p-180

// newFitTable takes the sums of squares of regression and residual and the
// total about the mean or about zero. explained counts the degrees of freedom
// of the regression. p is the upper tail of F, 0 for an exact fit and 1 where
// there is nothing to explain.
func newFitTable(regression, residual, total pair, n, parameters, explained int) fitTable {
	if residual.hi <= float64(n)*noResidual*total.hi {
		residual = pair{}
	}
	explained = max(explained, 1)
	t := fitTable{
		regression: newVarianceSource(regression, explained),
		residual:   newVarianceSource(residual, n-parameters),
	}
	if total.hi == 0 {
		t.p = 1
		t.warnings = []Warning{{Code: WarnConstant, Text: "there is no variation in y to explain"}}
		return t
	}
	t.rSquared = max(0, pair{hi: 1}.sub(residual.div(total)).value())
	var finite bool
	if t.f, finite = varianceRatio(regression, residual, explained, n-parameters); !finite {
		t.warnings = []Warning{{Code: WarnNoResidual, Text: "the fit is exact, so it leaves no residual to judge it by"}}
		return t
	}
	t.p = fTail(t.f, explained, n-parameters)
	return t
}

// varianceRatio returns (upper/df1)/(lower/df2), or the largest float64 and false
// where that is too large for one.
func varianceRatio(upper, lower pair, df1, df2 int) (f float64, finite bool) {
	f = upper.mulFloat(float64(df2)).div(lower.mulFloat(float64(df1))).value()
	if !isFinite(f) {
		return math.MaxFloat64, false
	}
	return f, true
}

// fTail returns P(F > f) with df1 and df2 degrees of freedom.
func fTail(f float64, df1, df2 int) float64 {
	_, upper := FDistribution{df1: float64(df1), df2: float64(df2)}.tails(f)
	return max(upper, leastTail)
}

// checkSpread refuses values that are all equal to the centre, or whose sum of
// squares about it left the range of a float64.
func checkSpread(fn, arg string, xs []float64, centre, ss pair) error {
	if centre.lo == 0 && allEqual(xs) && xs[0] == centre.hi {
		return Refuse(fn, arg, "", ErrNoSpread)
	}
	return checkSquare(fn, arg, ss)
}

func isNoSpread(err error) bool { return errors.Is(err, ErrNoSpread) }
