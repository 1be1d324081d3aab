package lot

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

var longCoverage = flag.Bool("long", false, "simulate the coverage of intervals in full and print it")

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

// coverage simulates lots and returns in how many percent the truth is not below
// the lower bound, and not above the upper one. The bounds are not computed: one
// covers where the sample does not contradict the truth.
func (p truth) coverage(lots int, rng *rand.Rand) (lower, upper float64) {
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
			lower++
		}
		if atMost > p.tail {
			upper++
		}
	}
	return 100 * lower / float64(lots), 100 * upper / float64(lots)
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

func TestCoverageTwoLimitsTable(t *testing.T) {
	if !*longCoverage {
		t.Skip("minutes; run with -long")
	}
	const lots = 4000
	rng := rand.New(rand.NewPCG(8, 1))
	fmt.Printf("coverage of 95 %% bounds, lower/upper, %d lots, standard error %.2f\n", lots, 100*math.Sqrt(0.05*0.95/lots))
	for _, n := range []int{3, 4, 5, 7, 10, 20} {
		for _, within := range []float64{0.5, 0.7, 0.8, 0.9, 0.95, 0.99} {
			fmt.Printf("n = %2d  true %2.0f %%", n, 100*within)
			for _, ratio := range []float64{1, 0.9, 0.6} {
				lower, upper := truth{n: n, within: within, ratio: ratio, tail: 0.05}.coverage(lots, rng)
				fmt.Printf("  %4.1f/%4.1f", lower, upper)
			}
			fmt.Println()
		}
	}
}

func TestCoverageWithErrorTable(t *testing.T) {
	if !*longCoverage {
		t.Skip("minutes; run with -long")
	}
	const lots = 400
	rng := rand.New(rand.NewPCG(8, 2))
	fmt.Printf("coverage of 95 %% bounds with common error 0.4 (9 df) and repeatability 0.6 (10 df) of the population's spread, %d lots, standard error %.2f\n",
		lots, 100*math.Sqrt(0.05*0.95/lots))
	for _, n := range []int{3, 10} {
		for _, within := range []float64{0.7, 0.9, 0.99} {
			fmt.Printf("n = %2d  true %2.0f %%", n, 100*within)
			for _, ratio := range []float64{0, 1, 0.6} {
				p := truth{n: n, within: within, ratio: ratio, tail: 0.05, common: 0.4, commonDF: 9, repeatability: 0.6, repeatDF: 10}
				lower, upper := p.coverage(lots, rng)
				fmt.Printf("  %4.1f/%4.1f", lower, upper)
			}
			fmt.Println()
		}
	}
}
