package stats_test

import (
	"flag"
	"math/rand/v2"
)

// go test ./stats -args -long runs the simulations in full; without it they sample.
var long = flag.Bool("long", false, "run the simulations in full")

func simulationTrials(short, full int) int {
	if *long {
		return full
	}
	return short
}

func normals(rng *rand.Rand, n int, mean, stdDev float64) []float64 {
	xs := make([]float64, n)
	for i := range xs {
		xs[i] = mean + stdDev*rng.NormFloat64()
	}
	return xs
}

func share(count, of int) float64 { return float64(count) / float64(of) }
