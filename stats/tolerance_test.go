package stats

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

func TestToleranceAccuracy(t *testing.T) {
	var one, gonum, two worst
	for _, row := range referenceTable(t, "toleranceonesided.csv") {
		n, coverage, confidence := number(t, row[0]), number(t, row[1]), number(t, row[2])
		got, err := ToleranceOneSided(int(n), coverage, confidence)
		if err != nil {
			t.Fatal(err)
		}
		one.add(relativeErrorOf(t, got, row[3]), "%v", row[:3])
		if n < 50 { // gonum's Brent search takes its time
			root := math.Sqrt(n)
			peer := noPanic(func() float64 {
				return distuv.NoncentralT{Nu: n - 1, Mu: root * distuv.UnitNormal.Quantile(coverage)}.Quantile(confidence)
			})
			gonum.add(relativeErrorOf(t, peer/root, row[3]), "%v", row[:3])
		}
	}
	for _, row := range referenceTable(t, "tolerancetwosided.csv") {
		n, coverage, confidence := number(t, row[0]), number(t, row[1]), number(t, row[2])
		got, err := ToleranceTwoSided(int(n), coverage, confidence)
		if err != nil {
			t.Fatal(err)
		}
		two.add(relativeErrorOf(t, got, row[3]), "%v", row[:3])
	}
	report(t, "one-sided tolerance factor", &one, &gonum, 1e-12)
	report(t, "two-sided tolerance factor", &two, nil, 1e-10)
}

// TestConformingMatchesTolerance: the bound for a fraction and the tolerance
// factor are one statement read in two directions. At Q equal to the factor for
// 90 % coverage with 95 % confidence, the lower 95 % bound is 90 %.
func TestConformingMatchesTolerance(t *testing.T) {
	for _, row := range referenceTable(t, "toleranceonesided.csv") {
		n, coverage, confidence, k := number(t, row[0]), number(t, row[1]), number(t, row[2]), number(t, row[3])
		if n < 3 || confidence <= 0.5 {
			continue
		}
		got, err := ConformingIntervalOf(k, int(n), 2*confidence-1)
		if err != nil {
			t.Fatal(err)
		}
		if e := math.Abs(got.Within.Lo-coverage) / (1 - coverage); !(e <= 1e-11) {
			t.Errorf("n = %g, k = %g: bound %v, want %v (off by %.1e of the rest)", n, k, got.Within.Lo, coverage, e)
		}
	}
}
