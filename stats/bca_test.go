package stats

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// TestBCaAgainstPlain repeats z₀, a and the fractions in another way: sums in
// the textbook form of Efron and Tibshirani (1993), equations 14.10, 14.14 and
// 14.15, with Φ by math.Erfc.
func TestBCaAgainstPlain(t *testing.T) {
	r := rand.New(rand.NewPCG(23, 24))
	xs := make([]float64, 24)
	for i := range xs {
		xs[i] = r.ExpFloat64()
	}
	stdDev := func(xs []float64) (float64, error) { s, err := Summarize(xs); return s.StdDev, err }
	o := BootstrapOptions{Replicates: 1999, Level: 0.9, Method: BootstrapBCa, Seed: 8}
	got, err := Bootstrap(context.Background(), xs, stdDev, o)
	if err != nil {
		t.Fatal(err)
	}
	var replicates []float64
	sample := make([]float64, len(xs))
	below := 0.0
	for i := range o.Replicates {
		resample(sample, xs, o.Seed, i)
		s, _ := stdDev(sample)
		replicates = append(replicates, s)
		if s < got.Value {
			below++
		}
	}
	slices.Sort(replicates)
	phi := func(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }
	if p := phi(got.BiasCorrection); math.Abs(p-below/float64(o.Replicates)) > 1e-12 {
		t.Errorf("Φ(z₀) = %v, want %v", p, below/float64(o.Replicates))
	}
	var leftOut []float64
	for i := range xs {
		s, _ := stdDev(slices.Delete(slices.Clone(xs), i, i+1))
		leftOut = append(leftOut, s)
	}
	centre, _ := Mean(leftOut)
	var cubes, squares float64
	for _, s := range leftOut {
		cubes += math.Pow(centre-s, 3)
		squares += math.Pow(centre-s, 2)
	}
	if want := cubes / (6 * math.Pow(squares, 1.5)); math.Abs(got.Acceleration-want) > 1e-12 {
		t.Errorf("a = %v, want %v", got.Acceleration, want)
	}
	for _, side := range []struct{ limit, z float64 }{{got.CI.Lo, -1.6448536269514722}, {got.CI.Hi, 1.6448536269514722}} {
		// Φ⁻¹(0.95) = 1.6448536269514722, R manual, qnorm.
		z := got.BiasCorrection + side.z
		h := phi(got.BiasCorrection+z/(1-got.Acceleration*z)) * float64(o.Replicates+1)
		j := int(h)
		want := replicates[j-1] + (h-float64(j))*(replicates[j]-replicates[j-1])
		if math.Abs(side.limit-want) > 1e-9 {
			t.Errorf("limit %v, want %v", side.limit, want)
		}
	}
}

// Where 1-a(z₀+z) is not positive the corrected fraction has run off the scale.
func TestBCaBeyondScale(t *testing.T) {
	upper := BootstrapResult{BiasCorrection: 3, Acceleration: 0.5}
	if p := upper.corrected(0.975); p != 1 {
		t.Errorf("p = %v, want 1", p)
	}
	lower := BootstrapResult{BiasCorrection: -3, Acceleration: -0.5}
	if p := lower.corrected(0.025); p != 0 {
		t.Errorf("p = %v, want 0", p)
	}
}

// TestBCaWarnsOfTooFewReplicates uses the fewest replicates the level allows: any
// correction then asks for one beyond the smallest or the largest.
func TestBCaWarnsOfTooFewReplicates(t *testing.T) {
	xs := []float64{0.1, 0.2, 0.2, 0.3, 0.4, 0.5, 0.7, 1, 1.5, 4}
	r, err := Bootstrap(context.Background(), xs, meanOf, BootstrapOptions{Replicates: 39, Level: 0.95, Method: BootstrapBCa, Seed: 2})
	if err != nil || !slices.ContainsFunc(r.Warnings, func(w Warning) bool { return w.Code == WarnReplicates }) {
		t.Errorf("%+v, %v, want a warning of too few replicates", r, err)
	}
	if r.CI.Lo > r.CI.Hi {
		t.Errorf("interval %+v is upside down", r.CI)
	}
}

// TestBootstrapCoverage draws samples of 20 from a normal population and counts
// how often the interval of their mean holds the true one. Replicates of such a
// mean are nearly normal with s·√(19/20)/√20, so the interval reaches about
// z·√(19/20) standard errors and its coverage is that of Student's t with 19
// degrees of freedom there: 0.929 at the level 0.95. With 2000 samples the count
// has a standard deviation of 0.006.
func TestBootstrapCoverage(t *testing.T) {
	const samples, n, z = 2000, 20, 1.959963984540054 // Φ⁻¹(0.975), R manual, qnorm
	want := 1 - 2*distuv.StudentsT{Sigma: 1, Nu: n - 1}.Survival(z*math.Sqrt((n-1.0)/n))
	r := rand.New(rand.NewPCG(31, 32))
	for _, method := range []BootstrapMethod{BootstrapPercentile, BootstrapBCa} {
		held := 0.0
		for i := range samples {
			xs := make([]float64, n)
			for j := range xs {
				xs[j] = 94 + 1.5*r.NormFloat64()
			}
			b, err := Bootstrap(context.Background(), xs, meanOf, BootstrapOptions{Replicates: 399, Level: 0.95, Method: method, Seed: uint64(i)})
			if err != nil {
				t.Fatal(err)
			}
			if b.CI.Contains(94) {
				held++
			}
		}
		if got := held / samples; math.Abs(got-want) > 0.02 {
			t.Errorf("%v: coverage %.3f, want %.3f", method, got, want)
		}
	}
}

// A mean in tenths has the interval of the mean in whole numbers, whose sums are exact, and
// so the same ties.
func TestBCaOfTenthsIsThatOfWholeNumbers(t *testing.T) {
	r := rand.New(rand.NewPCG(77, 78))
	mean := func(xs []float64) (float64, error) {
		var sum float64
		for _, x := range xs {
			sum += x
		}
		return sum / float64(len(xs)), nil
	}
	o := BootstrapOptions{Replicates: 999, Level: 0.9, Method: BootstrapBCa, Seed: 9}
	for range 20 {
		xs, tenths := make([]float64, 5+r.IntN(8)), []float64(nil)
		for i := range xs {
			xs[i] = float64(920 + i + r.IntN(10))
			tenths = append(tenths, xs[i]/10)
		}
		want, err1 := Bootstrap(context.Background(), xs, mean, o)
		got, err2 := Bootstrap(context.Background(), tenths, mean, o)
		if err1 != nil || err2 != nil || got.BiasCorrection != want.BiasCorrection || math.Abs(10*got.CI.Lo-want.CI.Lo) > 1e-9 || math.Abs(10*got.CI.Hi-want.CI.Hi) > 1e-9 {
			t.Errorf("%v: %v with z₀ = %v, want %v with %v; %v, %v", tenths, got.CI, got.BiasCorrection, want.CI, want.BiasCorrection, err1, err2)
		}
	}
}
