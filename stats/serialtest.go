package stats

import "math"

// SerialTest is a statistic of the order of values with its p-value.
type SerialTest struct {
	N     int
	Value float64
	P     float64 // probability of a value as far to Side from independent normal values
	Side  Side
	Exact bool // whether P is the exact one for normal values, otherwise a normal approximation
}

// mostExactSerial is the number of values up to which P is exact. Beyond, the normal
// approximation is within 5 % of a p down to 1e-3.
const mostExactSerial = 500

// VonNeumann returns the ratio of the mean square successive difference to the variance
//
//	Σ(xᵢ₊₁-xᵢ)² / Σ(xᵢ-x̄)²
//
// of values in the order they were taken: near 2 if they are independent, lower where
// neighbours are alike as in a drift, higher where they alternate. side says what to
// look for: [Low] for drift, [High] for alternation, or [TwoSide], whose p is twice the
// smaller tail. xs holds n ≥ 3 finite values, not all equal, and is not changed.
//
// P is exact for independent values from one normal population up to n = 500: in that
// case the ratio is Σλz²/Σz² of n-1 standard normal z with λ = 4·sin²(πk/(2n)), whose
// distribution is found by numerical inversion to some 1e-11 of the smaller tail. For
// larger n P comes from the normal distribution with mean 2 and variance
// 4(n-2)/(n²-1). Some authors divide the sums by n-1 and n and get a ratio larger by
// n/(n-1); p is the same. Cost: some 0.15 ms for n = 10, 2 ms for 500.
//
// Errors are [*InputError] around [ErrTooFew], [ErrNotFinite], [ErrParameter] (side),
// [ErrNoSpread], [ErrOverflow] or [ErrUnderflow].
//
// Source: J. von Neumann, Distribution of the ratio of the mean square successive
// difference to the variance, Annals of Mathematical Statistics 12 (1941) 367-395.
func VonNeumann(xs []float64, side Side) (SerialTest, error) {
	const fn = "stats.VonNeumann"
	if err := checkSerial(fn, xs, side); err != nil {
		return SerialTest{}, err
	}
	var successive pair
	for i, x := range xs[1:] {
		d := twoSum(x, -xs[i])
		successive = successive.add(d.mul(d))
	}
	spread := squaresAboutMean(xs, pairMean(xs))
	if err := checkSquare(fn, "xs", spread); err != nil {
		return SerialTest{}, err
	}
	n := float64(len(xs))
	ratio := successive.div(spread).value()
	if !isFinite(ratio) {
		return SerialTest{}, Refuse(fn, "xs", "", ErrOverflow)
	}
	normal := (ratio - 2) / math.Sqrt(4*(n-2)/(n*n-1))
	return newSerialTest(len(xs), ratio, side, normal, vonNeumannValues), nil
}

// vonNeumannValues returns the eigenvalues of the form of successive differences but
// for the 0 of the mean.
func vonNeumannValues(n int) []float64 {
	lambda := make([]float64, n-1)
	for k := range lambda {
		lambda[k] = 4 * square(math.Sin(math.Pi*float64(k+1)/float64(2*n)))
	}
	return lambda
}

// LagOneTest tests the lag-1 autocorrelation r₁ of [LagOne] against independence.
// [High] looks for drift, [Low] for alternation; [TwoSide] takes twice the smaller
// tail. P is exact under the rules of [VonNeumann], beyond n = 500 from the normal
// distribution with the exact mean -1/n and variance (n-2)²/(n²(n-1)). xs holds n ≥ 3
// finite values, not all equal, and is not changed.
//
// The two tests hardly differ; this one weighs the first and the last value less.
//
// Errors are those of VonNeumann.
//
// Source: P. A. P. Moran, Some theorems on time series II, Biometrika 35 (1948) 255-260,
// for mean and variance.
func LagOneTest(xs []float64, side Side) (SerialTest, error) {
	const fn = "stats.LagOneTest"
	if err := checkSerial(fn, xs, side); err != nil {
		return SerialTest{}, err
	}
	r, err := lagOne(fn, xs)
	if err != nil {
		return SerialTest{}, err
	}
	n := float64(len(xs))
	normal := (r + 1/n) * n * math.Sqrt(n-1) / (n - 2)
	return newSerialTest(len(xs), r, side, normal, lagOneValues), nil
}

// lagOneValues returns the eigenvalues, but for that of the mean, of the form of
// neighbours' products of deviations. Without the mean they are cos(πk/(n+1)); those
// of even k, whose vectors sum to 0, stay, and between two of odd k lies one root of
// Σ w/(cos(πk/(n+1)) - x), w = cot²(πk/(2(n+1))), over the odd k.
func lagOneValues(n int) []float64 {
	var lambda, poles, weights []float64
	for k := 1; k <= n; k++ {
		angle := math.Pi * float64(k) / float64(n+1)
		if k%2 == 0 {
			lambda = append(lambda, math.Cos(angle))
			continue
		}
		poles = append(poles, math.Cos(angle))
		weights = append(weights, 1/square(math.Tan(0.5*angle)))
	}
	for i := range poles[1:] {
		lambda = append(lambda, secularRoot(poles, weights, i))
	}
	return lambda
}

// secularRoot returns the root of Σ weight/(pole - x) between poles i+1 and i, where
// the sum rises from -∞ to ∞, by bisection. The poles fall.
func secularRoot(poles, weights []float64, i int) float64 {
	lo, hi := poles[i+1], poles[i]
	for range 60 {
		middle, sum := 0.5*(lo+hi), 0.0
		for k, pole := range poles {
			sum += weights[k] / (pole - middle)
		}
		if sum > 0 {
			hi = middle
		} else {
			lo = middle
		}
	}
	return 0.5 * (lo + hi)
}

func newSerialTest(n int, value float64, side Side, normal float64, values func(n int) []float64) SerialTest {
	r := SerialTest{N: n, Value: value, Side: side, Exact: n <= mostExactSerial}
	low, high := normalTail(-normal), normalTail(normal)
	if r.Exact {
		lambda := values(n)
		low, high = ratioTail(lambda, value, false), ratioTail(lambda, value, true)
	}
	switch side {
	case Low:
		r.P = low
	case High:
		r.P = high
	default:
		r.P = min(1, 2*min(low, high))
	}
	return r
}

func checkSerial(fn string, xs []float64, side Side) error {
	if side < Low || side > TwoSide {
		return outOfRange(fn, "side", side.String(), anySide)
	}
	if len(xs) < 3 {
		return tooFew(fn, "xs", len(xs), 3)
	}
	if err := checkFinite(fn, "xs", xs); err != nil {
		return err
	}
	if allEqual(xs) {
		return Refuse(fn, "xs", "", ErrNoSpread)
	}
	return nil
}
