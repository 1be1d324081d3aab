package stats

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

var e691 = InterlaboratoryOptions{Level: 0.95, Alpha: 0.005}

// Glucose in serum, materials A and E of ASTM E691, data as in the R package ILS.
var (
	glucoseA = [][]float64{{41.03, 41.45, 41.37}, {41.17, 42, 41.15}, {41.01, 40.68, 42.66}, {39.37, 42.37, 42.63}, {41.88, 41.19, 41.32}, {43.28, 40.5, 42.28}, {41.08, 41.27, 39.02}, {43.36, 42.65, 41.72}}
	glucoseE = [][]float64{{292.78, 294.09, 292.89}, {292.27, 309.4, 295.08}, {295.53, 290.14, 292.34}, {295.19, 295.44, 296.83}, {293.93, 292.48, 294.28}, {297.74, 296.8, 290.33}, {287.29, 293.76, 289.36}, {298.46, 295.28, 296.12}}
)

// Expected values: testdata/interlaboratory.R. Prints of the standard are in
// testdata/methods.csv and density.csv of the module.
func TestInterlaboratoryGlucose(t *testing.T) {
	for _, tt := range []struct {
		results       [][]float64
		sr, sL, sR    float64
		srCI, sRCI    Interval
		h, k          []float64
		far, unsteady int // laboratories marked, -1 for none
	}{
		{glucoseA, 1.06322426295, 0, 1.06322426295, Interval{Lo: 0.791857360867, Hi: 1.61815178493}, Interval{Lo: 0.852539975571, Hi: 1.62576984418},
			[]float64{-0.38770724379, -0.12923574793, -0.11273756734, -0.10173878028, -0.09073999323, 0.82765872610, -1.75155683895, 1.74605744542},
			[]float64{0.2097485202, 0.4562323588, 0.9977213845, 1.7040396419, 0.3448487094, 1.3243859853, 1.1736107431, 0.7735486305}, -1, -1},
		{glucoseE, 3.93497405752, 1.44625158627, 4.1923340139, Interval{Lo: 2.93064998687, Hi: 5.9887509312}, Interval{Lo: 3.3804974147, Hi: 6.64152113743},
			[]float64{-0.4599655546, 1.6429109399, -0.6765655467, 0.4930744105, -0.3448581302, 0.1725064223, -1.6172283694, 0.7901258282},
			[]float64{0.1846667883, 2.3346800772, 0.6887239050, 0.2245433596, 0.2425367672, 1.0252373201, 0.8396965692, 0.4187849120}, -1, 1},
	} {
		s, err := Interlaboratory(tt.results, e691)
		if err != nil {
			t.Fatal(err)
		}
		checkFigures(t, 1e-10, figure{"s(r)", s.Repeatability, tt.sr}, figure{"s(R)", s.Reproducibility, tt.sR},
			figure{"s(r), lower", s.RepeatabilityCI.Lo, tt.srCI.Lo}, figure{"upper", s.RepeatabilityCI.Hi, tt.srCI.Hi},
			figure{"s(R), lower", s.ReproducibilityCI.Lo, tt.sRCI.Lo}, figure{"upper", s.ReproducibilityCI.Hi, tt.sRCI.Hi},
			figure{"critical h", s.HCritical, 2.15249152952}, figure{"critical k", s.KCritical, 2.06084006455})
		if math.Abs(s.Between-tt.sL) > 1e-10 {
			t.Errorf("s(L) %v, want %v", s.Between, tt.sL)
		}
		if negative := len(s.Warnings) == 1 && s.Warnings[0].Code == WarnNegative; negative != (tt.sL == 0) {
			t.Errorf("s(L) %v with %v", s.Between, s.Warnings)
		}
		for i, l := range s.Scores {
			checkFigures(t, 2e-9, figure{"h", l.H, tt.h[i]}, figure{"k", l.K, tt.k[i]})
			if l.Far != (i == tt.far) || l.Unsteady != (i == tt.unsteady) {
				t.Errorf("laboratory %d: %+v", i+1, l)
			}
		}
	}
}

// The precision is that of the components of variance, where none is negative.
func TestInterlaboratoryIsOneWay(t *testing.T) {
	r := rand.New(rand.NewPCG(111, 112))
	for range 200 {
		groups := oneWayDraw(r, 3+r.IntN(10), true)
		s, err1 := Interlaboratory(groups, e691)
		v, err2 := OneWayComponents(groups, modified)
		if err := errors.Join(err1, err2); err != nil {
			t.Fatal(err)
		}
		if len(v.Warnings) > 0 {
			continue
		}
		checkFigures(t, 1e-12, figure{"s(r)", s.Repeatability, v.Components[1].StdDev}, figure{"s(L)", s.Between, v.Components[0].StdDev}, figure{"s(R)", s.Reproducibility, math.Sqrt(v.Total)},
			figure{"s(R), lower", s.ReproducibilityCI.Lo, math.Sqrt(v.TotalCI.Lo)}, figure{"upper", s.ReproducibilityCI.Hi, math.Sqrt(v.TotalCI.Hi)},
			figure{"s(r), lower", s.RepeatabilityCI.Lo, math.Sqrt(v.Components[1].CI.Lo)})
	}
}

// h and k are nowhere above what p and n allow, and their critical values rise to that.
func TestConsistencyCriticalBounds(t *testing.T) {
	for _, p := range []int{3, 4, 8, 30, 1e6} {
		most := float64(p-1) / math.Sqrt(float64(p))
		for _, alpha := range []float64{1e-300, 1e-9, 0.005, 0.5, 1 - 1e-9} {
			h, err1 := ConsistencyHCritical(p, alpha)
			k, err2 := ConsistencyKCritical(p, 3, alpha)
			if err1 != nil || err2 != nil || !(h >= 0 && h <= most*(1+1e-15)) || !(k >= 0 && k <= math.Sqrt(float64(p))*(1+1e-15)) {
				t.Errorf("p = %d, alpha %v: h %v, k %v, %v, %v", p, alpha, h, k, err1, err2)
			}
		}
	}
}

// Coverage of the intervals, and the part of good laboratories that h and k mark.
func TestInterlaboratoryCoverage(t *testing.T) {
	study := func(between, alpha float64, holds func(s InterlaboratoryStudy) bool) func(t *testing.T, r *rand.Rand, p int) bool {
		return func(t *testing.T, r *rand.Rand, p int) bool {
			results := make([][]float64, p)
			for i := range results {
				centre := 2.34 + 0.01*between*r.NormFloat64()
				for range 3 {
					results[i] = append(results[i], centre+0.01*r.NormFloat64())
				}
			}
			return holds(must[InterlaboratoryStudy](t)(Interlaboratory(results, InterlaboratoryOptions{Level: 0.95, Alpha: alpha})))
		}
	}
	checkCoverage(t, 77,
		simulated{"repeatability", study(1, 0.05, func(s InterlaboratoryStudy) bool { return s.RepeatabilityCI.Contains(0.01) }), exactly},
		simulated{"reproducibility, equal", study(1, 0.05, func(s InterlaboratoryStudy) bool { return s.ReproducibilityCI.Contains(0.01 * math.Sqrt2) }), about(96, 96, 95, 95)},
		simulated{"reproducibility, none", study(0, 0.05, func(s InterlaboratoryStudy) bool { return s.ReproducibilityCI.Contains(0.01) }), about(95, 95, 95, 95)},
		simulated{"not far at 5 %", study(1, 0.05, func(s InterlaboratoryStudy) bool { return !s.Scores[0].Far }), exactly},
		simulated{"not unsteady at 5 %", study(1, 0.05, func(s InterlaboratoryStudy) bool { return !s.Scores[0].Unsteady }), exactly},
	)
}

func TestInterlaboratoryRefuses(t *testing.T) {
	three := [][]float64{{1, 2}, {2, 3}, {3, 4}}
	for _, tt := range []struct {
		name    string
		results [][]float64
		o       InterlaboratoryOptions
		want    error
	}{
		{"nothing", nil, e691, ErrTooFew}, {"two", three[:2], e691, ErrTooFew}, {"one result", [][]float64{{1}, {2}, {3}}, e691, ErrTooFew},
		{"no results", [][]float64{{}, {}, {}}, e691, ErrTooFew}, {"unequal", [][]float64{{1, 2}, {2, 3}, {3, 4, 5}}, e691, ErrLength},
		{"a NaN", [][]float64{{1, 2}, {2, math.NaN()}, {3, 4}}, e691, ErrNotFinite}, {"too large", [][]float64{{1, 2}, {2, 3}, {-1.7e308, 1.7e308}}, e691, ErrOverflow},
		{"squares too large", [][]float64{{1e200, 2}, {2, 3}, {3, 4}}, e691, ErrOverflow}, {"squares too small", [][]float64{{1e-200, 2e-200}, {1e-200, 2e-200}, {2e-200, 3e-200}}, e691, ErrUnderflow},
		{"level", three, InterlaboratoryOptions{Level: 95, Alpha: 0.005}, ErrLevel}, {"no alpha", three, InterlaboratoryOptions{Level: 0.95}, ErrLevel},
	} {
		var input *InputError
		if s, err := Interlaboratory(tt.results, tt.o); !errors.Is(err, tt.want) || !errors.As(err, &input) || s.Laboratories != 0 {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
	for _, n := range [][2]int{{2, 3}, {3, 1}, {2e6, 3}, {3, 2e6}} {
		if _, err := ConsistencyKCritical(n[0], n[1], 0.005); !errors.Is(err, ErrParameter) {
			t.Errorf("%v: %v", n, err)
		}
	}
	// means of 2.2 that float64 arithmetic may put a rounding apart
	near, err := Interlaboratory([][]float64{{2.1, 2.3}, {2.3, 2.1}, {2.2, 2.2}, {2.15, 2.25}, {0.1, 4.3}}, e691)
	if err != nil || near.MeansStdDev != 0 || near.Scores[3].H != 0 {
		t.Errorf("equal means: %+v, %v", near, err)
	}
	s, err := Interlaboratory([][]float64{{2, 2}, {2, 2}, {2, 2}}, e691)
	if err != nil || s.Scores[0].H != 0 || s.Scores[0].K != 0 || s.Reproducibility != 0 || len(s.Warnings) != 2 || s.Warnings[0].Code != WarnConstant || s.Warnings[1].Code != WarnSmallN {
		t.Errorf("all equal: %+v, %v", s, err)
	}
}
