package stats

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"
)

// coverageTrials is the number of samples of each simulation.
func coverageTrials() int {
	if *long {
		return 20000
	}
	return 2000
}

// simulated is an interval method under simulation: trial draws a sample of size n and
// reports whether the set holds the truth.
type simulated struct {
	name   string
	trial  func(t *testing.T, r *rand.Rand, n int) bool
	wanted coverage
}

// coverage is that by n = 3, 5, 10 and 30, with how far it may be off.
type coverage struct {
	byN      [4]float64
	rounding float64
	slow     bool // a tenth of the trials is enough
}

// exactly is the coverage of an exact method at 95 %.
var exactly = coverage{byN: [4]float64{0.95, 0.95, 0.95, 0.95}}

// about is a coverage as doc comments state it, in whole percent.
func about(percent ...float64) coverage {
	c := coverage{rounding: 0.005}
	for i, p := range percent {
		c.byN[i] = p / 100
	}
	return c
}

// slowly is about for a method that takes long.
func slowly(percent ...float64) coverage {
	c := about(percent...)
	c.slow = true
	return c
}

// checkCoverage wants the stated coverage within 4 standard errors of the count and
// the rounding of the statement.
func checkCoverage(t *testing.T, seed uint64, methods ...simulated) {
	t.Helper()
	for i, method := range methods {
		trials := coverageTrials()
		if method.wanted.slow {
			trials /= 10
		}
		for k, n := range []int{3, 5, 10, 30} {
			r := rand.New(rand.NewPCG(seed, uint64(100*i+n)))
			held := 0
			for range trials {
				if method.trial(t, r, n) {
					held++
				}
			}
			got, want := float64(held)/float64(trials), method.wanted.byN[k]
			t.Logf("%s, n = %d: %.2f %%", method.name, n, 100*got)
			if allowed := 4*math.Sqrt(want*(1-want)/float64(trials)) + method.wanted.rounding; math.Abs(got-want) > allowed {
				t.Errorf("%s, n = %d: covers %.4f, want %.4f ± %.4f", method.name, n, got, want, allowed)
			}
		}
	}
}

// noisyLine draws true x evenly over 2 units around 145, y = x + 2.5, and adds errors.
func noisyLine(r *rand.Rand, n int, errorX, errorY float64) (truth, xs, ys []float64) {
	for i := range n {
		x := 144 + 2*float64(i)/float64(n-1)
		truth = append(truth, x)
		xs = append(xs, x+errorX*r.NormFloat64())
		ys = append(ys, x+2.5+errorY*r.NormFloat64())
	}
	return truth, xs, ys
}

func must[T any](t *testing.T) func(v T, err error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func TestLeastSquaresCoverage(t *testing.T) {
	line := func(t *testing.T, r *rand.Rand, n int) LineFit {
		truth, _, ys := noisyLine(r, n, 0, 0.4)
		return must[LineFit](t)(FitLine(truth, ys))
	}
	// sharpness is the true slope in standard errors of its estimate.
	calibrated := func(method CalibrationMethod, sharpness float64) func(t *testing.T, r *rand.Rand, n int) bool {
		return func(t *testing.T, r *rand.Rand, n int) bool {
			truth, _, ys := noisyLine(r, n, 0, 0)
			ss := squaresAboutMean(truth, pairMean(truth)).value()
			sd := math.Sqrt(ss) / sharpness
			for i := range ys {
				ys[i] += sd * r.NormFloat64()
			}
			fit := must[LineFit](t)(FitLine(truth, ys))
			c := must[Calibration](t)(fit.Calibrate(145.9+2.5+sd*r.NormFloat64(), CalibrationOptions{Readings: 1, Level: 0.95, Method: method}))
			return c.CI.Contains(145.9)
		}
	}
	checkCoverage(t, 71,
		simulated{"slope", func(t *testing.T, r *rand.Rand, n int) bool {
			return must[CoefficientTest](t)(line(t, r, n).SlopeAgainst(1, 0.95)).CI.Contains(1)
		}, exactly},
		simulated{"slope through the origin", func(t *testing.T, r *rand.Rand, n int) bool {
			truth, _, ys := noisyLine(r, n, 0, 0.4)
			for i := range ys {
				ys[i] -= 2.5
			}
			return must[CoefficientTest](t)(must[LineFit](t)(FitLineThroughOrigin(truth, ys)).SlopeAgainst(1, 0.95)).CI.Contains(1)
		}, exactly},
		simulated{"line at a point", func(t *testing.T, r *rand.Rand, n int) bool {
			return must[Prediction](t)(line(t, r, n).Predict(145.5, 0.95)).CI.Contains(148)
		}, exactly},
		simulated{"one new value", func(t *testing.T, r *rand.Rand, n int) bool {
			return must[Prediction](t)(line(t, r, n).Predict(145.5, 0.95)).PI.Contains(148 + 0.4*r.NormFloat64())
		}, exactly},
		simulated{"Fieller, good slope", calibrated(Fieller, 20), exactly},
		simulated{"Fieller, poor slope", calibrated(Fieller, 2), exactly},
		simulated{"Wald, good slope", calibrated(Wald, 20), about(95, 95, 95, 95)},
		simulated{"Wald, poor slope", calibrated(Wald, 2), about(96, 97, 97, 99)},
		simulated{"change of a trend", func(t *testing.T, r *rand.Rand, n int) bool {
			truth, _, ys := noisyLine(r, max(n, 4), 0, 0.4)
			return must[TrendResult](t)(Trend(truth, ys, 0.95)).ChangeCI.Contains(truth[len(truth)-1] - truth[0])
		}, exactly},
	)
}

func TestDemingCoverage(t *testing.T) {
	const small, large = 0.12, 0.4 // errors of x and y; the true x span 2
	fit := func(t *testing.T, r *rand.Rand, n int, method DemingMethod, noise float64) DemingFit {
		_, xs, ys := noisyLine(r, n, noise, noise)
		return must[DemingFit](t)(FitDeming(xs, ys, DemingOptions{VarYOverVarX: 1, Level: 0.95, Method: method}))
	}
	slope := func(method DemingMethod, noise float64) func(t *testing.T, r *rand.Rand, n int) bool {
		return func(t *testing.T, r *rand.Rand, n int) bool { return fit(t, r, n, method, noise).SlopeCI.Contains(1) }
	}
	intercept := func(method DemingMethod, noise float64) func(t *testing.T, r *rand.Rand, n int) bool {
		return func(t *testing.T, r *rand.Rand, n int) bool {
			return fit(t, r, n, method, noise).InterceptCI.Contains(2.5)
		}
	}
	york := func(meaning PointErrors) func(t *testing.T, r *rand.Rand, n int) bool {
		return func(t *testing.T, r *rand.Rand, n int) bool {
			_, xs, ys := noisyLine(r, n, 0, 0)
			ex, ey := make([]float64, n), make([]float64, n)
			for i := range xs {
				ex[i], ey[i] = 0.06+0.12*float64(i%2), 0.18-0.12*float64(i%3)/2
				xs[i] += ex[i] * r.NormFloat64()
				ys[i] += ey[i] * r.NormFloat64()
			}
			return must[YorkFit](t)(FitYork(xs, ys, ex, ey, YorkOptions{Errors: meaning, Level: 0.95})).SlopeCI.Contains(1)
		}
	}
	checkCoverage(t, 72,
		simulated{"slope, angle", slope(DemingAngle, small), exactly},
		simulated{"intercept, angle", intercept(DemingAngle, small), about(95, 95, 95, 95)},
		simulated{"slope, jackknife", slope(DemingJackknife, small), about(98, 96, 95, 95)},
		simulated{"intercept, jackknife", intercept(DemingJackknife, small), about(98, 96, 95, 95)},
		simulated{"slope, angle, large errors", slope(DemingAngle, large), about(95, 95, 95, 95)},
		simulated{"intercept, angle, large errors", intercept(DemingAngle, large), about(95, 94, 94, 95)},
		simulated{"slope, jackknife, large errors", slope(DemingJackknife, large), about(98, 95, 94, 95)},
		simulated{"intercept, jackknife, large errors", intercept(DemingJackknife, large), about(98, 96, 94, 95)},
		simulated{"York, absolute", york(AbsoluteErrors), about(95, 95, 95, 95)},
		simulated{"York, relative", york(RelativeErrors), about(95, 95, 95, 95)},
		simulated{"ratio from replicates", func(t *testing.T, r *rand.Rand, n int) bool {
			xs, ys := make([][]float64, n), make([][]float64, n)
			for i := range xs {
				xs[i] = []float64{r.NormFloat64(), r.NormFloat64()}
				ys[i] = []float64{2 * r.NormFloat64(), 2 * r.NormFloat64()}
			}
			return must[ReplicateRatio](t)(NewReplicateRatio(xs, ys, 0.95)).CI.Contains(4)
		}, exactly},
	)
}

// oneWayDraw returns k groups of 3, or of 2, 3 and 4 in turn, with both variances 1.
func oneWayDraw(r *rand.Rand, k int, balanced bool) [][]float64 {
	groups := make([][]float64, k)
	for i := range groups {
		centre, size := r.NormFloat64(), 3
		if !balanced {
			size = 2 + i%3
		}
		for range size {
			groups[i] = append(groups[i], centre+r.NormFloat64())
		}
	}
	return groups
}

// nestedOnes returns two values in each of two groups in each of k top groups, with all
// variances 1.
func nestedOnes(r *rand.Rand, k int) (xs []float64, factors [][]string) {
	factors = make([][]string, 2)
	for top := range k {
		a := r.NormFloat64()
		for group := range 2 {
			b := r.NormFloat64()
			for range 2 {
				xs = append(xs, a+b+r.NormFloat64())
				factors[0], factors[1] = append(factors[0], strconv.Itoa(top)), append(factors[1], strconv.Itoa(group))
			}
		}
	}
	return xs, factors
}

func TestComponentsCoverage(t *testing.T) {
	oneWay := func(method ComponentMethod, balanced bool, holds func(v OneWayVariance) bool) func(t *testing.T, r *rand.Rand, k int) bool {
		return func(t *testing.T, r *rand.Rand, k int) bool {
			return holds(must[OneWayVariance](t)(OneWayComponents(oneWayDraw(r, k, balanced), ComponentOptions{Level: 0.95, Method: method})))
		}
	}
	between := func(v OneWayVariance) bool { return v.Components[0].CI.Contains(1) }
	within := func(v OneWayVariance) bool { return v.Components[1].CI.Contains(1) }
	total := func(v OneWayVariance) bool { return v.TotalCI.Contains(2) }
	icc := func(v OneWayVariance) bool { return v.ICCCI.Contains(0.5) }
	nested := func(holds func(v NestedVariance) bool) func(t *testing.T, r *rand.Rand, k int) bool {
		return func(t *testing.T, r *rand.Rand, k int) bool {
			xs, factors := nestedOnes(r, k)
			return holds(must[NestedVariance](t)(NestedComponents(xs, factors, modified)))
		}
	}
	checkCoverage(t, 73,
		simulated{"within", oneWay(ModifiedLargeSample, true, within), exactly},
		simulated{"intraclass", oneWay(ModifiedLargeSample, true, icc), exactly},
		simulated{"between, modified", oneWay(ModifiedLargeSample, true, between), about(95, 95, 95, 95)},
		simulated{"total, modified", oneWay(ModifiedLargeSample, true, total), about(96, 95, 95, 95)},
		simulated{"between, Satterthwaite", oneWay(Satterthwaite, true, between), about(74, 86, 94, 96)},
		simulated{"total, Satterthwaite", oneWay(Satterthwaite, true, total), about(95, 95, 94, 95)},
		simulated{"between, unbalanced", oneWay(ModifiedLargeSample, false, between), about(95, 95, 95, 95)},
		simulated{"intraclass, unbalanced", oneWay(ModifiedLargeSample, false, icc), about(95, 95, 95, 95)},
		simulated{"nested, top", nested(func(v NestedVariance) bool { return v.Components[0].CI.Contains(1) }), about(95, 95, 95, 95)},
		simulated{"nested, middle", nested(func(v NestedVariance) bool { return v.Components[1].CI.Contains(1) }), about(95, 95, 95, 95)},
		simulated{"nested, total", nested(func(v NestedVariance) bool { return v.TotalCI.Contains(3) }), about(96, 95, 95, 95)},
	)
}
