package stats

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"
)

// roundingOf returns how far one rounding of a probability p moves a quantile x
// with this density there, relative to x.
func roundingOf(p, x, density float64) float64 { return 0x1p-53 * p / math.Abs(density*x) }

func TestNormalAccuracy(t *testing.T) {
	var ours, gonum, tail, tailGonum worst
	d, err := NewNormal(0, 1)
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range referenceTable(t, "normalquantile.csv") {
		p, z := number(t, row[0]), number(t, row[1])
		got, _ := d.UpperQuantile(p)
		// p is the float64 nearest the decimal, which moves a quantile near 0.
		ours.add(max(0, relativeErrorOf(t, got, row[1])-roundingOf(p, z, normalDensity(z))), "p = %s", row[0])
		gonum.add(max(0, relativeErrorOf(t, -distuv.UnitNormal.Quantile(p), row[1])-roundingOf(p, z, normalDensity(z))), "p = %s", row[0])
		back, _ := d.Survival(z)
		// z is the float64 nearest the decimal, which moves a tail far out.
		allowed := 0x1p-53 * z * normalDensity(z) / p * z
		tail.add(max(0, math.Abs(back-p)/p-allowed), "z = %s", row[1])
		tailGonum.add(math.Abs(distuv.UnitNormal.Survival(z)-p)/p, "z = %s", row[1])
	}
	report(t, "normal quantile", &ours, &gonum, 1e-15)
	report(t, "normal tail", &tail, &tailGonum, 1e-15)
}

// near is the tail above which the rounding of an exponent does not show.
const near = 1e-15

func TestChiSquaredAccuracy(t *testing.T) {
	var ours, oursNear, gonum, quantile, quantileGonum worst
	for _, row := range referenceTable(t, "chisquaredfresh.csv") {
		df, x := number(t, row[0]), number(t, row[1])
		d, err := NewChiSquared(df)
		if err != nil {
			t.Fatal(err)
		}
		lower, _ := d.CDF(x)
		upper, _ := d.Survival(x)
		ours.add(relativeErrorOf(t, lower, row[2]), "df = %s, x = %s, lower", row[0], row[1])
		ours.add(relativeErrorOf(t, upper, row[3]), "df = %s, x = %s, upper", row[0], row[1])
		if min(lower, upper) > near {
			oursNear.add(relativeErrorOf(t, lower, row[2]), "df = %s, x = %s, lower", row[0], row[1])
			oursNear.add(relativeErrorOf(t, upper, row[3]), "df = %s, x = %s, upper", row[0], row[1])
		}
		gonum.add(relativeErrorOf(t, mathext.GammaIncReg(df/2, x/2), row[2]), "df = %s, x = %s, lower", row[0], row[1])
		gonum.add(relativeErrorOf(t, mathext.GammaIncRegComp(df/2, x/2), row[3]), "df = %s, x = %s, upper", row[0], row[1])
	}
	for _, row := range referenceTable(t, "chisquaredquantile.csv") {
		df, p := number(t, row[0]), number(t, row[1])
		got, err := newChiSquared(df).Quantile(p)
		if err != nil {
			t.Fatal(err)
		}
		x := number(t, row[2])
		allowed := roundingOf(p, x, gammaPower(df/2, x/2)/x)
		quantile.add(max(0, relativeErrorOf(t, got, row[2])-allowed), "df = %s, p = %s", row[0], row[1])
		quantileGonum.add(max(0, relativeErrorOf(t, distuv.ChiSquared{K: df}.Quantile(p), row[2])-allowed), "df = %s, p = %s", row[0], row[1])
	}
	report(t, "chi-square tails", &ours, &gonum, 2e-13)
	report(t, "chi-square tails above 1e-15", &oursNear, nil, 2e-14)
	report(t, "chi-square quantile beyond the rounding of p", &quantile, &quantileGonum, 1e-14)
}

func TestFDistributionAccuracy(t *testing.T) {
	var ours, oursNear, gonum, quantile, quantileGonum worst
	for _, row := range referenceTable(t, "ffresh.csv") {
		df1, df2, x := number(t, row[0]), number(t, row[1]), number(t, row[2])
		d, err := NewFDistribution(df1, df2)
		if err != nil {
			t.Fatal(err)
		}
		lower, _ := d.CDF(x)
		upper, _ := d.Survival(x)
		peer := distuv.F{D1: df1, D2: df2}
		ours.add(relativeErrorOf(t, lower, row[3]), "%v, lower", row[:3])
		ours.add(relativeErrorOf(t, upper, row[4]), "%v, upper", row[:3])
		if min(lower, upper) > near {
			oursNear.add(relativeErrorOf(t, lower, row[3]), "%v, lower", row[:3])
			oursNear.add(relativeErrorOf(t, upper, row[4]), "%v, upper", row[:3])
		}
		gonum.add(relativeErrorOf(t, peer.CDF(x), row[3]), "%v, lower", row[:3])
		gonum.add(relativeErrorOf(t, peer.Survival(x), row[4]), "%v, upper", row[:3])
	}
	for _, row := range referenceTable(t, "fquantile.csv") {
		df1, df2, p := number(t, row[0]), number(t, row[1]), number(t, row[2])
		d, err := NewFDistribution(df1, df2)
		if err != nil {
			t.Fatal(err)
		}
		got, err := d.UpperQuantile(p)
		if err != nil {
			t.Fatal(err)
		}
		quantile.add(relativeErrorOf(t, got, row[3]), "%v", row[:3])
		quantileGonum.add(relativeErrorOf(t, distuv.F{D1: df1, D2: df2}.Quantile(1-p), row[3]), "%v", row[:3])
	}
	report(t, "F tails", &ours, &gonum, 2e-13)
	report(t, "F tails above 1e-15", &oursNear, nil, 2e-14)
	report(t, "F quantile", &quantile, &quantileGonum, 1e-14)
}
