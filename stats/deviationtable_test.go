package stats

import (
	"math"
	"testing"
)

// NumPy 1.24, 2 000 000 samples of 10 from default_rng(5): the share whose largest
// deviation, one-sided, is beyond g standard deviations.
func TestDeviationTable(t *testing.T) {
	table := newDeviationTable(10)
	for g, want := range map[float64]float64{1.7: 0.339784, 1.9: 0.1749365} {
		noise := 4 * math.Sqrt(want*(1-want)/2e6)
		if got := table.above(g / maxDeviation(10)); math.Abs(got-want) > noise {
			t.Errorf("g = %v: %v, want %v ± %v", g, got, want, noise)
		}
	}
}

// The table, built up by recursion, lies between the bounds of one and two Bonferroni
// terms, is 1 at the least deviation, and falls.
func TestDeviationTableInBracket(t *testing.T) {
	for _, n := range []int{4, 5, 6, 10, 30, 100, 300} {
		table := newDeviationTable(n)
		if p := table.above(table.least * (1 + 1e-9)); math.Abs(p-1) > 1e-8 {
			t.Errorf("n = %d: %v at the least deviation", n, p)
		}
		before := 1.0
		for i := 1; i < 200; i++ {
			u := table.least + (1-table.least)*float64(i)/200
			p := table.above(u)
			upper := float64(n) * table.beta.below(-u)
			lower := upper - pairTerm(u, n, High)
			if p > before*(1+1e-9) || p > upper*(1+3e-7) || p < lower*(1-3e-7) {
				t.Errorf("n = %d, u = %v: %v, bounds %v to %v, before %v", n, u, p, lower, upper, before)
			}
			before = p
		}
	}
}
