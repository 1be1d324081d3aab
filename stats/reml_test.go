package stats

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// Three lots of two and three sublots of one to four cores.
var (
	unevenYs      = []float64{92.1, 92.6, 91.9, 93.0, 93.3, 91.2, 91.8, 94.0, 94.4, 93.1, 93.6, 95.2, 95.0, 94.4, 95.9, 94.1, 96.0, 95.1}
	unevenLots    = []string{"1", "1", "1", "1", "1", "1", "1", "2", "2", "2", "2", "3", "3", "3", "3", "3", "3", "3"}
	unevenSublots = []string{"1", "1", "1", "2", "2", "3", "3", "1", "1", "2", "2", "1", "1", "1", "1", "2", "3", "3"}
)

// Expected values: testdata/reml.R, variances and mean as far as the searches there go.
func TestREMLUnbalanced(t *testing.T) {
	v, err := NestedREML(unevenYs, [][]string{unevenLots, unevenSublots}, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	lot, sublot, core := v.Components[0], v.Components[1], v.Components[2]
	checkFigures(t, 2e-6, figure{"lot", lot.Variance, 1.685278004849}, figure{"sublot", sublot.Variance, 0.412944485017}, figure{"core", core.Variance, 0.227261535297},
		figure{"mean", v.Mean, 93.6763572839}, figure{"its standard error", v.MeanStdErr, 0.793473287619})
	checkFigures(t, 1e-7, figure{"lot, lower", lot.CI.Lo, 0.10041342}, figure{"upper", lot.CI.Hi, 32.444329}, figure{"sublot, upper", sublot.CI.Hi, 2.4250754},
		figure{"core, lower", core.CI.Lo, 0.10496605}, figure{"upper", core.CI.Hi, 0.65247267}, figure{"likelihood", v.LogLikelihood, -20.7229236141})
	if sublot.CI.Lo != 0 || len(v.Warnings) != 0 {
		t.Errorf("%+v", v)
	}
	if v, err = NestedREML(unevenYs, [][]string{unevenLots}, 0.95); err != nil {
		t.Fatal(err)
	}
	checkFigures(t, 5e-6, figure{"lots", v.Components[0].Variance, 1.951680829186}, figure{"cores", v.Components[1].Variance, 0.474265426504})
	checkFigures(t, 1e-7, figure{"lots, lower", v.Components[0].CI.Lo, 0.38854178}, figure{"upper", v.Components[0].CI.Hi, 35.327395},
		figure{"cores, lower", v.Components[1].CI.Lo, 0.25031238}, figure{"upper", v.Components[1].CI.Hi, 1.0670611}, figure{"likelihood", v.LogLikelihood, -22.4265422193})
}

// A component at 0 leaves one sample: its variance, its mean and s/√n. Upper limit:
// testdata/reml.R.
func TestREMLAtZero(t *testing.T) {
	xs := []float64{93.1, 94.9, 92.6, 95.3, 93.8, 92.2, 95.0, 94.4, 93.2}
	v, err := NestedREML(xs, [][]string{{"1", "1", "2", "2", "2", "3", "3", "3", "3"}}, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	s, err := Summarize(xs)
	if err != nil {
		t.Fatal(err)
	}
	locations, readings := v.Components[0], v.Components[1]
	checkFigures(t, 1e-12, figure{"readings", readings.StdDev, s.StdDev}, figure{"mean", v.Mean, s.Mean}, figure{"its standard error", v.MeanStdErr, s.StdDev / 3},
		figure{"standard error", readings.StdErr, square(s.StdDev) * math.Sqrt(2.0/8)})
	checkFigures(t, 1e-7, figure{"locations, upper", locations.CI.Hi, 3.0376809})
	if locations.Variance != 0 || locations.StdErr != 0 || locations.CI.Lo != 0 || len(v.Warnings) != 1 || v.Warnings[0].Code != WarnZeroVariance {
		t.Errorf("%+v", v)
	}
}

// One value off by d among kn equal ones makes both mean squares d²/kn, so that the
// likelihood is greatest just at 0, which float64 may miss on either side.
func TestREMLJustAtZero(t *testing.T) {
	const d = 0.37
	for k := 2; k < 7; k++ {
		for n := 2; n < 5; n++ {
			xs := slices.Repeat([]float64{94.3}, k*n)
			xs[n/2] += d
			v, err := NestedREML(xs, [][]string{counted(k*n, n)}, 0.95)
			if err != nil {
				t.Fatalf("%d groups of %d: %v", k, n, err)
			}
			checkFigures(t, 1e-12, figure{"within", v.Components[1].Variance, d * d / float64(k*n)})
			if v.Components[0].Variance > 1e-12 || v.Components[0].CI.Lo != 0 {
				t.Errorf("%d groups of %d: %+v", k, n, v.Components[0])
			}
		}
	}
}

// Standard errors as nlme 3.1-162 gives them for oxide: intervals of standard deviations
// s·exp(±z·SE/2s²), from numerical second derivatives, which leave it four digits.
func TestREMLStandardErrors(t *testing.T) {
	v, err := NestedREML(oxide, [][]string{counted(72, 9), counted(72, 3)}, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []Interval{{Lo: 6.38916846576278, Hi: 20.3324095999416}, {Lo: 4.06405262706403, Hi: 8.82511834723202}, {Lo: 2.90251250644681, Hi: 4.33053910567906}} {
		c := v.Components[i]
		wide := math.Exp(normalScore(0.975, 0.025) * c.StdErr / 2 / c.Variance)
		checkFigures(t, 1e-4, figure{"lower", c.StdDev / wide, want.Lo}, figure{"upper", c.StdDev * wide, want.Hi})
	}
}

// nestedDraw returns values in top groups, groups and groups of these, one to three
// levels, with unequal variances; balanced or not.
func nestedDraw(r *rand.Rand, balanced bool) (xs []float64, factors [][]string) {
	factors = make([][]string, 1+r.IntN(mostFactors))
	sizes := []int{3 + r.IntN(4), 2 + r.IntN(2), 2 + r.IntN(2), 2 + r.IntN(2)}
	count := func(level int) int {
		if balanced {
			return sizes[level]
		}
		return 1 + r.IntN(2*sizes[level]-1)
	}
	sd := [mostFactors]float64{math.Exp(r.NormFloat64()), math.Exp(r.NormFloat64()), math.Exp(r.NormFloat64())}
	for a := range sizes[0] {
		top := sd[0] * r.NormFloat64()
		for b := range count(1) {
			middle := sd[1] * r.NormFloat64()
			for c := range count(2) {
				low := sd[2] * r.NormFloat64()
				for range count(3) {
					xs = append(xs, 145+top+middle+low+r.NormFloat64())
					for i, k := range []int{a, b, c}[:len(factors)] {
						factors[i] = append(factors[i], strconv.Itoa(k))
					}
				}
			}
		}
	}
	return xs, factors
}

// In balanced designs without a negative estimate analysis of variance is the maximum.
func TestREMLEqualsANOVAWhereBalanced(t *testing.T) {
	r := rand.New(rand.NewPCG(101, 102))
	worst, seen := 0.0, 0
	for range 300 {
		xs, factors := nestedDraw(r, true)
		anova, err1 := NestedComponents(xs, factors, modified)
		reml, err2 := NestedREML(xs, factors, 0.9)
		if err := errors.Join(err1, err2); err != nil {
			t.Fatal(err)
		}
		if len(anova.Warnings) > 0 {
			continue
		}
		seen++
		for i, c := range anova.Components {
			worst = max(worst, math.Abs(reml.Components[i].Variance-c.Variance)/c.Source.MS)
		}
		worst = max(worst, math.Abs(reml.MeanStdErr/anova.MeanStdErr-1))
	}
	t.Logf("%d designs, largest difference %.1e of a mean square", seen, worst)
	if worst > 1e-12 || seen < 100 {
		t.Error("not the same")
	}
}

// wholeLikelihood is the restricted likelihood from the whole covariance matrix.
func wholeLikelihood(xs []float64, factors [][]string, variances []float64) float64 {
	n := len(xs)
	v := mat.NewSymDense(n, nil)
	for i := range n {
		for j := range i + 1 {
			alike := 0.0
			for k := 0; k < len(factors) && factors[k][i] == factors[k][j]; k++ {
				alike += variances[k]
			}
			if i == j {
				alike += variances[len(factors)]
			}
			v.SetSym(i, j, alike)
		}
	}
	var c mat.Cholesky
	c.Factorize(v)
	one, solved := mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
	for i := range n {
		one.SetVec(i, 1)
	}
	_ = c.SolveVecTo(solved, one)
	weight := mat.Dot(one, solved)
	off := mat.NewVecDense(n, slices.Clone(xs))
	off.AddScaledVec(off, -mat.Dot(solved, off)/weight, one)
	_ = c.SolveVecTo(solved, off)
	return -0.5 * (c.LogDet() + math.Log(weight) + mat.Dot(off, solved) + float64(n-1)*math.Log(2*math.Pi))
}

// The likelihood is that of the whole matrix, no point around is better, and no limit of
// an interval is nearer than the level says.
func TestREMLAgainstWholeMatrix(t *testing.T) {
	r := rand.New(rand.NewPCG(103, 104))
	for range 60 {
		xs, factors := nestedDraw(r, false)
		v, err := NestedREML(xs, factors, 0.95)
		if errors.Is(err, ErrTooFew) || errors.Is(err, ErrNoSpread) {
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		var variances []float64
		for _, c := range v.Components {
			variances = append(variances, c.Variance)
		}
		if got := wholeLikelihood(xs, factors, variances); math.Abs(got-v.LogLikelihood) > 1e-9 {
			t.Errorf("likelihood %v, by the whole matrix %v", v.LogLikelihood, got)
		}
		for range 20 {
			near := slices.Clone(variances)
			for i := range near {
				near[i] = math.Abs(near[i] + 0.1*v.Components[i].CI.HalfWidth()*r.NormFloat64())
			}
			if got := wholeLikelihood(xs, factors, near); got > v.LogLikelihood+1e-9 {
				t.Errorf("%v is likelier than %v by %v", near, variances, got-v.LogLikelihood)
			}
			i := r.IntN(len(near))
			near[i] = v.Components[i].CI.Hi
			if fall := 2 * (v.LogLikelihood - wholeLikelihood(xs, factors, near)); fall < square(middleScore(0.95))-1e-7 {
				t.Errorf("with component %d at its limit the likelihood falls by %v only", i, fall)
			}
		}
	}
}

// Adding a constant moves the mean, another unit scales it all, and the order of the
// values means nothing.
func TestREMLLaws(t *testing.T) {
	factors := [][]string{unevenLots, unevenSublots}
	v, err := NestedREML(unevenYs, factors, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	scaled := slices.Clone(unevenYs)
	for i := range scaled {
		scaled[i] = -1e-100 * (scaled[i] - 90)
	}
	w, err := NestedREML(scaled, factors, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	order := rand.New(rand.NewPCG(105, 106)).Perm(len(unevenYs))
	mixed, lots, sublots := make([]float64, len(order)), make([]string, len(order)), make([]string, len(order))
	for i, k := range order {
		mixed[i], lots[i], sublots[i] = unevenYs[k], unevenLots[k], unevenSublots[k]
	}
	again, err := NestedREML(mixed, [][]string{lots, sublots}, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	checkFigures(t, 1e-11, figure{"mean", w.Mean, -1e-100 * (v.Mean - 90)}, figure{"mean in another order", again.Mean, v.Mean},
		figure{"likelihood", w.LogLikelihood, v.LogLikelihood + 17*100*math.Ln10}, figure{"in another order", again.LogLikelihood, v.LogLikelihood})
	for i, c := range v.Components {
		checkFigures(t, 1e-8, figure{"variance", w.Components[i].Variance * 1e200, c.Variance}, figure{"upper", w.Components[i].CI.Hi * 1e200, c.CI.Hi},
			figure{"in another order", again.Components[i].Variance, c.Variance})
	}
}

func TestREMLRefuses(t *testing.T) {
	xs, a, b := []float64{1, 2, 4, 5.5}, []string{"1", "1", "2", "2"}, []string{"1", "2", "1", "1"}
	for _, tt := range []struct {
		name    string
		xs      []float64
		factors [][]string
		level   float64
		want    error
	}{
		{"level", xs, [][]string{a}, 95, ErrLevel}, {"no factor", xs, nil, 0.95, ErrParameter}, {"names missing", xs, [][]string{a[1:]}, 0.95, ErrLength},
		{"nothing repeated", xs, [][]string{{"1", "2", "3", "4"}}, 0.95, ErrTooFew}, {"one group", xs, [][]string{{"1", "1", "1", "1"}}, 0.95, ErrTooFew},
		{"a level that divides nothing", xs, [][]string{a, a}, 0.95, ErrTooFew}, {"infinite", []float64{1, 2, 3, math.Inf(1)}, [][]string{a}, 0.95, ErrNotFinite},
		{"equal values", []float64{2, 2, 2, 2}, [][]string{a}, 0.95, ErrNoSpread}, {"equal within groups", []float64{2, 2, 3, 3}, [][]string{a}, 0.95, ErrNoSpread},
		{"equal within the last groups", []float64{2, 4, 3, 3}, [][]string{a, b}, 0.95, ErrNoSpread}, {"range", []float64{1e200, 0, 2, 3}, [][]string{a}, 0.95, ErrOverflow},
		{"nearly equal within groups", []float64{0, 1e-150, 2, 2}, [][]string{a}, 0.95, ErrNotConverged},
	} {
		var input *InputError
		if v, err := NestedREML(tt.xs, tt.factors, tt.level); !errors.Is(err, tt.want) || !errors.As(err, &input) || v.N != 0 {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}

// remlHolds reports whether the interval of a component holds a value: the likelihood falls
// no further there than at the limits.
func remlHolds(t *testing.T, xs []float64, factors [][]string, component int, variance float64) bool {
	tree := newNestedTree(xs, factors)
	var anova NestedVariance
	if err := tree.fill("", &anova); err != nil {
		t.Fatal(err)
	}
	anova.solve()
	m := newREMLModel(tree, anova)
	best, ok := m.best(anova)
	w := remlWalk{remlModel: m, best: best, component: component, last: best, ok: ok}
	fall := w.fall(variance / m.scale / m.scale)
	if !w.ok {
		t.Fatal("not settled")
	}
	return math.Abs(fall) <= middleScore(0.95)
}

func TestREMLCoverage(t *testing.T) {
	oneWay := func(component int) func(t *testing.T, r *rand.Rand, k int) bool {
		return func(t *testing.T, r *rand.Rand, k int) bool {
			var xs []float64
			var names []string
			for i, group := range oneWayDraw(r, k, false) {
				for _, x := range group {
					xs, names = append(xs, x), append(names, strconv.Itoa(i))
				}
			}
			return remlHolds(t, xs, [][]string{names}, component, 1)
		}
	}
	nested := func(component int) func(t *testing.T, r *rand.Rand, k int) bool {
		return func(t *testing.T, r *rand.Rand, k int) bool {
			xs, factors := nestedOnes(r, k)
			return remlHolds(t, xs, factors, component, 1)
		}
	}
	checkCoverage(t, 78,
		simulated{"one-way, between", oneWay(0), slowly(98, 96, 94, 95)},
		simulated{"one-way, within", oneWay(1), slowly(94, 94, 95, 95)},
		simulated{"nested, top", nested(0), slowly(99, 98, 96, 95)},
		simulated{"nested, middle", nested(1), slowly(97, 95, 95, 95)},
		simulated{"nested, last", nested(2), slowly(94, 95, 95, 95)},
	)
}
