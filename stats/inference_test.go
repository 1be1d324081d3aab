package stats

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// figure is a number beside the one it should be.
type figure struct {
	name      string
	got, want float64
}

// checkFigures wants each figure within a relative tolerance.
func checkFigures(t *testing.T, tolerance float64, figures ...figure) {
	t.Helper()
	for _, f := range figures {
		if !(math.Abs(f.got-f.want) <= tolerance*math.Abs(f.want)) {
			t.Errorf("%s: %v, want %v", f.name, f.got, f.want)
		}
	}
}

// Readings of a nuclear gauge and the cores beside them, lb/ft³: the example of
// the WAQTC procedure TM 8 for correlating a gauge with cores.
var (
	tm8Gauge = []float64{142.1, 140.9, 140.7, 138.9, 143.6, 142.4, 141.3, 139.8, 143.3, 141.0}
	tm8Core  = []float64{144.9, 142.8, 143.1, 140.7, 145.1, 144.2, 143.8, 142.8, 144.8, 143.0}
)

// Expected values: R 4.2.2, m <- lm(core ~ gauge) and lm(core ~ 0 + gauge);
// summary, confint(level = 0.95), predict(interval = "confidence" or
// "prediction", level = 0.9, se.fit = TRUE). The slope against 1:
// t = (0.84384537131231163 - 1)/0.11323317915119482, 2*pt(-abs(t), 8).
func TestLineInference(t *testing.T) {
	fit, err := FitLine(tm8Gauge, tm8Core)
	if err != nil {
		t.Fatal(err)
	}
	zero, err1 := fit.SlopeAgainst(0, 0.95)
	one, err2 := fit.SlopeAgainst(1, 0.95)
	intercept, err3 := fit.InterceptAgainst(0, 0.95)
	near, err4 := fit.Predict(140, 0.9)
	far, err5 := fit.Predict(150, 0.9)
	if err := errors.Join(err1, err2, err3, err4, err5); err != nil {
		t.Fatal(err)
	}
	checkFigures(t, 1e-12,
		figure{"F", fit.F, 55.536479171154866},
		figure{"P", fit.P, 7.2487616814240931e-05},
		figure{"slope", zero.Value, 0.84384537131231163},
		figure{"standard error", zero.StdErr, 0.11323317915119482},
		figure{"t", zero.T, 7.4522801323591334},
		figure{"p", zero.P, 7.2487616814241975e-05},
		figure{"df", zero.DF, 8},
		figure{"lower", zero.CI.Lo, 0.5827291919473423},
		figure{"upper", zero.CI.Hi, 1.104961550677281},
		figure{"t against 1", one.T, -1.3790536471577},
		figure{"p against 1", one.P, 0.2052028581307},
		figure{"intercept", intercept.Value, 24.20026449643915},
		figure{"t of it", intercept.T, 1.5113868921786124},
		figure{"p of it", intercept.P, 0.16913780348182814},
		figure{"its lower", intercept.CI.Lo, -12.7233784771881595},
		figure{"its upper", intercept.CI.Hi, 61.123907470066456},
		figure{"at 140", near.Value, 142.33861648016278},
		figure{"standard error at 140", near.StdErr, 0.22436176530562138},
		figure{"lower at 140", near.CI.Lo, 141.92140499979175},
		figure{"upper at 140", near.CI.Hi, 142.75582796053382},
		figure{"one more at 140, lower", near.PI.Lo, 141.31601068438010},
		figure{"one more at 140, upper", near.PI.Hi, 143.36122227594547},
		figure{"at 150", far.Value, 150.77707019328591},
		figure{"standard error at 150", far.StdErr, 0.98666326966219520},
		figure{"one more at 150, upper", far.PI.Hi, 152.83569995325195},
	)
	if len(near.Warnings) != 0 || len(far.Warnings) != 1 || far.Warnings[0].Code != WarnExtrapolation {
		t.Errorf("warnings %v and %v", near.Warnings, far.Warnings)
	}
}

// Expected values: R 4.2.2, m <- lm(core ~ 0 + gauge).
func TestOriginInference(t *testing.T) {
	fit, err := FitLineThroughOrigin(tm8Gauge, tm8Core)
	if err != nil {
		t.Fatal(err)
	}
	slope, err1 := fit.SlopeAgainst(1, 0.95)
	at, err2 := fit.Predict(140, 0.95)
	if err := errors.Join(err1, err2); err != nil {
		t.Fatal(err)
	}
	checkFigures(t, 1e-13,
		figure{"lower", slope.CI.Lo, 1.0122610159410121},
		figure{"upper", slope.CI.Hi, 1.0176911853223851},
		figure{"at 140", at.Value, 142.09665408843782},
		figure{"line, lower", at.CI.Lo, 141.7165422317417},
		figure{"line, upper", at.CI.Hi, 142.47676594513393},
		figure{"one more, lower", at.PI.Lo, 140.82444275509769},
		figure{"one more, upper", at.PI.Hi, 143.36886542177794},
	)
	if _, err := fit.InterceptAgainst(0, 0.95); !errors.Is(err, ErrParameter) {
		t.Errorf("an intercept through the origin: %v", err)
	}
}

// Expected values: R 4.2.2, q <- lm(d ~ x + I(x^2)); confint(q);
// predict(q, data.frame(x = 4.5), interval = ...).
func TestPolynomialInference(t *testing.T) {
	density := []float64{138.0, 141.1, 143.4, 144.7, 145.2, 144.8, 143.5}
	fit, err := FitPolynomial([]float64{1, 2, 3, 4, 5, 6, 7}, density, 2)
	if err != nil {
		t.Fatal(err)
	}
	bend, err1 := fit.CoefficientAgainst(2, 0, 0.95)
	at, err2 := fit.Predict([]float64{1, 4.5, 4.5 * 4.5}, 0.95)
	if err := errors.Join(err1, err2); err != nil {
		t.Fatal(err)
	}
	checkFigures(t, 1e-11, // R's own rounding
		figure{"t", bend.T, -165.91624393044759},
		figure{"p", bend.P, 7.9157205213037122e-09},
		figure{"lower", bend.CI.Lo, -0.44905752379883446},
		figure{"upper", bend.CI.Hi, -0.43427580953450062},
		figure{"value", at.Value, 145.07232142857143},
		figure{"line, lower", at.CI.Lo, 145.03405098798365},
		figure{"line, upper", at.CI.Hi, 145.11059186915921},
		figure{"one more, lower", at.PI.Lo, 144.99451971116608},
		figure{"one more, upper", at.PI.Hi, 145.15012314597678},
	)
}

// Corrosion of alloys by iron content, Draper and Smith, Applied Regression
// Analysis, as data set corrosion of the R package faraway. Figures: R 4.2.2,
// anova(lm(loss ~ Fe), lm(loss ~ factor(Fe))).
func TestLackOfFitCorrosion(t *testing.T) {
	iron := []float64{.01, .48, .71, .95, 1.19, .01, .48, 1.44, .71, 1.96, .01, 1.44, 1.96}
	loss := []float64{127.6, 124, 110.8, 103.9, 101.5, 130.1, 122, 92.3, 113.1, 83.7, 128, 91.4, 86.2}
	r, err := LackOfFit(iron, loss)
	if err != nil {
		t.Fatal(err)
	}
	checkFigures(t, 1e-12,
		figure{"residual", r.Fit.Residual.SS, 102.8502330244128},
		figure{"pure error", r.PureError.SS, 11.7816666666667},
		figure{"lack of fit", r.Lack.SS, 91.0685663577461},
		figure{"F", r.F, 9.2756214142845028},
		figure{"P", r.P, 0.0086228336499767806},
	)
	if r.Levels != 7 || r.Lack.DF != 5 || r.PureError.DF != 6 {
		t.Errorf("%d levels, %d and %d degrees of freedom", r.Levels, r.Lack.DF, r.PureError.DF)
	}
}

// Expected values: R 4.2.2, anova(lm(y ~ 0 + x), lm(y ~ 0 + factor(x))).
func TestLackOfFitThroughOriginAgainstR(t *testing.T) {
	r, err := LackOfFitThroughOrigin([]float64{1, 1, 2, 2, 3, 3, 4}, []float64{1.1, .9, 2.2, 2.1, 2.9, 3.3, 4.4})
	if err != nil {
		t.Fatal(err)
	}
	checkFigures(t, 1e-12,
		figure{"lack of fit", r.Lack.SS, 0.0468181818181817},
		figure{"pure error", r.PureError.SS, 0.105},
		figure{"F", r.F, 0.44588744588744428},
		figure{"P", r.P, 0.73786304673695846},
	)
}

// TestExactFits holds what is said of data without any residual.
func TestExactFits(t *testing.T) {
	xs, ys := []float64{1, 1, 2, 3}, []float64{1.5, 1.5, 2.5, 3.5}
	fit, err := FitLine(xs, ys)
	if err != nil {
		t.Fatal(err)
	}
	one, err1 := fit.SlopeAgainst(1, 0.95)
	zero, err2 := fit.SlopeAgainst(0, 0.95)
	lack, err3 := LackOfFit(xs, ys)
	bent, err4 := LackOfFit(xs, []float64{1.5, 1.5, 2.5, 4})
	if err := errors.Join(err1, err2, err3, err4); err != nil {
		t.Fatal(err)
	}
	checkFigures(t, 0,
		figure{"p of the line", fit.P, 0},
		figure{"t against its slope", one.T, 0}, figure{"p", one.P, 1},
		figure{"t against another", zero.T, math.MaxFloat64}, figure{"p", zero.P, 0},
		figure{"F of a straight line", lack.F, 0}, figure{"p", lack.P, 1},
		figure{"F of a bent one", bent.F, math.MaxFloat64}, figure{"p", bent.P, 0},
	)
	for _, warnings := range [][]Warning{one.Warnings, zero.Warnings, lack.Warnings, bent.Warnings} {
		if !slices.ContainsFunc(warnings, func(w Warning) bool { return w.Code == WarnNoResidual }) {
			t.Errorf("warnings %v, want %s", warnings, WarnNoResidual)
		}
	}
}

// Decimals on a line are on it in float64 to rounding only, which rejects no value that
// the decimals have, is no lack of fit and no order in time.
func TestDecimalsOnALine(t *testing.T) {
	r := rand.New(rand.NewPCG(67, 68))
	noResidual := func(w Warning) bool { return w.Code == WarnNoResidual }
	for range 5000 {
		xs, ys, offset := make([]float64, 4+r.IntN(8)), []float64(nil), r.IntN(40)
		steps := 1 + r.IntN(3)
		for i := range xs {
			x := 1400 + r.IntN(100)
			if i%2 == 1 {
				x = int(math.Round(xs[i-1] * 10)) // each x twice, so that fit and lack of fit see repetitions
			}
			xs[i] = float64(x) / 10
			ys = append(ys, float64(steps*x+offset)/10)
		}
		lack, err := LackOfFit(xs, ys)
		if errors.Is(err, ErrTooFew) || errors.Is(err, ErrNoSpread) { // too few different x
			continue
		}
		slope, err1 := lack.Fit.SlopeAgainst(float64(steps), 0.95)
		intercept, err2 := lack.Fit.InterceptAgainst(float64(offset)/10, 0.95)
		other, err3 := lack.Fit.SlopeAgainst(float64(steps)+0.01, 0.95)
		trend, err4 := Trend(xs, ys, 0.95)
		linear, err5 := FitLinear([][]float64{xs}, ys)
		if err := errors.Join(err, err1, err2, err3, err4, err5); err != nil {
			t.Fatal(xs, ys, err)
		}
		if slope.P < 0.2 || intercept.P < 0.2 || !(other.P < 1e-6) || lack.F != 0 || lack.P != 1 || trend.Serial != (SerialTest{}) {
			t.Fatalf("%v, %v: p of the slope %v, of the intercept %v, of another slope %v; lack of fit %v, %v; serial %+v", xs, ys, slope.P, intercept.P, other.P, lack.F, lack.P, trend.Serial)
		}
		if !slices.ContainsFunc(lack.Fit.Warnings, noResidual) || !slices.ContainsFunc(slope.Warnings, noResidual) || !slices.ContainsFunc(linear.Warnings, noResidual) {
			t.Fatalf("%v, %v: warnings %v, %v and %v", xs, ys, lack.Fit.Warnings, slope.Warnings, linear.Warnings)
		}
	}
}

func TestInferenceRefuses(t *testing.T) {
	fit, err := FitLine(tm8Gauge, tm8Core)
	linear, err2 := FitLinear([][]float64{tm8Gauge}, tm8Core)
	if err != nil || err2 != nil {
		t.Fatal(err, err2)
	}
	slope := func(f LineFit, against, level float64) error { _, err := f.SlopeAgainst(against, level); return err }
	predict := func(f LineFit, x, level float64) error { _, err := f.Predict(x, level); return err }
	terms := func(xs ...float64) error { _, err := linear.Predict(xs, 0.95); return err }
	lack := func(xs, ys []float64) error { _, err := LackOfFit(xs, ys); return err }
	nan := math.NaN()
	tests := []struct {
		name      string
		err, want error
	}{
		{"zero fit", slope(LineFit{}, 0, 0.95), ErrTooFew},
		{"level 95", slope(fit, 0, 95), ErrLevel},
		{"against NaN", slope(fit, nan, 0.95), ErrNotFinite},
		{"slope of NaN", slope(LineFit{Slope: Coefficient{Value: nan}, Residual: VarianceSource{DF: 3}}, 0, 0.95), ErrNotFinite},
		{"negative standard error", slope(LineFit{Slope: Coefficient{StdErr: -1}, Residual: VarianceSource{DF: 3}}, 0, 0.95), ErrParameter},
		{"zero fit at a place", predict(LineFit{}, 0, 0.95), ErrTooFew},
		{"at NaN", predict(fit, nan, 0.95), ErrNotFinite},
		{"at the end of the range", predict(fit, math.MaxFloat64, 0.95), ErrOverflow},
		{"level 0", predict(fit, 140, 0), ErrLevel},
		{"a line without spread", predict(LineFit{N: 3, Residual: VarianceSource{DF: 1}}, 0, 0.95), ErrParameter},
		{"a term missing", terms(1), ErrLength},
		{"an infinite term", terms(1, math.Inf(1)), ErrNotFinite},
		{"terms beyond the range", terms(1, math.MaxFloat64), ErrOverflow},
		{"nothing repeated", lack([]float64{1, 2, 3, 4}, []float64{1, 2, 3, 5}), ErrTooFew},
		{"two levels", lack([]float64{1, 1, 2, 2}, []float64{1, 2, 3, 5}), ErrTooFew},
		{"lengths", lack([]float64{1, 1, 2, 2}, []float64{1, 2, 3}), ErrLength},
		{"one level", lack([]float64{1, 1, 1}, []float64{1, 2, 3}), ErrNoSpread},
		{"NaN", lack([]float64{1, 1, 2, nan}, []float64{1, 2, 3, 4}), ErrNotFinite},
	}
	for _, tt := range tests {
		var input *InputError
		if !errors.Is(tt.err, tt.want) || !errors.As(tt.err, &input) {
			t.Errorf("%s: error %v, want %v", tt.name, tt.err, tt.want)
		}
	}
	if _, err := linear.CoefficientAgainst(2, 0, 0.95); !errors.Is(err, ErrParameter) {
		t.Errorf("coefficient 2 of 2: %v", err)
	}
}
