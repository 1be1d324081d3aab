package stats

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat"
)

var anovaSets = []string{"SiRstv", "AtmWtAg", "SmLs01", "SmLs02", "SmLs03", "SmLs04", "SmLs05", "SmLs06", "SmLs07", "SmLs08", "SmLs09"}

var anovaQuantities = []string{"ss_b", "ss_w", "F", "r2", "rsd"}

// TestOneWayAccuracy prints how many digits of the certified analysis of variance
// are reached. Certified values and ceilings: NIST StRD,
// testdata/strd/certified.json.
func TestOneWayAccuracy(t *testing.T) {
	var table strings.Builder
	fmt.Fprintf(&table, "digits of SS between / SS within / F / R² / residual sd\n%-8s %26s %26s %26s\n", "set", "ceiling", "ours", "gonum")
	sets := readCertified(t, "anova")
	for _, name := range anovaSets {
		set := sets[name]
		groups := anovaGroups(t, name)
		a, err := OneWay(groups)
		if err != nil {
			t.Fatal(err)
		}
		ours := []float64{a.Between.SS, a.Within.SS, a.F, a.RSquared, a.ResidualSD}
		gonum := anovaGonum(groups)
		var digits [3][]float64
		for i, quantity := range anovaQuantities {
			want, ceiling := set.exact(t, quantity), set.Ceiling[quantity]
			digits[0] = append(digits[0], ceiling)
			digits[1] = append(digits[1], lre(ours[i], want))
			digits[2] = append(digits[2], lre(gonum[i], want))
			if digits[1][i] < ceiling-0.3 {
				t.Errorf("%s %s: %.1f digits, ceiling %.1f", name, quantity, digits[1][i], ceiling)
			}
		}
		fmt.Fprintf(&table, "%-8s %26s %26s %26s\n", name, slashes(digits[0]), slashes(digits[1]), slashes(digits[2]))
	}
	t.Log(table.String())
}

func anovaGroups(t *testing.T, name string) [][]float64 {
	t.Helper()
	rows := strdRows(t, "anova", name)
	treatment, response := column(t, rows, 0), column(t, rows, 1)
	var groups [][]float64
	for i, x := range response {
		if g := int(treatment[i]); g > len(groups) {
			groups = append(groups, nil)
		}
		groups[len(groups)-1] = append(groups[len(groups)-1], x)
	}
	return groups
}

// anovaGonum builds the table on gonum's means and variances, as it has none.
func anovaGonum(groups [][]float64) []float64 {
	var all []float64
	for _, g := range groups {
		all = append(all, g...)
	}
	grand := stat.Mean(all, nil)
	var between, within float64
	for _, g := range groups {
		mean, variance := stat.MeanVariance(g, nil)
		n := float64(len(g))
		between += n * (mean - grand) * (mean - grand)
		within += (n - 1) * variance
	}
	k, n := float64(len(groups)), float64(len(all))
	return []float64{between, within, between / (k - 1) / (within / (n - k)), between / (between + within), math.Sqrt(within / (n - k))}
}
