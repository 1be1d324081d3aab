package density

import (
	"fmt"
	"math/big"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// SpreadPolicy says when the readings at one location are too far apart.
type SpreadPolicy struct {
	// Limit is the most that two readings may differ; required and at least 0.
	// The WAQTC procedure for AASHTO T 355 has 2.5 lb/ft3 or 40 kg/m3 (from memory).
	Limit units.DensityDifference
	// Enough is the number of readings whose mean stands however far they are
	// apart, such as four, read at every quarter turn; 0 means that none do.
	Enough int
}

// Spread is how far the readings at one location are apart.
type Spread struct {
	Range       units.DensityDifference // highest - lowest
	Low, High   int                     // positions of those two entries, from 0, the first of equals
	Exceeded    bool                    // the range is more than the limit
	MoreWanted  bool                    // exceeded, and fewer readings than are enough
	Policy      SpreadPolicy
	Explanation string // what was found and what to read next; "" where nothing is
}

// CheckSpread applies the rule
//
//	highest - lowest > limit   asks for more readings
//
// to the values of one location, decided on the recorded decimals: a difference of
// exactly the limit is none. It asks to read the same patterns again and, where
// that does not bring them together, to turn the gauge further until Enough
// readings are averaged.
//
// Errors are [*stats.InputError] around [units.ErrNotGiven] (no limit, the zero
// set) or [units.ErrRange].
func (s ReadingSet) CheckSpread(p SpreadPolicy) (Spread, error) {
	const fn = "density.ReadingSet.CheckSpread"
	if err := p.check(fn); err != nil {
		return Spread{}, err
	}
	if s.IsZero() {
		return Spread{}, stats.Refuse(fn, "s", "", units.ErrNotGiven)
	}
	return s.spread(p), nil
}

func (p SpreadPolicy) check(fn string) error {
	switch {
	case p.Limit.IsZero():
		return stats.Refuse(fn, "Limit", "", units.ErrNotGiven)
	case p.Limit.In(p.Limit.Unit()) < 0:
		return stats.Refuse(fn, "Limit", p.Limit.String(), units.ErrRange)
	case p.Enough < 0:
		return stats.Refuse(fn, "Enough", fmt.Sprint(p.Enough), units.ErrRange)
	}
	return nil
}

func (s ReadingSet) spread(p SpreadPolicy) Spread {
	r := Spread{Policy: p}
	values := exactOf(s.values())
	for i, x := range values {
		if x.Cmp(values[r.Low]) < 0 {
			r.Low = i
		}
		if x.Cmp(values[r.High]) > 0 {
			r.High = i
		}
	}
	width := new(big.Rat).Sub(values[r.High], values[r.Low])
	r.Range = s.unit.Difference(float(width))
	r.Exceeded = width.Cmp(p.Limit.Exact(s.unit)) > 0
	r.MoreWanted = r.Exceeded && (p.Enough == 0 || s.N() < p.Enough)
	if r.Exceeded {
		r.Explanation = r.explain(s)
	}
	return r
}

func (r Spread) explain(s ReadingSet) string {
	text := fmt.Sprintf("%s and %s are %v apart, more than %v", s.entry(r.High), s.entry(r.Low), r.Range, r.Policy.Limit)
	switch {
	case !r.MoreWanted:
		return fmt.Sprintf("%s; the mean of %d readings stands", text, s.N())
	case r.Policy.Enough > 0:
		return fmt.Sprintf("%s; read both again and, if they stay apart, turn the gauge further until %d are averaged", text, r.Policy.Enough)
	}
	return text + "; read both again"
}

// entry names one entry by its pattern or its place in the series.
func (s ReadingSet) entry(i int) string {
	e := s.record.Entries[i]
	if e.Pattern == "" {
		return fmt.Sprintf("reading %d (%v)", i+1, e.Value)
	}
	return fmt.Sprintf("%s (%v)", e.Pattern, e.Value)
}

func spreadWarning(s ReadingSet, p SpreadPolicy) []stats.Warning {
	if r := s.spread(p); r.Exceeded {
		return []stats.Warning{{Code: WarnSpread, Where: s.ID(), Text: r.Explanation}}
	}
	return nil
}
