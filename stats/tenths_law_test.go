package stats_test

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/densilot/densilot/stats"
)

// What is counted, ordered or decided is the same of tenths as of whole numbers, which are
// exact: no verdict, no warning and no p hangs on how float64 rounds a decimal.
func TestTenthsAnswerAsWholeNumbers(t *testing.T) {
	rng := rand.New(rand.NewPCG(79, 80))
	for range 4000 {
		n, base, spread := 3+rng.IntN(7), []int{0, 930, 1440, -500}[rng.IntN(4)], 1+rng.IntN(9)
		xs, ys := wholeNumbers(rng, n, base, spread), wholeNumbers(rng, n, base, spread)
		if rng.IntN(3) == 0 {
			for i, x := range xs {
				ys[i] = x + float64(spread)
			}
		}
		for name, decided := range decidedByPairs {
			if whole, parts := decided(xs, ys, 1), decided(tenthsOf(xs), tenthsOf(ys), 0.1); whole != parts {
				t.Fatalf("%s of %v, %v: %s of tenths, %s of whole numbers", name, tenthsOf(xs), tenthsOf(ys), parts, whole)
			}
		}
	}
}

// wholeNumbers returns values that often tie, at random, in two lots or evenly.
func wholeNumbers(rng *rand.Rand, n, base, spread int) []float64 {
	xs, kind := make([]float64, n), rng.IntN(3)
	for i := range xs {
		v := rng.IntN(spread + 1)
		switch kind {
		case 1:
			v = i * spread
		case 2:
			v = i % 2 * spread
		}
		xs[i] = float64(base + v)
	}
	return xs
}

func tenthsOf(xs []float64) []float64 {
	ys := make([]float64, len(xs))
	for i, x := range xs {
		ys[i] = x / 10
	}
	return ys
}

// decidedByPairs gives what functions decide of two columns in a unit.
var decidedByPairs = map[string]func(xs, ys []float64, unit float64) string{
	"Passing-Bablok": func(xs, ys []float64, unit float64) string {
		f, err := stats.FitPassingBablok(xs, ys, stats.PassingBablokOptions{Level: 0.9})
		return fmt.Sprintf("%.6f %d %v %v", f.Linearity.P, f.MinusOne, codes(f.Warnings), reasonOf(err))
	},
	"York": func(xs, ys []float64, unit float64) string {
		same := make([]float64, len(xs))
		for i := range same {
			same[i] = unit
		}
		f, err := stats.FitYork(xs, ys, same, same, stats.YorkOptions{Errors: stats.AbsoluteErrors, Level: 0.95})
		return fmt.Sprintf("%.6f %v %v", f.P, codes(f.Warnings), err == nil)
	},
	"Deming": func(xs, ys []float64, unit float64) string {
		f, err := stats.FitDeming(xs, ys, stats.DemingOptions{VarYOverVarX: 1, Level: 0.95, Method: stats.DemingAngle})
		return fmt.Sprintf("%v %v %v", f.SlopeCI.Shape, codes(f.Warnings), reasonOf(err))
	},
	"calibration": func(xs, ys []float64, unit float64) string {
		f, err := stats.FitLine(xs, ys)
		if err != nil {
			return "no line"
		}
		c, err := f.Calibrate(ys[0], stats.CalibrationOptions{Readings: 1, Level: 0.95, Method: stats.Fieller})
		return fmt.Sprintf("%v %v %v", c.CI.Shape, codes(c.Warnings), reasonOf(err))
	},
	"regression limits": func(xs, ys []float64, unit float64) string {
		r, err := stats.RegressionLimits(xs, ys, stats.RegressionAgreementOptions{Level: 0.95, Coverage: 0.95, Spread: stats.SpreadLinear})
		return fmt.Sprintf("%.6f %v %v", r.Spread.RSquared, codes(r.BiasSlope.Warnings), reasonOf(err))
	},
	"equal variances": func(xs, ys []float64, unit float64) string {
		f, err := stats.EqualVariances(xs, ys, 0.95)
		return fmt.Sprintf("%v %v %v", f.XLarger, codes(f.Warnings), reasonOf(err))
	},
	"laboratories": func(xs, ys []float64, unit float64) string {
		third := append(append([]float64(nil), xs[len(xs)/2:]...), ys[:len(xs)/2]...)
		s, err := stats.Interlaboratory([][]float64{xs, ys, third}, stats.InterlaboratoryOptions{Level: 0.95, Alpha: 0.005})
		return fmt.Sprintf("%v %v", codes(s.Warnings), reasonOf(err))
	},
	"components": func(xs, ys []float64, unit float64) string {
		v, err := stats.OneWayComponents([][]float64{xs, ys, xs[:2]}, stats.ComponentOptions{Level: 0.95, Method: stats.ModifiedLargeSample})
		return fmt.Sprintf("%v %v", codes(v.Warnings), reasonOf(err))
	},
	"outlier": func(xs, ys []float64, unit float64) string {
		g, err := stats.Grubbs(xs, stats.High, 0.05)
		return fmt.Sprintf("%d %.6f %v %v %v", g.Index, g.P, g.Exact, codes(g.Warnings), reasonOf(err))
	},
	"two groups": func(xs, ys []float64, unit float64) string {
		s, err1 := stats.Summarize(xs)
		g, err2 := stats.LargestGap(xs)
		return fmt.Sprintf("%v %v", g.SplitsInTwo(s.StdDev), errors.Join(err1, err2))
	},
}

// reasonOf is the innermost error.
func reasonOf(err error) error {
	for inner := err; inner != nil; inner = errors.Unwrap(inner) {
		err = inner
	}
	return err
}
