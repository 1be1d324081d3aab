package stats

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// Expected values: testdata/rankfits.R, also with x and y exchanged.
func TestPassingBablokTies(t *testing.T) {
	for _, tt := range []struct {
		xs, ys                                       []float64
		shift                                        int64
		b, a, lo, hi, aLo, aHi, cusum, h, p, rounded float64
	}{
		{tiedX, tiedY, 0, 0.945238095238095, 0.419047619047619, 0.857142857142857, 1.1, -0.199999999999999, 0.771428571428572, 2, 0.755928946018454, 0.617194979398165, 25},
		{tiedY, tiedX, 2, 1.05810234541578, -0.444029850746269, 0.909090909090909, 1.16666666666667, -0.9, 0.181818181818181, 2, 0.755928946018454, 0.617194979398165, 25},
	} {
		f, err := FitPassingBablok(tt.xs, tt.ys, PassingBablokOptions{Level: 0.9})
		if err != nil {
			t.Fatal(err)
		}
		checkFigures(t, 1e-14,
			figure{"slopes", float64(f.Slopes), 76}, figure{"shift", float64(f.Shift), float64(tt.shift)}, figure{"slope", f.Slope, tt.b},
			figure{"intercept", f.Intercept, tt.a}, figure{"place", float64(f.LowerRank), tt.rounded},
			figure{"lower", f.SlopeCI.Lo, tt.lo}, figure{"upper", f.SlopeCI.Hi, tt.hi},
			figure{"intercept, lower", f.InterceptCI.Lo, tt.aLo}, figure{"intercept, upper", f.InterceptCI.Hi, tt.aHi},
			figure{"cusum", f.Linearity.MaxCusum, tt.cusum}, figure{"h", f.Linearity.H, tt.h}, figure{"p", f.Linearity.P, tt.p})
	}
}

// turned returns the slopes in the order of the turn from -1, by forming them all.
func turned(xs, ys []float64) (slopes []float64, shift, minusOne int64) {
	for i, x := range xs {
		for j := range i {
			s := (ys[i] - ys[j]) / (x - xs[j])
			switch {
			case x == xs[j] && ys[i] == ys[j]:
			case x == xs[j]:
				slopes = append(slopes, math.Inf(1))
			case isMinusOneAsWritten(s, x, ys[i], xs[j], ys[j]):
				minusOne++
			default:
				if s < -1 {
					shift++
				}
				slopes = append(slopes, s)
			}
		}
	}
	slices.SortFunc(slopes, func(a, b float64) int {
		if (a < -1) != (b < -1) {
			if a < -1 {
				return 1
			}
			return -1
		}
		return int(math.Copysign(1, a-b))
	})
	return slopes, shift, minusOne
}

// Slope and limits are those of forming all slopes, to the last bit, in any order of the
// points.
func TestPassingBablokAgainstSorting(t *testing.T) {
	for name, point := range pointKinds {
		r := rand.New(rand.NewPCG(101, uint64(len(name))))
		for range 150 {
			n := 3 + r.IntN(40)
			xs, ys := drawPoints(r, n, point)
			all, shift, minusOne := turned(xs, ys)
			f, err := FitPassingBablok(xs, ys, PassingBablokOptions{Level: 0.95})
			if err != nil {
				rises := len(all) > 0 && all[len(all)/2] > -1 && !math.IsInf(all[len(all)/2], 1)
				if !errors.Is(err, ErrOverflow) && (rises || !errors.Is(err, ErrNoSlope)) {
					t.Fatalf("%s: %v, sorted %v", name, err, all)
				}
				continue
			}
			want := all[len(all)/2]
			if len(all)%2 == 0 {
				want = 0.5 * (all[len(all)/2-1] + want)
			}
			if f.Slope != want || f.Slopes != int64(len(all)) || f.Shift != shift || f.MinusOne != minusOne {
				t.Fatalf("%s: %+v, want slope %v of %d, shift %d, %d of -1", name, f, want, len(all), shift, minusOne)
			}
			if f.SlopeCI.Shape == Between && (f.SlopeCI.Lo != all[f.LowerRank-1] || f.SlopeCI.Hi != all[f.UpperRank-1]) {
				t.Fatalf("%s: limits %v", name, f.SlopeCI)
			}
			if f.SlopeCI.Shape == Outside && (f.SlopeCI.Hi != all[f.LowerRank-1] || f.SlopeCI.Lo != max(-math.MaxFloat64, -math.Abs(all[f.UpperRank-1]))) {
				t.Fatalf("%s: limits %v, sorted %v", name, f.SlopeCI, all)
			}
			r.Shuffle(n, func(i, j int) { xs[i], xs[j], ys[i], ys[j] = xs[j], xs[i], ys[j], ys[i] })
			if again, err := FitPassingBablok(xs, ys, PassingBablokOptions{Level: 0.95}); err != nil || !cmp.Equal(f, again) {
				t.Fatalf("%s: another order gives %+v, %v", name, again, err)
			}
		}
	}
}

// Four points on a falling line and two beside it, in tenths: of the 15 slopes six are -1
// in decimals, but -1.0000000000000002 to -0.9999999999999998 in float64.
func TestPassingBablokMinusOneOfDecimals(t *testing.T) {
	xs, ys := []float64{0.1, 0.3, 0.7, 0.9, 1.1, 1.3}, []float64{0.9, 0.7, 0.3, 0.1, 1.2, 1.5}
	f, err := FitPassingBablok(xs, ys, PassingBablokOptions{Level: 0.5})
	if err != nil || f.MinusOne != 6 || f.Shift != 0 || f.Slopes != 9 {
		t.Errorf("%+v, %v", f, err)
	}
	// by hand: 3/10, 1/2, 5/8, 4/5, 3/2, 2, 9/4, 7/2 and 11/2; M₁ = (9-0.674·√(6·5·17/18))/2 = 2.7, rounded to 3
	checkFigures(t, 1e-14, figure{"slope", f.Slope, 1.5}, figure{"lower", f.SlopeCI.Lo, 0.625}, figure{"upper", f.SlopeCI.Hi, 2.25})
}

// Exchanging x and y inverts the slope and its limits; shifts and a common scale leave
// them.
func TestPassingBablokLaws(t *testing.T) {
	r := rand.New(rand.NewPCG(102, 103))
	fit := func(xs, ys []float64) PassingBablokFit {
		t.Helper()
		return must[PassingBablokFit](t)(FitPassingBablok(xs, ys, PassingBablokOptions{Level: 0.95}))
	}
	for range 200 {
		n := []int{10, 11, 14, 15}[r.IntN(4)] // with 45, 55, 91 and 105 slopes, an odd number
		_, xs, ys := noisyLine(r, n, 0.1, 0.1)
		f, exchanged := fit(xs, ys), fit(ys, xs)
		checkFigures(t, 1e-12,
			figure{"inverse", exchanged.Slope, 1 / f.Slope}, figure{"lower", exchanged.SlopeCI.Lo, 1 / f.SlopeCI.Hi},
			figure{"upper", exchanged.SlopeCI.Hi, 1 / f.SlopeCI.Lo}, figure{"cusum", exchanged.Linearity.MaxCusum, f.Linearity.MaxCusum})
		scaledX, scaledY := slices.Clone(xs), slices.Clone(ys)
		for i := range xs {
			scaledX[i], scaledY[i] = 8*xs[i], 8*ys[i]
		}
		if s := fit(scaledX, scaledY); s.Slope != f.Slope || s.SlopeCI != f.SlopeCI || s.Intercept != 8*f.Intercept || s.Linearity != f.Linearity {
			t.Errorf("scaled: %+v, was %+v", s, f)
		}
		for i := range xs {
			scaledX[i], scaledY[i] = xs[i]-144, ys[i]-100
		}
		s := fit(scaledX, scaledY)
		checkFigures(t, 1e-10, figure{"shifted", s.Slope, f.Slope}, figure{"its intercept", s.Intercept, f.Intercept + 144*f.Slope - 100})
	}
}

func TestPassingBablokRefuses(t *testing.T) {
	three := []float64{1, 2, 3}
	level := PassingBablokOptions{Level: 0.95}
	for _, tt := range []struct {
		name   string
		xs, ys []float64
		o      PassingBablokOptions
		want   error
	}{
		{"nothing", nil, nil, level, ErrTooFew}, {"two", three[:2], three[:2], level, ErrTooFew}, {"lengths", three, three[:2], level, ErrLength},
		{"a NaN", []float64{1, 2, math.NaN()}, three, level, ErrNotFinite}, {"one point", []float64{2, 2, 2}, []float64{2, 2, 2}, level, ErrNoSlope},
		{"vertical", []float64{2, 2, 2}, three, level, ErrNoSlope}, {"falling", []float64{3, 2, 1}, three, level, ErrNoSlope},
		{"falling fast", []float64{3, 2, 1}, []float64{1, 5, 9}, level, ErrNoSlope},
		{"range", []float64{-1e308, 0, 1e308}, three, level, ErrOverflow}, {"infinite slope", []float64{0, 5e-324, 1e-323}, three, level, ErrOverflow},
		{"level", three, three, PassingBablokOptions{Level: 1}, ErrLevel},
	} {
		if f, err := FitPassingBablok(tt.xs, tt.ys, tt.o); !errors.Is(err, tt.want) || f.N != 0 {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
	// a cloud without direction: the upper limit is past the vertical
	cloud, err := FitPassingBablok([]float64{0, 1, 0, 1.1, 0.5, 0.2}, []float64{0, 1, 1.1, 0.1, 0.4, 0.1}, level)
	if err != nil || cloud.SlopeCI.Shape == Between || cloud.InterceptCI.Shape != Everything || cloud.Warnings[0].Code != WarnUnbounded {
		t.Errorf("cloud: %+v, %v", cloud, err)
	}
}

func TestPassingBablokCoverage(t *testing.T) {
	fit := func(noise float64, holds func(f PassingBablokFit) bool) func(t *testing.T, r *rand.Rand, n int) bool {
		return func(t *testing.T, r *rand.Rand, n int) bool {
			for {
				_, xs, ys := noisyLine(r, n, noise, noise)
				f, err := FitPassingBablok(xs, ys, PassingBablokOptions{Level: 0.95})
				if errors.Is(err, ErrNoSlope) { // one in some thousand of 3 points
					continue
				}
				return holds(must[PassingBablokFit](t)(f, err))
			}
		}
	}
	slope := func(f PassingBablokFit) bool { return f.SlopeCI.Contains(1) }
	intercept := func(f PassingBablokFit) bool { return f.InterceptCI.Contains(2.5) }
	checkCoverage(t, 75,
		simulated{"slope, small errors", fit(0.12, slope), about(100, 98, 95, 95)},
		simulated{"slope, large errors", fit(0.4, slope), about(100, 98, 95, 95)},
		simulated{"intercept, small errors", fit(0.12, intercept), about(100, 98, 95, 95)},
		simulated{"intercept, large errors", fit(0.4, intercept), about(100, 99, 95, 95)},
		simulated{"linearity, not rejected", fit(0.12, func(f PassingBablokFit) bool { return f.Linearity.P > 0.05 }), about(100, 100, 100, 97)},
	)
}

// A bend is seen: points of a parabola lie below their line in the middle alone.
func TestLinearityOfBend(t *testing.T) {
	var xs, ys []float64
	for i := range 41 {
		x := float64(i)
		xs, ys = append(xs, x), append(ys, x+x*x/40)
	}
	f, err := FitPassingBablok(xs, ys, PassingBablokOptions{Level: 0.95})
	if err != nil || f.Linearity.P > 0.01 {
		t.Errorf("%+v, %v", f.Linearity, err)
	}
}

// What is rejected at 5 % of straight relations of many points, as the comment states it.
func TestLinearitySize(t *testing.T) {
	for _, tt := range []struct {
		n, trials int
		want      float64
	}{{100, coverageTrials(), 0.07}, {1000, coverageTrials() / 10, 0.09}} {
		r := rand.New(rand.NewPCG(76, uint64(tt.n)))
		rejected := 0
		for range tt.trials {
			_, xs, ys := noisyLine(r, tt.n, 0.12, 0.12)
			if must[PassingBablokFit](t)(FitPassingBablok(xs, ys, PassingBablokOptions{Level: 0.95})).Linearity.P <= 0.05 {
				rejected++
			}
		}
		got := float64(rejected) / float64(tt.trials)
		t.Logf("n = %d: %.2f %%", tt.n, 100*got)
		if allowed := 4*math.Sqrt(tt.want/float64(tt.trials)) + 0.005; math.Abs(got-tt.want) > allowed {
			t.Errorf("n = %d: rejects %.4f, want %.4f ± %.4f", tt.n, got, tt.want, allowed)
		}
	}
}

// Decimals on an exact line y = 1.07x - 3.1 have no order above and below it, though
// float64 puts most of them off it.
func TestLinearityOfExactLine(t *testing.T) {
	var xs, ys []float64
	for i := range 60 {
		x := 1000 + 7*i // tenths
		xs, ys = append(xs, float64(x)/10), append(ys, float64(107*x-3100)/1000)
	}
	f, err := FitPassingBablok(xs, ys, PassingBablokOptions{Level: 0.95})
	if want := (LinearityTest{P: 1}); err != nil || f.Linearity != want {
		t.Errorf("%+v, %v", f.Linearity, err)
	}
}

// P(K > x) = 2Σ(-1)ᵏ⁻¹exp(-2k²x²), 59 terms in Python's decimal with 60 digits.
func TestKolmogorovTail(t *testing.T) {
	for x, want := range map[float64]float64{0: 1, 0.5: 0.9639452436648751, 1: 0.2699996716773545, 1.36: 0.04948587675537788, 5: 3.857499695927836e-22} {
		checkFigures(t, 1e-13, figure{"tail", kolmogorovTail(x), want})
	}
	if below := math.Nextafter(1, 0); math.Abs(kolmogorovTail(below)-kolmogorovTail(1)) > 1e-15 {
		t.Errorf("the series differ at 1: %v, %v", kolmogorovTail(below), kolmogorovTail(1))
	}
}
