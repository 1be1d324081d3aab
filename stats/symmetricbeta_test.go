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

// TestSymmetricBetaFreshAccuracy uses points that played no part in the design,
// shapes from 0.05 to 5e7, tails down to 1e-290.
func TestSymmetricBetaFreshAccuracy(t *testing.T) {
	var ours, gonum, back worst
	for _, row := range referenceTable(t, "symmetricbetafresh.csv") {
		a, u := number(t, row[0]), number(t, row[1])
		d, err := NewSymmetricBeta(a)
		if err != nil {
			t.Fatal(err)
		}
		got, _ := d.Survival(u)
		ours.add(relativeErrorOf(t, got, row[2]), "a = %s, u = %s, p = %.5s", row[0], row[1], row[2])
		peer := noPanic(func() float64 { return mathext.RegIncBeta(a, a, 0.5-0.5*u) })
		gonum.add(relativeErrorOf(t, peer, row[2]), "a = %s, u = %s, p = %s", row[0], row[1], row[2])

		// The quantile may differ by what one rounding of p moves it.
		p := number(t, row[2])
		inverse, _ := d.UpperQuantile(p)
		slope := 2 * a * d.norm * math.Exp((a-1)*math.Log((1-u)*(1+u)))
		back.add(max(0, math.Abs(inverse-u)-0x1p-53*p/slope)/u, "a = %s, u = %s, p = %s", row[0], row[1], row[2])
	}
	report(t, "fresh tails", &ours, &gonum, 1e-14)
	report(t, "fresh quantiles beyond the rounding of p", &back, nil, 2e-15)
}

func TestPercentBelowAccuracy(t *testing.T) {
	var ours, gonum worst
	for _, row := range referenceTable(t, "percentbelow.csv") {
		n, q := number(t, row[0]), number(t, row[1])
		a := n/2 - 1
		u := q * math.Sqrt(n) / (n - 1)
		got, err := newSymmetricBeta(a).CDF(u)
		if err != nil {
			t.Fatal(err)
		}
		// Two roundings of u move a small tail by its own slope.
		p := number(t, row[2])
		allowed := 0.0
		if p > 0 && p < 1 {
			allowed = 0x1p-52 * math.Abs(u) * 2 * a * newSymmetricBeta(a).norm * math.Exp((a-1)*math.Log((1-u)*(1+u))) / p
		}
		ours.add(max(0, relativeErrorOf(t, got, row[2])-allowed), "%v", row[:2])
		x := max(0, min(1, 0.5+0.5*u))
		gonum.add(relativeErrorOf(t, mathext.RegIncBeta(a, a, x), row[2]), "%v", row[:2])
	}
	report(t, "fraction below a limit beyond the rounding of u", &ours, &gonum, 2e-15)
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
