package stats

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

// Pearson's data with errors rounded; testdata/regression.R puts the minimum of S at
// 5.4767376941843 and -0.47960777690752, to some 2e-11.
func TestYorkAtTheMinimum(t *testing.T) {
	f, err := FitYork(pearsonX, pearsonY, pearsonErrorX, pearsonErrorY, YorkOptions{Errors: RelativeErrors, Level: 0.95})
	if err != nil {
		t.Fatal(err)
	}
	checkFigures(t, 5e-11,
		figure{"intercept", f.Intercept.Value, 5.4767376941843}, figure{"slope", f.Slope.Value, -0.47960777690752})
}

// R 4.2.2; P by pchisq(38.0346026198529, 28, lower = FALSE).
func TestYorkArsenic(t *testing.T) {
	f, err := FitYork(arsenicX, arsenicY, arsenicErrorX, arsenicErrorY, YorkOptions{Errors: AbsoluteErrors, Level: 0.95})
	if err != nil {
		t.Fatal(err)
	}
	checkFigures(t, 1e-9,
		figure{"S", f.S, 38.0346026198529}, figure{"P", f.P, 0.097745925255536228})
}

// With one error for all points York's line is Deming's.
func TestYorkOfEqualErrorsIsDeming(t *testing.T) {
	same := func(v float64) []float64 {
		e := make([]float64, len(tenX))
		for i := range e {
			e[i] = v
		}
		return e
	}
	york, err1 := FitYork(tenX, tenY, same(0.8), same(0.4), YorkOptions{Errors: RelativeErrors, Level: 0.95})
	deming, err2 := FitDeming(tenX, tenY, DemingOptions{VarYOverVarX: 0.25, Level: 0.95, Method: DemingAngle})
	if err := errors.Join(err1, err2); err != nil {
		t.Fatal(err)
	}
	checkFigures(t, 1e-11, figure{"slope", york.Slope.Value, deming.Slope.Value}, figure{"intercept", york.Intercept.Value, deming.Intercept.Value},
		figure{"S", york.S, 8 * deming.ErrorSDX * deming.ErrorSDX / 0.64})
}

// Moving x by c moves the intercept to b₀+c·b₁, whose variance is that of b₀ plus
// 2c·covariance plus c² times that of b₁.
func TestYorkCovariance(t *testing.T) {
	const c = 3
	moved := make([]float64, len(pearsonX))
	for i, x := range pearsonX {
		moved[i] = x - c
	}
	for _, meaning := range []PointErrors{AbsoluteErrors, RelativeErrors} {
		f, err1 := FitYork(pearsonX, pearsonY, pearsonErrorX, pearsonErrorY, YorkOptions{Errors: meaning, Level: 0.95})
		g, err2 := FitYork(moved, pearsonY, pearsonErrorX, pearsonErrorY, YorkOptions{Errors: meaning, Level: 0.95})
		if err := errors.Join(err1, err2); err != nil {
			t.Fatal(err)
		}
		checkFigures(t, 1e-11, figure{"intercept", g.Intercept.Value, f.Intercept.Value + c*f.Slope.Value},
			figure{"variance", square(g.Intercept.StdErr), square(f.Intercept.StdErr) + 2*c*f.Covariance + c*c*square(f.Slope.StdErr)})
	}
}

func TestYorkRefuses(t *testing.T) {
	good := YorkOptions{Errors: AbsoluteErrors, Level: 0.95}
	fit := func(xs, ys, ex, ey []float64, o YorkOptions) error { _, err := FitYork(xs, ys, ex, ey, o); return err }
	a, e := []float64{1, 2, 4}, []float64{1, 1, 1}
	tests := []struct {
		name      string
		err, want error
	}{
		{"two points", fit(a[:2], a[:2], e[:2], e[:2], good), ErrTooFew},
		{"an error missing", fit(a, a, e[:2], e, good), ErrLength},
		{"a negative error", fit(a, a, []float64{1, -1, 1}, e, good), ErrParameter},
		{"a point without error", fit(a, a, []float64{1, 0, 1}, []float64{1, 0, 1}, good), ErrParameter},
		{"NaN error", fit(a, a, e, []float64{1, math.NaN(), 1}, good), ErrNotFinite},
		{"errors as large as the spread", fit([]float64{6, 9, 0, 1}, []float64{3, 6, 8, 2}, []float64{3, 1, 3, 3}, []float64{1, 4, 1, 1}, good), ErrNotConverged},
		{"equal x", fit(e, a, e, e, good), ErrNoSpread},
		{"no meaning of errors", fit(a, a, e, e, YorkOptions{Level: 0.95}), ErrParameter},
		{"level 1", fit(a, a, e, e, YorkOptions{Errors: AbsoluteErrors, Level: 1}), ErrLevel},
		{"errors whose squares vanish", fit(a, []float64{1, 3, 4}, []float64{1e-200, 1e-200, 1e-200}, []float64{1e-200, 1e-200, 1e-200}, good), ErrNoSlope},
	}
	for _, tt := range tests {
		var input *InputError
		if !errors.Is(tt.err, tt.want) || !errors.As(tt.err, &input) {
			t.Errorf("%s: error %v, want %v", tt.name, tt.err, tt.want)
		}
	}
}

// No direction has a smaller S, also where errors are as large as the spread; S of one is
// summed up anew here.
func TestYorkIsTheLeast(t *testing.T) {
	sum := func(xs, ys, errorsX, errorsY []float64, slope float64) (s float64) {
		var total, meanX, meanY float64
		weight := func(i int) float64 { return 1 / (square(errorsY[i]) + square(slope*errorsX[i])) }
		for i := range xs {
			total += weight(i)
			meanX += weight(i) * xs[i]
			meanY += weight(i) * ys[i]
		}
		for i := range xs {
			s += weight(i) * square(ys[i]-meanY/total-slope*(xs[i]-meanX/total))
		}
		return s
	}
	check := func(xs, ys, errorsX, errorsY []float64) {
		f, err := FitYork(xs, ys, errorsX, errorsY, YorkOptions{Errors: AbsoluteErrors, Level: 0.95})
		if err != nil {
			t.Fatal(xs, ys, errorsX, errorsY, err)
		}
		for k := range 400 {
			slope := math.Tan(math.Pi * (float64(k) + 0.5) / 400)
			if s := sum(xs, ys, errorsX, errorsY, slope); s < f.S*(1-1e-9) {
				t.Fatalf("%v, %v, errors %v, %v: slope %v has S = %v, %v has %v", xs, ys, errorsX, errorsY, f.Slope.Value, f.S, slope, s)
			}
		}
	}
	r := rand.New(rand.NewPCG(75, 76))
	for range 3000 {
		var columns [4][]float64
		for i := range 3 {
			columns[0] = append(columns[0], float64(i)+0.5*r.NormFloat64())
			columns[1] = append(columns[1], 1.3*float64(i)+0.5*r.NormFloat64())
			columns[2], columns[3] = append(columns[2], 0.15+0.5*r.Float64()), append(columns[3], 0.15+0.5*r.Float64())
		}
		check(columns[0], columns[1], columns[2], columns[3])
	}
	// the least squares slope is 0, at which the second point weighs infinitely much
	check([]float64{3, 0, 0, 3}, []float64{4, 3, 1, 0}, []float64{1, 0.5, 0, 0.5}, []float64{0.5, 0, 1.5, 1.5})
}
