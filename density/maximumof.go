package density

import (
	"fmt"
	"time"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Placement says where and when a result belongs, so that its maximum density can
// be found.
type Placement struct {
	Sublot string    // the id of the result
	Day    Date      // of production; needed by OfDay
	At     time.Time // when the mix was placed; needed by MovingAverage and Latest
}

// Maximum is the maximum theoretical density that applies to one result.
type Maximum struct {
	Reference Reference // with its Gmm and the density of water
	Version   int       // of the history it was taken from
	Rule      MaximumRule
	From      []string // ids of the determinations, by the time of their samples
	Working   []units.Step
	Warnings  []stats.Warning // doubts about these determinations and their number
}

// Of returns the maximum theoretical density of a result by the rule of h:
//
//	mean of the Gmm that apply, rounded, · water
//
// with the mean exact and rounded once. A determination at the very time of the
// placement counts as by that time. A moving average of fewer than k is taken of
// those there are, with [WarnFewGmm].
//
// Errors are [*stats.InputError] with the sublot as id, around [units.ErrNotGiven]
// for a sublot, day or time that is needed, [ErrNoGmm] where nothing applies, or
// [ErrNotPositive] where the rule rounds Gmm to nothing.
func (h MaximumHistory) Of(p Placement) (Maximum, error) {
	const fn = "density.MaximumHistory.Of"
	if err := h.rule.validate(fn); err != nil {
		return Maximum{}, err
	}
	if field := p.missing(h.rule.Basis); field != "" {
		return Maximum{}, &stats.InputError{Func: fn, Arg: "p." + field, Index: -1, ID: p.Sublot, Err: units.ErrNotGiven}
	}
	used := h.InUse()
	m := Maximum{Version: h.Version(), Rule: h.rule}
	var gravities []units.SpecificGravity
	for _, d := range h.rule.choose(used, p) {
		gravities, m.From = append(gravities, d.Gmm), append(m.From, d.ID)
		m.Warnings = append(m.Warnings, h.screen.flags(d, used)...)
	}
	if len(gravities) == 0 {
		return Maximum{}, &stats.InputError{Func: fn, Arg: "p", Index: -1, ID: p.Sublot, Err: fmt.Errorf("%w (%v)", ErrNoGmm, h.rule.Basis)}
	}
	if len(gravities) < h.rule.Count {
		m.Warnings = append(m.Warnings, stats.Warning{Code: WarnFewGmm, Where: p.Sublot,
			Text: fmt.Sprintf("the moving average of %d has %d determinations so far", h.rule.Count, len(gravities))})
	}
	return m.finish(fn, p, gravities)
}

// finish fills in the reference and the working.
func (m Maximum) finish(fn string, p Placement, gravities []units.SpecificGravity) (Maximum, error) {
	gmm, step, err := MeanGravity(gravities, m.Rule.Rounding)
	if err == nil {
		m.Reference, err = MaximumTheoretical(gmm, m.Rule.Water)
	}
	if err != nil {
		return Maximum{}, &stats.InputError{Func: fn, Arg: "p", Index: -1, ID: p.Sublot, Err: err}
	}
	m.Working = []units.Step{step, {What: m.Reference.Kind().String(), Formula: m.Reference.formula(), Numbers: m.Reference.numbers(),
		Value: units.ExactText(m.Reference.exact()) + " " + m.Rule.Water.Density().Unit().String()}}
	return m, nil
}

// missing names the field of p that the basis needs and p lacks, "" for none.
func (p Placement) missing(b MaximumBasis) string {
	switch {
	case p.Sublot == "":
		return "Sublot"
	case b == OfDay && p.Day.IsZero():
		return "Day"
	case (b == MovingAverage || b == Latest) && p.At.IsZero():
		return "At"
	}
	return ""
}

// choose returns the determinations that apply to p, from those in use by time.
func (r MaximumRule) choose(used []Determination, p Placement) []Determination {
	var chosen []Determination
	for _, d := range used {
		if r.Basis == OfSublot && d.Sublot == p.Sublot || r.Basis == OfDay && d.Day == p.Day ||
			(r.Basis == MovingAverage || r.Basis == Latest) && !d.At.After(p.At) {
			chosen = append(chosen, d)
		}
	}
	switch r.Basis {
	case MovingAverage:
		return chosen[max(0, len(chosen)-r.Count):]
	case Latest:
		return chosen[max(0, len(chosen)-1):]
	}
	return chosen
}
