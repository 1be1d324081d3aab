package density

import (
	"fmt"
	"strings"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// SetPolicy says what is suspicious in the sets of a shift or a test strip.
// Nothing has a default, because what chance produces depends on the resolution
// of the gauge and the spread of the mat.
type SetPolicy struct {
	Spread SpreadPolicy
	Copied int // two locations with the same series of at least this many readings are suspicious; at least 2
	Stuck  int // this many equal readings in a row are suspicious; at least 2
}

func (p SetPolicy) check(fn string) error {
	if err := p.Spread.check(fn); err != nil {
		return err
	}
	for _, f := range []struct {
		name string
		n    int
	}{{"p.Copied", p.Copied}, {"p.Stuck", p.Stuck}} {
		if f.n < 2 {
			return stats.Refuse(fn, f.name, fmt.Sprint(f.n), fmt.Errorf("%w, at least 2", units.ErrRange))
		}
	}
	return nil
}

// CheckSets looks at sets together, in the order they were read. It warns of
//   - [WarnSpread]: readings at one location further apart than the limit,
//   - [WarnCopied]: a location that repeats the whole series of an earlier one, as
//     a block that was copied does,
//   - [WarnStuck]: a run of equal readings, counted on from location to location,
//     as a gauge that hangs shows.
//
// Warnings come in the order of the locations. No reading is left out for them.
//
// Errors are [*stats.InputError] with the id of the set, around [units.ErrNotGiven]
// (a zero set), [ErrRepeatedID], [ErrMixedStages] (some sets corrected, some not),
// [ErrUnitMismatch], or [units.ErrNotGiven] and [units.ErrRange] for the policy.
func CheckSets(sets []ReadingSet, p SetPolicy) ([]stats.Warning, error) {
	const fn = "density.CheckSets"
	if err := p.check(fn); err != nil {
		return nil, err
	}
	if err := checkTogether(fn, sets); err != nil {
		return nil, err
	}
	var warnings []stats.Warning
	copied := copiedSeries(sets, p.Copied)
	stuck := stuckRuns(sets, p.Stuck)
	for i, s := range sets {
		warnings = append(warnings, spreadWarning(s, p.Spread)...)
		warnings = append(warnings, copied[i]...)
		warnings = append(warnings, stuck[i]...)
	}
	return warnings, nil
}

// checkTogether refuses sets that do not belong into one record.
func checkTogether(fn string, sets []ReadingSet) error {
	seen := map[string]bool{}
	for i, s := range sets {
		bad := &stats.InputError{Func: fn, Arg: "sets", Index: i, ID: s.ID()}
		switch {
		case s.IsZero():
			bad.Err = units.ErrNotGiven
		case seen[s.ID()]:
			bad.Err = ErrRepeatedID
		case s.Stage() != sets[0].Stage():
			bad.Value, bad.Err = s.Stage().String(), fmt.Errorf("%w (%q is %v)", ErrMixedStages, sets[0].ID(), sets[0].Stage())
		case s.unit != sets[0].unit:
			bad.Value, bad.Err = s.unit.String(), fmt.Errorf("%w (%q is in %v)", ErrUnitMismatch, sets[0].ID(), sets[0].unit)
		default:
			seen[s.ID()] = true
			continue
		}
		return bad
	}
	return nil
}

// copiedSeries returns the warnings by position of the set that repeats.
func copiedSeries(sets []ReadingSet, least int) map[int][]stats.Warning {
	warnings, first := map[int][]stats.Warning{}, map[string]string{}
	for i, s := range sets {
		if s.N() < least {
			continue
		}
		series := s.series()
		id, repeated := first[series]
		if !repeated {
			first[series] = s.ID()
			continue
		}
		warnings[i] = []stats.Warning{{Code: WarnCopied, Where: s.ID(),
			Text: fmt.Sprintf("the %d readings are those of %s, in the same order (%s); look at the original record", s.N(), id, series)}}
	}
	return warnings
}

// series writes the numbers of a set in their order.
func (s ReadingSet) series() string {
	var all []string
	for _, e := range s.record.Entries {
		all = append(all, units.ExactText(e.Value.Exact(s.unit)))
	}
	return strings.Join(all, ", ")
}

// stuckRuns returns the warnings by position of the set in which a run began.
func stuckRuns(sets []ReadingSet, least int) map[int][]stats.Warning {
	warnings := map[int][]stats.Warning{}
	var value units.Density
	start, end, run := 0, 0, 0
	finish := func() {
		if run >= least {
			warnings[start] = append(warnings[start], stats.Warning{Code: WarnStuck, Where: sets[start].ID(),
				Text: fmt.Sprintf("%d readings in a row are %v, up to location %s; check the gauge on its reference block", run, value, sets[end].ID())})
		}
	}
	for i, s := range sets {
		for _, e := range s.record.Entries {
			if e.Value != value {
				finish()
				value, start, run = e.Value, i, 0
			}
			run, end = run+1, i
		}
	}
	finish()
	return warnings
}
