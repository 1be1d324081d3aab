package stats

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mathext"
)

func TestSymmetricBetaAccuracy(t *testing.T) {
	var to30, gonum30, to200, gonum200, inverse worst
	for _, row := range referenceTable(t, "symmetricbeta.csv") {
		n, x := number(t, row[0]), number(t, row[1])
		if number(t, row[2]) < leastCompared {
			continue
		}
		a := n/2 - 1
		b := newSymmetricBeta(a)
		got, err := b.Incomplete(x)
		if err != nil {
			t.Fatal(err)
		}
		e := relativeErrorOf(t, got, row[2])
		eg := relativeErrorOf(t, mathext.RegIncBeta(a, a, x), row[2])
		if n <= 30 {
			to30.add(e, "n = %g, x = %s", n, row[1])
			gonum30.add(eg, "n = %g, x = %s", n, row[1])
		} else {
			to200.add(e, "n = %g, x = %s", n, row[1])
			gonum200.add(eg, "n = %g, x = %s", n, row[1])
		}
		if x <= 0.5 {
			back, _ := b.InverseIncomplete(number(t, row[2]))
			inverse.add(math.Abs(back-x)/x, "n = %g, x = %s", n, row[1])
		}
	}
	report(t, "I_x(a,a), n = 3 to 30", &to30, &gonum30, 1e-14)
	report(t, "I_x(a,a), n = 31 to 200", &to200, &gonum200, 2e-14)
	report(t, "its inverse, n = 3 to 200", &inverse, nil, 2e-15)
}

func TestGrubbsCriticalAccuracy(t *testing.T) {
	var ours worst
	for _, row := range referenceTable(t, "grubbs.csv") {
		side := High
		if row[0] == "two-sided" {
			side = TwoSide
		}
		n := int(number(t, row[1]))
		got, err := GrubbsCritical(n, side, number(t, row[2]))
		if err != nil {
			t.Fatal(err)
		}
		ours.add(relativeErrorOf(t, got, row[3]), "%v", row[:3])
	}
	report(t, "Grubbs critical value", &ours, nil, 1e-14)
}
