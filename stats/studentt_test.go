package stats

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

func TestStudentTQuantileAccuracy(t *testing.T) {
	var ours, gonum, back worst
	for _, row := range referenceTable(t, "tquantile.csv") {
		df, p := number(t, row[0]), number(t, row[1])
		d := newStudentT(df)
		got, err := d.UpperQuantile(p)
		if err != nil {
			t.Fatal(err)
		}
		ours.add(relativeErrorOf(t, got, row[2]), "df = %s, p = %s", row[0], row[1])
		peer := noPanic(func() float64 { return -distuv.StudentsT{Sigma: 1, Nu: df}.Quantile(p) })
		gonum.add(relativeErrorOf(t, peer, row[2]), "df = %s, p = %s", row[0], row[1])
		tail, _ := d.Survival(number(t, row[2]))
		back.add(math.Abs(tail-p)/p, "df = %s, p = %s", row[0], row[1])
	}
	report(t, "t quantile", &ours, &gonum, 1e-14)
	report(t, "t tail at the quantile", &back, nil, 1e-14)
}

func TestStudentTFreshAccuracy(t *testing.T) {
	var ours, gonum worst
	for _, row := range referenceTable(t, "studenttfresh.csv") {
		df, x := number(t, row[0]), number(t, row[1])
		d, err := NewStudentT(df)
		if err != nil {
			t.Fatal(err)
		}
		got, err := d.Survival(x)
		if err != nil {
			t.Fatal(err)
		}
		ours.add(relativeErrorOf(t, got, row[2]), "df = %s, t = %s", row[0], row[1])
		peer := noPanic(func() float64 { return distuv.StudentsT{Sigma: 1, Nu: df}.Survival(x) })
		gonum.add(relativeErrorOf(t, peer, row[2]), "df = %s, t = %s", row[0], row[1])
	}
	report(t, "fresh t tails", &ours, &gonum, 1e-14)
}

// TestStudentTNearNormal holds quantiles at 1e10 degrees of freedom to the first
// term of the Cornish-Fisher expansion, z + (z³+z)/(4ν); the next is 1e-18 here.
func TestStudentTNearNormal(t *testing.T) {
	const df = 1e10
	d := newStudentT(df)
	for _, row := range referenceTable(t, "normalquantile.csv") {
		p, z := number(t, row[0]), number(t, row[1])
		if p > 0.4 {
			continue // the rounding of p moves a quantile near 0
		}
		got, err := d.UpperQuantile(p)
		want := z + (z*z*z+z)/(4*df)
		if err != nil || !(math.Abs(got-want) <= 1e-15*want) {
			t.Errorf("p = %s: %v (%v), want %v", row[0], got, err, want)
		}
	}
}
