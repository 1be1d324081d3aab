package stats

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat"
)

var univariateSets = []string{"PiDigits", "Lottery", "Lew", "Mavro", "Michelso", "NumAcc1", "NumAcc2", "NumAcc3", "NumAcc4"}

// TestUnivariateAccuracy prints how many digits of the certified mean, standard
// deviation and lag-1 autocorrelation each way of computing them reaches.
// Ceilings and certified values: NIST StRD, testdata/strd/certified.json.
func TestUnivariateAccuracy(t *testing.T) {
	var table strings.Builder
	fmt.Fprintf(&table, "digits of mean / s / r1\n%-9s %16s %16s %16s %16s\n", "set", "ceiling", "ours", "accumulator", "gonum")
	sets := readCertified(t, "univariate")
	for _, name := range univariateSets {
		set := sets[name]
		xs := column(t, strdRows(t, "univariate", name), 0)
		ours, gonum := univariateOurs(t, xs), univariateGonum(xs)
		stream := univariateStream(t, xs)
		var digits [4][3]float64
		for i, quantity := range []string{"mean", "sd", "r1"} {
			want := set.exact(t, quantity)
			digits[0][i] = set.Ceiling[quantity]
			digits[1][i] = lre(ours[i], want)
			digits[2][i] = lre(stream[i], want)
			digits[3][i] = lre(gonum[i], want)
			if digits[1][i] < digits[0][i]-0.3 {
				t.Errorf("%s %s: %.1f digits, ceiling %.1f", name, quantity, digits[1][i], digits[0][i])
			}
			if i < 2 && digits[2][i] < digits[0][i]-1 {
				t.Errorf("%s %s: accumulator %.1f digits, ceiling %.1f", name, quantity, digits[2][i], digits[0][i])
			}
		}
		fmt.Fprintf(&table, "%-9s %16s %16s %16s %16s\n", name, slashes(digits[0][:]), slashes(digits[1][:]), slashes(digits[2][:2]), slashes(digits[3][:]))
	}
	t.Log(table.String())
}

func slashes(digits []float64) string {
	parts := make([]string, len(digits))
	for i, d := range digits {
		parts[i] = fmt.Sprintf("%.1f", d)
	}
	return strings.Join(parts, "/")
}

func univariateOurs(t *testing.T, xs []float64) [3]float64 {
	t.Helper()
	d, err := Describe(xs)
	if err != nil {
		t.Fatal(err)
	}
	r1, err := LagOne(xs)
	if err != nil {
		t.Fatal(err)
	}
	return [3]float64{d.Mean, d.StdDev, r1}
}

func univariateStream(t *testing.T, xs []float64) [3]float64 {
	t.Helper()
	var a Accumulator
	a.AddSlice(xs)
	d, err := a.Description()
	if err != nil {
		t.Fatal(err)
	}
	return [3]float64{d.Mean, d.StdDev, math.NaN()}
}

// univariateGonum forms the autocorrelation, which gonum has not, from its mean.
func univariateGonum(xs []float64) [3]float64 {
	mean, s := stat.MeanStdDev(xs, nil)
	var above, below float64
	for i, x := range xs {
		below += (x - mean) * (x - mean)
		if i > 0 {
			above += (xs[i-1] - mean) * (x - mean)
		}
	}
	return [3]float64{mean, s, above / below}
}
