package bias

import (
	"fmt"
	"math"
	"math/big"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// AgreementOptions sets how [CompareGauges] works. Both fields are required.
type AgreementOptions struct {
	Level    float64 // confidence of every interval
	Coverage float64 // part of the differences that the limits of agreement hold, usually 0.95
}

// AgreementPair is one location read by both.
type AgreementPair struct {
	ID         string
	A, B       units.Density           // mean readings
	Difference units.DensityDifference // A - B
}

// Agreement says how far two gauges, or two operators with one, differ. The embedded
// estimate is the mean difference A - B; numbers are in Unit.
type Agreement struct {
	stats.Estimate
	Unit           units.DensityUnit
	Limits         stats.Interval // of agreement; Level is Coverage
	LowerCI        stats.Interval // of the true lower limit
	UpperCI        stats.Interval
	Tolerance      stats.Interval // holds the coverage with confidence Level, see [stats.LimitsOfAgreement]
	RepeatabilityA Term           // of one reading; none where no location was read twice
	RepeatabilityB Term
	Beyond         float64 // standard deviation of the differences beyond both repeatabilities; 0 where these are not known
	Pairs          []AgreementPair
	Unpaired       []string
	Options        AgreementOptions
	Warnings       []stats.Warning
}

// CompareGauges compares two gauges, or two operators with one gauge, that read the
// same locations uncorrected. With the differences d of their mean readings, joined by
// id,
//
//	mean difference      d̄ ± t(1-α/2; n-1)·s/√n,   α = 1 - Level
//	limits of agreement  d̄ ± z·s,   z(Coverage)
//	their intervals      d̄ + t'(α/2 and 1-α/2; n-1, ±z√n)·s/√n,   t' noncentral
//	beyond               √(s² - mean of s²(A)/kᵢ - mean of s²(B)/kᵢ), 0 if negative
//
// The limits say what one location read by both is to be expected to differ; with few
// locations their intervals are wide, and a mean difference near 0 is no agreement
// while they are. Beyond is what repeating does not explain: places that the two see
// differently. Correlation is not given, because two gauges that differ by 5 lb/ft3
// correlate perfectly. At least 3 locations in common.
//
// It assumes independent normal differences that do not depend on the density.
//
// Errors are [*stats.InputError] as of [EstimateOffset] for the data, or around
// [stats.ErrTooFew], [stats.ErrLevel] or [stats.ErrOverflow].
//
// Source: J. M. Bland and D. G. Altman, Lancet 1986 i 307-310; the intervals of the
// limits are the exact ones of [stats.LimitsOfAgreement]. Limits for single readings are
// those of [stats.ReplicatedLimits].
func CompareGauges(a, b []Location, o AgreementOptions) (Agreement, error) {
	const fn = "bias.CompareGauges"
	for _, f := range []struct {
		name string
		x    float64
	}{{"o.Level", o.Level}, {"o.Coverage", o.Coverage}} {
		if !(f.x > 0 && f.x < 1) {
			return Agreement{}, refuse(fn, f.name, fmt.Sprint(f.x), stats.ErrLevel)
		}
	}
	both, err := joinGauges(fn, a, b)
	if err != nil {
		return Agreement{}, err
	}
	r := Agreement{Unit: both.unit, Unpaired: both.unpaired, Options: o}
	if err := r.infer(both); err != nil {
		return Agreement{}, err
	}
	r.components(both)
	for _, id := range r.Unpaired {
		r.Warnings = append(r.Warnings, stats.Warning{Code: WarnUnpaired, Where: id, Text: "read by one of the two only, so it was left out"})
	}
	return r, nil
}

// twice is a location with the exact means of both.
type twice struct {
	a, b         Location
	meanA, meanB *big.Rat
}

func (t twice) difference() *big.Rat { return new(big.Rat).Sub(t.meanA, t.meanB) }

type joinedGauges struct {
	unit     units.DensityUnit
	pairs    []twice
	unpaired []string
}

func joinGauges(fn string, a, b []Location) (joinedGauges, error) {
	var j joinedGauges
	meansA, err := j.meansOf(fn, "a", a)
	if err != nil {
		return j, err
	}
	meansB, err := j.meansOf(fn, "b", b)
	if err != nil {
		return j, err
	}
	byID := make(map[string]int, len(b))
	for i, l := range b {
		byID[l.ID] = i
	}
	for i, l := range a {
		k, ok := byID[l.ID]
		if !ok {
			j.unpaired = append(j.unpaired, l.ID)
			continue
		}
		delete(byID, l.ID)
		j.pairs = append(j.pairs, twice{l, b[k], meansA[i], meansB[k]})
	}
	for _, l := range b {
		if _, left := byID[l.ID]; left {
			j.unpaired = append(j.unpaired, l.ID)
		}
	}
	if n := len(j.pairs); n < 3 {
		return j, refuse(fn, "pairs", "", fmt.Errorf("%w (have %d, need 3)", stats.ErrTooFew, n))
	}
	return j, nil
}

// meansOf checks locations and averages them.
func (j *joinedGauges) meansOf(fn, arg string, ls []Location) ([]*big.Rat, error) {
	var means []*big.Rat
	seen := make(map[string]bool, len(ls))
	for i, l := range ls {
		if err := checkID(fn, arg, i, l.ID, seen[l.ID]); err != nil {
			return nil, err
		}
		seen[l.ID] = true
		mean, unit, err := density.MeanOf(l.Readings)
		if err == nil && j.unit == 0 {
			j.unit = unit
		}
		if err == nil && unit != j.unit {
			err = density.ErrUnitMismatch
		}
		if err != nil {
			return nil, &stats.InputError{Func: fn, Arg: arg, Index: i, ID: l.ID, Err: err}
		}
		means = append(means, mean)
	}
	return means, nil
}

func (r *Agreement) infer(j joinedGauges) error {
	var diffs []float64
	for _, p := range j.pairs {
		d := float(p.difference())
		diffs = append(diffs, d)
		r.Pairs = append(r.Pairs, AgreementPair{ID: p.a.ID, A: j.unit.Of(float(p.meanA)), B: j.unit.Of(float(p.meanB)), Difference: j.unit.Difference(d)})
	}
	d, err := stats.Summarize(diffs)
	if err != nil {
		return err
	}
	a, err := stats.LimitsOfAgreementOf(d, stats.AgreementOptions{Level: r.Options.Level, Coverage: r.Options.Coverage, Method: stats.LimitExact})
	if err != nil {
		return err
	}
	r.Estimate, r.Limits, r.LowerCI, r.UpperCI, r.Tolerance = a.Estimate, a.Limits, a.LowerCI, a.UpperCI, a.Tolerance
	r.Warnings, r.Estimate.Warnings = r.Estimate.Warnings, nil
	return nil
}

// components splits the scatter of the differences.
func (r *Agreement) components(j joinedGauges) {
	ssA, ssB := new(big.Rat), new(big.Rat)
	var shareA, shareB float64
	n := float64(len(j.pairs))
	for _, p := range j.pairs {
		ssA.Add(ssA, squaresWithin(p.a.Readings, p.meanA))
		ssB.Add(ssB, squaresWithin(p.b.Readings, p.meanB))
		r.RepeatabilityA.DF += float64(len(p.a.Readings) - 1)
		r.RepeatabilityB.DF += float64(len(p.b.Readings) - 1)
		shareA += 1 / float64(len(p.a.Readings)) / n
		shareB += 1 / float64(len(p.b.Readings)) / n
	}
	if r.RepeatabilityA.DF > 0 {
		r.RepeatabilityA.StdDev = math.Sqrt(float(ssA) / r.RepeatabilityA.DF)
	}
	if r.RepeatabilityB.DF > 0 {
		r.RepeatabilityB.StdDev = math.Sqrt(float(ssB) / r.RepeatabilityB.DF)
	}
	if r.RepeatabilityA.DF > 0 && r.RepeatabilityB.DF > 0 {
		a, b := r.RepeatabilityA.StdDev, r.RepeatabilityB.StdDev
		r.Beyond = math.Sqrt(math.Max(0, r.StdDev*r.StdDev-a*a*shareA-b*b*shareB))
	}
}
