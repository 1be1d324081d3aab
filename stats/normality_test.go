package stats

import (
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// normalitySet is a row of testdata/normality.csv, by R.
type normalitySet struct {
	text              string
	xs                []float64
	w, p              float64
	a2, adjusted, pA2 float64 // 0 for fewer than 8 values
}

func normalitySets(t *testing.T) (sets []normalitySet) {
	f, err := os.Open("testdata/normality.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		s := normalitySet{text: row[0], xs: normalityValues(t, row[0])}
		for i, x := range []*float64{&s.w, &s.p, &s.a2, &s.adjusted, &s.pA2} {
			if row[i+1] != "NA" {
				*x = number(t, row[i+1])
			}
		}
		sets = append(sets, s)
	}
	return sets
}

func normalityValues(t *testing.T, text string) (xs []float64) {
	var n, m, k int
	if _, err := fmt.Sscanf(text, "residues %d of %d to the %d", &n, &m, &k); err == nil {
		for i := range n {
			xs = append(xs, math.Pow(float64((i+1)*7919%m), float64(k)))
		}
		return xs
	}
	for _, word := range strings.Fields(text) {
		x, err := strconv.ParseFloat(word, 64)
		if err != nil {
			t.Fatal(err)
		}
		xs = append(xs, x)
	}
	return xs
}

func TestNormalityAgainstR(t *testing.T) {
	var worst [4]float64
	for _, s := range normalitySets(t) {
		r, err := ShapiroWilk(s.xs)
		if err != nil {
			t.Fatalf("%s: %v", s.text, err)
		}
		worst[0] = max(worst[0], math.Abs(r.W/s.w-1))
		worst[1] = max(worst[1], math.Abs(r.P/s.p-1))
		if math.Abs(r.P/s.p-1) > 1e-9 {
			t.Errorf("%s: W %v, p %v, R %v, %v", s.text, r.W, r.P, s.w, s.p)
		}
		if len(s.xs) < 8 {
			continue
		}
		a, err := AndersonDarling(s.xs)
		if err != nil {
			t.Fatalf("%s: %v", s.text, err)
		}
		worst[2] = max(worst[2], math.Abs(a.A2/s.a2-1), math.Abs(a.Adjusted/s.adjusted-1))
		if s.adjusted < mostAdjusted {
			worst[3] = max(worst[3], math.Abs(a.P/s.pA2-1))
		} else if a.P != andersonDarlingP(mostAdjusted) {
			t.Errorf("%s: A* %v, p %v", s.text, a.Adjusted, a.P)
		}
	}
	t.Logf("largest relative difference: W %.1e, p %.1e, A² %.1e, its p %.1e", worst[0], worst[1], worst[2], worst[3])
	for i, limit := range []float64{1e-14, 1e-10, 1e-12, 1e-11} {
		if worst[i] > limit {
			t.Errorf("relative differences %v", worst)
		}
	}
}

// Upper percentage points of A* in D'Agostino and Stephens, Goodness-of-Fit Techniques
// (1986), table 4.7, from memory; the formulas come near.
func TestAndersonDarlingPoints(t *testing.T) {
	for a, p := range map[float64]float64{0.631: 0.1, 0.752: 0.05, 0.873: 0.025, 1.035: 0.01, 1.159: 0.005} {
		checkPrintedFigures(t, printedFigure{"p", andersonDarlingP(a), p, 0.015 * p})
	}
}

// P from the smaller gap s of three values, by hand with atan; two-sided Dixon agrees.
func TestShapiroWilkOfThree(t *testing.T) {
	for _, s := range []float64{1e-300, 1e-9, 0.01, 0.25, 0.5} {
		for _, xs := range [][]float64{{0, s, 1}, {0, 1 - s, 1}} {
			r := must[ShapiroWilkResult](t)(ShapiroWilk(xs))
			d := must[DixonResult](t)(Dixon(xs, DixonR10, TwoSide, 0.05))
			if !r.Exact || !d.Exact || math.Abs(r.P/d.P-1) > 1e-15 && s == xs[1] || math.Abs(r.P-d.P) > 1e-15 {
				t.Errorf("%v: p %v, by the ratio %v", xs, r.P, d.P)
			}
			want := 6 / math.Pi * (math.Asin(math.Sqrt(r.W)) - math.Pi/3)
			if math.Abs(r.P-want) > 1e-14 && s < 0.5 {
				t.Errorf("%v: p %v, by W %v", xs, r.P, want)
			}
		}
	}
	tied := must[ShapiroWilkResult](t)(ShapiroWilk([]float64{94.1, 93, 94.1}))
	if tied.P != 5e-324 || math.Abs(tied.W-0.75) > 1e-15 || tied.Warnings[0].Code != WarnTies || tied.Warnings[1].Code != WarnSmallN {
		t.Errorf("%+v", tied)
	}
}

// One value alone has the least W there is; its P is still one.
func TestShapiroWilkExtremes(t *testing.T) {
	for n := 3; n <= 5000; n += 1 + n/3 {
		xs := make([]float64, n)
		xs[n/2] = 1
		r := must[ShapiroWilkResult](t)(ShapiroWilk(xs))
		a := shapiroWilkWeights(n)
		least := float64(n) * square(a[n-1]) / float64(n-1)
		if math.Abs(r.W/least-1) > 1e-10 || n > 3 && !(r.P > 0 && r.P < 0.01) {
			t.Errorf("n = %d: W %v, p %v; least W %v", n, r.W, r.P, least)
		}
		sum, squares := 0.0, 0.0
		for i, w := range a {
			sum += w
			squares += w * w
			if i > 0 && w < a[i-1] {
				t.Errorf("n = %d: weights do not rise at %d", n, i)
			}
		}
		if math.Abs(sum) > 1e-13 || math.Abs(squares-1) > 1e-13 {
			t.Errorf("n = %d: weights sum to %v, squares to %v", n, sum, squares)
		}
	}
}

// Neither test depends on zero, unit, sign and order of the values: bit for bit where
// moving them rounds nothing.
func TestNormalityLaws(t *testing.T) {
	rng := rand.New(rand.NewPCG(91, 92))
	for range 300 {
		xs := make([]float64, 8+rng.IntN(60))
		for i := range xs {
			xs[i] = math.Ldexp(math.Round(math.Ldexp(rng.ExpFloat64(), 30)), -30)
		}
		w, a := must[ShapiroWilkResult](t)(ShapiroWilk(xs)), must[AndersonDarlingResult](t)(AndersonDarling(xs))
		for _, move := range []struct {
			factor, shift float64
			exact         bool
		}{{1, 4096, true}, {1, -100000.25, true}, {0x1p-30, 0, true}, {0x1p900, 0, true}, {16.0184633739601, 0, false}, {-1, 0, false}, {-0.3, 94, false}} {
			moved := make([]float64, len(xs))
			for i, k := range rng.Perm(len(xs)) {
				moved[i] = move.factor*xs[k] + move.shift
			}
			w2, err := ShapiroWilk(moved)
			a2, err2 := AndersonDarling(moved)
			tolerance := 1e-10
			if move.exact {
				tolerance = 0
			}
			if err != nil || err2 != nil || math.Abs(w2.W-w.W) > tolerance || math.Abs(w2.P/w.P-1) > tolerance ||
				math.Abs(a2.A2-a.A2) > tolerance*a.A2 || math.Abs(a2.P/a.P-1) > tolerance {
				t.Fatalf("%+v: W %v and %v, p %v and %v; A² %v and %v, %v, %v", move, w.W, w2.W, w.P, w2.P, a.A2, a2.A2, err, err2)
			}
		}
	}
}

func TestNormalityRefuses(t *testing.T) {
	long := make([]float64, 5001)
	for i := range long {
		long[i] = float64(i)
	}
	for _, tt := range []struct {
		name  string
		xs    []float64
		want  error // of Shapiro-Wilk
		other error // of Anderson-Darling
	}{
		{"nothing", nil, ErrTooFew, ErrTooFew}, {"two", long[:2], ErrTooFew, ErrTooFew}, {"seven", long[:7], nil, ErrTooFew},
		{"many", long, ErrParameter, nil}, {"equal", []float64{2, 2, 2, 2, 2, 2, 2, 2}, ErrNoSpread, ErrNoSpread},
		{"NaN", []float64{1, 2, math.NaN(), 3, 4, 5, 6, 7}, ErrNotFinite, ErrNotFinite},
		{"far", []float64{-1.7e308, 1, 2, 3, 4, 5, 6, 1.7e308}, ErrOverflow, ErrOverflow},
	} {
		r, err := ShapiroWilk(tt.xs)
		a, err2 := AndersonDarling(tt.xs)
		if !errors.Is(err, tt.want) || !errors.Is(err2, tt.other) || (err != nil) != (r.N == 0) || (err2 != nil) != (a.N == 0) {
			t.Errorf("%s: %v, want %v; %v, want %v", tt.name, err, tt.want, err2, tt.other)
		}
	}
	tiny := must[ShapiroWilkResult](t)(ShapiroWilk([]float64{0, 5e-324, 1.5e-323, 1e-323}))
	if whole := must[ShapiroWilkResult](t)(ShapiroWilk([]float64{0, 1, 3, 2})); tiny.W != whole.W {
		t.Errorf("least values: %v, whole ones %v", tiny, whole)
	}
}

// Values on a grid of half a standard deviation are warned of, on a twentieth not.
func TestNormalityWarnings(t *testing.T) {
	rng := rand.New(rand.NewPCG(93, 94))
	for _, tt := range []struct {
		n     int
		steps float64
		codes []WarningCode
	}{{12, 20, []WarningCode{WarnSmallN}}, {12, 2, []WarningCode{WarnSmallN, WarnResolution}}, {40, 20, nil}, {40, 2, []WarningCode{WarnResolution}},
		{40, 8, nil}, {1000, 8, []WarningCode{WarnResolution}}} {
		xs := make([]float64, tt.n)
		for i := range xs {
			xs[i] = math.Round(tt.steps*rng.NormFloat64()) / tt.steps
		}
		r, a := must[ShapiroWilkResult](t)(ShapiroWilk(xs)), must[AndersonDarlingResult](t)(AndersonDarling(xs))
		for _, ws := range [][]Warning{r.Warnings, a.Warnings} {
			var codes []WarningCode
			for _, w := range ws {
				codes = append(codes, w.Code)
			}
			if !slices.Equal(codes, tt.codes) {
				t.Errorf("%d values, %v steps: %v", tt.n, tt.steps, ws)
			}
		}
	}
}

// By mpmath 1.2.1: log(erfc(x/sqrt(2))/2).
func TestLnNormalTail(t *testing.T) {
	for x, want := range map[float64]float64{-3: -0.001350809964748193798841, 0: -0.6931471805599453094172, 5: -15.06499839398872573608, 36.9: -685.3328831653506646349, 37.1: -692.738280715623239896, 40: -804.6084420137537881666, 1000: -500007.8266948121843098} {
		if got := lnNormalTail(x); math.Abs(got/want-1) > 1e-14 {
			t.Errorf("%v: %v, want %v", x, got, want)
		}
	}
}

// The share of normal samples with P at most a probability, within what the doc comments
// state.
func TestNormalitySize(t *testing.T) {
	values := 2000000 // in each row
	if *long {
		values = 100000000
	}
	levels := []float64{0.01, 0.05, 0.1, 0.5}
	for _, n := range []int{3, 4, 5, 7, 8, 11, 12, 15, 20, 50, 200, 1000, 5000} {
		trials := min(values/n, values/20)
		rng := rand.New(rand.NewPCG(95, uint64(n)))
		xs := make([]float64, n)
		var w, a [4]float64
		for range trials {
			for i := range xs {
				xs[i] = rng.NormFloat64()
			}
			tally(&w, levels, must[ShapiroWilkResult](t)(ShapiroWilk(xs)).P)
			if n >= 8 {
				tally(&a, levels, must[AndersonDarlingResult](t)(AndersonDarling(xs)).P)
			}
		}
		for i, level := range levels {
			w[i] /= float64(trials)
			a[i] /= float64(trials)
			noise := 4 * math.Sqrt(level*(1-level)/float64(trials))
			if math.Abs(w[i]-level) > shapiroWilkOff(n, i)+noise || n >= 8 && math.Abs(a[i]-level) > andersonDarlingOff(n, i)+noise {
				t.Errorf("n = %d, %v: W %v, A² %v, noise %v", n, level, w[i], a[i], noise)
			}
		}
		t.Logf("n = %d, %d samples: W %.4f, A² %.4f", n, trials, w, a)
	}
}

func tally(counts *[4]float64, levels []float64, p float64) {
	for i, level := range levels {
		if p <= level {
			counts[i]++
		}
	}
}

func shapiroWilkOff(n, i int) float64 {
	switch {
	case n == 3:
		return 0
	case n > 2000:
		return [4]float64{0.003, 0.007, 0.015, 0.027}[i]
	}
	return [4]float64{0.0016, 0.0022, 0.0028, 0.017}[i]
}

func andersonDarlingOff(n, i int) float64 {
	if n >= 20 {
		return [4]float64{0.0008, 0.0007, 0.0012, 0.008}[i]
	}
	return [4]float64{0.0008, 0.0007, 0.0031, 0.03}[i]
}

// How often an exponential population is told from a normal one at 5 %.
func TestNormalityPower(t *testing.T) {
	rng := rand.New(rand.NewPCG(97, 98))
	for _, tt := range []struct {
		n    int
		want float64
	}{{10, 0.44}, {20, 0.84}} {
		const trials = 4000
		found := 0
		xs := make([]float64, tt.n)
		for range trials {
			for i := range xs {
				xs[i] = rng.ExpFloat64()
			}
			if must[ShapiroWilkResult](t)(ShapiroWilk(xs)).P <= 0.05 {
				found++
			}
		}
		if got := float64(found) / trials; math.Abs(got-tt.want) > 0.03 {
			t.Errorf("%d values: found in %v, want %v", tt.n, got, tt.want)
		}
	}
}
