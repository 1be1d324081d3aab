package bias_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/stats"
)

// The nested model: core - gauge differs from location to location with standard
// deviation 0.9 and from reading to reading with 0.3, lb/ft3, about an offset of 2.3.
const trueOffset, locationSD, readingSD = 2.3, 0.9, 0.3

type strip struct {
	gauge, core []float64 // means of the locations, and their cores
	all         []float64 // every core - reading
	next        float64   // the difference at one more location
}

func simulate(rng *rand.Rand, cores, readings int) (s strip) {
	for range cores {
		core, sum := 147+1.2*rng.NormFloat64(), 0.0
		bias := trueOffset + locationSD*rng.NormFloat64()
		for range readings {
			x := core - bias + readingSD*rng.NormFloat64()
			sum += x
			s.all = append(s.all, core-x)
		}
		s.gauge, s.core = append(s.gauge, sum/float64(readings)), append(s.core, core)
	}
	s.next = trueOffset + math.Hypot(locationSD, readingSD/math.Sqrt(float64(readings)))*rng.NormFloat64()
	return s
}

// The interval from location means holds its level, and so does the prediction; the
// one that takes every reading for a comparison does not. The bounds are four standard
// errors of the simulation.
func TestCoverageUnderTheNestedModel(t *testing.T) {
	const trials, level = 4000, 0.95
	rng := rand.New(rand.NewPCG(20, 25))
	bound := 4 * math.Sqrt(level*(1-level)/trials)
	for _, design := range []struct{ cores, readings int }{{3, 3}, {5, 5}, {10, 2}} {
		var offset, prediction, wrong float64
		for range trials {
			s := simulate(rng, design.cores, design.readings)
			e, err := bias.OffsetOf(s.gauge, s.core, level)
			if err != nil {
				t.Fatal(err)
			}
			all, err := stats.MeanInterval(s.all, level)
			if err != nil {
				t.Fatal(err)
			}
			offset += hit(e.CI.Contains(trueOffset))
			prediction += hit(e.Prediction.Contains(s.next))
			wrong += hit(all.CI.Contains(trueOffset))
		}
		offset, prediction, wrong = offset/trials, prediction/trials, wrong/trials
		t.Logf("%d cores with %d readings, nominal 95 %%: offset %.1f %%, prediction %.1f %%; all readings as if independent %.1f %%",
			design.cores, design.readings, 100*offset, 100*prediction, 100*wrong)
		if math.Abs(offset-level) > bound || math.Abs(prediction-level) > bound {
			t.Errorf("coverage %.3f and %.3f, want %.2f ± %.3f", offset, prediction, level, bound)
		}
		if wrong > 0.9 {
			t.Errorf("all readings as if independent cover %.3f; they should fail", wrong)
		}
	}
}

func hit(in bool) float64 {
	if in {
		return 1
	}
	return 0
}

// The interval of a corrected reading holds what a core would show, though its degrees
// of freedom are an approximation: between 93 and 98.5 % with 3 to 10 cores, also where
// the location adds little or nothing to the reading, and it is never endless.
func TestCoverageOfUncertainty(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds of simulation")
	}
	const trials = 1000
	rng := rand.New(rand.NewPCG(26, 27))
	for _, cores := range []int{3, 5, 10} {
		for _, locationSD := range []float64{locationSD, 0.2, 0} {
			var held, widest float64
			for range trials {
				ls, cs := simulatedStrip(rng, cores, locationSD)
				o := options()
				e, err := bias.EstimateOffset(ls, cs, o)
				if err != nil {
					t.Fatal(err)
				}
				parts, err := bias.StripComponents(ls, cs, 0.95)
				if err != nil {
					t.Fatal(err)
				}
				core, own := 147+1.2*rng.NormFloat64(), trueOffset+locationSD*rng.NormFloat64()
				x := []float64{core - own + readingSD*rng.NormFloat64(), core - own + readingSD*rng.NormFloat64()}
				r, err := bias.UncertaintyOf(readings(x...), e.Correction, o.Scope, parts, 0.95)
				if err != nil {
					t.Fatal(err)
				}
				held, widest = held+hit(r.CI.Contains(core)), max(widest, r.CI.HalfWidth())
			}
			t.Logf("%d cores with 3 readings, location %.1f, nominal 95 %%: a core where the gauge was read twice %.1f %%, widest ± %.1f", cores, locationSD, 100*held/trials, widest)
			if c := held / trials; c < 0.93 || c > 0.985 || widest > 30 {
				t.Errorf("%d cores: coverage %.3f, widest ± %.1f", cores, c, widest)
			}
		}
	}
}

func simulatedStrip(rng *rand.Rand, cores int, locationSD float64) (ls []bias.Location, cs []bias.Core) {
	for i := range cores {
		d, own := 147+1.2*rng.NormFloat64(), trueOffset+locationSD*rng.NormFloat64()
		id := string(rune('A' + i))
		ls = append(ls, location(id, d-own+readingSD*rng.NormFloat64(), d-own+readingSD*rng.NormFloat64(), d-own+readingSD*rng.NormFloat64()))
		cs = append(cs, core(id, d))
	}
	return ls, cs
}
