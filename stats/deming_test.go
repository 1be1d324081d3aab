package stats

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// Two methods of measuring, standard deviations of error 2 to 1: example of a
// statistics program, quoted in the tests of the R package SimplyAgree.
var (
	tenX = []float64{7, 8.3, 10.5, 9, 5.1, 8.2, 10.2, 10.3, 7.1, 5.9}
	tenY = []float64{7.9, 8.2, 9.6, 9, 6.5, 7.3, 10.2, 10.6, 6.3, 5.2}
)

// printed wants a figure within half a unit of the last digit printed.
type printedFigure struct {
	name      string
	got, want float64
	half      float64
}

func checkPrintedFigures(t *testing.T, figures ...printedFigure) {
	t.Helper()
	for _, f := range figures {
		if !(math.Abs(f.got-f.want) <= f.half) {
			t.Errorf("%s: %v, printed %v", f.name, f.got, f.want)
		}
	}
}

// Expected values of the tests of R package mcr, case TD15, intervals by jackknife
// with t(48). They name the ratio x over y: 1 and 1.21.
func TestDemingFiftyPairs(t *testing.T) {
	tests := []struct {
		varYOverVarX                                                 float64
		intercept, slope, interceptLo, interceptHi, slopeLo, slopeHi float64
	}{
		{1, -0.505729735057073, 0.998922574014433, -3.06557290114323, 2.05411343102908, 0.904225546852836, 1.09361960117603},
		{1 / 1.21, -0.708594035342613, 1.00329228321811, -3.2419770759952, 1.82478900530997, 0.909809514645456, 1.09677505179076},
	}
	for _, tt := range tests {
		f, err := FitDeming(td15X, td15Y, DemingOptions{VarYOverVarX: tt.varYOverVarX, Level: 0.95, Method: DemingJackknife})
		if err != nil {
			t.Fatal(err)
		}
		checkFigures(t, 2e-7, // the programs that made them agree to 2e-8 in the fits, 1e-7 in the limits
			figure{"intercept", f.Intercept.Value, tt.intercept},
			figure{"slope", f.Slope.Value, tt.slope},
			figure{"intercept, lower", f.InterceptCI.Lo, tt.interceptLo},
			figure{"intercept, upper", f.InterceptCI.Hi, tt.interceptHi},
			figure{"slope, lower", f.SlopeCI.Lo, tt.slopeLo},
			figure{"slope, upper", f.SlopeCI.Hi, tt.slopeHi},
		)
	}
}

// Expected values: R 4.2.2 without any Deming code. A slope b belongs to the set
// where y - b·x, the offset, and λx + b·y, along the line, are uncorrelated:
//
//	p <- function(b, l) cor.test(l*x + b*y, y - b*x)$p.value
//	uniroot(function(b) p(b, l) - 0.05, ..., tol = 1e-14)
func TestDemingAngleAgainstCorrelation(t *testing.T) {
	tests := []struct{ ratio, lo, hi, p12, t12 float64 }{
		{0.25, 0.708691296468558, 1.550670364176625, 0.322123879544861, -1.055274648322691},
		{1, 0.634090723847138, 1.387438647220194, 0.177696519282582, -1.477870016797133},
	}
	for _, tt := range tests {
		f, err := FitDeming(tenX, tenY, DemingOptions{VarYOverVarX: tt.ratio, Level: 0.95, Method: DemingAngle})
		if err != nil {
			t.Fatal(err)
		}
		t12, p12, err := f.SlopeP(1.2)
		if err != nil {
			t.Fatal(err)
		}
		checkFigures(t, 1e-12,
			figure{"lower", f.SlopeCI.Lo, tt.lo}, figure{"upper", f.SlopeCI.Hi, tt.hi},
			figure{"p of 1.2", p12, tt.p12}, figure{"t of 1.2", t12, tt.t12})
	}
}

// Data that bound no slope: the limits by R as above, and at 99 % nothing is
// excluded, the smallest p being 0.0417.
func TestDemingUnbounded(t *testing.T) {
	xs, ys := []float64{1, 2, 3, 4, 5}, []float64{2, 9, 4, 8, 12}
	f, err := FitDeming(xs, ys, DemingOptions{VarYOverVarX: 1, Level: 0.95, Method: DemingAngle})
	if err != nil {
		t.Fatal(err)
	}
	if f.SlopeCI.Shape != Outside || !f.SlopeCI.Contains(f.Slope.Value) || f.SlopeCI.Contains(0) || f.Warnings[0].Code != WarnUnbounded {
		t.Errorf("%+v", f)
	}
	checkFigures(t, 1e-12, figure{"lower", f.SlopeCI.Lo, -3.350578529189729}, figure{"upper", f.SlopeCI.Hi, 0.788273089324671})
	falling, err := FitDeming(xs, []float64{-2, -9, -4, -8, -12}, DemingOptions{VarYOverVarX: 1, Level: 0.95, Method: DemingAngle})
	if err != nil || falling.SlopeCI.Shape != Outside {
		t.Errorf("%+v, %v", falling, err)
	}
	checkFigures(t, 1e-12, figure{"lower", falling.SlopeCI.Lo, -f.SlopeCI.Hi}, figure{"upper", falling.SlopeCI.Hi, -f.SlopeCI.Lo})
	f, err = FitDeming(xs, ys, DemingOptions{VarYOverVarX: 1, Level: 0.99, Method: DemingAngle})
	if err != nil || f.SlopeCI.Shape != Everything || !f.SlopeCI.Contains(-1e9) {
		t.Errorf("%+v, %v", f, err)
	}
}

// Intercept 16.7990854, slope 0.896187515, standard errors 26.8638925 and 0.1895746:
// testdata/regression.R, where the line is the main axis of eigen().
func TestDemingOfGaugeAndCores(t *testing.T) {
	f, err := FitDeming(tm8Gauge, tm8Core, DemingOptions{VarYOverVarX: 1, Level: 0.95, Method: DemingJackknife})
	if err != nil {
		t.Fatal(err)
	}
	checkFigures(t, 1e-6, // nine or seven digits printed
		figure{"intercept", f.Intercept.Value, 16.7990854}, figure{"slope", f.Slope.Value, 0.896187515},
		figure{"its standard error", f.Slope.StdErr, 0.1895746}, figure{"that of the intercept", f.Intercept.StdErr, 26.8638925})
}

// TestSlopePulledLow: gauge noise pulls the least squares slope down. Expected values:
// testdata/regression.R.
func TestSlopePulledLow(t *testing.T) {
	gauge := []float64{144.8, 144.1, 145.4, 144.2, 146.8, 145.1, 145.5, 146.6, 148.6, 147.0}
	core := []float64{146.7, 147.4, 147.7, 148.0, 148.5, 148.9, 149.0, 149.0, 149.8, 150.0}
	line, err := FitLine(gauge, core)
	if err != nil {
		t.Fatal(err)
	}
	slope, err1 := line.SlopeAgainst(1, 0.95)
	s, err2 := SummarizePairs(gauge, core)
	known, err3 := DemingLine(s, 0.09765625)
	alike, err4 := DemingLine(s, 1)
	if err := errors.Join(err1, err2, err3, err4); err != nil {
		t.Fatal(err)
	}
	checkPrintedFigures(t,
		printedFigure{"least squares", slope.Value, 0.563256, 5e-7},
		printedFigure{"lower", slope.CI.Lo, 0.170861, 5e-7},
		printedFigure{"upper", slope.CI.Hi, 0.955650, 5e-7},
		printedFigure{"intercept", line.Intercept.Value, 66.371666, 5e-7},
		printedFigure{"at 140", line.At(140), 145.227, 5e-4},
		printedFigure{"Deming", known.Slope, 0.908610, 5e-7},
		printedFigure{"its intercept", known.Intercept, 16.015524, 5e-7},
		printedFigure{"at 140", known.At(140), 143.221, 5e-4},
		printedFigure{"ratio 1", alike.Slope, 0.676756, 5e-7},
	)
}

// Three readings of a gauge and two cores at each of four places. Expected values:
// R 4.2.2, pooled variances by hand, r/qf(.975, 4, 8) and r*qf(.975, 8, 4); the ratio
// for means is r·(1/2)/(1/3).
func TestReplicateRatio(t *testing.T) {
	gauge := [][]float64{{144.8, 145.1, 144.9}, {146.9, 147.2, 147.0}, {143.9, 144.1, 144.0}, {148.0, 148.2, 147.9}}
	core := [][]float64{{147.4, 147.9}, {148.6, 148.2}, {147.3, 147.6}, {149.6, 149.3}}
	f, err := FitDemingReplicates(gauge, core, 0.95, DemingAngle)
	if err != nil {
		t.Fatal(err)
	}
	checkFigures(t, 3e-12, // differences of decimals near 145
		figure{"sd of x", f.Ratio.SDX, 0.141421356237301}, figure{"sd of y", f.Ratio.SDY, 0.271569512280002},
		figure{"ratio", f.Ratio.VarYOverVarX, 3.6875}, figure{"lower", f.Ratio.CI.Lo, 0.729817616118609},
		figure{"upper", f.Ratio.CI.Hi, 33.112202780356071}, figure{"of means", f.VarYOverVarX, 5.53125})
	if f.Ratio.DFX != 8 || f.Ratio.DFY != 4 || f.N != 4 {
		t.Errorf("%+v", f)
	}
}

// TestSummarizePairsIsAccurate holds the sums in float64 against those in pairs, for
// points up to 2^20 spreads away from 0.
func TestSummarizePairsIsAccurate(t *testing.T) {
	r := rand.New(rand.NewPCG(63, 64))
	for range 500 {
		n := 2 + r.IntN(40)
		far := math.Ldexp(1, r.IntN(21))
		xs, ys := make([]float64, n), make([]float64, n)
		for i := range xs {
			xs[i] = far + r.NormFloat64()
			ys[i] = -far + r.NormFloat64()
		}
		got, err1 := SummarizePairs(xs, ys)
		want, err2 := summarizeHardPairs("", xs, ys)
		if err := errors.Join(err1, err2); err != nil {
			t.Fatal(err)
		}
		checkFigures(t, 2e-15, figure{"SXX", got.SXX, want.SXX}, figure{"SYY", got.SYY, want.SYY},
			figure{"mean of x", got.MeanX, want.MeanX}, figure{"mean of y", got.MeanY, want.MeanY})
		if off := math.Abs(got.SXY - want.SXY); off > 2e-15*math.Sqrt(want.SXX*want.SYY) {
			t.Errorf("SXY off by %v", off)
		}
	}
}

// Turning the axes round inverts ratio and slope; scaling y scales the slope.
func TestDemingLaws(t *testing.T) {
	r := rand.New(rand.NewPCG(61, 62))
	for range 200 {
		n := 3 + r.IntN(10)
		xs, ys, scaled := make([]float64, n), make([]float64, n), make([]float64, n)
		for i := range xs {
			xs[i] = 145 + 2*r.NormFloat64()
			ys[i] = xs[i] + r.NormFloat64()
			scaled[i] = 16 * ys[i]
		}
		ratio := math.Exp(r.NormFloat64())
		s, _ := SummarizePairs(xs, ys)
		turned, _ := SummarizePairs(ys, xs)
		larger, _ := SummarizePairs(xs, scaled)
		a, err1 := DemingLine(s, ratio)
		b, err2 := DemingLine(turned, 1/ratio)
		c, err3 := DemingLine(larger, 256*ratio)
		if err := errors.Join(err1, err2, err3); err != nil {
			t.Fatal(err)
		}
		checkFigures(t, 1e-9, figure{"turned", b.Slope, 1 / a.Slope}, figure{"scaled", c.Slope, 16 * a.Slope})
	}
}

// Readings that differ from the cores by one offset, in tenths, have no scatter, and
// rounding does not reject a slope of one.
func TestDemingOfDecimalsOnALine(t *testing.T) {
	r := rand.New(rand.NewPCG(69, 70))
	for k := range 5000 {
		xs, ys, offset := make([]float64, 3+r.IntN(8)), []float64(nil), r.IntN(60)-30
		for i := range xs {
			x := 1400 + 10*i + r.IntN(100)
			xs[i] = float64(x) / 10
			ys = append(ys, float64(x+offset)/10)
		}
		if slices.Min(xs) == slices.Max(xs) {
			continue
		}
		o := DemingOptions{VarYOverVarX: 1 + float64(k%3), Level: 0.95, Method: DemingAngle}
		if k%2 == 1 {
			o.Method = DemingJackknife
		}
		f, err1 := FitDeming(xs, ys, o)
		_, one, err2 := f.SlopeP(1)
		_, other, err3 := f.SlopeP(1.01)
		if errors.Is(err1, ErrNoSlope) { // a jackknife without the only point that differs
			continue
		}
		if err := errors.Join(err1, err2, err3); err != nil {
			t.Fatal(xs, ys, err)
		}
		if one < 0.2 || !(other < 1e-6) || !f.SlopeCI.Contains(1) || f.ErrorSDX != 0 || len(f.Warnings) != 1 || f.Warnings[0].Code != WarnNoResidual {
			t.Fatalf("%v, %v: p of slope one %v, of 1.01 %v; %+v", xs, ys, one, other, f)
		}
	}
}
