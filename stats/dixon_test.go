package stats

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// Probabilities by testdata/dixon.py, another integral.
func TestDixonAccuracy(t *testing.T) {
	worst := 0.0
	for _, tt := range []struct {
		n     int
		ratio DixonRatio
		r, p  float64
	}{
		{4, DixonR10, 0.7655, 0.05001558026923222}, {4, DixonR11, 0.954, 0.05108651302689618}, {4, DixonR20, 0.95, 0.07620083995260792},
		{5, DixonR10, 0.3, 0.4135781605641515}, {5, DixonR12, 0.9, 0.1239623512216116}, {5, DixonR21, 0.8, 0.390833793811083},
		{6, DixonR22, 0.95, 0.1184976659273241}, {8, DixonR11, 0.554, 0.04999052316040681}, {10, DixonR11, 0.4779, 0.04999170682402836},
		{12, DixonR21, 0.5457, 0.04998959959386089}, {14, DixonR22, 0.5455, 0.05000620570038591}, {20, DixonR12, 0.4, 0.02738008801449405},
		{20, DixonR20, 0.25, 0.2715893542432387}, {30, DixonR22, 0.3758, 0.0499960122411709}, {30, DixonR22, 0.1, 0.7935057805982233},
		{30, DixonR10, 0.5, 9.59865655157683e-05}, {100, DixonR22, 0.25, 0.05375106883338254},
	} {
		got := newDixonDistribution(tt.n, tt.ratio).above(1 - tt.r)
		worst = max(worst, math.Abs(got/tt.p-1))
		if math.Abs(got/tt.p-1) > 1e-14 {
			t.Errorf("n = %d, %v > %v: %v, want %v", tt.n, tt.ratio, tt.r, got, tt.p)
		}
	}
	t.Logf("largest relative difference %.1e", worst)
}

// A finer rule gives the same for every n and ratio, far out too.
func TestDixonSettled(t *testing.T) {
	worst := 0.0
	for _, n := range []int{4, 5, 6, 7, 10, 13, 20, 30, 100, 300} {
		for ratio := DixonR10; ratio <= DixonR22; ratio++ {
			if n < ratio.fewest() || n > 30 && ratio != DixonR22 && !*long {
				continue
			}
			d := newDixonDistribution(n, ratio)
			for _, q := range []float64{1e-9, 0.05, 0.5, 0.97} {
				coarse, fine := d.above(q), d.finer(q)
				if fine < 1e-300 {
					continue
				}
				worst = max(worst, math.Abs(coarse/fine-1))
			}
		}
	}
	t.Logf("largest relative change %.1e", worst)
	if worst > 2e-13 {
		t.Errorf("the integral moves by %v with a finer rule", worst)
	}
}

func (d dixonDistribution) finer(q float64) float64 {
	stepV, stepY := d.steps()
	stepV, stepY = 0.61*stepV, 0.57*stepY
	peak := -(0.7 + 0.5*d.inside*q) / (2 + d.inside)
	sum := lineSum(func(lnV float64) float64 {
		v := math.Exp(lnV)
		return v * lineSum(func(y float64) float64 { return d.term(y, v, q) }, peak*v, stepY)
	}, 0.5, stepV)
	return d.probability(stepV*stepY*sum, q)
}

// For three values the general integral meets the closed form: by hand, the ratio is
// above r with probability 3/π·atan(√3(1-r)/(1+r)).
func TestDixonOfThree(t *testing.T) {
	for _, q := range []float64{1e-200, 1e-6, 0.0587, 0.5, 0.9, 1} {
		d := newDixonDistribution(3, DixonR10)
		if closed, general := d.above(q), d.finer(q); math.Abs(closed/general-1) > 1e-13 {
			t.Errorf("q = %v: %v and %v", q, closed, general)
		}
	}
	for side, want := range map[Side]float64{High: 0.9413, TwoSide: 0.9702} { // 5 %
		if got, err := DixonCritical(3, DixonR10, side, 0.05); err != nil || math.Abs(got-want) > 5e-5 {
			t.Errorf("%v: %v, %v", side, got, err)
		}
	}
}

// The probability of the critical value is alpha, also where powers of q underflow.
func TestDixonCriticalInverts(t *testing.T) {
	for _, n := range []int{30, 100, 300} {
		for _, alpha := range []float64{1e-300, 1e-100, 5e-324} {
			got := must[float64](t)(DixonCritical(n, DixonR22, High, alpha))
			want := max(alpha, leastDixonAlpha)
			if p := newDixonDistribution(n, DixonR22).above(1 - got); math.Abs(p/want-1) > 1e-9+1e-14/(1-got) {
				t.Errorf("n = %d, alpha %v: %v with p %v", n, alpha, got, p)
			}
		}
	}
	for _, tt := range []struct {
		n     int
		ratio DixonRatio
	}{{3, DixonR10}, {4, DixonR11}, {7, DixonR10}, {12, DixonR21}, {30, DixonR22}, {30, DixonR12}} {
		for _, alpha := range []float64{1e-9, 0.005, 0.05, 0.4, 0.9} {
			got, err := DixonCritical(tt.n, tt.ratio, Low, alpha)
			p := newDixonDistribution(tt.n, tt.ratio).above(1 - got)
			if err != nil || math.Abs(p/alpha-1) > 1e-11 && math.Abs(p/alpha-1) > 1e-15/(1-got) {
				t.Errorf("n = %d, %v: alpha %v gives %v with p %v, %v", tt.n, tt.ratio, alpha, got, p, err)
			}
		}
	}
}

func TestDixon(t *testing.T) {
	low := []float64{0.189, 0.167, 0.187, 0.183, 0.186, 0.182, 0.181, 0.184, 0.181, 0.177}
	r, err := Dixon(low, DixonR10, TwoSide, 0.05)
	if err != nil || math.Abs(r.R-10.0/22) > 1e-12 || r.Index != 1 || r.Outlier || r.Exact || math.Abs(r.Critical-0.4656) > 5e-5 {
		t.Errorf("%+v, %v", r, err)
	}
	r, err = Dixon(low, DixonR11, Low, 0.05)
	if err != nil || math.Abs(r.R-0.5) > 1e-12 || !r.Outlier || !r.Exact || math.Abs(r.Critical-0.4779) > 5e-5 {
		t.Errorf("%+v, %v", r, err)
	}
	other := make([]float64, len(low))
	for i, x := range low {
		other[i] = 1 - 3*x
	}
	m, err := Dixon(other, DixonR11, High, 0.05)
	if err != nil || math.Abs(m.P/r.P-1) > 1e-9 || m.Index != r.Index {
		t.Errorf("mirrored and in another unit: %+v, %v", m, err)
	}
	for _, tt := range []struct {
		name  string
		xs    []float64
		ratio DixonRatio
		want  WarningCode
		p     float64
	}{
		{"equal throughout", []float64{2, 2, 2, 2}, DixonR11, WarnConstant, 1},
		{"suspect equal to the far value", []float64{1, 2, 2, 2}, DixonR11, WarnSmallN, 1},
		{"the others equal", []float64{2, 2, 2, 5, 2}, DixonR10, WarnTies, 5e-324},
	} {
		r, err := Dixon(tt.xs, tt.ratio, High, 0.05)
		if err != nil || r.P != tt.p || r.Outlier != (tt.p < 1) || !slices.ContainsFunc(r.Warnings, func(w Warning) bool { return w.Code == tt.want }) {
			t.Errorf("%s: %+v, %v", tt.name, r, err)
		}
	}
	far, err := Dixon([]float64{-1.5e308, 1, 2, 3, 1.7e308}, DixonR10, High, 0.05)
	if err != nil || math.Abs(far.R-1.7/3.2) > 1e-15 {
		t.Errorf("%+v, %v", far, err)
	}
}

func TestDixonRefuses(t *testing.T) {
	xs := []float64{1, 2, 3, 4, 5, 9}
	for _, tt := range []struct {
		name  string
		xs    []float64
		ratio DixonRatio
		side  Side
		alpha float64
		want  error
	}{
		{"no ratio", xs, 0, Low, 0.05, ErrParameter}, {"beyond the ratios", xs, DixonR22 + 1, Low, 0.05, ErrParameter},
		{"no side", xs, DixonR10, 0, 0.05, ErrParameter}, {"few", xs[:5], DixonR22, Low, 0.05, ErrTooFew}, {"two", xs[:2], DixonR10, Low, 0.05, ErrTooFew},
		{"many", make([]float64, 301), DixonR22, Low, 0.05, ErrParameter}, {"alpha", xs, DixonR10, Low, 5, ErrLevel},
		{"NaN", []float64{1, 2, math.NaN(), 3}, DixonR10, Low, 0.05, ErrNotFinite},
	} {
		var input *InputError
		if r, err := Dixon(tt.xs, tt.ratio, tt.side, tt.alpha); !errors.Is(err, tt.want) || !errors.As(err, &input) || r.N != 0 {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
	if r, err := UsualDixonRatio(2); !errors.Is(err, ErrTooFew) || r != 0 {
		t.Errorf("usual ratio of 2: %v, %v", r, err)
	}
}

// NIST, Dataplot reference on Dixon's test, which follows ASTM E178: r10 for 3 to 7 values,
// r11 for 8 to 10, r21 for 11 to 13, r22 for 14 to 30.
func TestUsualDixonRatio(t *testing.T) {
	for n, want := range map[int]DixonRatio{3: DixonR10, 7: DixonR10, 8: DixonR11, 10: DixonR11, 11: DixonR21, 13: DixonR21, 14: DixonR22, 30: DixonR22} {
		if got := must[DixonRatio](t)(UsualDixonRatio(n)); got != want {
			t.Errorf("%d values: %v, want %v", n, got, want)
		}
	}
}

// The share of normal samples that are flagged: alpha for one side, and for both what
// the doc comment states.
func TestDixonSize(t *testing.T) {
	trials := 20000
	if *long {
		trials = 1000000
	}
	rng := rand.New(rand.NewPCG(81, 82))
	for _, tt := range []struct {
		n    int
		both float64
	}{{3, 0.05}, {4, 0.05}, {7, 0.05}, {8, 0.046}, {10, 0.047}, {12, 0.049}, {14, 0.046}, {30, 0.048}} {
		ratio, err := UsualDixonRatio(tt.n)
		if err != nil {
			t.Fatal(err)
		}
		one := must[float64](t)(DixonCritical(tt.n, ratio, High, 0.05))
		two := must[float64](t)(DixonCritical(tt.n, ratio, TwoSide, 0.05))
		high, both := 0, 0
		sorted := make([]float64, tt.n)
		for range trials {
			for i := range sorted {
				sorted[i] = rng.NormFloat64()
			}
			slices.Sort(sorted)
			above, below := ratio.of(sorted).value, ratio.of(mirrored(sorted)).value
			if above >= one {
				high++
			}
			if max(above, below) >= two {
				both++
			}
		}
		gotOne, gotTwo := float64(high)/float64(trials), float64(both)/float64(trials)
		t.Logf("n = %d, %v: %.4f one-sided, %.4f two-sided", tt.n, ratio, gotOne, gotTwo)
		noise := 4 * math.Sqrt(0.05*0.95/float64(trials))
		if math.Abs(gotOne-0.05) > noise || math.Abs(gotTwo-tt.both) > noise+0.0005 {
			t.Errorf("n = %d, %v: flagged %.4f and %.4f, want 0.05 and %.3f ± %.4f", tt.n, ratio, gotOne, gotTwo, tt.both, noise)
		}
	}
}
