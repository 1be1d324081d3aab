package stats_test

import (
	"encoding/csv"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/densilot/densilot/stats"
)

// The published one-sided critical values beyond the exact region follow the lower
// bound: within one unit of the last digit printed, where the upper bound is off by
// up to three.
func TestPublishedCriticalValuesFollowTheSecondTerm(t *testing.T) {
	f, err := os.Open("../testdata/outliers.csv") // its source column says where they are from
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	beyond, lowerWrong, upperWrong := 0, 0, 0
	for _, row := range rows {
		n, alpha, ok := oneSidedRow(row)
		if !ok {
			continue
		}
		printed, err := strconv.ParseFloat(row[3], 64)
		if err != nil {
			t.Fatal(err)
		}
		lower, upper, err := stats.GrubbsCriticalBounds(n, stats.High, alpha)
		if err != nil {
			t.Fatal(err)
		}
		exact := upper > math.Sqrt(float64(n-1)*float64(n-2)/(2*float64(n)))
		if exact != (lower == upper) || lower > upper {
			t.Errorf("n = %d, alpha %v: %v to %v, exact %v", n, alpha, lower, upper, exact)
		}
		if exact {
			continue
		}
		beyond++
		if math.Abs(printed-lower) > 0.0005 {
			lowerWrong++
		}
		if math.Abs(printed-upper) > 0.0005 {
			upperWrong++
		}
		if math.Abs(printed-lower) > 0.0015 {
			t.Errorf("n = %d, alpha %v: printed %v, ours %v to %v", n, alpha, printed, lower, upper)
		}
	}
	t.Logf("%d values beyond the exact region; %d differ from the lower bound in the last digit, %d from the upper", beyond, lowerWrong, upperWrong)
	if beyond < 100 || 2*lowerWrong > upperWrong {
		t.Error("the print does not follow the lower bound")
	}
}

func oneSidedRow(row []string) (n int, alpha float64, ok bool) {
	parts := strings.Split(row[2], ";")
	if row[1] != "outlier critical value" || len(parts) != 3 || parts[1] != "side=high" {
		return 0, 0, false
	}
	n, err := strconv.Atoi(strings.TrimPrefix(parts[0], "n="))
	if err != nil {
		return 0, 0, false
	}
	alpha, err = strconv.ParseFloat(strings.TrimPrefix(parts[2], "alpha="), 64)
	return n, alpha, err == nil
}

// The share of normal samples with a deviation beyond g lies between the bounds of
// p for that g.
func TestBracketHoldsTheSimulatedP(t *testing.T) {
	trials := simulationTrials(60000, 1000000)
	rng := rand.New(rand.NewPCG(31, 32))
	for _, n := range []int{5, 10, 30} {
		for _, side := range []stats.Side{stats.High, stats.TwoSide} {
			xs, g := sampleAtHalf(t, rng, n, side)
			r, err := stats.Grubbs(xs, side, 0.5)
			if err != nil {
				t.Fatal(err)
			}
			beyond := 0
			for range trials {
				d, err := stats.Describe(normals(rng, n, 0, 1))
				if err != nil {
					t.Fatal(err)
				}
				if d.Max-d.Mean > g*d.StdDev || side == stats.TwoSide && d.Mean-d.Min > g*d.StdDev {
					beyond++
				}
			}
			got, noise := share(beyond, trials), 4*math.Sqrt(0.25/float64(trials))
			t.Logf("n = %d, %v: p in [%.4f, %.4f], simulated %.4f", n, side, r.PLower, r.P, got)
			if r.Exact || !(r.PLower < r.P) || got < r.PLower-noise || got > r.P+noise {
				t.Errorf("n = %d, %v, G %v: p in [%v, %v], exact %v, simulated %v ± %v", n, side, g, r.PLower, r.P, r.Exact, got, noise)
			}
		}
	}
}

// sampleAtHalf draws until p is somewhat below one half and the bracket is open.
func sampleAtHalf(t *testing.T, rng *rand.Rand, n int, side stats.Side) (xs []float64, g float64) {
	for range 10000 {
		xs = normals(rng, n, 0, 1)
		r, err := stats.Grubbs(xs, side, 0.5)
		if err != nil {
			t.Fatal(err)
		}
		if !r.Exact && r.P < 0.8 && r.P > 0.3 {
			return xs, r.G
		}
	}
	t.Fatalf("no sample of %d with an open bracket", n)
	return nil, 0
}

// Alpha between the bounds of p is told.
func TestUndecidedIsTold(t *testing.T) {
	rng := rand.New(rand.NewPCG(33, 34))
	xs, _ := sampleAtHalf(t, rng, 10, stats.High)
	r, err := stats.Grubbs(xs, stats.High, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	r, err = stats.Grubbs(xs, stats.High, (r.PLower+r.P)/2)
	if err != nil || r.Outlier || !has(r.Warnings, stats.WarnBound) || !(r.CriticalLower < r.G && r.G < r.Critical) {
		t.Errorf("%+v, %v", r, err)
	}
}

func TestCriticalBoundsRefuse(t *testing.T) {
	if _, _, err := stats.GrubbsCriticalBounds(2, stats.Low, 0.05); err == nil {
		t.Error("two values were taken")
	}
	if _, _, err := stats.GrubbsCriticalBounds(20, 0, 0.05); err == nil {
		t.Error("no side was taken")
	}
}
