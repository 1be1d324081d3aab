package lot

import (
	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/units"
)

// Method names the quality measure that a schedule is read with. The zero value is
// none and is refused.
type Method uint8

// The methods.
const (
	ExactWithin   Method = iota + 1 // percent within limits by the formula of the package comment
	TableWithin                     // percent within limits by whole rows of the exact table, see TableRule
	RangeWithin                     // percent within limits with s from mean ranges, see RangeConstant
	MeanDeviation                   // mean absolute deviation from the target
	AverageWithin                   // percent of the moving averages of Window results that lie within the limits
)

var methodNames = names[Method]{ExactWithin: "exact percent within limits", TableWithin: "table of percent within limits",
	RangeWithin: "range method", MeanDeviation: "mean absolute deviation", AverageWithin: "moving average"}

// String returns the method in words.
func (m Method) String() string { return methodNames.of(m) }

// Estimation says how the measure of a lot is worked out. Each of the fields behind
// Weights is needed by one method and refused with the others.
type Estimation struct {
	Method  Method
	Weights Weights          // for ExactWithin and MeanDeviation; NoWeights with the others
	Table   *TableRule       // for TableWithin
	Ranges  []RangeConstant  // for RangeWithin, one for each number of results
	Target  *decimal.Decimal // for MeanDeviation, in the unit of the results
	Window  int              // for AverageWithin: results in each average, at least 2
}

// TableRule says how a table of percent within limits is printed and read. Its
// rows are the whole percentages; a quality index between two rows takes the next
// higher one, and from the index of 100 on it is 100.
type TableRule struct {
	Cell     units.Rounding // of the quality index that a row prints
	Negative NegativeRule
}

// NegativeRule says how a table is read with a negative quality index. The zero
// value is none and is refused.
type NegativeRule uint8

// The rules for a negative quality index.
const (
	MirrorNegative NegativeRule = iota + 1 // 100 less the percentage at the index without its sign
	SignedRows                             // the table goes on below 50, with negative indices
)

var negativeNames = names[NegativeRule]{MirrorNegative: "100 less the positive row", SignedRows: "signed rows"}

// String returns the rule in words.
func (n NegativeRule) String() string { return negativeNames.of(n) }

// RangeConstant takes the mean range of groups of results to a standard deviation,
//
//	s = R̄/C
//
// for lots of N results in groups of Group, in the order of the lot. The percent
// within limits is then read off the distribution for N results with a standard
// deviation of divisor N-1, which is near but not exact for ranges. No constant is
// built in: the contract prints them.
type RangeConstant struct {
	N, Group int
	C        decimal.Decimal
}

// within reports whether the method estimates the percent within limits.
func (m Method) within() bool { return m == ExactWithin || m == TableWithin || m == RangeWithin }

// fewest returns the smallest number of results that the estimator takes.
func (e Estimation) fewest() int {
	switch {
	case e.Method.within():
		return 3
	case e.Method == AverageWithin:
		return e.Window
	}
	return 1
}

// names are the words of an enum, by its value; 0 has none.
type names[T ~uint8] map[T]string

func (n names[T]) of(v T) string {
	if s, ok := n[v]; ok {
		return s
	}
	return "none"
}
