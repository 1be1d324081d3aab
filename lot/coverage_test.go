package lot

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"sync"
	"testing"
)

var longCoverage = flag.Bool("long", false, "run the simulations and audits in full and print them")

// Long reports that to the tests outside of the package.
func Long() bool { return *longCoverage }

// truth is an invented population with its limits at 0 and width, measured with
// errors of known size.
type truth struct {
	n                     int
	within                float64 // true share within the limits
	ratio                 float64 // spread, as a share of the widest with that quality; 0 for one limit
	tail                  float64 // significance of each one-sided bound
	common, repeatability float64 // true standard deviations of the errors, in spreads of the population
	commonDF, repeatDF    float64 // of what is known of them
}

// coverage simulates lots on two processors and returns in how many percent the truth
// is not below the lower bound, and not above the upper one. The bounds are not
// computed: one covers where the sample does not contradict the truth.
func (p truth) coverage(lots int) (lower, upper float64) {
	var workers sync.WaitGroup
	var covered [2][2]int
	for k := range covered {
		rng := rand.New(rand.NewPCG(uint64(p.n)<<1+uint64(k), uint64(1000*p.within+10*p.ratio)))
		workers.Add(1)
		go func() {
			defer workers.Done()
			covered[k] = p.covered(lots/2, rng)
		}()
	}
	workers.Wait()
	all := float64(lots/2*2) / 100
	return float64(covered[0][0]+covered[1][0]) / all, float64(covered[0][1]+covered[1][1]) / all
}

func (p truth) covered(lots int, rng *rand.Rand) (count [2]int) {
	room := band{math.Inf(1)}
	lnBeyond, lnWithin := math.Log1p(-p.within), math.Log(p.within)
	spread := 1.0
	if p.ratio > 0 {
		room.half = 1
		spread = p.ratio * room.quality(lnBeyond, lnWithin).widest
	}
	d := room.position(room.quality(lnBeyond, lnWithin), spread)
	score := normalScore(p.within)
	for range lots {
		v := p.sample(room, d, spread, rng)
		atLeast, atMost := v.tails(score)
		if atLeast > p.tail {
			count[0]++
		}
		if atMost > p.tail {
			count[1]++
		}
	}
	return count
}

func (p truth) sample(room band, d, spread float64, rng *rand.Rand) inversion {
	repeat := p.repeatability * spread
	common := p.common * spread
	shift := common * rng.NormFloat64()
	sum, squares := 0.0, 0.0
	xs := make([]float64, p.n)
	for i := range xs {
		xs[i] = d + shift + math.Hypot(spread, repeat)*rng.NormFloat64()
		sum += xs[i]
	}
	mean := sum / float64(p.n)
	for _, x := range xs {
		squares += (x - mean) * (x - mean)
	}
	e := MeasurementError{Common: []Component{{StdErr: common * estimated(p.commonDF, rng), DF: p.commonDF}},
		Repeatability: Component{StdErr: repeat * estimated(p.repeatDF, rng), DF: p.repeatDF}}
	return newInversion(p.n, mean, 2*room.half-mean, math.Sqrt(squares/float64(p.n-1)), e)
}

// estimated returns a standard deviation of whole df as a multiple of the true one.
func estimated(df float64, rng *rand.Rand) float64 {
	if !(df >= 1) || math.IsInf(df, 1) {
		return 1
	}
	sum := 0.0
	for range int(df) {
		z := rng.NormFloat64()
		sum += z * z
	}
	return math.Sqrt(sum / df)
}

// The tables of the doc comments, in long runs. Each line is a test of its own, so
// that one can be run alone.
func TestCoverageTable(t *testing.T) {
	if !*longCoverage {
		t.Skip("takes minutes; run with -long")
	}
	for _, tail := range []float64{0.05, 0.1, 0.005} {
		for _, n := range []int{3, 4, 5, 7, 10, 20} {
			for _, within := range []float64{0.5, 0.7, 0.8, 0.9, 0.95, 0.99} {
				t.Run(fmt.Sprintf("level=%v/n=%d/true=%v", 1-tail, n, within), func(t *testing.T) {
					printCoverage(t, truth{n: n, within: within, tail: tail}, 6000, mostShort, 0, 1, 0.9, 0.6)
				})
			}
		}
	}
}

func TestCoverageWithErrorTable(t *testing.T) {
	if !*longCoverage {
		t.Skip("takes minutes; run with -long")
	}
	for _, n := range []int{3, 4, 5, 7, 10, 20} {
		for _, within := range []float64{0.5, 0.7, 0.8, 0.9, 0.95, 0.99} {
			t.Run(fmt.Sprintf("n=%d/true=%v", n, within), func(t *testing.T) {
				printCoverage(t, gauged(n, within), 2000, mostShortMeasured, 0, 1, 0.9, 0.6)
			})
		}
	}
}

// gauged is measured with a common error of 0.4 and a repeatability of 0.6 of the
// lot's spread, known with 9 and 10 degrees of freedom.
func gauged(n int, within float64) truth {
	return truth{n: n, within: within, tail: 0.05, common: 0.4, commonDF: 9, repeatability: 0.6, repeatDF: 10}
}

// mostShort and mostShortMeasured are by how many percent at most a bound covers less
// than it says, as the doc comments have it.
const (
	mostShort         = 1.0
	mostShortMeasured = 1.0
)

// printCoverage prints the coverage at several positions between the limits and
// fails where it is short by more than the stated points and two standard errors of
// the simulation.
func printCoverage(t *testing.T, p truth, lots int, points float64, ratios ...float64) {
	t.Helper()
	noise := 100 * math.Sqrt(p.tail*(1-p.tail)/float64(lots))
	line := t.Name()
	for _, ratio := range ratios {
		p.ratio = ratio
		lower, upper := p.coverage(lots)
		line += fmt.Sprintf("  %.1f/%.1f", lower, upper)
		if least := 100*(1-p.tail) - points - 2*noise; lower < least || upper < least {
			t.Errorf("position %v covers %.2f and %.2f %%, need %.2f", ratio, lower, upper, least)
		}
	}
	fmt.Printf("%s  (standard error %.2f)\n", line, noise)
}

// A sampled short form of the tables: enough lots to notice a bound that is off by
// some points.
func TestCoverageSampled(t *testing.T) {
	for _, p := range []truth{
		{n: 3, within: 0.9, ratio: 1, tail: 0.05},
		{n: 5, within: 0.9, ratio: 0.9, tail: 0.05},
		{n: 5, within: 0.5, ratio: 1, tail: 0.05},
		{n: 10, within: 0.99, ratio: 0.6, tail: 0.05},
	} {
		checkCoverage(t, p, 1000, mostShort)
	}
	centred := gauged(20, 0.5)
	centred.ratio = 1
	checkCoverage(t, centred, 300, mostShortMeasured)
}

// checkCoverage fails where a bound is short by more than points and three standard
// errors of the simulation, or, without measurement error, long by that.
func checkCoverage(t *testing.T, p truth, lots int, points float64) {
	t.Helper()
	lower, upper := p.coverage(lots)
	slack := points + 3*100*math.Sqrt(p.tail*(1-p.tail)/float64(lots))
	nominal := 100 * (1 - p.tail)
	if min(lower, upper) < nominal-slack || p.common == 0 && max(lower, upper) > nominal+slack {
		t.Errorf("%+v: %.1f and %.1f %%, want %.1f within %.1f", p, lower, upper, nominal, slack)
	}
}

// The bounds that are returned are where a sample begins to contradict the claim.
func TestBoundsAreWhereTailsCross(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	for range 40 {
		width := 1 + 6*rng.Float64()
		v := newInversion(3+rng.IntN(10), width*(0.1+0.8*rng.Float64()), width, 1, MeasurementError{})
		low, high := v.bounds(0.05)
		atLeast, _ := v.tails(low)
		_, atMost := v.tails(high)
		if math.Abs(atLeast-0.05) > 1e-6 || math.Abs(atMost-0.05) > 1e-6 {
			t.Errorf("%+v: %v at %v, %v at %v", v, atLeast, low, atMost, high)
		}
	}
}
