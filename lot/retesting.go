package lot

import (
	"fmt"
	"math"

	"github.com/densilot/densilot/stats"
)

// Retesting says which samples of a lot count, each of n results of its own,
// independent of the others and from the same population. The zero value is one
// sample. A number of samples below 1 and a level that is no percentage are
// refused where the rule is used.
type Retesting struct {
	samples int // 0 for one
	below   float64
	best    bool
}

// BestOf returns the rule that so many samples are taken and the best estimate
// counts; for a plan, the sample that pays most.
func BestOf(samples int) Retesting { return Retesting{samples: samples, best: true} }

// RetestBelow returns the rule that a further sample is taken while the estimate
// of the last one is below pwl, most samples altogether, and that the last one
// counts. With [math.MaxInt] it is testing until the lot passes.
func RetestBelow(pwl float64, most int) Retesting { return Retesting{samples: most, below: pwl} }

// repeats reports whether the rule is to sample again below a level.
func (r Retesting) repeats() bool { return r.samples > 0 && !r.best }

// validate refuses fewer than one sample and a level that is no percentage.
func (r Retesting) validate(fn string) error {
	if r == (Retesting{}) {
		return nil
	}
	if r.samples < 1 {
		return stats.Refuse(fn, "r", fmt.Sprint(r.samples), needs(ErrOutOfDomain, "at least 1 sample"))
	}
	return checkPercent(fn, "r", r.below)
}

// chances turn the probabilities of one sample into those of the estimate that
// counts.
type chances struct {
	rule   Retesting
	passes float64 // P(estimate of one sample ≥ below)
	tests  float64 // mean number of samples
	last   float64 // probability that all samples but the last are below
}

func (r Retesting) chances(e *Estimator) chances {
	c := chances{rule: r, tests: 1, last: 1}
	switch {
	case r.samples == 0:
	case r.best:
		c.tests = float64(r.samples)
	default:
		c.repeat(e.atLeast(r.below))
	}
	return c
}

// repeat takes further samples while one does not pass.
func (c *chances) repeat(passes float64) {
	c.passes = passes
	c.last, c.tests = repeats(passes, float64(c.rule.samples))
}

// repeats returns q^(k-1) and 1 + q + … + q^(k-1) with q = 1 - passes. A lot that
// never passes takes all k.
func repeats(passes, k float64) (last, tests float64) {
	switch {
	case passes <= 0:
		return 1, k
	case k == 1:
		return 1, 1
	}
	logAgain := math.Log1p(-passes)
	return math.Exp((k - 1) * logAgain), -math.Expm1(k*logAgain) / passes
}

// atLeast returns the probability that the estimate that counts is at least pwl,
// which is atLeast for one sample.
func (c *chances) atLeast(pwl, atLeast float64) float64 {
	switch {
	case c.rule.best:
		return -math.Expm1(float64(c.rule.samples) * math.Log1p(-atLeast))
	case c.rule.samples == 0:
		return atLeast
	case pwl >= c.rule.below:
		return atLeast * c.tests
	}
	return 1 - c.last*(1-atLeast)
}
