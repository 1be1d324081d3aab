package stats

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// pairTakers are the functions of two columns, and of one in order beside a second.
// Each returns its result as printed and its error.
func pairTakers() map[string]func(xs, ys []float64) (string, error) {
	show := func(v any, err error) (string, error) { return fmt.Sprintf("%+v", v), err }
	after := func(fit LineFit, err error, f func(LineFit) (string, error)) (string, error) {
		if err != nil {
			return "", err
		}
		return f(fit)
	}
	deming := func(method DemingMethod, ratio float64) func(xs, ys []float64) (string, error) {
		return func(xs, ys []float64) (string, error) {
			f, err := FitDeming(xs, ys, DemingOptions{VarYOverVarX: ratio, Level: 0.95, Method: method})
			if err != nil {
				return "", err
			}
			t, p, err := f.SlopeP(1)
			return show([]any{f, t, p}, err)
		}
	}
	halves := func(xs []float64) [][]float64 { return [][]float64{xs[:len(xs)/2], xs[len(xs)/2:]} }
	names := func(xs []float64, size int) []string {
		ns := make([]string, len(xs))
		for i := range ns {
			ns[i] = strconv.Itoa(i / size)
		}
		return ns
	}
	components := func(method ComponentMethod) ComponentOptions { return ComponentOptions{Level: 0.95, Method: method} }
	return map[string]func(xs, ys []float64) (string, error){
		"LineFit": func(xs, ys []float64) (string, error) {
			f, err := FitLine(xs, ys)
			return after(f, err, func(f LineFit) (string, error) {
				slope, err1 := f.SlopeAgainst(1, 0.95)
				intercept, err2 := f.InterceptAgainst(0, 0.95)
				at, err3 := f.Predict(1, 0.95)
				return show([]any{f, slope, intercept, at}, errors.Join(err1, err2, err3))
			})
		},
		"Fieller": func(xs, ys []float64) (string, error) {
			f, err := FitLine(xs, ys)
			return after(f, err, func(f LineFit) (string, error) {
				return show(f.Calibrate(ys[0], CalibrationOptions{Readings: 2, Level: 0.95, Method: Fieller}))
			})
		},
		"Wald, origin": func(xs, ys []float64) (string, error) {
			f, err := FitLineThroughOrigin(xs, ys)
			return after(f, err, func(f LineFit) (string, error) {
				return show(f.Calibrate(ys[0], CalibrationOptions{Readings: 1, Level: 0.95, Method: Wald}))
			})
		},
		"LinearFit": func(xs, ys []float64) (string, error) {
			f, err := FitLinear([][]float64{xs}, ys)
			if err != nil {
				return "", err
			}
			slope, err1 := f.CoefficientAgainst(1, 1, 0.95)
			at, err2 := f.Predict([]float64{1, xs[0]}, 0.95)
			return show([]any{f, slope, at}, errors.Join(err1, err2))
		},
		"LackOfFit":              func(xs, ys []float64) (string, error) { return show(LackOfFit(xs, ys)) },
		"LackOfFitThroughOrigin": func(xs, ys []float64) (string, error) { return show(LackOfFitThroughOrigin(xs, ys)) },
		"SummarizePairs":         func(xs, ys []float64) (string, error) { return show(SummarizePairs(xs, ys)) },
		"DemingLine": func(xs, ys []float64) (string, error) {
			s, err := SummarizePairs(xs, ys)
			if err != nil {
				return "", err
			}
			return show(DemingLine(s, 0.5))
		},
		"FitDeming, angle":     deming(DemingAngle, 1),
		"FitDeming, jackknife": deming(DemingJackknife, 0.25),
		"FitDeming, ratio far": deming(DemingAngle, 1e200),
		"FitYork, absolute": func(xs, ys []float64) (string, error) {
			return show(FitYork(xs, ys, oneEach(xs), oneEach(xs), YorkOptions{Errors: AbsoluteErrors, Level: 0.95}))
		},
		"FitYork, errors as data": func(xs, ys []float64) (string, error) {
			ex := slices.Clone(xs)
			for i, x := range ex {
				ex[i] = math.Abs(x)
			}
			return show(FitYork(xs, ys, ex, oneEach(xs), YorkOptions{Errors: RelativeErrors, Level: 0.95}))
		},
		"NewReplicateRatio": func(xs, ys []float64) (string, error) {
			return show(NewReplicateRatio(halves(xs), halves(ys), 0.95))
		},
		"FitDemingReplicates": func(xs, ys []float64) (string, error) {
			return show(FitDemingReplicates([][]float64{xs, ys, xs}, [][]float64{ys, xs, xs}, 0.95, DemingAngle))
		},
		"OneWayComponents": func(xs, ys []float64) (string, error) {
			return show(OneWayComponents([][]float64{xs, ys}, components(ModifiedLargeSample)))
		},
		"OneWayComponents, unbalanced": func(xs, ys []float64) (string, error) {
			return show(OneWayComponents(append(halves(xs), ys), components(Satterthwaite)))
		},
		"NestedComponents": func(xs, ys []float64) (string, error) {
			return show(NestedComponents(xs, [][]string{names(xs, 3), names(xs, 2)}, components(ModifiedLargeSample)))
		},
		"NestedComponents, one factor": func(xs, ys []float64) (string, error) {
			return show(NestedComponents(xs, [][]string{names(xs, 2)}, components(Satterthwaite)))
		},
		"CUSUM": func(xs, ys []float64) (string, error) {
			return show(CUSUM(xs, CUSUMOptions{Target: 94, Reference: 0.5, DecisionInterval: 4}))
		},
		"NewIndividualsChart": func(xs, ys []float64) (string, error) { return show(NewIndividualsChart(xs, 3)) },
		"Dixon":               func(xs, ys []float64) (string, error) { return show(Dixon(xs, DixonR10, TwoSide, 0.05)) },
		"ShapiroWilk":         func(xs, ys []float64) (string, error) { return show(ShapiroWilk(xs)) },
		"AndersonDarling":     func(xs, ys []float64) (string, error) { return show(AndersonDarling(xs)) },
		"NewSubgroupChart": func(xs, ys []float64) (string, error) {
			return show(NewSubgroupChart([][]float64{xs, ys, xs}, SpreadStdDev, 3))
		},
		"EWMA": func(xs, ys []float64) (string, error) {
			return show(EWMA(xs, EWMAOptions{Target: 94, Sigma: 1, Weight: 0.2, Multiple: 3}))
		},
		"RunSignals":         func(xs, ys []float64) (string, error) { return show(RunSignals(xs, 94, 1, NelsonRules())) },
		"VonNeumann":         func(xs, ys []float64) (string, error) { return show(VonNeumann(xs, Low)) },
		"LagOneTest":         func(xs, ys []float64) (string, error) { return show(LagOneTest(xs, TwoSide)) },
		"Trend":              func(xs, ys []float64) (string, error) { return show(Trend(ys, xs, 0.95)) },
		"RecordedResolution": func(xs, ys []float64) (string, error) { return show(RecordedResolution(xs)) },
	}
}

func oneEach(xs []float64) []float64 {
	e := make([]float64, len(xs))
	for i := range e {
		e[i] = 1
	}
	return e
}

// TestPairSweep wants no panic, no changed input, no NaN or infinity without an error,
// and the right reason for values that are not finite.
func TestPairSweep(t *testing.T) {
	for sample, values := range awkward {
		position := make([]float64, len(values))
		for i := range position {
			position[i] = float64(i)
		}
		finite := !slices.ContainsFunc(values, func(x float64) bool { return !isFinite(x) })
		for name, f := range pairTakers() {
			for _, other := range [][]float64{position, values} {
				xs, ys := slices.Clone(values), slices.Clone(other)
				printed, err := f(xs, ys)
				if !cmp.Equal(values, xs, cmpopts.EquateNaNs()) || !cmp.Equal(other, ys, cmpopts.EquateNaNs()) {
					t.Errorf("%s, %s: input changed to %v, %v", name, sample, xs, ys)
				}
				checkOutcome(t, name+", "+sample, finite, printed, err)
			}
		}
	}
}

// TestPairsNeverNotFinite feeds values from the whole float64 range, and small whole
// numbers, where equal and collinear values abound.
func TestPairsNeverNotFinite(t *testing.T) {
	r := rand.New(rand.NewPCG(81, 82))
	takers := pairTakers()
	for range 1000 {
		n := 3 + r.IntN(6)
		xs, ys := anyFloats(r, n), anyFloats(r, n)
		if r.IntN(2) == 0 {
			for i := range xs {
				xs[i], ys[i] = float64(r.IntN(4)), float64(r.IntN(4))
			}
		}
		for name, f := range takers {
			printed, err := f(xs, ys)
			checkOutcome(t, fmt.Sprintf("%s(%v, %v)", name, xs, ys), true, printed, err)
		}
	}
}
