package stats

import (
	"errors"
	"math"
	"testing"
)

// Pearson's data with the weights of York (1966). Printed: intercept 5.47991022403,
// slope -0.48053340745, standard errors 0.29497 and 0.05799, S/(n-2) 1.4833 (York et
// al. 2004; from memory, and the same by minimizing S in testdata/regression.R).
func TestYorkPearson(t *testing.T) {
	weightsX := []float64{1000, 1000, 500, 800, 200, 80, 60, 20, 1.8, 1}
	weightsY := []float64{1, 1.8, 4, 8, 20, 20, 70, 70, 100, 500}
	errorsX, errorsY := make([]float64, 10), make([]float64, 10)
	for i := range errorsX {
		errorsX[i], errorsY[i] = 1/math.Sqrt(weightsX[i]), 1/math.Sqrt(weightsY[i])
	}
	f, err := FitYork(pearsonX, pearsonY, errorsX, errorsY, YorkOptions{Errors: AbsoluteErrors, Level: 0.95})
	if err != nil {
		t.Fatal(err)
	}
	checkPrintedFigures(t,
		printedFigure{"intercept", f.Intercept.Value, 5.47991022403, 5e-12},
		printedFigure{"slope", f.Slope.Value, -0.48053340745, 5e-12},
		printedFigure{"standard error of intercept", f.Intercept.StdErr, 0.29497, 5e-6},
		printedFigure{"standard error of slope", f.Slope.StdErr, 0.05799, 5e-6},
		printedFigure{"S/(n-2)", f.S / f.DF, 1.4833, 5e-5},
	)
}

// The same with errors rounded, as scipy.odr tests it: beta 5.476740029923167 and
// -0.4796082367610305, sd_beta 0.3590121690702467 and 0.0706291186037444 (relative
// errors). ODRPACK stops early: 4e-7 away from the minimum of S, which
// testdata/regression.R puts at 5.4767376941843 and -0.47960777690752, to some 2e-11.
func TestYorkAgainstODR(t *testing.T) {
	f, err := FitYork(pearsonX, pearsonY, pearsonErrorX, pearsonErrorY, YorkOptions{Errors: RelativeErrors, Level: 0.95})
	if err != nil {
		t.Fatal(err)
	}
	checkFigures(t, 1e-6,
		figure{"intercept", f.Intercept.Value, 5.476740029923167}, figure{"slope", f.Slope.Value, -0.4796082367610305},
		figure{"standard error of intercept", f.Intercept.StdErr, 0.3590121690702467},
		figure{"standard error of slope", f.Slope.StdErr, 0.0706291186037444})
	checkFigures(t, 5e-11,
		figure{"intercept", f.Intercept.Value, 5.4767376941843}, figure{"slope", f.Slope.Value, -0.47960777690752})
}

// Ripley and Thompson print intercept 0.106448, slope 0.973 and a mean squared
// residual of 1.27. The paper says that the last has divisor n-2, but 1.27 is S/n;
// with n-2 it is 1.36.
func TestYorkArsenic(t *testing.T) {
	f, err := FitYork(arsenicX, arsenicY, arsenicErrorX, arsenicErrorY, YorkOptions{Errors: AbsoluteErrors, Level: 0.95})
	if err != nil {
		t.Fatal(err)
	}
	checkPrintedFigures(t,
		printedFigure{"intercept", f.Intercept.Value, 0.106448, 5e-7},
		printedFigure{"slope", f.Slope.Value, 0.973, 5e-4},
		printedFigure{"S/n", f.S / 30, 1.27, 5e-3},
	)
	checkFigures(t, 1e-9, // P: R, pchisq(38.0346026198529, 28, lower = FALSE)
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
