package stats

import (
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

func TestNoncentralTAccuracy(t *testing.T) {
	for _, table := range []string{"noncentralt.csv", "noncentraltfresh.csv"} {
		t.Run(table, func(t *testing.T) { noncentralTAccuracy(t, table) })
	}
}

func noncentralTAccuracy(t *testing.T, table string) {
	var ours, gonum worst
	for _, row := range referenceTable(t, table) {
		x, df, ncp := number(t, row[0]), number(t, row[1]), number(t, row[2])
		d, err := NewNoncentralT(df)
		if err != nil {
			t.Fatal(err)
		}
		lower, upper, err := d.Tails(x, ncp)
		if err != nil {
			t.Fatal(err)
		}
		peer := noPanic(func() float64 { return distuv.NoncentralT{Nu: df, Mu: ncp}.CDF(x) })
		for i, got := range []float64{lower, upper} {
			want := row[3+i]
			if number(t, want) < leastCompared {
				continue
			}
			e := relativeErrorOf(t, got, want)
			ours.add(e, "t = %s, df = %s, ncp = %s, tail %d = %.8s", row[0], row[1], row[2], i, want)
			gonum.add(relativeErrorOf(t, peer, want), "t = %s, df = %s, ncp = %s, p = %s", row[0], row[1], row[2], want)
			peer = 1 - peer
		}
	}
	report(t, "noncentral t, both tails", &ours, &gonum, 1e-12)
}
