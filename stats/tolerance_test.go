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

// Expected values: mpmath, trapezoid rule over the standardized mean (h = 0.25), the
// half-width by Newton's steps and k by secants, at 25 digits.
func TestToleranceOfSmallCoverage(t *testing.T) {
	for _, tt := range []struct {
		n                          int
		coverage, confidence, want float64
	}{
		{2, 1e-9, 0.95, 2.80445780408541e-8}, {10, 1e-9, 0.95, 2.206485863148922e-9},
		{10, 1e-15, 0.5, 1.367125333877605e-15}, {5, 1e-6, 0.5, 1.508499695009959e-6},
	} {
		got, err := ToleranceTwoSided(tt.n, tt.coverage, tt.confidence)
		if err != nil || math.Abs(got/tt.want-1) > 1e-13 {
			t.Errorf("n = %d, coverage %v: %v, %v, want %v", tt.n, tt.coverage, got, err, tt.want)
		}
	}
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
