package lot

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
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
	within                float64   // true share within the limits
	ratio                 float64   // spread, as a share of the widest with that quality; 0 for one limit
	weights               []float64 // of the results; nil where all weigh the same
	common, repeatability float64   // true standard deviations of the errors, in spreads of the population
	commonDF, repeatDF    float64   // of what is known of them
}

// simulatedTails are the significances of each one-sided bound that are looked at.
var simulatedTails = [...]float64{0.05, 0.1, 0.005}

// coverages are in percent, of lower and upper bounds, for each of the tails.
type coverages [len(simulatedTails)][2]float64

// coverage simulates lots on two processors and returns in how many percent the truth
// is not below the lower bound, and not above the upper one. The bounds are not
// computed: one covers where the sample does not contradict the truth.
func (p truth) coverage(lots int) (all coverages) {
	var workers sync.WaitGroup
	var covered [2]coverages
	for k := range covered {
		rng := rand.New(rand.NewPCG(uint64(p.n)<<1+uint64(k), uint64(1000*p.within+10*p.ratio)))
		workers.Add(1)
		go func() {
			defer workers.Done()
			covered[k] = p.covered(lots/2, rng)
		}()
	}
	workers.Wait()
	for i := range all {
		for side := range all[i] {
			all[i][side] = 100 * (covered[0][i][side] + covered[1][i][side]) / float64(lots/2*2)
		}
	}
	return all
}

func (p truth) covered(lots int, rng *rand.Rand) (count coverages) {
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
		for i, tail := range simulatedTails {
			for side, probability := range []float64{atLeast, atMost} {
				if probability > tail {
					count[i][side]++
				}
			}
		}
	}
	return count
}

func (p truth) sample(room band, d, spread float64, rng *rand.Rand) inversion {
	repeat := p.repeatability * spread
	common := p.common * spread
	shift := common * rng.NormFloat64()
	xs := make([]float64, p.n)
	for i := range xs {
		xs[i] = d + shift + math.Hypot(spread, repeat)*rng.NormFloat64()
	}
	mean, s := p.moments(xs)
	e := MeasurementError{Common: []Component{{StdErr: common * estimated(p.commonDF, rng), DF: p.commonDF}},
		Repeatability: Component{StdErr: repeat * estimated(p.repeatDF, rng), DF: p.repeatDF}}
	return newInversion(p.worth(), mean, 2*room.half-mean, s, e)
}

// weight is that of a result.
func (p truth) weight(i int) float64 {
	if p.weights == nil {
		return 1
	}
	return p.weights[i]
}

// sums returns the sums of the weights to the powers 1, 2 and 3.
func (p truth) sums() (w, w2, w3 float64) {
	for i := range p.n {
		x := p.weight(i)
		w, w2, w3 = w+x, w2+x*x, w3+x*x*x
	}
	return w, w2, w3
}

func (p truth) moments(xs []float64) (mean, s float64) {
	w, w2, _ := p.sums()
	for i, x := range xs {
		mean += p.weight(i) * x / w
	}
	squares := 0.0
	for i, x := range xs {
		squares += p.weight(i) * (x - mean) * (x - mean)
	}
	return mean, math.Sqrt(squares / (w - w2/w))
}

func (p truth) worth() Weighing {
	w, w2, w3 := p.sums()
	c := w - w2/w
	return Weighing{w * w / w2, c * c / (w2 - 2*w3/w + w2*w2/w/w)}
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

// simulatedQualities are the true shares of the tables, and simulatedPositions where
// the lot is: with one limit, in the middle between two, off it by little and by more.
var (
	simulatedQualities = []float64{0.5, 0.7, 0.8, 0.9, 0.95, 0.99}
	simulatedPositions = []float64{0, 1, 0.9, 0.6}
)

// The tables of the doc comments, in long runs. Each number of results is a test of
// its own, so that it can be run alone.
func TestCoverageTable(t *testing.T) {
	needLong(t)
	for _, n := range []int{3, 4, 5, 7, 10, 20} {
		t.Run(fmt.Sprintf("n=%d", n), func(t *testing.T) { tabulate(t, truth{n: n}, 6000, exactly) })
	}
}

func TestCoverageWithErrorTable(t *testing.T) {
	needLong(t)
	for _, n := range []int{3, 4, 5, 7, 10, 20} {
		t.Run(fmt.Sprintf("n=%d", n), func(t *testing.T) { tabulate(t, gauged(n), 1500, withGauge) })
	}
}

func TestCoverageWeightedTable(t *testing.T) {
	needLong(t)
	for _, weights := range [][]float64{{1, 1, 2}, {1, 1, 1, 1, 2}, {1, 1, 1, 1, 4}, {1, 1, 1, 2, 2, 2, 3}} {
		t.Run(fmt.Sprintf("weights=%v", weights), func(t *testing.T) {
			tabulate(t, truth{n: len(weights), weights: weights}, 4000, byWeight)
		})
	}
}

func needLong(t *testing.T) {
	t.Helper()
	if !*longCoverage {
		t.Skip("takes minutes; run with -long")
	}
}

// gauged is measured with a common error of 0.4 and a repeatability of 0.6 of the
// lot's spread, known with 9 and 10 degrees of freedom.
func gauged(n int) truth {
	return truth{n: n, common: 0.4, commonDF: 9, repeatability: 0.6, repeatDF: 10}
}

// allowance is by how many percent at most a bound may cover less, and more, than it
// says, for each of the tails, as the doc comments have it.
type allowance struct{ short, long [len(simulatedTails)]float64 }

var (
	exactly   = allowance{[...]float64{1, 1, 0.5}, [...]float64{1, 1.5, 0.5}}
	withGauge = allowance{[...]float64{1.5, 3, 0.5}, [...]float64{3, 5, 0.5}}
	byWeight  = allowance{[...]float64{2, 2, 1}, [...]float64{2.5, 4, 0.5}}
)

// tabulate prints the coverage of the bounds, and fails where it is short or long by
// more than is stated and two standard errors of the simulation.
func tabulate(t *testing.T, p truth, lots int, most allowance) {
	t.Helper()
	summary := [len(simulatedTails)][]string{}
	for _, p.ratio = range simulatedPositions {
		lo, hi := coverages{}, coverages{}
		for i, within := range simulatedQualities {
			p.within = within
			all := p.coverage(lots)
			fmt.Printf("%s position %v true %v: %.1f\n", t.Name(), p.ratio, within, all)
			checkAll(t, p, all, lots, most)
			for k := range all {
				for side, x := range all[k] {
					if lo[k][side] = min(lo[k][side], x); i == 0 {
						lo[k][side] = x
					}
					hi[k][side] = max(hi[k][side], x)
				}
			}
		}
		for k := range lo {
			summary[k] = append(summary[k], fmt.Sprintf("%.1f-%.1f/%.1f-%.1f", lo[k][0], hi[k][0], lo[k][1], hi[k][1]))
		}
	}
	for k, tail := range simulatedTails {
		fmt.Printf("%s %g %%, standard error %.2f:  %s\n", t.Name(), 100*(1-tail), noise(tail, lots), strings.Join(summary[k], "  "))
	}
}

func checkAll(t *testing.T, p truth, all coverages, lots int, most allowance) {
	t.Helper()
	for k, tail := range simulatedTails {
		nominal, slack := 100*(1-tail), 2*noise(tail, lots)
		for _, x := range all[k] {
			if x < nominal-most.short[k]-slack || x > nominal+most.long[k]+slack {
				t.Errorf("%+v covers %.2f, want %v", p, all[k], nominal)
			}
		}
	}
}

// noise is the standard error of a coverage, in percent.
func noise(tail float64, lots int) float64 { return 100 * math.Sqrt(tail*(1-tail)/float64(lots)) }

// A sampled short form of the tables: enough lots to notice a bound that is off by
// some points, as the plain generalized pivotal interval is at the first of them.
func TestCoverageSampled(t *testing.T) {
	for _, p := range []truth{
		{n: 3, within: 0.9, ratio: 1},
		{n: 5, within: 0.9, ratio: 0.9},
		{n: 5, within: 0.5, ratio: 1},
		{n: 10, within: 0.99, ratio: 0.6},
	} {
		checkAll(t, p, p.coverage(1000), 1000, exactly)
	}
	weighed := truth{n: 5, within: 0.9, ratio: 1, weights: []float64{1, 1, 1, 1, 4}}
	checkAll(t, weighed, weighed.coverage(1000), 1000, byWeight)
	centred := gauged(20)
	centred.within, centred.ratio = 0.5, 1
	checkAll(t, centred, centred.coverage(300), 300, withGauge)
}

// The bounds that are returned are where a sample begins to contradict the claim.
func TestBoundsAreWhereTailsCross(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	for range 40 {
		width := 1 + 6*rng.Float64()
		v := newInversion(equalResults(3+rng.IntN(10)), width*(0.1+0.8*rng.Float64()), width, 1, MeasurementError{})
		low, high := v.bounds(0.05)
		atLeast, _ := v.tails(low)
		_, atMost := v.tails(high)
		if math.Abs(atLeast-0.05) > 1e-6 || math.Abs(atMost-0.05) > 1e-6 {
			t.Errorf("%+v: %v at %v, %v at %v", v, atLeast, low, atMost, high)
		}
	}
}
