package stats

import (
	"fmt"
	"math"
	"slices"
	"strconv"
)

// WarnNoResidual is the code of the warning that nothing is left unexplained, so
// that a ratio to the residual spread has no value.
const WarnNoResidual WarningCode = "no-residual"

// VarianceSource is one line of an analysis of variance table.
type VarianceSource struct {
	SS float64 // sum of squares, in the square of the unit of the data
	DF int     // degrees of freedom
	MS float64 // mean square, SS/DF
}

// OneWayTable is the analysis of variance of values in groups.
type OneWayTable struct {
	Groups     []Summary // of each group; StdDev of a group of one is 0
	N          int       // values in all groups together
	Mean       float64   // of all values
	Between    VarianceSource
	Within     VarianceSource
	F          float64 // Between.MS/Within.MS
	P          float64 // of F, from the upper tail: that the groups have one mean
	RSquared   float64 // Between.SS as a fraction of both
	ResidualSD float64 // √Within.MS
	Warnings   []Warning
}

// OneWay returns the one-way analysis of variance table of k groups, such as the
// cores of several lots or the readings of several operators:
//
//	SS between = Σ nᵢ(x̄ᵢ-x̄)²,   k-1 degrees of freedom
//	SS within  = ΣΣ (xᵢⱼ-x̄ᵢ)²,   N-k degrees of freedom
//
// Groups may differ in size. There are at least 2, each with at least one finite
// value, and more values than groups; they are not changed. F belongs to the F
// distribution if the values are independent draws from normal populations that
// differ at most in their means.
//
// Where no group has any spread, F would be infinite and is math.MaxFloat64, so
// that comparing it still decides rightly, P is 0 and Warnings holds
// [WarnNoResidual]. Where all values are equal, F and RSquared are 0, P is 1 and
// Warnings holds [WarnConstant].
//
// Means and sums are carried with twice the precision, so every figure is
// that of exact arithmetic on the given float64 values to a unit or two in the
// last place. Cost: about 30 ns per value.
//
// Errors are [*InputError] around [ErrTooFew], [ErrNotFinite], [ErrOverflow] or
// [ErrUnderflow].
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 7.4.3.
func OneWay(groups [][]float64) (OneWayTable, error) {
	const fn = "stats.OneWay"
	n, err := checkGroups(fn, groups)
	if err != nil {
		return OneWayTable{}, err
	}
	means, mean := groupMeans(groups, n)
	t := OneWayTable{N: n, Mean: mean.hi, Groups: make([]Summary, len(groups))}
	var between, within pair
	for i, group := range groups {
		off := means[i].sub(mean)
		between = between.add(off.mul(off).mulFloat(float64(len(group))))
		within = within.add(squaresAboutMean(group, means[i]))
		t.Groups[i] = Summary{N: len(group), Mean: means[i].hi}
	}
	if err := t.fill(fn, groups, between, within); err != nil {
		return OneWayTable{}, err
	}
	return t, nil
}

// fill completes the table from its two sums of squares.
func (t *OneWayTable) fill(fn string, groups [][]float64, between, within pair) error {
	k := len(t.Groups)
	t.Between = newVarianceSource(between, k-1)
	t.Within = newVarianceSource(within, t.N-k)
	if lo, hi := extremes(groups); lo == hi {
		t.P = 1
		t.Warnings = []Warning{{Code: WarnConstant, Text: fmt.Sprintf("all %d values are equal, so no spread can be told apart", t.N)}}
		return nil
	}
	total := between.add(within)
	if err := checkSquare(fn, "groups", total); err != nil {
		return err
	}
	t.RSquared = between.div(total).value()
	t.ResidualSD = math.Sqrt(t.Within.MS)
	var finite bool
	if t.F, finite = varianceRatio(between, within, k-1, t.N-k); !finite {
		t.Warnings = []Warning{{Code: WarnNoResidual, Text: "the groups have no spread of their own, so F has no finite value"}}
	} else {
		t.P = fTail(t.F, k-1, t.N-k)
	}
	return t.describeGroups(fn, groups)
}

func (t *OneWayTable) describeGroups(fn string, groups [][]float64) error {
	for i, group := range groups {
		if len(group) < 2 {
			continue
		}
		s, err := summarize(fn, "groups", group)
		if err != nil {
			return err
		}
		t.Groups[i].StdDev = s.StdDev
	}
	return nil
}

// extremes returns the smallest and the largest value of all groups.
func extremes(groups [][]float64) (lo, hi float64) {
	lo, hi = groups[0][0], groups[0][0]
	for _, group := range groups {
		lo, hi = min(lo, slices.Min(group)), max(hi, slices.Max(group))
	}
	return lo, hi
}

func newVarianceSource(ss pair, df int) VarianceSource {
	return VarianceSource{SS: ss.value(), DF: df, MS: ss.div(pair{hi: float64(df)}).value()}
}

// checkGroups returns the number of values in all groups.
func checkGroups(fn string, groups [][]float64) (n int, err error) {
	if len(groups) < 2 {
		return 0, tooFew(fn, "groups", len(groups), 2)
	}
	for i, group := range groups {
		name := "groups[" + strconv.Itoa(i) + "]"
		if len(group) == 0 {
			return 0, tooFew(fn, name, 0, 1)
		}
		if err := checkFinite(fn, name, group); err != nil {
			return 0, err
		}
		n += len(group)
	}
	if n <= len(groups) {
		return 0, tooFew(fn, "groups, values in all", n, len(groups)+1)
	}
	return n, nil
}

// groupMeans returns the mean of each group and of all n values.
func groupMeans(groups [][]float64, n int) (means []pair, mean pair) {
	means = make([]pair, len(groups))
	var total pair
	for i, group := range groups {
		means[i] = pairMean(group)
		for _, x := range group {
			total = total.addFloat(x)
		}
	}
	if lo, hi := extremes(groups); lo == hi { // whose total may overflow
		return means, pair{hi: lo}
	}
	return means, total.div(pair{hi: float64(n)})
}

func squaresAboutMean(xs []float64, mean pair) pair {
	var ss pair
	for _, x := range xs {
		d := pair{hi: x}.sub(mean)
		ss = ss.add(d.mul(d))
	}
	return ss
}
