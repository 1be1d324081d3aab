package stats

import (
	"math"
	"strconv"
)

// LinearFit is a least squares fit of several coefficients.
type LinearFit struct {
	N            int
	Coefficients []Coefficient // the intercept first where there is one, then as the predictors
	Covariance   [][]float64   // of the coefficients, in the same order
	ResidualSD   float64       // √Residual.MS, in the unit of y
	RSquared     float64       // Regression.SS as a fraction of both sums of squares
	F            float64       // Regression.MS/Residual.MS
	P            float64       // of F, from the upper tail: that the predictors explain nothing
	Regression   VarianceSource
	Residual     VarianceSource
	Warnings     []Warning
}

// FitLinear fits y = b₀ + b₁x₁ + … + bₚxₚ by least squares. columns holds one
// slice per predictor with a value for each of ys, of which there are n ≥ p+2.
// All values are finite; none is changed. Standard errors come from
// s²(XᵀX)⁻¹ with s² = Σ(y-ŷ)²/(n-p-1).
//
// The errors are taken to lie in y alone, independent and of one spread. A
// predictor of which less than 1e-14 remains beside the others is refused with
// [ErrCollinear]: data read into float64 say nothing about it.
//
// An exact fit has no residual: F is math.MaxFloat64, P is 0 and Warnings holds
// [WarnNoResidual], which it also holds where the residual is no more than the rounding of
// the points, as it is of decimals on a plane. Where all y are equal, F and RSquared are
// 0, P is 1 and Warnings holds [WarnConstant].
//
// The equations are solved by Householder reflections with twice the precision,
// so every figure is that of exact arithmetic on the given float64 values to a
// few units in the last place, however ill the columns are scaled. Cost: about
// 30·n·(p+1)² ns.
//
// Errors are [*InputError] around [ErrLength], [ErrTooFew], [ErrNotFinite],
// [ErrCollinear] or [ErrOverflow].
//
// Source: N. R. Draper and H. Smith, Applied Regression Analysis, 3rd edition,
// Wiley 1998, chapters 5 and 6.
func FitLinear(columns [][]float64, ys []float64) (LinearFit, error) {
	return fitLinear("stats.FitLinear", columns, ys, true)
}

// FitLinearThroughOrigin fits y = b₁x₁ + … + bₚxₚ by least squares, n ≥ p+1.
// R² is taken about zero, not about the mean, so it does not compare with that
// of [FitLinear], which it is like in all else, errors too.
func FitLinearThroughOrigin(columns [][]float64, ys []float64) (LinearFit, error) {
	return fitLinear("stats.FitLinearThroughOrigin", columns, ys, false)
}

// dataTolerance is what must remain of a column of data beside the others: some
// 45 roundings of a float64.
const dataTolerance = 1e-14

func fitLinear(fn string, columns [][]float64, ys []float64, intercept bool) (LinearFit, error) {
	if err := checkColumns(fn, columns, ys, intercept); err != nil {
		return LinearFit{}, err
	}
	s := newLeastSquares(ys)
	if intercept {
		s.addColumn(ones(len(ys)), 0)
	}
	for _, column := range columns {
		values := make([]pair, len(column))
		for i, x := range column {
			values[i].hi = x
		}
		s.addColumn(values, 0)
	}
	if !s.factor(dataTolerance) {
		return LinearFit{}, Refuse(fn, "columns", "", ErrCollinear)
	}
	return s.fit(fn, intercept)
}

func ones(n int) []pair {
	column := make([]pair, n)
	for i := range column {
		column[i].hi = 1
	}
	return column
}

func checkColumns(fn string, columns [][]float64, ys []float64, intercept bool) error {
	if len(columns) == 0 {
		return tooFew(fn, "columns", 0, 1)
	}
	need := len(columns) + 1
	if intercept {
		need++
	}
	if len(ys) < need {
		return tooFew(fn, "ys", len(ys), need)
	}
	for j, column := range columns {
		name := "columns[" + strconv.Itoa(j) + "]"
		if len(column) != len(ys) {
			return Refuse(fn, name, strconv.Itoa(len(column))+" values for "+strconv.Itoa(len(ys)), ErrLength)
		}
		if err := checkFinite(fn, name, column); err != nil {
			return err
		}
	}
	return checkFinite(fn, "ys", ys)
}

// fit reads coefficients and table off the factored equations.
func (s *leastSquares) fit(fn string, intercept bool) (LinearFit, error) {
	p := len(s.columns)
	first := 0
	if intercept {
		first = 1
	}
	s.dropRounding(first)
	regression, residual := dot(s.y[first:p], s.y[first:p]), dot(s.y[p:], s.y[p:])
	t := newFitTable(regression, residual, regression.add(residual), s.n, p, p-first)
	f := LinearFit{N: s.n, RSquared: t.rSquared, F: t.f, P: t.p, Warnings: t.warnings}
	f.ResidualSD = math.Ldexp(math.Sqrt(t.residual.MS), s.exponentY)
	f.Regression, f.Residual = t.regression.scaled(s.exponentY), t.residual.scaled(s.exponentY)
	s.coefficients(&f, t.residual.MS)
	if !f.isFinite() {
		return LinearFit{}, Refuse(fn, "ys", "", ErrOverflow)
	}
	return f, nil
}

// dropRounding takes what is left of Qᵀy after rounding in pairs for none, from a row on:
// equal y have nothing beside the intercept, and y on a line nothing beside the slope.
func (s *leastSquares) dropRounding(first int) {
	whole := dot(s.y, s.y).hi
	for i, y := range s.y[first:] {
		if square(y.hi) <= noResidual*whole {
			s.y[first+i] = pair{}
		}
	}
}

// coefficients undoes the scaling of the columns and of y.
func (s *leastSquares) coefficients(f *LinearFit, variance float64) {
	scaled, inverse := s.solve(), s.inverse()
	size := 1.0 // of y and of the terms, scaled
	for j, b := range scaled {
		size = max(size, math.Abs(b.hi))
		exponent := s.exponentY - s.exponents[j]
		f.Coefficients = append(f.Coefficients, Coefficient{
			Value:  math.Ldexp(b.value(), exponent),
			StdErr: math.Ldexp(math.Sqrt(inverse[j][j].value()*variance), exponent),
		})
		row := make([]float64, len(scaled))
		for k := range row {
			row[k] = math.Ldexp(inverse[j][k].value()*variance, exponent+s.exponentY-s.exponents[k])
		}
		f.Covariance = append(f.Covariance, row)
	}
	if sd := math.Sqrt(variance); sd > 0 && sd <= roundingIn(size) {
		f.Warnings = append(f.Warnings, warnRounding)
	}
}

func (f *LinearFit) isFinite() bool {
	ok := areFinite(f.Regression.SS, f.Residual.SS)
	for j, c := range f.Coefficients {
		ok = ok && areFinite(c.Value, c.StdErr) && areFinite(f.Covariance[j]...)
	}
	return ok
}

// scaled returns the source for y multiplied by 2^exponent.
func (v VarianceSource) scaled(exponent int) VarianceSource {
	v.SS, v.MS = math.Ldexp(v.SS, 2*exponent), math.Ldexp(v.MS, 2*exponent)
	return v
}
