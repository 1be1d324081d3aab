package stats_test

import (
	"math/rand/v2"

	"github.com/densilot/densilot/stats"
)

func simulationTrials(short, full int) int {
	if stats.Long() {
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
