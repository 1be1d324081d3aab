package lot

import (
	"fmt"
	"math"

	"github.com/densilot/densilot/stats"
)

// Contribution is the part of one source in the uncertainty of a lot. The first is
// the lot itself, of which only n places were measured, the second repeatability;
// the common errors follow in their order.
//
// StdErr and Share are those of the mean of the lot, where all sources meet:
//
//	StdErr  √(s²-σ²)/√n, σ/√n, or that of the common error
//	Share   StdErr² over the sum of all squares; the shares add up to 1
//
// with the Results of [Weighing] for n where results weigh differently. Where chance
// makes s less than σ, the lot itself has no part left.
//
// Halved is the interval of the percent within limits there would be with this
// source's error halved and the same results otherwise, and Takes what halving it
// takes: four times as many places for the lot, with the same mean and standard
// deviation (which halves the part of repeatability in the mean as well); four times
// as many readings averaged into each result for repeatability, with s² less by three
// quarters of σ²; some four times the cores or tests behind a common error (whose
// degrees of freedom would rise too, for a little more). Each is worked out by itself:
// the gains of two do not add up. With two limits and a mean between them Halved says
// more than Share, since a shift costs little there, and one end of the interval may
// move outwards a little while the other comes in by more.
type Contribution struct {
	Source string
	StdErr float64 // of the mean of the lot, in the unit of the characteristic
	DF     float64
	Share  float64 // of the variance of that mean, 0 to 1
	Takes  string  // what halves it, such as "four times the sublots"
	Halved stats.Interval
}

// String returns the contribution in words, such as "offset of the gauge: 0.24, 23 %
// of the variance of the mean; with some four times the cores or tests behind it 57.0
// to 99.6".
func (c Contribution) String() string { return c.Source + ": " + c.inWords() }

func (c Contribution) inWords() string {
	return fmt.Sprintf("%.3g, %.0f %% of the variance of the mean; with %s %s", c.StdErr, 100*c.Share, c.Takes, rangeText(c.Halved))
}

// rangeText writes an interval of percentages to tenths, rounded outwards.
func rangeText(ci stats.Interval) string {
	return fmt.Sprintf("%.1f to %.1f", floorTenth(ci.Lo), ceilTenth(ci.Hi))
}

func floorTenth(x float64) float64 { return math.Floor(10*x) / 10 }

func ceilTenth(x float64) float64 { return math.Ceil(10*x) / 10 }

// lotItself is the source name of sampling.
const lotItself = "the lot, sampled"

// What halves an error.
const (
	moreSublots  = "four times the sublots"
	moreReadings = "four times the readings in each result"
	moreCores    = "some four times the cores or tests behind it"
)

// budget returns the contributions, none for a lot without spread or without any
// error.
func (p *limitPair) budget(s stats.Summary, size Weighing, e MeasurementError, level float64) []Contribution {
	if s.StdDev == 0 || e.none() {
		return nil
	}
	root := math.Sqrt(size.Results)
	r := e.Repeatability.StdErr
	own := spreadLeft(s.StdDev, r)
	out := []Contribution{{Source: lotItself, StdErr: own / root, DF: size.DF, Takes: moreSublots, Halved: p.inverted(s, size.times(4), e, level)}}
	if r > 0 {
		finer := e.clone()
		finer.Repeatability.StdErr /= 2
		less := s
		less.StdDev = math.Hypot(own, r/2)
		out = append(out, Contribution{Source: e.Repeatability.Source, StdErr: r / root, DF: e.Repeatability.DF, Takes: moreReadings, Halved: p.inverted(less, size, finer, level)})
	}
	for i, c := range e.Common {
		finer := e.clone()
		finer.Common[i].StdErr /= 2
		out = append(out, Contribution{Source: c.Source, StdErr: c.StdErr, DF: c.DF, Takes: moreCores, Halved: p.inverted(s, size, finer, level)})
	}
	share(out)
	return out
}

// share fills in what part each has in the variance.
func share(cs []Contribution) {
	all := 0.0
	for _, c := range cs {
		all = math.Hypot(all, c.StdErr)
	}
	for i := range cs {
		part := cs[i].StdErr / all
		cs[i].Share = part * part
	}
}
