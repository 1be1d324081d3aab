package lot_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/densilot/densilot/lot"
)

// The plans of ANSI/ASQC Z1.9-1980 for an unknown standard deviation, with the source in
// testdata/statistics.csv: acceptance constant k, seller's risk at the AQL and the
// percentage outside that is accepted with 10 %. The print rounds k as well as the
// percentages: some k that is printed so has a limiting quality within 0.4 of the print.
func TestPublishedPlans(t *testing.T) {
	rows := tableRows(t, "statistics")
	seen := 0
	for _, row := range rows {
		if row[0] != "z19" {
			continue
		}
		seen++
		var n int
		var k, aql, printed float64
		fmt.Sscan(row[3], &printed)
		if fmt.Sscanf(row[2], "n=%d;k=%g;aql=%g", &n, &k, &aql); row[1] == "seller's risk" {
			if got := 100 * (1 - accepted(t, n, k, aql)); !(math.Abs(got-printed) <= 0.3) {
				t.Errorf("n = %d, AQL %v: seller's risk %.3f, printed %v", n, aql, got, printed)
			}
			continue
		}
		half := 0.5 * math.Pow10(int(math.Ceil(math.Log10(k)))-3) // k has three figures
		lo, hi := limitingQuality(t, n, k+half), limitingQuality(t, n, k-half)
		if !(lo <= printed+0.4 && hi >= printed-0.4 && hi-lo < 0.4) {
			t.Errorf("n = %d, k = %v: limiting quality %.3f to %.3f, printed %v", n, k, lo, hi, printed)
		}
	}
	if seen != 42 {
		t.Errorf("%d figures", seen)
	}
}

// accepted is the chance of a plan by k at a percentage outside its limit.
func accepted(t *testing.T, n int, k, outside float64) float64 {
	return value(t)(estimator(t, n, lot.Quality{Below: outside}).AtLeast(value(t)(lot.PercentWithin(k, n))))
}

// limitingQuality returns the percentage outside that is accepted with 10 %.
func limitingQuality(t *testing.T, n int, k float64) float64 {
	lo, hi := 0.0, 100.0
	for range 50 {
		if middle := (lo + hi) / 2; accepted(t, n, k, middle) > 0.1 {
			lo = middle
		} else {
			hi = middle
		}
	}
	return lo
}
