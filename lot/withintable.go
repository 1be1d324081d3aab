package lot

import (
	"fmt"
	"math"
	"math/big"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// WithinRow is one row of a table of percent within limits.
type WithinRow struct {
	PWL int             // whole percentage
	Q   decimal.Decimal // quality index, rounded
}

// mostTable is the largest n that a table is written for; rows no longer change
// by 0.0001 long before.
const mostTable = 1000

// WithinTable returns the exact table of the percentages 100 down to 0 for n
// results, n from 3 to 1000: the quality index at which [PercentWithin] is that
// percentage, rounded by a rule of 0 to 12 places. Each cell is decided exactly: the
// rational half steps on both sides of it are compared with the index itself, so no
// error of a float64 moves a digit. The index of 100 is the smallest such,
// (n-1)/√n.
//
// Errors are [*stats.InputError] around [stats.ErrTooFew], [ErrOutOfDomain],
// [units.ErrAbsolute] or [units.ErrRounding].
//
// Source: the tables of FHWA Technical Advisory T 5080.12 (1989), which it
// recomputes.
func WithinTable(n int, cell units.Rounding) ([]WithinRow, error) {
	const fn = "lot.WithinTable"
	if err := checkTable(fn, "n", n); err != nil {
		return nil, err
	}
	if err := checkCell(fn, "cell", cell); err != nil {
		return nil, err
	}
	rows := make([]WithinRow, 101)
	for p := 50; p <= 100; p++ {
		q := toDecimal(inPlaces(cellOf(p, n, cell), cell.Places), cell)
		rows[100-p] = WithinRow{p, q}
		rows[p] = WithinRow{100 - p, q.Neg()}
	}
	return rows, nil
}

func checkTable(fn, arg string, n int) error {
	if n < 3 {
		return tooFew(fn, arg, n)
	}
	if n > mostTable {
		return stats.Refuse(fn, arg, fmt.Sprint(n), fmt.Errorf("%w; a table is for at most %d results", ErrOutOfDomain, mostTable))
	}
	return nil
}

func checkCell(fn, arg string, cell units.Rounding) error {
	if err := placed(fn, arg, cell); err != nil {
		return err
	}
	if cell.Places < 0 || cell.Places > 12 {
		return stats.Refuse(fn, arg+".Places", fmt.Sprint(cell.Places), needs(ErrOutOfDomain, "0 to 12"))
	}
	return nil
}

// cellOf returns the quality index of a percentage from 50 in steps of the last
// place.
func cellOf(p, n int, cell units.Rounding) *big.Int {
	q, _ := QualityIndex(float64(p), n)
	guess := int64(math.Round(q * math.Pow10(cell.Places)))
	above := compareIndex(halfStep(guess, 1, cell.Places), p, n)
	for ; above < 0; above = compareIndex(halfStep(guess, 1, cell.Places), p, n) {
		guess++
	}
	below := compareIndex(halfStep(guess, -1, cell.Places), p, n)
	for ; below > 0; below = compareIndex(halfStep(guess, -1, cell.Places), p, n) {
		guess--
		above = 1
	}
	odd := guess%2 != 0
	switch {
	case above == 0 && (cell.Method == units.HalfUp || odd):
		guess++
	case below == 0 && cell.Method == units.HalfEven && odd:
		guess--
	}
	return big.NewInt(guess)
}

// halfStep returns (steps ± 1/2)·10^-places.
func halfStep(steps, side int64, places int) *big.Rat {
	x := inPlaces(big.NewInt(2*steps+side), places)
	return x.Mul(x, big.NewRat(1, 2))
}

// compareIndex returns the sign of x less the quality index of a percentage, exactly.
func compareIndex(x *big.Rat, p, n int) int {
	y := toY(rootOf(x), n)
	if beyond := y.square.Cmp(big.NewRat(1, 1)); y.sign > 0 && beyond >= 0 {
		if p == 100 {
			return beyond
		}
		return 1
	}
	return fractionBelow(y, n).compare(big.NewRat(int64(p), 100))
}

// toY returns Q√n/(n-1).
func toY(q root, n int) root {
	return root{q.sign, new(big.Rat).Mul(q.square, big.NewRat(int64(n), int64(n-1)*int64(n-1)))}
}

// row returns the whole percentage that the table gives for a quality index.
func (r *TableRule) row(q root, n int) int {
	if q.sign < 0 && r.Negative == MirrorNegative {
		return 100 - r.signedRow(q.negative(), n)
	}
	return r.signedRow(q, n)
}

// signedRow starts at the row of the formula in float64 and goes on to the lowest
// one whose printed index is not below q, deciding exactly.
func (r *TableRule) signedRow(q root, n int) int {
	k := kernelOf(n)
	p := int(100 * k.within(q.real().float()*k.toY))
	for p < 100 && r.below(p, q, n) {
		p++
	}
	for p > 0 && !r.below(p-1, q, n) {
		p--
	}
	return p
}

// below reports whether the index that a row prints is below q.
func (r *TableRule) below(p int, q root, n int) bool {
	if p < 50 {
		return rootOf(inPlaces(cellOf(100-p, n, r.Cell), r.Cell.Places)).negative().compare(q) < 0
	}
	return rootOf(inPlaces(cellOf(p, n, r.Cell), r.Cell.Places)).compare(q) < 0
}

// compare returns the sign of r - other.
func (r root) compare(other root) int {
	if r.sign != other.sign {
		return r.sign - other.sign
	}
	return r.sign * r.square.Cmp(other.square)
}
