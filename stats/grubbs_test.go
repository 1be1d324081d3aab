package stats_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/densilot/densilot/stats"
)

func codes(ws []stats.Warning) (cs []stats.WarningCode) {
	for _, w := range ws {
		cs = append(cs, w.Code)
	}
	return cs
}

func has(ws []stats.Warning, code stats.WarningCode) bool {
	for _, c := range codes(ws) {
		if c == code {
			return true
		}
	}
	return false
}

func TestGrubbs(t *testing.T) {
	const both = "R 4.2.2 and SciPy 1.10, t formula"
	for _, tt := range []struct {
		name    string
		xs      []float64
		side    stats.Side
		alpha   float64
		g, crit float64
		p, tolP float64
		outlier bool
		warn    stats.WarningCode
		source  string
	}{
		{"uranium isotope, two-sided", []float64{199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57}, stats.TwoSide, 0.05,
			2.468765, 2.126645, 3.0026386820708e-07, 5e-21, true, "", "NIST/SEMATECH e-Handbook 1.3.5.17.1 (G printed 2.4687, truncated); p by mpmath 1.2.1, where an R package prints ...7136e-07"},
		{"uranium isotope, high side", []float64{199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57}, stats.High, 0.05,
			2.468765, 2.031652, 1.501319e-07, 5e-14, true, "", "the same; p from R 4.2.2"},
		{"masking hides two low values", []float64{93.1, 93.4, 93.2, 93.3, 88.0, 88.2}, stats.TwoSide, 0.05, 1.327283, 1.887145, 0.973, 5e-4, false, stats.WarnMasking, both},
		{"one of the two left out", []float64{93.1, 93.4, 93.2, 93.3, 88.2}, stats.TwoSide, 0.05, 1.786666, 1.715037, 2.57e-4, 5e-7, true, stats.WarnSmallN, both},
		{"alpha decides: 5 %", []float64{93.3, 92.9, 93.6, 93.1, 90.2}, stats.TwoSide, 0.05, 1.757040, 1.715037, 0.014197, 5e-7, true, stats.WarnSmallN, both},
		{"alpha decides: 1 %", []float64{93.3, 92.9, 93.6, 93.1, 90.2}, stats.TwoSide, 0.01, 1.757040, 1.763679, 0.014197, 5e-7, false, stats.WarnSmallN, both},
		{"three values, two alike", []float64{92.0, 92.0, 92.1}, stats.TwoSide, 0.01, 1.154700538, 1.154685, 5e-324, 0, true, stats.WarnSmallN, both},
		{"no spread", []float64{93, 93, 93, 93, 93}, stats.TwoSide, 0.05, 0, 1.715037, 1, 0, false, stats.WarnConstant, "by definition"},
		{"ties at the extreme", []float64{90, 94, 95, 90, 94.5, 94.2, 94.1}, stats.Low, 0.05, 1.446588, 1.938135, 0.431259, 5e-7, false, stats.WarnTies, "t tail by Simpson's rule in Python, 200 000 steps"},
	} {
		r, err := stats.Grubbs(tt.xs, tt.side, tt.alpha)
		if err != nil {
			t.Fatalf("%s: %v", tt.name, err)
		}
		if math.Abs(r.G-tt.g) > 6e-7 || math.Abs(r.Critical-tt.crit) > 6e-7 || math.Abs(r.P-tt.p) > tt.tolP || r.Outlier != tt.outlier {
			t.Errorf("%s: G %v, critical %v, p %v, outlier %v; want %v, %v, %v, %v (%s)", tt.name, r.G, r.Critical, r.P, r.Outlier, tt.g, tt.crit, tt.p, tt.outlier, tt.source)
		}
		if tt.warn != "" && !has(r.Warnings, tt.warn) {
			t.Errorf("%s: warnings %v lack %s", tt.name, codes(r.Warnings), tt.warn)
		}
	}
}

// ASTM E178, example 1, breaking strength of copper wire in lb, data from memory; the
// digits by R 4.2.2.
func TestE178Example(t *testing.T) {
	xs := []float64{568, 570, 570, 570, 572, 572, 572, 578, 584, 596}
	for alpha, want := range map[float64]float64{0.05: 2.176068, 0.025: 2.289954, 0.01: 2.409725} {
		r, err := stats.Grubbs(xs, stats.High, alpha)
		if err != nil || math.Abs(r.G-2.390121) > 5e-7 || math.Abs(r.Critical-want) > 5e-7 || r.Outlier != (alpha > 0.01) || r.Suspect != 596 {
			t.Errorf("alpha %v: %+v, %v, want critical %v", alpha, r, err, want)
		}
	}
}

// Where the t formula is exact, the test keeps its level: the share of normal
// samples that it flags is alpha.
func TestGrubbsLevelBySimulation(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	const trials, alpha = 40000, 0.05
	for _, n := range []int{4, 5, 8} {
		for _, side := range []stats.Side{stats.High, stats.TwoSide} {
			flagged := 0
			xs := make([]float64, n)
			for range trials {
				for i := range xs {
					xs[i] = rng.NormFloat64()
				}
				r, err := stats.Grubbs(xs, side, alpha)
				if err != nil {
					t.Fatal(err)
				}
				if r.Outlier {
					flagged++
				}
			}
			got, se := float64(flagged)/trials, math.Sqrt(alpha*(1-alpha)/trials)
			if math.Abs(got-alpha) > 4*se {
				t.Errorf("n = %d, %v: flagged %.4f of normal samples, want %.4f ± %.4f", n, side, got, alpha, 4*se)
			}
		}
	}
}

func TestGrubbsRefuses(t *testing.T) {
	xs := []float64{1, 2, 3, 4}
	for _, tt := range []struct {
		name  string
		xs    []float64
		side  stats.Side
		alpha float64
		want  error
	}{
		{"two values", xs[:2], stats.High, 0.05, stats.ErrTooFew},
		{"none", nil, stats.High, 0.05, stats.ErrTooFew},
		{"no side", xs, 0, 0.05, stats.ErrParameter},
		{"no alpha", xs, stats.Low, 0, stats.ErrLevel},
		{"alpha in percent", xs, stats.Low, 5, stats.ErrLevel},
		{"a NaN", []float64{1, math.NaN(), 3}, stats.Low, 0.05, stats.ErrNotFinite},
	} {
		_, err := stats.Grubbs(tt.xs, tt.side, tt.alpha)
		var bad *stats.InputError
		if !errors.Is(err, tt.want) || !errors.As(err, &bad) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}

func TestLargestGap(t *testing.T) {
	xs := []float64{95.7, 91.2, 95.6, 91.3, 95.8, 91.4}
	g, err := stats.LargestGap(xs)
	if err != nil || g != (stats.Gap{Lo: 91.4, Hi: 95.6, Below: 3, Above: 3}) {
		t.Errorf("gap %+v, %v", g, err)
	}
	if xs[0] != 95.7 {
		t.Error("the caller's slice was sorted")
	}
	if !g.SplitsInTwo(2.411638) { // s of the six in R 4.2.2
		t.Error("two groups of three were not seen")
	}
	one, err := stats.LargestGap([]float64{93, 93.1, 93.2, 97})
	if err != nil || one.SplitsInTwo(1) {
		t.Errorf("a single value apart counts as a group: %+v, %v", one, err)
	}
	if _, err := stats.LargestGap(xs[:1]); !errors.Is(err, stats.ErrTooFew) {
		t.Errorf("one value: %v", err)
	}
}

// Of 90.4, 90.6 and 90.8 the lower gap is the first of two equal ones, though float64
// makes it the narrower. Whole numbers are exact.
func TestLargestGapOfTenthsIsThatOfWholeNumbers(t *testing.T) {
	rng := rand.New(rand.NewPCG(63, 64))
	for range 5000 {
		xs, tenths := make([]float64, 3+rng.IntN(4)), []float64(nil)
		for i := range xs {
			xs[i] = float64(920 + rng.IntN(12))
			tenths = append(tenths, xs[i]/10)
		}
		want, err1 := stats.LargestGap(xs)
		got, err2 := stats.LargestGap(tenths)
		if err1 != nil || err2 != nil || got.Lo != want.Lo/10 || got.Hi != want.Hi/10 || got.Below != want.Below {
			t.Fatalf("%v: %+v, want %+v; %v, %v", tenths, got, want, err1, err2)
		}
	}
}

// Two groups are rarely seen in samples of one normal population.
func TestSplitsInTwoIsRareInOnePopulation(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	const trials = 20000
	for _, n := range []int{5, 6, 10} {
		seen := 0
		xs := make([]float64, n)
		for range trials {
			for i := range xs {
				xs[i] = rng.NormFloat64()
			}
			s, err := stats.Summarize(xs)
			if err != nil {
				t.Fatal(err)
			}
			g, err := stats.LargestGap(xs)
			if err != nil {
				t.Fatal(err)
			}
			if g.SplitsInTwo(s.StdDev) {
				seen++
			}
		}
		t.Logf("n = %d: %.2f %% of normal samples", n, 100*float64(seen)/trials)
		if float64(seen)/trials > 0.05 {
			t.Errorf("n = %d: %d of %d normal samples look like two groups", n, seen, trials)
		}
	}
}

// Where the ends are equally far out as the decimals say, the first of them is the suspect,
// whichever end it is and whatever float64 makes of the distances.
func TestEqualEndsTie(t *testing.T) {
	rng := rand.New(rand.NewPCG(65, 66))
	for range 200 {
		centre, out := 900+rng.IntN(60), 5+rng.IntN(30)
		xs := []float64{float64(centre - out), float64(centre + out)}
		for range 1 + rng.IntN(3) {
			d := rng.IntN(out)
			xs = append(xs, float64(centre-d), float64(centre+d))
		}
		for i := range xs {
			xs[i] /= 10
		}
		rng.Shuffle(len(xs), func(i, k int) { xs[i], xs[k] = xs[k], xs[i] })
		first := slices.IndexFunc(xs, func(x float64) bool { return x == slices.Min(xs) || x == slices.Max(xs) })
		g, err1 := stats.Grubbs(xs, stats.TwoSide, 0.05)
		e, err2 := stats.GeneralizedESD(xs, 1, stats.TwoSide, 0.05)
		d, err3 := stats.Dixon(xs, stats.DixonR11, stats.TwoSide, 0.05)
		if err := errors.Join(err1, err2, err3); err != nil || g.Index != first || e.Steps[0].Index != first || d.Index != first {
			t.Fatalf("%v: suspects %d, %d and %d, want %d; %v", xs, g.Index, e.Steps[0].Index, d.Index, first, err)
		}
		if !has(g.Warnings, stats.WarnTies) || !has(d.Warnings, stats.WarnTies) {
			t.Fatalf("%v: warnings %v and %v say nothing of the other end", xs, g.Warnings, d.Warnings)
		}
	}
	one, err := stats.Grubbs([]float64{92.1, 92.4, 92.8}, stats.TwoSide, 0.05)
	if err != nil || one.Index != 2 || has(one.Warnings, stats.WarnTies) {
		t.Errorf("%+v, %v", one, err)
	}
}
