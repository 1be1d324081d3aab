package stats

import (
	"fmt"
	"math"
)

// mostFactors is how deep a nested design goes.
const mostFactors = 3

// nestedGroup is one group of a level: its values by number, its mean, and the group
// above it.
type nestedGroup struct {
	parent int
	values []float64
	mean   pair
}

// nestedTree holds the groups of each level: level 0 is all values in one group, the
// last level each value alone.
type nestedTree struct{ levels [][]nestedGroup }

func newNestedTree(xs []float64, factors [][]string) nestedTree {
	at := make([]int, len(xs)) // group of each value at the level above
	tree := nestedTree{levels: [][]nestedGroup{{{values: xs, mean: pairMean(xs)}}}}
	for _, names := range factors {
		tree.levels = append(tree.levels, divide(xs, names, at))
	}
	single := make([]nestedGroup, len(xs))
	for i := range xs {
		single[i] = nestedGroup{parent: at[i], values: xs[i : i+1 : i+1], mean: pair{hi: xs[i]}}
	}
	tree.levels = append(tree.levels, single)
	return tree
}

// divide returns the groups by name within the groups that at tells, in order of
// appearance, and puts the number of each value's group there.
func divide(xs []float64, names []string, at []int) []nestedGroup {
	type key struct {
		parent int
		name   string
	}
	number := map[key]int{}
	var groups []nestedGroup
	for i, x := range xs {
		k := key{at[i], names[i]}
		g, seen := number[k]
		if !seen {
			g = len(groups)
			number[k] = g
			groups = append(groups, nestedGroup{parent: at[i]})
		}
		groups[g].values = append(groups[g].values, x)
		at[i] = g
	}
	for g := range groups {
		groups[g].mean = pairMean(groups[g].values)
	}
	return groups
}

// fill sets the sums of squares and the expected mean squares.
func (tree nestedTree) fill(fn string, v *NestedVariance) error {
	var all pair
	for i := 1; i < len(tree.levels); i++ {
		groups, above := tree.levels[i], tree.levels[i-1]
		df := len(groups) - len(above)
		if df < 1 {
			return tooFew(fn, fmt.Sprintf("groups at level %d", i), len(groups), len(above)+1)
		}
		var ss pair
		for _, g := range groups {
			off := g.mean.sub(above[g.parent].mean)
			ss = ss.add(off.mul(off).mulFloat(float64(len(g.values))))
		}
		all = all.add(ss)
		c := VarianceComponent{Source: newVarianceSource(ss, df), Groups: len(groups)}
		for k := i; k < len(tree.levels); k++ {
			c.Expected = append(c.Expected, (tree.spread(i, k)-tree.spread(i-1, k))/float64(df))
		}
		v.Components = append(v.Components, c)
	}
	if allEqual(tree.levels[0][0].values) {
		return Refuse(fn, "xs", "", ErrNoSpread)
	}
	return checkSquare(fn, "xs", all)
}

// spread returns Σ n(h)²/n(g) over the groups h of level k in the groups g of level i,
// k ≥ i: the multiple of component k in the expected value of Σ n(g)·x̄(g)².
func (tree nestedTree) spread(i, k int) float64 {
	sum := 0.0
	for _, h := range tree.levels[k] {
		g := h
		for level := k; level > i; level-- {
			g = tree.levels[level-1][g.parent]
		}
		sum += square(float64(len(h.values))) / float64(len(g.values))
	}
	return sum
}

// balanced reports whether all groups of each level have one size and one number of
// groups below.
func (tree nestedTree) balanced() bool {
	for _, groups := range tree.levels {
		for _, g := range groups {
			if len(g.values) != len(groups[0].values) {
				return false
			}
		}
	}
	return true
}

// meanStdErr returns √(Σᵢ σᵢ²·Σ n(g)²)/n with the components found.
func (tree nestedTree) meanStdErr(components []VarianceComponent) float64 {
	variance := 0.0
	for i, c := range components {
		variance += c.Variance * tree.spread(0, i+1)
	}
	return math.Sqrt(variance / float64(len(tree.levels[0][0].values)))
}

func checkNested(fn string, xs []float64, factors [][]string) error {
	if len(factors) < 1 || len(factors) > mostFactors {
		return outOfRange(fn, "factors", text(float64(len(factors))), fmt.Sprintf("1 to %d levels", mostFactors))
	}
	for i, names := range factors {
		if len(names) != len(xs) {
			return Refuse(fn, fmt.Sprintf("factors[%d]", i), fmt.Sprintf("%d names for %d values", len(names), len(xs)), ErrLength)
		}
	}
	if len(xs) < 3 {
		return tooFew(fn, "xs", len(xs), 3)
	}
	return checkFinite(fn, "xs", xs)
}
