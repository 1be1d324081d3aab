package stats

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// Bland and Altman's peak flow meters (Lancet 1986 i 307), two readings of each in
// 17 persons.
var (
	wright1 = []float64{494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427}
	wright2 = []float64{490, 397, 512, 401, 470, 611, 415, 431, 638, 429, 420, 633, 275, 492, 165, 372, 421}
	mini1   = []float64{512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451}
	mini2   = []float64{525, 415, 508, 444, 500, 625, 460, 390, 642, 432, 420, 605, 227, 467, 268, 370, 443}
)

var (
	agreement  = AgreementOptions{Level: 0.95, Coverage: 0.95, Method: LimitExact}
	replicated = ReplicatedAgreementOptions{Level: 0.95, Coverage: 0.95}
)

// Expected values of this and the next tests: testdata/agreement.R.
func TestLimitsOfAgreement(t *testing.T) {
	two := math.Erf(math.Sqrt2) // the coverage of two standard deviations
	for _, tt := range []struct {
		o                                    AgreementOptions
		lo, hi, loLo, loHi, hiLo, hiHi, a, b float64
	}{
		{AgreementOptions{0.95, two, LimitApproximate}, -79.64790680604, 75.41261268839, -114.1697416461, -45.12607196599, 40.89077784834, 109.9344475284, -115.5611233161, 111.3258291984},
		{AgreementOptions{0.95, two, LimitExact}, -79.64790680604, 75.41261268839, -126.4184125745, -54.34919794443, 50.11390382679, 122.1831184568, -115.5611233161, 111.3258291984},
		{AgreementOptions{0.95, 0.95, LimitApproximate}, -78.09590546711, 73.86061134946, -112.1585925585, -44.03321837572, 39.79792425807, 107.9232984409, -113.3081301443, 109.0728360266},
		{agreement, -78.09590546711, 73.86061134946, -124.1607982947, -53.09493141667, 48.85963729902, 119.925504177, -113.3081301443, 109.0728360266},
	} {
		a, err := LimitsOfAgreement(wright1, mini1, tt.o)
		if err != nil {
			t.Fatal(err)
		}
		checkFigures(t, 1e-11,
			figure{"mean", a.Mean, -2.117647058824}, figure{"sd", a.StdDev, 38.76512987361}, figure{"interval, lower", a.CI.Lo, -22.04883769665},
			figure{"lower", a.Limits.Lo, tt.lo}, figure{"upper", a.Limits.Hi, tt.hi}, figure{"lower from", a.LowerCI.Lo, tt.loLo}, figure{"lower to", a.LowerCI.Hi, tt.loHi},
			figure{"upper from", a.UpperCI.Lo, tt.hiLo}, figure{"upper to", a.UpperCI.Hi, tt.hiHi})
		checkFigures(t, 1e-8, figure{"tolerance from", a.Tolerance.Lo, tt.a}, figure{"to", a.Tolerance.Hi, tt.b})
		if of, err := LimitsOfAgreementOf(a.Summary, tt.o); err != nil || !cmp.Equal(of, a) {
			t.Errorf("from the summary: %+v, %v", of, err)
		}
	}
}

func TestLimitsOfRatio(t *testing.T) {
	r, err := LimitsOfRatio(wright1, mini1, agreement)
	if err != nil {
		t.Fatal(err)
	}
	checkFigures(t, 1e-11,
		figure{"ratio", r.Ratio, math.Exp(-0.01178453996135)}, figure{"interval, upper", r.CI.Hi, math.Exp(0.05088450130861)},
		figure{"lower", r.Limits.Lo, math.Exp(-0.2506806851206)}, figure{"upper", r.Limits.Hi, math.Exp(0.2271116051979)},
		figure{"lower from", r.LowerCI.Lo, math.Exp(-0.3955211375634)}, figure{"upper to", r.UpperCI.Hi, math.Exp(0.3719520576407)})
}

// Logarithms keep their digits next to 1: a spread of the ratios of 1e-15 is seen.
func TestLogRatio(t *testing.T) {
	for _, tt := range [][3]float64{{1 + 0x1p-50, 1, 0x1p-50}, {145.00000000000003, 145, 0x1p-45 / 145}, {3, 1, math.Log(3)}, {1e-300, 1e300, -600 * math.Ln10}} {
		checkFigures(t, 1e-14, figure{"logarithm", logRatio(tt[0], tt[1]), tt[2]})
	}
}

func rows(columns ...[]float64) [][]float64 {
	var rs [][]float64
	for i := range columns[0] {
		var row []float64
		for _, c := range columns {
			row = append(row, c[i])
		}
		rs = append(rs, row)
	}
	return rs
}

func TestReplicatedLimits(t *testing.T) {
	unequalX := [][]float64{{6.83, 6.7, 6.6}, {7.9, 8.1}, {4.5}, {5.2, 5.5, 5.4, 5.1}, {6.1, 6.0}}
	unequalY := [][]float64{{6.2, 6.4, 6.5}, {7.4, 7.6}, {4.1}, {5.3, 4.9, 5.0, 5.2}, {5.9, 6.3}}
	type fit func(xs, ys [][]float64, o ReplicatedAgreementOptions) (ReplicatedAgreement, error)
	for _, tt := range []struct {
		name                                         string
		f                                            fit
		xs, ys                                       [][]float64
		level                                        float64
		mean, half, sd, sdLo, sdHi, beyond, x, y, df float64
		lo, loLo, loHi, hiLo, hiHi                   float64
	}{
		{"meters", ReplicatedLimits, rows(wright1, wright2), rows(mini1, mini2), 0.95, -6.029411764706, 17.07199187152, 37.65477862027, 30.27725611533, 53.82598866876,
			28.05614119624, 15.30666905787, 19.91083063236, 17, -79.83142170625, -115.831772427, -57.45877756142, 45.39995403201, 103.7729488976},
		{"unequal", ReplicatedLimits, unequalX, unequalY, 0.9, 0.2786666666667, 0.2034223251846, 0.2702312354909, 0.2117604782657, 0.5370140841284,
			0.1270026871357, 0.1471636601106, 0.1877181270898, 7, -0.2509768223932, -0.8120375413299, -0.01749462835576, 0.5748279616891, 1.369370874663},
		{"linked", LinkedLimits, unequalX, unequalY, 0.9, 0.2786666666667, 0.2034223251846, 0.3004776620596, 0.2359222314961, 0.5687056665083,
			0, 0.3043181292817, 0, 7, -0.310258729129, -0.8739601098109, -0.07069756416136, 0.6280308974947, 1.431293443144},
	} {
		a, err := tt.f(tt.xs, tt.ys, ReplicatedAgreementOptions{Level: tt.level, Coverage: 0.95})
		if err != nil {
			t.Fatal(err)
		}
		within := a.X
		if within.DF == 0 {
			within = a.Differences
		}
		checkFigures(t, 2e-10,
			figure{tt.name + ", mean", a.Mean, tt.mean}, figure{"half-width", a.CI.HalfWidth(), tt.half}, figure{"single", a.SingleStdDev, tt.sd},
			figure{"single from", a.SingleCI.Lo, tt.sdLo}, figure{"to", a.SingleCI.Hi, tt.sdHi}, figure{"beyond", a.Beyond, tt.beyond},
			figure{"repeatability of x", within.StdDev, tt.x}, figure{"of y", a.Y.StdDev, tt.y}, figure{"degrees of freedom", within.DF, tt.df},
			figure{"lower", a.Limits.Lo, tt.lo}, figure{"lower from", a.LowerCI.Lo, tt.loLo}, figure{"lower to", a.LowerCI.Hi, tt.loHi},
			figure{"upper from", a.UpperCI.Lo, tt.hiLo}, figure{"upper to", a.UpperCI.Hi, tt.hiHi})
	}
}

// With one measurement each both forms are the plain limits.
func TestReplicatedLimitsOfSingles(t *testing.T) {
	plain, err := LimitsOfAgreement(wright1, mini1, agreement)
	a, err1 := ReplicatedLimits(rows(wright1), rows(mini1), replicated)
	b, err2 := LinkedLimits(rows(wright1), rows(mini1), replicated)
	if err := errors.Join(err, err1, err2); err != nil {
		t.Fatal(err)
	}
	checkFigures(t, 1e-14, figure{"lower", a.Limits.Lo, plain.Limits.Lo}, figure{"upper", a.Limits.Hi, plain.Limits.Hi}, figure{"beyond", a.Beyond, plain.StdDev})
	if a.X.DF != 0 || !cmp.Equal(a, b) {
		t.Errorf("%+v and %+v", a, b)
	}
}

// The interval of a limit grows with its level, also where that of σ lies beside σ.
func TestReplicatedLimitsGrow(t *testing.T) {
	var before ReplicatedAgreement
	for _, level := range []float64{1e-9, 0.05, 0.1, 0.2, 0.3, 0.5, 0.95, 0.99} {
		a := must[ReplicatedAgreement](t)(ReplicatedLimits([][]float64{{1, 2, 1.4}, {2, 3, 1.1}, {4, 4.5, 3}}, [][]float64{{1}, {2.5, 2}, {4.4, 3}},
			ReplicatedAgreementOptions{Level: level, Coverage: 0.95}))
		if before.N > 0 && !(a.UpperCI.Lo < before.UpperCI.Lo && a.UpperCI.Hi > before.UpperCI.Hi && a.SingleCI.Lo < before.SingleCI.Lo) {
			t.Errorf("level %v: %v after %v", level, a.UpperCI, before.UpperCI)
		}
		before = a
	}
}

// Recorded decimals whose differences or ratios agree, though not as float64.
func TestAgreementOfEqualDifferences(t *testing.T) {
	xs, ys := []float64{93.2, 94.4, 92.6, 95.1}, []float64{92.9, 94.1, 92.3, 94.8}
	a, err1 := ReplicatedLimits(rows(xs), rows(ys), replicated)
	b, err2 := LinkedLimits([][]float64{xs, ys}, [][]float64{ys, {92.6, 93.8, 92, 94.5}}, replicated)
	r, err3 := LimitsOfRatio([]float64{0.11, 0.33, 0.77, 9.9}, []float64{0.1, 0.3, 0.7, 9}, agreement)
	if err := errors.Join(err1, err2, err3); err != nil {
		t.Fatal(err)
	}
	checkFigures(t, 1e-12, figure{"difference", a.Mean, 0.3}, figure{"linked", b.Mean, 0.3}, figure{"ratio", r.Ratio, 1.1})
	if a.SingleStdDev != 0 || b.SingleStdDev != 0 || r.Log.StdDev != 0 || len(a.Warnings) != 1 || len(b.Warnings) != 1 || len(r.Log.Warnings) != 1 {
		t.Errorf("%+v\n%+v\n%+v", a, b, r)
	}
}

func TestRegressionLimits(t *testing.T) {
	o := RegressionAgreementOptions{Level: 0.95, Coverage: 0.95, Spread: SpreadConstant}
	a, err := RegressionLimits(wright1, mini1, o)
	if err != nil {
		t.Fatal(err)
	}
	at, err := a.At(500)
	if err != nil {
		t.Fatal(err)
	}
	checkFigures(t, 1e-10,
		figure{"intercept", a.Bias.Intercept.Value, -15.06749730004}, figure{"slope", a.BiasSlope.Value, 0.02868744515255}, figure{"its p", a.BiasSlope.P, 0.7494985336493},
		figure{"spread", a.Spread.Intercept.Value, 67.71813550446}, figure{"its slope", a.SpreadSlope.Value, -0.08552653601777}, figure{"its p", a.SpreadSlope.P, 0.1140713079315},
		figure{"bias", at.Bias, -0.7237747237644}, figure{"from", at.CI.Lo, -23.28062035574}, figure{"sd", at.StdDev, 39.89603418284},
		figure{"lower", at.Limits.Lo, -78.91856484811}, figure{"upper", at.Limits.Hi, 77.47101540058}, figure{"lower from", at.LowerCI.Lo, -129.3336618898},
		figure{"lower to", at.LowerCI.Hi, -51.85225042989}, figure{"upper from", at.UpperCI.Lo, 50.40470098236}, figure{"upper to", at.UpperCI.Hi, 127.8861124422})
	a.Options.Spread = SpreadLinear
	at, err = a.At(500)
	checkFigures(t, 1e-11, figure{"sd by line", at.StdDev, 31.27628822705})
	if err != nil || at.LowerCI != (Interval{}) || len(at.Warnings) != 0 {
		t.Errorf("%+v, %v", at, err)
	}
	if at, err := a.At(900); !errors.Is(err, ErrParameter) { // 67.7 - 0.0855·900
		t.Errorf("spread below 0: %+v, %v", at, err)
	}
	if at, err := a.At(100); err != nil || at.Warnings[0].Code != WarnExtrapolation {
		t.Errorf("outside: %+v, %v", at, err)
	}
}

// Tenths that differ by 0.3 throughout, or by a hundredth of themselves, have no scatter
// that could depend on the size, and the former no proportional bias.
func TestRegressionLimitsOfExactDecimals(t *testing.T) {
	for _, tt := range []struct {
		name        string
		times, plus int // in hundredths
		slope       float64
	}{{"constant", 100, 30, 0}, {"proportional", 101, 0, -0.01 / 1.005}} {
		var xs, ys []float64
		for i := range 60 {
			x := 1007 + 7*i // tenths
			xs, ys = append(xs, float64(x)/10), append(ys, float64(x*tt.times+10*tt.plus)/1000)
		}
		a, err := RegressionLimits(xs, ys, RegressionAgreementOptions{Level: 0.95, Coverage: 0.95, Spread: SpreadLinear})
		if err != nil || math.Abs(a.BiasSlope.Value-tt.slope) > 1e-15 || tt.slope == 0 && a.BiasSlope.P != 1 || a.SpreadSlope.P != 1 || a.Spread.Warnings[0].Code != WarnConstant {
			t.Errorf("%s: %+v, %v", tt.name, a, err)
		}
	}
}

// Exchanging the methods turns the signs; a shift of one shifts the limits; a common
// scale scales them, and leaves the limits of the ratio.
func TestAgreementLaws(t *testing.T) {
	shift := func(xs []float64, by, times float64) []float64 {
		out := make([]float64, len(xs))
		for i, x := range xs {
			out[i] = x*times + by
		}
		return out
	}
	fit := func(xs, ys []float64) Agreement { return must[Agreement](t)(LimitsOfAgreement(xs, ys, agreement)) }
	ratio := func(xs, ys []float64) RatioAgreement {
		return must[RatioAgreement](t)(LimitsOfRatio(xs, ys, agreement))
	}
	a, swapped, shifted, scaled := fit(wright1, mini1), fit(mini1, wright1), fit(shift(wright1, 64, 1), mini1), fit(shift(wright1, 0, 4), shift(mini1, 0, 4))
	r, inverse := ratio(wright1, mini1), ratio(mini1, wright1)
	checkFigures(t, 1e-12,
		figure{"swapped", swapped.Limits.Lo, -a.Limits.Hi}, figure{"its interval", swapped.LowerCI.Lo, -a.UpperCI.Hi},
		figure{"shifted", shifted.Limits.Lo, a.Limits.Lo + 64}, figure{"scaled", scaled.UpperCI.Hi, 4 * a.UpperCI.Hi}, figure{"tolerance", scaled.Tolerance.Lo, 4 * a.Tolerance.Lo},
		figure{"inverse", inverse.Ratio, 1 / r.Ratio}, figure{"its limit", inverse.Limits.Lo, 1 / r.Limits.Hi},
		figure{"ratio scaled", ratio(shift(wright1, 0, 3), shift(mini1, 0, 3)).Limits.Hi, r.Limits.Hi})
}

func TestAgreementRefuses(t *testing.T) {
	three, o := []float64{1, 2, 3}, agreement
	line := RegressionAgreementOptions{Level: 0.95, Coverage: 0.95, Spread: SpreadConstant}
	nested := func(xs ...float64) [][]float64 { return rows(xs) }
	for name, tt := range map[string]struct {
		f    func() error
		want error
	}{
		"one":     {func() error { _, err := LimitsOfAgreement(three[:1], three[:1], o); return err }, ErrTooFew},
		"lengths": {func() error { _, err := LimitsOfAgreement(three, three[:2], o); return err }, ErrLength},
		"a NaN":   {func() error { _, err := LimitsOfAgreement([]float64{1, math.NaN()}, three[:2], o); return err }, ErrNotFinite},
		"no method": {func() error {
			_, err := LimitsOfAgreement(three, three, AgreementOptions{Level: 0.9, Coverage: 0.9})
			return err
		}, ErrParameter},
		"coverage": {func() error {
			_, err := LimitsOfAgreement(three, three, AgreementOptions{0.9, 95, LimitExact})
			return err
		}, ErrLevel},
		"summary":         {func() error { _, err := LimitsOfAgreementOf(Summary{N: 9, StdDev: -1}, o); return err }, ErrParameter},
		"summary, large":  {func() error { _, err := LimitsOfAgreementOf(Summary{N: 3, StdDev: 1e308}, o); return err }, ErrOverflow},
		"ratio of 0":      {func() error { _, err := LimitsOfRatio(three, []float64{1, 0, 2}, o); return err }, ErrParameter},
		"ratio below 0":   {func() error { _, err := LimitsOfRatio([]float64{1, -1, 2}, three, o); return err }, ErrParameter},
		"nothing":         {func() error { _, err := ReplicatedLimits(nil, nil, replicated); return err }, ErrTooFew},
		"none of a thing": {func() error { _, err := ReplicatedLimits([][]float64{{1}, {}}, nested(1, 2), replicated); return err }, ErrTooFew},
		"things":          {func() error { _, err := ReplicatedLimits(nested(1, 2), nested(1), replicated); return err }, ErrLength},
		"not linked":      {func() error { _, err := LinkedLimits([][]float64{{1, 2}, {2}}, nested(1, 2), replicated); return err }, ErrLength},
		"linked, NaN":     {func() error { _, err := LinkedLimits(nested(1, 2), nested(1, math.NaN()), replicated); return err }, ErrNotFinite},
		"replicated, far": {func() error { _, err := ReplicatedLimits(nested(1e308, 1), nested(-1e308, 2), replicated); return err }, ErrOverflow},
		"tiny spread":     {func() error { _, err := ReplicatedLimits(nested(1e-200, 2e-200), nested(0, 0), replicated); return err }, ErrUnderflow},
		"equal means":     {func() error { _, err := RegressionLimits([]float64{1, 2, 3}, []float64{3, 2, 1}, line); return err }, ErrNoSpread},
		"equal means of decimals": {func() error {
			_, err := RegressionLimits([]float64{144.1, 144.2, 144, 144.3}, []float64{144.1, 144, 144.2, 143.9}, line)
			return err
		}, ErrNoSpread},
		"ratio too small": {func() error {
			_, err := LimitsOfRatio([]float64{1e-320, 2e-320}, []float64{1e300, 3e300}, o)
			return err
		}, ErrOverflow},
		"no size": {func() error { a, _ := RegressionLimits(wright1, mini1, line); _, err := a.At(math.NaN()); return err }, ErrNotFinite},
		"no spread model": {func() error {
			_, err := RegressionLimits(three, three, RegressionAgreementOptions{Level: 0.9, Coverage: 0.9})
			return err
		}, ErrParameter},
		"no fit": {func() error { _, err := RegressionAgreement{Options: line}.At(1); return err }, ErrTooFew},
	} {
		if err := tt.f(); !errors.Is(err, tt.want) {
			t.Errorf("%s: %v, want %v", name, err, tt.want)
		}
	}
	same, err := LimitsOfAgreement(three, three, o)
	if err != nil || same.Limits.HalfWidth() != 0 || same.Warnings[0].Code != WarnConstant {
		t.Errorf("no difference: %+v, %v", same, err)
	}
}

// Differences with standard deviation 1 beyond rounding; replicated ones of variance 2,
// half of it beyond repeatability; the regression has a slope of 0.1.
func TestAgreementCoverage(t *testing.T) {
	const z = 1.959963984540054
	plain := func(method LimitMethod, holds func(a Agreement) bool) func(t *testing.T, r *rand.Rand, n int) bool {
		return func(t *testing.T, r *rand.Rand, n int) bool {
			xs, ys := make([]float64, n), make([]float64, n)
			for i := range xs {
				ys[i] = 145 + 2*r.NormFloat64()
				xs[i] = ys[i] + 1 + r.NormFloat64()
			}
			return holds(must[Agreement](t)(LimitsOfAgreement(xs, ys, AgreementOptions{Level: 0.95, Coverage: 0.95, Method: method})))
		}
	}
	upper := func(a Agreement) bool { return a.UpperCI.Contains(1 + z) }
	several := func(equal, linked bool, holds func(a ReplicatedAgreement) bool) func(t *testing.T, r *rand.Rand, n int) bool {
		return func(t *testing.T, r *rand.Rand, n int) bool {
			xs, ys := make([][]float64, n), make([][]float64, n)
			for i := range xs {
				mx, my := 1+i%4, 1+(i+2)%3
				switch {
				case equal:
					mx, my = 3, 3
				case linked:
					my = mx
				}
				own := r.NormFloat64()
				for range mx {
					xs[i] = append(xs[i], own+math.Sqrt2/2*r.NormFloat64())
				}
				for range my {
					ys[i] = append(ys[i], math.Sqrt2/2*r.NormFloat64())
				}
			}
			f := ReplicatedLimits
			if linked {
				f = LinkedLimits
			}
			return holds(must[ReplicatedAgreement](t)(f(xs, ys, replicated)))
		}
	}
	limit := func(a ReplicatedAgreement) bool { return a.UpperCI.Contains(z * math.Sqrt2) }
	single := func(a ReplicatedAgreement) bool { return a.SingleCI.Contains(math.Sqrt2) }
	regression := func(spread SpreadModel, sd func(size float64) float64, holds func(r *rand.Rand, at AgreementAt) bool) func(t *testing.T, r *rand.Rand, n int) bool {
		return func(t *testing.T, r *rand.Rand, n int) bool {
			xs, ys := make([]float64, n), make([]float64, n)
			for i := range xs {
				size := 10 * float64(i) / float64(n-1)
				d := 0.1*size + sd(size)*r.NormFloat64()
				xs[i], ys[i] = size+d/2, size-d/2
			}
			a := must[RegressionAgreement](t)(RegressionLimits(xs, ys, RegressionAgreementOptions{Level: 0.95, Coverage: 0.95, Spread: spread}))
			return holds(r, must[AgreementAt](t)(a.At(4)))
		}
	}
	one := func(float64) float64 { return 1 }
	growing := func(size float64) float64 { return 0.2 + 0.2*size } // 1 at 4
	atSize := func(holds func(r *rand.Rand, at AgreementAt) bool) func(t *testing.T, r *rand.Rand, n int) bool {
		return regression(SpreadConstant, one, holds)
	}
	fresh := func(r *rand.Rand, at AgreementAt) bool { return at.Limits.Contains(0.4 + r.NormFloat64()) }
	checkCoverage(t, 76,
		simulated{"mean", plain(LimitExact, func(a Agreement) bool { return a.CI.Contains(1) }), exactly},
		simulated{"mean, unequal", several(false, false, func(a ReplicatedAgreement) bool { return a.CI.Contains(0) }), about(95, 95, 95, 95)},
		simulated{"mean at a size", atSize(func(_ *rand.Rand, at AgreementAt) bool { return at.CI.Contains(0.4) }), exactly},
		simulated{"limit, exact", plain(LimitExact, upper), exactly},
		simulated{"limit, approximate", plain(LimitApproximate, upper), about(90, 91, 93, 94)},
		simulated{"tolerance", plain(LimitExact, func(a Agreement) bool {
			return normalTail(a.Tolerance.Lo-1)-normalTail(a.Tolerance.Hi-1) >= 0.95
		}), exactly},
		simulated{"limit, three", several(true, false, limit), about(99, 98, 97, 96)},
		simulated{"limit, unequal", several(false, false, limit), about(99, 98, 97, 96)},
		simulated{"limit, linked", several(false, true, limit), about(99, 98, 97, 95)},
		simulated{"σ, three", several(true, false, single), about(96, 96, 95, 95)},
		simulated{"σ, unequal", several(false, false, single), about(97, 96, 95, 95)},
		simulated{"σ, linked", several(false, true, single), about(96, 95, 95, 95)},
		simulated{"limit at a size", atSize(func(_ *rand.Rand, at AgreementAt) bool { return at.UpperCI.Contains(0.4 + z) }), exactly},
		simulated{"new difference, constant spread", atSize(fresh), about(66, 83, 90, 94)},
		simulated{"new difference, linear spread", regression(SpreadLinear, growing, fresh), about(62, 81, 89, 93)},
	)
}
