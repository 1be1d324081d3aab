package stats

import (
	"fmt"
	"math"
)

// limitFactor is what ASTM E177 multiplies a standard deviation by for the difference of
// two results that is exceeded in one case of twenty: 1.96·√2, rounded there.
const limitFactor = 2.8

// fewLaboratories is how many ASTM E691 asks for at least.
const fewLaboratories = 6

// InterlaboratoryOptions sets how [Interlaboratory] works. Both fields are required.
type InterlaboratoryOptions struct {
	Level float64 // confidence of the intervals
	Alpha float64 // significance of h and k for one laboratory, 0.005 in ASTM E691
}

// LaboratoryConsistency says how one laboratory stands among the others.
type LaboratoryConsistency struct {
	Mean, StdDev float64 // of its results
	H            float64 // its Mean less that of all, in standard deviations of the means
	K            float64 // its StdDev over the repeatability
	Far          bool    // |H| is above HCritical
	Unsteady     bool    // K is above KCritical
}

// InterlaboratoryStudy is the precision of a test method as laboratories showed it on one
// material. Precision is that of a single result, as a standard deviation.
type InterlaboratoryStudy struct {
	Laboratories         int
	Replicates           int
	Mean                 float64
	MeansStdDev          float64 // of the means of the laboratories
	Between              float64 // of the laboratories beyond repeatability; 0 if its square would be negative
	Repeatability        float64 // within a laboratory
	RepeatabilityCI      Interval
	Reproducibility      float64 // of one result in any laboratory, at least Repeatability
	ReproducibilityCI    Interval
	RepeatabilityLimit   float64 // that two results in one laboratory rarely differ by: 2.8 times Repeatability
	ReproducibilityLimit float64 // in two laboratories
	Scores               []LaboratoryConsistency
	HCritical            float64
	KCritical            float64
	Options              InterlaboratoryOptions
	Warnings             []Warning
}

// Interlaboratory gives the repeatability and reproducibility of a test method from p
// laboratories with n results each on one material, and shows which of them stands apart:
//
//	repeatability    s(r) = √(Σsᵢ²/p)
//	between          s(L) = √(s²(x̄) - s²(r)/n)
//	reproducibility  s(R) = √(s²(x̄) + s²(r)·(n-1)/n), at least s(r)
//	limits           r = 2.8·s(r),   R = 2.8·s(R)
//	consistency      hᵢ = (x̄ᵢ - x̄)/s(x̄),   kᵢ = sᵢ/s(r)
//
// A laboratory is marked where |h| or k is above its critical value, see
// [ConsistencyHCritical] and [ConsistencyKCritical]. Alpha is the part of good
// laboratories that each of the two marks, so that among ten one is marked by chance in
// one study of ten at the usual 0.005. A mark is a question to the laboratory; nothing is
// left out.
//
// The interval of repeatability is the exact one of chi-square; that of reproducibility
// is Graybill and Wang's for a sum of mean squares, about √(s²(x̄) + s²(r)·(n-1)/n), which
// may be below s(r). Coverage of a nominal 95 % by simulation, 3 results in each of p
// laboratories that differ as much as their results (equal) or not at all (none):
//
//	p                       3      5      10     30
//	repeatability           95 %   95 %   95 %   95 %
//	reproducibility, equal  96 %   96 %   95 %   95 %
//	reproducibility, none   95 %   95 %   95 %   95 %
//
// It assumes normal results and laboratories, and one repeatability for all. results
// holds those of each laboratory, p at least 3, n at least 2 and the same throughout;
// nothing is changed. Means that agree to the rounding of the results count as equal.
// Where all means or all standard deviations are 0 apart, h or k is 0; where nothing
// varies within any laboratory Warnings holds [WarnConstant], because repeatability is
// then hidden by rounding or by results that were copied. A square of s(L) below 0 is warned
// of with [WarnNegative], fewer than the six laboratories that ASTM E691 asks for with
// [WarnSmallN]. For unequal numbers of results
// or more levels, such as days, see [OneWayComponents], [NestedComponents] and
// [NestedREML].
//
// Errors are [*InputError] around [ErrTooFew], [ErrLength], [ErrNotFinite], [ErrLevel],
// [ErrOverflow] or [ErrUnderflow].
//
// Source: ASTM E691 and, for 2.8, ASTM E177 (both from memory). F. A. Graybill and C. M.
// Wang, Confidence intervals on nonnegative linear combinations of variances, Journal of
// the American Statistical Association 75 (1980) 869-873.
func Interlaboratory(results [][]float64, o InterlaboratoryOptions) (InterlaboratoryStudy, error) {
	const fn = "stats.Interlaboratory"
	if err := o.check(fn, results); err != nil {
		return InterlaboratoryStudy{}, err
	}
	s := InterlaboratoryStudy{Laboratories: len(results), Replicates: len(results[0]), Options: o}
	p, n := float64(s.Laboratories), float64(s.Replicates)
	s.HCritical, s.KCritical = consistencyH(p, o.Alpha), consistencyK(p, n, o.Alpha)
	if err := s.summarize(fn, results); err != nil {
		return InterlaboratoryStudy{}, err
	}
	s.score()
	return s, nil
}

func (o InterlaboratoryOptions) check(fn string, results [][]float64) error {
	if err := checkFraction(fn, "o.Level", o.Level); err != nil {
		return err
	}
	if err := checkFraction(fn, "o.Alpha", o.Alpha); err != nil {
		return err
	}
	if len(results) < 3 {
		return tooFew(fn, "results", len(results), 3)
	}
	for i, own := range results {
		if len(own) != len(results[0]) {
			return Refuse(fn, fmt.Sprintf("results[%d]", i), fmt.Sprintf("%d results, the first laboratory has %d", len(own), len(results[0])), ErrLength)
		}
	}
	if len(results[0]) < 2 {
		return tooFew(fn, "results[0]", len(results[0]), 2)
	}
	return nil
}

func (s *InterlaboratoryStudy) summarize(fn string, results [][]float64) error {
	for i, own := range results {
		d, err := summarize(fn, fmt.Sprintf("results[%d]", i), own)
		if err != nil {
			return err
		}
		s.Scores = append(s.Scores, LaboratoryConsistency{Mean: d.Mean, StdDev: d.StdDev})
	}
	pooled, err := newReplicates(fn, "results", results, 0)
	if err != nil {
		return err
	}
	all, err := describeTo(fn, "means", pooled.means, pooled.noise)
	if err != nil {
		return err
	}
	ms, err := all.variance(fn, "means")
	if err != nil {
		return err
	}
	s.Mean, s.MeansStdDev = all.Mean, all.StdDev
	s.precision(meanSquare{ms: ms, df: float64(s.Laboratories - 1), factor: 1},
		meanSquare{ms: pooled.variance, df: pooled.df, factor: 1 - 1/float64(s.Replicates)})
	if !areFinite(s.ReproducibilityCI.Hi, s.RepeatabilityCI.Hi, s.RepeatabilityLimit, s.ReproducibilityLimit) {
		return Refuse(fn, "results", "", ErrOverflow)
	}
	return nil
}

// precision takes the mean squares of means and of results, with their parts in that of
// one result.
func (s *InterlaboratoryStudy) precision(means, within meanSquare) {
	level := s.Options.Level
	s.Repeatability = math.Sqrt(within.ms)
	between := means.ms - within.ms/float64(s.Replicates)
	s.Between = math.Sqrt(max(0, between))
	s.Reproducibility = max(math.Sqrt(means.value()+within.value()), s.Repeatability)
	s.ReproducibilityCI = sumInterval(level, means, within).sqrt()
	within.factor = 1
	s.RepeatabilityCI = sumInterval(level, within).sqrt()
	s.RepeatabilityLimit, s.ReproducibilityLimit = limitFactor*s.Repeatability, limitFactor*s.Reproducibility
	s.doubt(between)
}

// doubt takes the variance between laboratories as it was estimated.
func (s *InterlaboratoryStudy) doubt(between float64) {
	if s.Repeatability == 0 {
		s.warn(WarnConstant, "no laboratory has results that differ; look whether they were rounded too far or copied")
	}
	if between < 0 {
		s.warn(WarnNegative, "the variance between laboratories was estimated as %.3g and is reported as 0, so that reproducibility is repeatability", between)
	}
	if s.Laboratories < fewLaboratories {
		s.warn(WarnSmallN, "%d laboratories say little of others: the interval of reproducibility is wide; a study wants %d at least", s.Laboratories, fewLaboratories)
	}
}

func (s *InterlaboratoryStudy) warn(code WarningCode, format string, values ...any) {
	s.Warnings = append(s.Warnings, Warning{Code: code, Text: fmt.Sprintf(format, values...)})
}

func (i Interval) sqrt() Interval {
	return Interval{Lo: math.Sqrt(i.Lo), Hi: math.Sqrt(i.Hi), Level: i.Level}
}

func (s *InterlaboratoryStudy) score() {
	for i := range s.Scores {
		l := &s.Scores[i]
		if s.MeansStdDev > 0 {
			l.H = (l.Mean - s.Mean) / s.MeansStdDev
		}
		if s.Repeatability > 0 {
			l.K = l.StdDev / s.Repeatability
		}
		l.Far, l.Unsteady = math.Abs(l.H) > s.HCritical, l.K > s.KCritical
	}
}
