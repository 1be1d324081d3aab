package road

import (
	"math/rand/v2"

	"github.com/densilot/densilot/stats"
)

// The size of things.
const (
	FirstYear         = 2015
	Years             = 10
	Gauges            = 40
	LotsOfContract    = 100
	SublotsOfLot      = 5
	RecordsOfContract = LotsOfContract * SublotsOfLot
)

// LowerLimit is the least percent compaction that is within limits.
const LowerLimit = 92.0

// What is true of every lot and gauge.
const (
	spreadOfLot    = 1.0 // percent
	spreadOfMeans  = 0.7 // percent, of lots about the mean of their year
	spreadOfDrifts = 0.3 // lb/ft3 a year
	spreadOfChecks = 0.8 // lb/ft3
)

// Network is the invented network; the same seed gives the same one for ever.
type Network struct {
	Seed      uint64
	Contracts int
}

// Records returns the number of lines.
func (n Network) Records() int { return n.Contracts * RecordsOfContract }

// yearOf returns the year in which a contract was built.
func yearOf(contract int) int { return FirstYear + contract%Years }

// The streams of random numbers that a network draws from.
const (
	ofMeans  = iota // of the lots of a contract
	ofLines         // of a contract
	ofGauges        // of all gauges
	streams
)

func (n Network) random(stream, of int) *rand.Rand {
	return rand.New(rand.NewPCG(n.Seed, uint64(of*streams+stream)))
}

// lotMeans returns the true means of the lots of a contract. The work grows better
// from year to year.
func (n Network) lotMeans(contract int) (means [LotsOfContract]float64) {
	r := n.random(ofMeans, contract)
	for i := range means {
		means[i] = 93.0 + 0.08*float64(yearOf(contract)-FirstYear) + spreadOfMeans*r.NormFloat64()
	}
	return means
}

// drifts returns how fast each gauge drifts, in lb/ft3 a year.
func (n Network) drifts() (drifts [Gauges]float64) {
	r := n.random(ofGauges, 0)
	for i := range drifts {
		drifts[i] = spreadOfDrifts * r.NormFloat64()
	}
	return drifts
}

// Truth is what the records were made from.
type Truth struct {
	Within [Years]float64  // mean percent within the limit over the lots of a year
	Drift  [Gauges]float64 // lb/ft3 a year
}

// Truth returns what the records were made from.
func (n Network) Truth() (Truth, error) {
	t := Truth{Drift: n.drifts()}
	var lots [Years]int
	for c := range n.Contracts {
		year := yearOf(c) - FirstYear
		for _, mean := range n.lotMeans(c) {
			population, err := stats.NewNormal(mean, spreadOfLot)
			if err != nil {
				return Truth{}, err
			}
			within, err := population.Survival(LowerLimit)
			if err != nil {
				return Truth{}, err
			}
			t.Within[year] += 100 * within
			lots[year]++
		}
	}
	for year, n := range lots {
		if n > 0 {
			t.Within[year] /= float64(n)
		}
	}
	return t, nil
}
