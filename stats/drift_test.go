package stats

import (
	"errors"
	"math"
	"testing"
)

// orderedBy returns values that have the statistic f at the target, found by mixing a
// smooth and a rough series.
func orderedBy(t *testing.T, n int, target float64, f func(xs []float64) float64) []float64 {
	t.Helper()
	xs := make([]float64, n)
	mix := func(w float64) float64 {
		for i := range xs {
			xs[i] = (1-w)*float64(i) + w*float64(n)*float64(i%2)
		}
		return f(xs)
	}
	lo, hi := 0.0, 1.0
	rising := mix(1) > mix(0)
	for range 100 {
		w := 0.5 * (lo + hi)
		if (mix(w) > target) == rising {
			hi = w
		} else {
			lo = w
		}
	}
	if off := math.Abs(f(xs) - target); off > 1e-14 {
		t.Fatalf("missed %v by %v", target, off)
	}
	return xs
}

// Expected values: testdata/serial.py, Imhof's integral with mpmath.
func TestSerialTestsAgainstImhof(t *testing.T) {
	tests := []struct {
		name         string
		f            func(xs []float64, side Side) (SerialTest, error)
		n            int
		value        float64
		lower, upper float64
	}{
		{"von Neumann", VonNeumann, 5, 0.8, 0.0463407448064553, 0.953659255193545},
		{"von Neumann", VonNeumann, 10, 1.0, 0.0382468971876753, 0.961753102812325},
		{"von Neumann", VonNeumann, 10, 0.35, 0.000170737969509968, 0.99982926203049},
		{"von Neumann", VonNeumann, 20, 2.6, 0.918689283060597, 0.0813107169394033},
		{"von Neumann", VonNeumann, 20, 1.0, 0.00733913245689262, 0.992660867543107},
		{"lag one", LagOneTest, 4, 0.1, 0.85682089863, 0.14317910137},
		{"lag one", LagOneTest, 10, 0.4, 0.968690855260544, 0.0313091447394556},
		{"lag one", LagOneTest, 20, 0.5, 0.997171540934983, 0.00282845906501709},
		{"lag one", LagOneTest, 12, -0.6, 0.0149287156287717, 0.985071284371228},
	}
	for _, tt := range tests {
		xs := orderedBy(t, tt.n, tt.value, func(xs []float64) float64 {
			r, err := tt.f(xs, Low)
			if err != nil {
				t.Fatal(err)
			}
			return r.Value
		})
		low, err1 := tt.f(xs, Low)
		high, err2 := tt.f(xs, High)
		both, err3 := tt.f(xs, TwoSide)
		if err := errors.Join(err1, err2, err3); err != nil {
			t.Fatal(err)
		}
		checkFigures(t, 2e-11, figure{tt.name + ", low", low.P, tt.lower}, figure{tt.name + ", high", high.P, tt.upper},
			figure{tt.name + ", both", both.P, 2 * min(tt.lower, tt.upper)})
	}
}

// With three values the ratio is 1 + 2·sin²φ of a uniform angle, so P(ratio < r) is
// 2/π·asin√((r-1)/2), also far into the tail.
func TestVonNeumannOfThree(t *testing.T) {
	for _, x := range []float64{1e-3, 0.1, 0.5, 0.9, 0.999} {
		checkFigures(t, 1e-11, figure{"lower tail", ratioTail(vonNeumannValues(3), 1+2*x, false), 2 / math.Pi * math.Asin(math.Sqrt(((1+2*x)-1)/2))})
	}
}

// The eigenvalues of the lag-1 form sum to its trace, -(n-1)/n, and their squares to
// that of its square, (n-1)/2 - (2n-3)/n + (n-1)²/n²: with A the neighbours' half ones
// and M taking off the mean, tr(MA) = -1'A1/n and tr(MAMA) = tr A² - 2·1'A²1/n + (1'A1/n)².
func TestLagOneValues(t *testing.T) {
	for _, n := range []int{3, 4, 5, 10, 51, 500} {
		var sum, squares float64
		for _, l := range lagOneValues(n) {
			sum += l
			squares += l * l
		}
		f := float64(n)
		wantSquares := (f-1)/2 - 2*(f-1.5)/f + (f-1)*(f-1)/(f*f)
		if math.Abs(sum+(f-1)/f) > 1e-12 || math.Abs(squares-wantSquares) > 1e-11 || len(lagOneValues(n)) != n-1 {
			t.Errorf("n = %d: sums %v and %v, want %v and %v", n, sum, squares, -(f-1)/f, wantSquares)
		}
	}
}

// Where the exact p ends the normal approximation takes over within 5 % at 1e-3.
func TestSerialApproximationMeetsExact(t *testing.T) {
	const n, z = mostExactSerial, -3.090232306167813 // qnorm(0.001)
	ratio := 2 + z*math.Sqrt(4*(n-2.0)/(n*n-1.0))
	exact := ratioTail(vonNeumannValues(n), ratio, false)
	if math.Abs(exact/1e-3-1) > 0.05 {
		t.Errorf("exact %v where the approximation has 0.001", exact)
	}
	r1 := -1.0/n - z*(n-2)/(n*math.Sqrt(n-1))
	if exact := ratioTail(lagOneValues(n), r1, true); math.Abs(exact/1e-3-1) > 0.05 {
		t.Errorf("lag one: exact %v where the approximation has 0.001", exact)
	}
	long := make([]float64, n+1)
	for i := range long {
		long[i] = math.Mod(float64(i)*0.6180339887498949, 1)
	}
	if r, err := VonNeumann(long, TwoSide); err != nil || r.Exact || r.P > 1e-6 {
		t.Errorf("%+v, %v", r, err)
	}
}

// Expected values: R 4.2.2, m <- lm(x ~ t), confint(m)*6 and summary(m).
func TestTrendAgainstR(t *testing.T) {
	times := []float64{6, 0, 1, 2, 3, 4, 5}
	xs := []float64{147.1, 145.1, 145.4, 145.9, 146.3, 146.2, 146.8}
	r, err := Trend(times, xs, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	checkFigures(t, 1e-11,
		figure{"slope", r.Slope.Value, 0.325000000000006}, figure{"p", r.Slope.P, 8.57516358004713e-05},
		figure{"change", r.Change, 1.95000000000004}, figure{"lower", r.ChangeCI.Lo, 1.51556996247493}, figure{"upper", r.ChangeCI.Hi, 2.38443003752514},
		figure{"ratio of residuals", r.Serial.Value, 2.64469453376193})
}

func TestDriftRefuses(t *testing.T) {
	cusum := func(xs []float64, o CUSUMOptions) error { _, err := CUSUM(xs, o); return err }
	chart := func(xs []float64, multiple float64) error { _, err := NewIndividualsChart(xs, multiple); return err }
	ratio := func(xs []float64, side Side) error { _, err := VonNeumann(xs, side); return err }
	trend := func(times, xs []float64, level float64) error { _, err := Trend(times, xs, level); return err }
	good, nan, inf := CUSUMOptions{DecisionInterval: 1}, math.NaN(), math.Inf(1)
	tests := []struct {
		name      string
		err, want error
	}{
		{"no values", cusum(nil, good), ErrTooFew},
		{"NaN", cusum([]float64{nan}, good), ErrNotFinite},
		{"no interval", cusum([]float64{1}, CUSUMOptions{}), ErrParameter},
		{"negative slack", cusum([]float64{1}, CUSUMOptions{Reference: -1, DecisionInterval: 1}), ErrParameter},
		{"target NaN", cusum([]float64{1}, CUSUMOptions{Target: nan, DecisionInterval: 1}), ErrNotFinite},
		{"sums beyond the range", cusum([]float64{math.MaxFloat64, math.MaxFloat64}, good), ErrOverflow},
		{"one value", chart([]float64{1}, 3), ErrTooFew},
		{"infinite value", chart([]float64{1, inf}, 3), ErrNotFinite},
		{"multiple 0", chart([]float64{1, 2}, 0), ErrParameter},
		{"ranges beyond the range", chart([]float64{math.MaxFloat64, -math.MaxFloat64}, 3), ErrOverflow},
		{"no side", ratio([]float64{1, 2, 4}, 0), ErrParameter},
		{"two values", ratio([]float64{1, 2}, Low), ErrTooFew},
		{"equal values", ratio([]float64{2, 2, 2}, Low), ErrNoSpread},
		{"squares beyond the range", ratio([]float64{1e200, 2, 2}, Low), ErrOverflow},
		{"squares below the range", ratio([]float64{1e-200, 0, 0}, Low), ErrUnderflow},
		{"three points", trend([]float64{1, 2, 3}, []float64{1, 2, 4}, 0.95), ErrTooFew},
		{"level 0", trend([]float64{1, 2, 3, 4}, []float64{1, 2, 4, 4}, 0), ErrLevel},
		{"one time", trend([]float64{1, 1, 1, 1}, []float64{1, 2, 4, 4}, 0.95), ErrNoSpread},
	}
	for _, tt := range tests {
		var input *InputError
		if !errors.Is(tt.err, tt.want) || !errors.As(tt.err, &input) {
			t.Errorf("%s: error %v, want %v", tt.name, tt.err, tt.want)
		}
	}
}
