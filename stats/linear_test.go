package stats

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// Sums of squares by hand: x̄ = 3, ȳ = 4, Sxx = 10, Sxy = 6, Syy = 6.
func TestFitLineByHand(t *testing.T) {
	got, err := FitLine([]float64{1, 2, 3, 4, 5}, []float64{2, 4, 5, 4, 5})
	want := LineFit{
		N: 5, Intercept: Coefficient{2.2, math.Sqrt(0.88)}, Slope: Coefficient{0.6, math.Sqrt(0.08)},
		ResidualSD: math.Sqrt(0.8), RSquared: 0.6, F: 4.5, P: 0.12402706265755457, // R: pf(4.5, 1, 3, lower=FALSE)
		Regression: VarianceSource{3.6, 1, 3.6}, Residual: VarianceSource{2.4, 3, 0.8},
		MeanX: 3, SXX: 10, MinX: 1, MaxX: 5,
	}
	if diff := cmp.Diff(want, got, cmpopts.EquateApprox(1e-15, 0)); err != nil || diff != "" {
		t.Errorf("%v (-want +got)\n%s", err, diff)
	}
	if y := got.At(10); math.Abs(y-8.2) > 2e-15 {
		t.Errorf("At(10) = %v, want 2.2 + 0.6·10", y)
	}
}

// Sums by hand: Σxy = 17, Σx² = 14, Σy² = 21.
func TestFitLineThroughOriginByHand(t *testing.T) {
	got, err := FitLineThroughOrigin([]float64{1, 2, 3}, []float64{1, 2, 4})
	want := LineFit{
		N: 3, Slope: Coefficient{17.0 / 14, math.Sqrt(5.0 / 28 / 14)},
		ResidualSD: math.Sqrt(5.0 / 28), RSquared: 289.0 / 294, F: 289.0 / 14 * 28 / 5,
		P:          0.0085398660163326749, // R: pf(289/14*28/5, 1, 2, lower=FALSE); 1 - √(115.6/117.6)
		Regression: VarianceSource{289.0 / 14, 1, 289.0 / 14}, Residual: VarianceSource{5.0 / 14, 2, 5.0 / 28},
		SXX: 14, MinX: 1, MaxX: 3,
	}
	if diff := cmp.Diff(want, got, cmpopts.EquateApprox(1e-15, 0)); err != nil || diff != "" {
		t.Errorf("%v (-want +got)\n%s", err, diff)
	}
}

// A two-level design, by hand: b = (4, 2.5, 1.5), residuals 1 -1 -1 1.
func TestFitLinearByHand(t *testing.T) {
	got, err := FitLinear([][]float64{{-1, -1, 1, 1}, {-1, 1, -1, 1}}, []float64{1, 2, 4, 9})
	want := LinearFit{
		N: 4, Coefficients: []Coefficient{{4, 1}, {2.5, 1}, {1.5, 1}},
		Covariance: [][]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
		ResidualSD: 2, RSquared: 34.0 / 38, F: 4.25, P: 0.32444284226152509, // R: pf(4.25, 2, 1, lower=FALSE)
		Regression: VarianceSource{34, 2, 17}, Residual: VarianceSource{4, 1, 4},
	}
	if diff := cmp.Diff(want, got, cmpopts.EquateApprox(3e-16, 1e-30)); err != nil || diff != "" {
		t.Errorf("%v (-want +got)\n%s", err, diff)
	}
}

// TestFitPolynomialExact fits values of 3 - 2x + x³, which integers hold exactly.
func TestFitPolynomialExact(t *testing.T) {
	xs := []float64{-3, -1, 0, 2, 4, 5, 7}
	ys := make([]float64, len(xs))
	for i, x := range xs {
		ys[i] = 3 - 2*x + x*x*x
	}
	got, err := FitPolynomial(xs, ys, 3)
	if err != nil {
		t.Fatal(err)
	}
	for j, want := range []float64{3, -2, 0, 1} {
		if c := got.Coefficients[j]; math.Abs(c.Value-want) > 1e-25 || c.StdErr != 0 {
			t.Errorf("b%d = %+v, want %v exactly known", j, c, want)
		}
	}
	if got.F != math.MaxFloat64 || got.RSquared != 1 || len(got.Warnings) != 1 || got.Warnings[0].Code != WarnNoResidual {
		t.Errorf("F %v, R² %v, warnings %v", got.F, got.RSquared, got.Warnings)
	}
}

// TestFitsAgree holds the three ways to fit a line against each other on data
// with a large common part.
func TestFitsAgree(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	for range 200 {
		n := 3 + r.IntN(20)
		xs, ys := make([]float64, n), make([]float64, n)
		far := math.Ldexp(1, r.IntN(30))
		for i := range xs {
			xs[i] = far + 10*r.Float64()
			ys[i] = 0.9*xs[i] + r.NormFloat64()
		}
		line, err1 := FitLine(xs, ys)
		linear, err2 := FitLinear([][]float64{xs}, ys)
		polynomial, err3 := FitPolynomial(xs, ys, 1)
		if err1 != nil || err2 != nil || err3 != nil {
			t.Fatal(err1, err2, err3)
		}
		if diff := cmp.Diff(linear, polynomial, cmpopts.EquateApprox(1e-15, 0)); diff != "" {
			t.Fatalf("(-linear +polynomial)\n%s", diff)
		}
		want := LineFit{N: n, Intercept: linear.Coefficients[0], Slope: linear.Coefficients[1],
			ResidualSD: linear.ResidualSD, RSquared: linear.RSquared, F: linear.F, P: linear.P,
			Regression: linear.Regression, Residual: linear.Residual, MeanX: line.MeanX, SXX: line.SXX, MinX: line.MinX, MaxX: line.MaxX}
		if diff := cmp.Diff(want, line, cmpopts.EquateApprox(1e-15, 0)); diff != "" {
			t.Fatalf("(-linear +line)\n%s", diff)
		}
	}
}

// TestFitLinearScales multiplies a predictor and y by powers of two far apart:
// digits must not change.
func TestFitLinearScales(t *testing.T) {
	a, b := []float64{1, 2, 4, 7, 11, 16}, []float64{3, 1, 4, 1, 5, 9}
	ys := []float64{2.7, 1.8, 2.8, 1.8, 2.8, 4.5}
	plain, err := FitLinear([][]float64{a, b}, ys)
	if err != nil {
		t.Fatal(err)
	}
	times := func(xs []float64, f float64) []float64 {
		scaled := slices.Clone(xs)
		for i := range scaled {
			scaled[i] *= f
		}
		return scaled
	}
	got, err := FitLinear([][]float64{times(a, 0x1p300), times(b, 0x1p-400)}, times(ys, 0x1p-200))
	if err != nil {
		t.Fatal(err)
	}
	for j, f := range []float64{0x1p-200, 0x1p-500, 0x1p200} {
		want := Coefficient{plain.Coefficients[j].Value * f, plain.Coefficients[j].StdErr * f}
		if got.Coefficients[j] != want {
			t.Errorf("b%d = %+v, want %+v", j, got.Coefficients[j], want)
		}
	}
	if got.F != plain.F || got.RSquared != plain.RSquared {
		t.Errorf("F %v and R² %v, want %v and %v", got.F, got.RSquared, plain.F, plain.RSquared)
	}
}

func TestFitsRefuse(t *testing.T) {
	line := func(xs, ys []float64) error { _, err := FitLine(xs, ys); return err }
	origin := func(xs, ys []float64) error { _, err := FitLineThroughOrigin(xs, ys); return err }
	linear := func(columns [][]float64, ys []float64) error { _, err := FitLinear(columns, ys); return err }
	polynomial := func(xs, ys []float64, d int) error { _, err := FitPolynomial(xs, ys, d); return err }
	four := []float64{1, 2, 3, 5}
	tests := []struct {
		name string
		err  error
		want error
	}{
		{"no points", line(nil, nil), ErrTooFew},
		{"two points leave no residual", line([]float64{1, 2}, []float64{1, 2}), ErrTooFew},
		{"one point", origin([]float64{1}, []float64{1}), ErrTooFew},
		{"lengths", line(four, four[1:]), ErrLength},
		{"NaN in y", line(four, []float64{1, 2, math.NaN(), 3}), ErrNotFinite},
		{"infinite x", origin([]float64{1, math.Inf(1)}, []float64{1, 2}), ErrNotFinite},
		{"equal x", line([]float64{0.1, 0.1, 0.1}, []float64{1, 2, 3}), ErrNoSpread},
		{"x all zero", origin([]float64{0, 0}, []float64{1, 2}), ErrNoSpread},
		{"squares of x beyond the range", line([]float64{1e200, 2e200, 3e200}, []float64{1, 2, 3}), ErrOverflow},
		{"squares of x below the range", line([]float64{1e-200, 2e-200, 3e-200}, []float64{1, 2, 3}), ErrUnderflow},
		{"no predictors", linear(nil, four), ErrTooFew},
		{"as many coefficients as points", linear([][]float64{four, {1, 0, 0, 1}, {0, 0, 1, 2}}, four), ErrTooFew},
		{"a short predictor", linear([][]float64{four[1:]}, four), ErrLength},
		{"a constant predictor beside the intercept", linear([][]float64{{7, 7, 7, 7}}, four), ErrCollinear},
		{"a predictor of zeros", linear([][]float64{{0, 0, 0, 0}}, four), ErrCollinear},
		{"a sum of tenths, rounded", linear([][]float64{{0.1, 0.2, 0.3, 0.4, 0.7}, {0.7, 0.1, 0.6, 0.2, 0.2}, {0.1 + 0.7, 0.2 + 0.1, 0.3 + 0.6, 0.4 + 0.2, 0.7 + 0.2}}, []float64{1, 2, 3, 4, 7}), ErrCollinear},
		{"coefficient beyond the range", linear([][]float64{{1e-300, 2e-300, 4e-300, 3e-300}}, []float64{1e300, 3e300, 1e300, 2e300}), ErrOverflow},
		{"degree 0", polynomial(four, four, 0), ErrParameter},
		{"degree 31", polynomial(four, four, 31), ErrParameter},
		{"too few for a parabola", polynomial(four[1:], four[1:], 2), ErrTooFew},
		{"two different x for a parabola", polynomial([]float64{1, 2, 1, 2}, four, 2), ErrCollinear},
	}
	for _, tt := range tests {
		var input *InputError
		if !errors.Is(tt.err, tt.want) || !errors.As(tt.err, &input) {
			t.Errorf("%s: error %v, want %v", tt.name, tt.err, tt.want)
		}
	}
}

// TestFitsNeverNotFinite feeds values from the whole float64 range.
func TestFitsNeverNotFinite(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 18))
	for range 3000 {
		n := 3 + r.IntN(4)
		xs, ys := anyFloats(r, n), anyFloats(r, n)
		if f, err := FitLine(xs, ys); err == nil && !areFinite(f.Slope.Value, f.Slope.StdErr, f.Intercept.Value, f.Intercept.StdErr, f.ResidualSD, f.RSquared, f.F, f.SXX, f.Regression.SS, f.Residual.SS) {
			t.Fatalf("FitLine(%v, %v) = %+v", xs, ys, f)
		}
		if f, err := FitLinear([][]float64{xs}, ys); err == nil && !areFinite(f.ResidualSD, f.RSquared, f.F, f.Coefficients[0].Value, f.Coefficients[1].StdErr, f.Covariance[0][0], f.Regression.SS, f.Residual.SS) {
			t.Fatalf("FitLinear(%v, %v) = %+v", xs, ys, f)
		}
		if a, err := OneWay([][]float64{xs, ys}); err == nil && !areFinite(a.Mean, a.F, a.RSquared, a.ResidualSD, a.Between.SS, a.Within.SS, a.Groups[0].StdDev) {
			t.Fatalf("OneWay(%v, %v) = %+v", xs, ys, a)
		}
		if r1, err := LagOne(xs); err == nil && !(math.Abs(r1) <= 1) {
			t.Fatalf("LagOne(%v) = %v", xs, r1)
		}
	}
}

func BenchmarkFitLine(b *testing.B) {
	xs, ys := percentCompaction(10), percentCompaction(20)[10:]
	b.ReportAllocs()
	for i := 0; i < b.N; i++ {
		if _, err := FitLine(xs, ys); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFitLinear(b *testing.B) {
	columns := [][]float64{percentCompaction(1000), percentCompaction(2000)[1000:]}
	ys := percentCompaction(3000)[2000:]
	b.ReportAllocs()
	for i := 0; i < b.N; i++ {
		if _, err := FitLinear(columns, ys); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLagOne(b *testing.B) {
	xs := percentCompaction(1000)
	b.ReportAllocs()
	for i := 0; i < b.N; i++ {
		if _, err := LagOne(xs); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkOneWay(b *testing.B) {
	xs := percentCompaction(1000)
	groups := [][]float64{xs[:300], xs[300:600], xs[600:]}
	b.ReportAllocs()
	for i := 0; i < b.N; i++ {
		if _, err := OneWay(groups); err != nil {
			b.Fatal(err)
		}
	}
}

// Equal y leave nothing to explain, and y on a line nothing to a curve: by hand.
func TestLinearFitsOfNothing(t *testing.T) {
	xs := []float64{1, 2, 3, 5, 7, 11}
	for _, c := range []float64{-500, -0.5, 92.1, 1e-9, 1e15} {
		level, line := make([]float64, len(xs)), make([]float64, len(xs))
		for i, x := range xs {
			level[i], line[i] = c, 1024+2*x
		}
		flat, err1 := FitPolynomial(xs, level, 2)
		straight, err2 := FitPolynomial(xs, line, 3)
		if err := errors.Join(err1, err2); err != nil {
			t.Fatal(err)
		}
		if flat.F != 0 || flat.P != 1 || flat.RSquared != 0 || flat.Coefficients[0].Value != c || flat.Coefficients[1].Value != 0 || flat.Coefficients[2].Value != 0 || len(flat.Warnings) != 1 || flat.Warnings[0].Code != WarnConstant {
			t.Errorf("y = %v: %+v", c, flat)
		}
		bend, err := straight.CoefficientAgainst(2, 0, 0.95)
		if err != nil || bend.T != 0 || bend.P != 1 || straight.Residual.SS != 0 {
			t.Errorf("a line: %+v, %+v, %v", straight, bend, err)
		}
	}
}
