package bias

import (
	"fmt"
	"math"
	"math/big"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// AgreementOptions sets how [CompareGauges] works. Both fields are required.
type AgreementOptions struct {
	Level    float64 // confidence of every interval
	Coverage float64 // part of the differences that the limits of agreement hold, usually 0.95
}

// AgreementPair is one location or core measured by both.
type AgreementPair struct {
	ID         string
	A, B       units.Density           // means
	Difference units.DensityDifference // A - B
}

// Agreement says how far two gauges, two operators with one, or two laboratories differ. The embedded
// estimate is the mean difference A - B; numbers are in Unit.
type Agreement struct {
	stats.Estimate
	Unit           units.DensityUnit
	Limits         stats.Interval // of agreement; Level is Coverage
	LowerCI        stats.Interval // of the true lower limit
	UpperCI        stats.Interval
	Tolerance      stats.Interval // holds the coverage with confidence Level, see [stats.LimitsOfAgreement]
	RepeatabilityA Term           // of one reading or measurement; none where none was repeated
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
// It assumes independent normal differences that do not depend on the density. Warnings
// name what one of the two alone has measured, [WarnUnpaired], readings on a wet mat or
// on mats in different states, [WarnWet], and differences without any spread,
// [stats.WarnConstant].
//
// Errors are [*stats.InputError] as of [EstimateOffset] for the data, or around
// [stats.ErrTooFew], [stats.ErrLevel] or [stats.ErrOverflow].
//
// Source: J. M. Bland and D. G. Altman, Lancet 1986 i 307-310; the intervals of the
// limits are the exact ones of [stats.LimitsOfAgreement]. Limits for single readings are
// those of [stats.ReplicatedLimits].
func CompareGauges(a, b []Location, o AgreementOptions) (Agreement, error) {
	const fn = "bias.CompareGauges"
	first, err := locations(fn, "a", a)
	if err != nil {
		return Agreement{}, err
	}
	second, err := locations(fn, "b", b)
	if err != nil {
		return Agreement{}, err
	}
	return o.compare(fn, first, second)
}

// CompareCores compares two laboratories, or two methods in one, that measured the same
// cores, joined by id, as [CompareGauges] compares two gauges: mean difference, limits
// of agreement, and, where cores were measured more than once, the repeatability of
// each and what lies beyond. Halves of one core differ by themselves, which then counts
// as difference of the laboratories. For three laboratories and more see
// [CompareLaboratories].
//
// Errors and source are those of [CompareGauges], and [ErrNotCore].
func CompareCores(a, b []Core, o AgreementOptions) (Agreement, error) {
	const fn = "bias.CompareCores"
	first, err := coresOf(fn, "a", a)
	if err != nil {
		return Agreement{}, err
	}
	second, err := coresOf(fn, "b", b)
	if err != nil {
		return Agreement{}, err
	}
	return o.compare(fn, first, second)
}

// compare works on two sides that are checked.
func (o AgreementOptions) compare(fn string, a, b []measured) (Agreement, error) {
	for _, f := range []struct {
		name string
		x    float64
	}{{"o.Level", o.Level}, {"o.Coverage", o.Coverage}} {
		if !(f.x > 0 && f.x < 1) {
			return Agreement{}, stats.Refuse(fn, f.name, fmt.Sprint(f.x), stats.ErrLevel)
		}
	}
	both, err := match(fn, "b", a, b)
	if err != nil {
		return Agreement{}, err
	}
	if err := both.enough(fn, 3); err != nil {
		return Agreement{}, err
	}
	r := Agreement{Unit: both.unit, Unpaired: both.unpaired, Options: o}
	if err := r.infer(fn, both); err != nil {
		return Agreement{}, err
	}
	r.components(both)
	r.Warnings = append(r.Warnings, both.wetWarnings()...)
	r.Warnings = append(r.Warnings, both.unpairedWarnings("measured by one of the two only, so it was left out")...)
	return r, nil
}

func (r *Agreement) infer(fn string, j joined) error {
	var diffs []float64
	for _, p := range j.pairs {
		d := float(new(big.Rat).Neg(p.difference()))
		diffs = append(diffs, d)
		r.Pairs = append(r.Pairs, AgreementPair{ID: p.first.id, A: j.unit.Of(float(p.first.mean)), B: j.unit.Of(float(p.second.mean)), Difference: j.unit.Difference(d)})
	}
	d, err := stats.Summarize(diffs)
	if err != nil {
		return stats.Renamed(err, fn, "pairs")
	}
	a, err := stats.LimitsOfAgreementOf(d, stats.AgreementOptions{Level: r.Options.Level, Coverage: r.Options.Coverage, Method: stats.LimitExact})
	if err != nil {
		return stats.Renamed(err, fn, "")
	}
	r.Estimate, r.Limits, r.LowerCI, r.UpperCI, r.Tolerance = a.Estimate, a.Limits, a.LowerCI, a.UpperCI, a.Tolerance
	r.Warnings, r.Estimate.Warnings = r.Estimate.Warnings, nil
	return nil
}

// components splits the scatter of the differences.
func (r *Agreement) components(j joined) {
	var shareA, shareB float64
	r.RepeatabilityA, shareA = j.within(func(p exactPair) measured { return p.first })
	r.RepeatabilityB, shareB = j.within(func(p exactPair) measured { return p.second })
	if r.RepeatabilityA.DF > 0 && r.RepeatabilityB.DF > 0 && r.StdDev > 0 {
		a, b := r.RepeatabilityA.StdDev/r.StdDev, r.RepeatabilityB.StdDev/r.StdDev // whose squares stay within a float64
		r.Beyond = r.StdDev * math.Sqrt(math.Max(0, 1-float64(a*a*shareA)-float64(b*b*shareB)))
	}
}

// within returns the pooled standard deviation of one side within places, none where no
// place was measured twice, and the mean of 1/kᵢ.
func (j joined) within(side func(exactPair) measured) (t Term, share float64) {
	ss := new(big.Rat)
	for _, p := range j.pairs {
		m := side(p)
		for _, d := range m.values {
			off := d.Exact(j.unit)
			off.Sub(off, m.mean)
			ss.Add(ss, off.Mul(off, off))
		}
		t.DF += float64(len(m.values) - 1)
		share += 1 / float64(len(m.values)) / float64(len(j.pairs))
	}
	if t.DF > 0 {
		t.StdDev = root(ss.Mul(ss, big.NewRat(1, int64(t.DF))))
	}
	return t, share
}
