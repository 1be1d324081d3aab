package lot_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"github.com/densilot/densilot/lot"
)

// curveOfFive are 101 percentages from 50 to 99.9; gonum's normal quantile has
// none for 100.
func curveOfFive(b *testing.B, at func(pwl float64) lot.Quality) []lot.Quality {
	qualities, err := lot.QualityRange(50, 99.9, 101, at)
	if err != nil {
		b.Fatal(err)
	}
	return qualities
}

// gonumCurve is the same curve by gonum: normal quantile, noncentral t.
func gonumCurve(dst []float64, qualities []lot.Quality, limit float64) {
	root := math.Sqrt(5)
	for i, q := range qualities {
		d := distuv.NoncentralT{Nu: 4, Mu: -root * distuv.UnitNormal.Quantile(q.Below/100)}
		dst[i] = 1 - d.CDF(root*limit)
	}
}

// BenchmarkAcceptanceCurve is one curve of 101 points for five results, accepted
// from a PWL estimate of 85.
func BenchmarkAcceptanceCurve(b *testing.B) {
	one, two := curveOfFive(b, lot.QualityOneLimit), curveOfFive(b, lot.QualityCentred)
	dst, want := make([]float64, 101), make([]float64, 101)
	limit, err := lot.QualityIndex(85, 5)
	if err != nil {
		b.Fatal(err)
	}
	gonumCurve(want, one, limit)
	if err := lot.AcceptanceCurve(dst, one, 5, 85); err != nil {
		b.Fatal(err)
	}
	for i := range dst {
		if !(math.Abs(dst[i]-want[i]) < 1e-10) {
			b.Fatalf("at %v: ours %v, gonum %v", one[i].PWL(), dst[i], want[i])
		}
	}
	for _, c := range []struct {
		name      string
		qualities []lot.Quality
	}{{"one limit/ours", one}, {"two limits/ours", two}} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := lot.AcceptanceCurve(dst, c.qualities, 5, 85); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	b.Run("one limit/a million lots at one point", func(b *testing.B) {
		o := lot.SimulationOptions{N: 5, Limits: lot.AtLeast(92), Source: lot.NormalLots(93, 0.8), Schedule: schedule(b), Lots: 1_000_000, Seed: 1, Workers: 1}
		for b.Loop() {
			simulate(b, o)
		}
	})
	b.Run("one limit/gonum", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			gonumCurve(dst, one, limit)
		}
	})
}

// BenchmarkExpectedPay is one point of a schedule with steps and lines.
func BenchmarkExpectedPay(b *testing.B) {
	s := schedule(b)
	for _, c := range []struct {
		name    string
		quality lot.Quality
	}{{"one limit", lot.QualityOneLimit(90)}, {"two limits", lot.QualityCentred(90)}} {
		e := estimator(b, 5, c.quality)
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := lot.ExpectedPay(e, s, lot.Retesting{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// gonumLots draws, estimates and pays lots of five the plain way.
func gonumLots(lots int, s lot.Schedule) (sum float64) {
	normal := distuv.Normal{Mu: 4, Sigma: 1.2, Src: rand.NewPCG(1, 2)}
	values := make([]float64, 5)
	for range lots {
		for i := range values {
			values[i] = normal.Rand()
		}
		mean, sd := stat.MeanStdDev(values, nil)
		pwl := withinGonum((mean-2.8)/sd, 5) + withinGonum((5.2-mean)/sd, 5) - 100
		factor, _, _ := s.FactorAt(max(0, pwl))
		sum += factor
	}
	return sum / float64(lots)
}

// BenchmarkSimulate is a simulation of 65536 lots of five with two limits; times
// per lot are comparable between its parts.
func BenchmarkSimulate(b *testing.B) {
	const lots = 65536
	s := schedule(b)
	o := lot.SimulationOptions{N: 5, Limits: lot.Between(2.8, 5.2), Source: lot.NormalLots(4, 1.2), Schedule: s, Lots: lots, Seed: 1}
	b.Run("gonum", func(b *testing.B) {
		for b.Loop() {
			gonumLots(lots, s)
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/lots, "ns/lot")
	})
	for workers := 1; workers <= 2; workers++ {
		b.Run(fmt.Sprintf("ours, %d workers", workers), func(b *testing.B) {
			o.Workers = workers
			for b.Loop() {
				if _, err := lot.Simulate(context.Background(), o); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/lots, "ns/lot")
		})
	}
}

// BenchmarkStdDev is the standard deviation of the estimate, with two limits as with
// one.
func BenchmarkStdDev(b *testing.B) {
	for _, n := range []int{5, 20, 60} {
		for name, q := range map[string]lot.Quality{"one limit": lot.QualityOneLimit(90), "two limits": lot.QualityCentred(90)} {
			e := estimator(b, n, q)
			b.Run(fmt.Sprintf("n = %d, %s", n, name), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					if _, err := e.StdDev(); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}

// BenchmarkRiskPoint is one point of a plan with steps and lines by integral and,
// for comparison, a million simulated lots: by the schedule alone, with a second
// pass and with single results that reject the lot.
func BenchmarkRiskPoint(b *testing.B) {
	for _, limits := range []lot.Limits{lot.AtLeast(92), lot.Between(92, 95)} {
		plain := terms(b, limits)
		second, single := plain, plain
		second.Second = &lot.SecondPass{Below: d("1"), Limits: limits, Max: d("1")}
		single.Individual = individual(lot.AtLeast(91))
		o := lot.RiskOptions{N: 5, StdDev: 0.8, Levels: &lot.QualityLevels{Acceptable: 80, Rejectable: 50}}
		for _, c := range []struct {
			name  string
			terms lot.Terms
		}{{"schedule", plain}, {"second pass", second}, {"single results", single}} {
			p := plan(b, c.terms)
			b.Run(fmt.Sprintf("%v, %s", limits, c.name), func(b *testing.B) {
				for b.Loop() {
					risk(b, p, o)
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/2, "ns/point")
			})
		}
	}
	b.Run("million lots by plan", func(b *testing.B) {
		s := lot.PlanSimulation{Plans: []lot.Plan{plan(b, terms(b, lot.AtLeast(92)))}, N: 5, Source: lot.SeparateLots(lot.NormalLots(93, 0.8)), Lots: 1_000_000, Seed: 1, Workers: 1}
		for b.Loop() {
			simulatePlans(b, s)
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N), "ns/point")
	})
}
