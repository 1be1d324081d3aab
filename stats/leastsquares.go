package stats

import (
	"errors"
	"math"
	"slices"
)

// ErrCollinear is the reason predictors are refused of which one is, to the
// precision of the data, a combination of the others.
var ErrCollinear = errors.New("predictors are linearly dependent")

// leastSquares solves min |y - Xb| by Householder reflections in pairs: the
// error grows with the condition of X times 2^-100 or so, which leaves a correct
// float64 even for polynomials of high degree. Columns are scaled by powers of
// two, so that squares neither overflow nor vanish.
//
// Source: P. Businger and G. H. Golub, Linear least squares solutions by
// Householder transformations, Numerische Mathematik 7 (1965) 269-276.
type leastSquares struct {
	n         int
	columns   [][]pair // X scaled, then R above the diagonal
	exponents []int    // column j stands for columns[j]·2^exponents[j]
	diagonal  []pair   // of R
	y         []pair   // scaled, then Qᵀy
	exponentY int
}

func newLeastSquares(ys []float64) *leastSquares {
	s := &leastSquares{n: len(ys), y: make([]pair, len(ys))}
	for i, y := range ys {
		s.y[i].hi = y
	}
	s.exponentY = scaleColumn(s.y)
	return s
}

// addColumn appends a column that stands for values·2^exponent and keeps it.
func (s *leastSquares) addColumn(values []pair, exponent int) {
	s.exponents = append(s.exponents, exponent+scaleColumn(values))
	s.columns = append(s.columns, values)
}

// scaleColumn brings the largest value into [½, 1) and returns the exponent that
// undoes it. A column of zeros stays.
func scaleColumn(column []pair) (exponent int) {
	var largest float64
	for _, v := range column {
		largest = max(largest, math.Abs(v.hi))
	}
	_, exponent = math.Frexp(largest)
	for i, v := range column {
		column[i] = pair{math.Ldexp(v.hi, -exponent), math.Ldexp(v.lo, -exponent)}
	}
	return exponent
}

// factor turns the columns into R and y into Qᵀy. It reports false where less
// than the fraction tolerance of a column is left of it after the columns before
// have been projected out.
func (s *leastSquares) factor(tolerance float64) bool {
	s.diagonal = make([]pair, len(s.columns))
	for k, column := range s.columns {
		whole := math.Sqrt(dot(column, column).value())
		v := column[k:]
		norm := dot(v, v).sqrt()
		if !(norm.hi > tolerance*whole) {
			return false
		}
		if v[0].hi > 0 {
			norm = norm.neg()
		}
		s.diagonal[k] = norm
		v[0] = v[0].sub(norm)
		// vᵀv/2 is -norm·v[0] once v[0] holds the reflection.
		half := norm.neg().mul(v[0])
		for _, other := range s.columns[k+1:] {
			reflect(other[k:], v, half)
		}
		reflect(s.y[k:], v, half)
	}
	return true
}

func dot(a, b []pair) pair {
	var sum pair
	for i, x := range a {
		sum = sum.add(x.mul(b[i]))
	}
	return sum
}

// reflect subtracts from x its part along v twice; half is vᵀv/2.
func reflect(x, v []pair, half pair) {
	factor := dot(x, v).div(half).neg()
	for i, w := range v {
		x[i] = x[i].add(factor.mul(w))
	}
}

// solve returns the scaled coefficients by back substitution.
func (s *leastSquares) solve() []pair {
	return s.backSubstitute(slices.Clone(s.y[:len(s.columns)]))
}

// backSubstitute replaces x by the solution of R·b = x.
func (s *leastSquares) backSubstitute(x []pair) []pair {
	for k := len(x) - 1; k >= 0; k-- {
		x[k] = x[k].div(s.diagonal[k])
		for i := range k {
			x[i] = x[i].sub(s.columns[k][i].mul(x[k]))
		}
	}
	return x
}

// inverse returns the scaled (XᵀX)⁻¹ = R⁻¹R⁻ᵀ.
func (s *leastSquares) inverse() [][]pair {
	p := len(s.columns)
	roots := make([][]pair, p) // columns of R⁻¹
	for j := range roots {
		roots[j] = make([]pair, p)
		roots[j][j].hi = 1
		s.backSubstitute(roots[j])
	}
	product := make([][]pair, p)
	for i := range product {
		product[i] = make([]pair, p)
		for j := range product[i] {
			for _, root := range roots {
				product[i][j] = product[i][j].add(root[i].mul(root[j]))
			}
		}
	}
	return product
}
