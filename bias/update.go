package bias

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
)

// OffsetUpdate is an offset with what later checks did to it.
type OffsetUpdate struct {
	Before      OffsetEstimate  // from the strip alone
	Recheck     RecheckResult   // of its correction
	Combined    *OffsetEstimate // from strip and checks together; nil unless the recheck holds
	Explanation string
}

// UpdateOffset estimates an offset from a test strip, rechecks it with later cores
// and, where it holds, estimates it anew from both. A pair of the strip and a later
// check count the same. Where it does not hold or nothing was decided there is no
// combined estimate, because an offset that has moved has no one value. The combined
// correction says in its source which checks are in it, is made on the day of the last,
// and is valid as long as the recheck renewed it for.
//
// It assumes that the bias scatters from day to day no more than from place to place;
// otherwise the combined interval is too short.
//
// Errors are those of [EstimateOffset] and [Recheck]; an id is used once in both
// together.
func UpdateOffset(gauge []Location, cores []Core, o Options, later []LaterCheck, ro RecheckOptions) (OffsetUpdate, error) {
	const fn = "bias.UpdateOffset"
	before, err := EstimateOffset(gauge, cores, o)
	if err != nil {
		return OffsetUpdate{}, stats.Renamed(err, fn, "")
	}
	if err := checkNewIDs(fn, gauge, cores, later); err != nil {
		return OffsetUpdate{}, err
	}
	recheck, err := Recheck(before.Correction, later, ro)
	if err != nil {
		return OffsetUpdate{}, ofRecheck(fn, err)
	}
	u := OffsetUpdate{Before: before, Recheck: recheck}
	o = recheck.extend(o)
	gauge, cores = slices.Clone(gauge), slices.Clone(cores)
	for _, l := range later {
		gauge, cores = append(gauge, l.Location), append(cores, l.Core)
	}
	combined, err := EstimateOffset(gauge, cores, o)
	if err != nil {
		return OffsetUpdate{}, stats.Renamed(err, fn, "")
	}
	if recheck.Verdict != Holds {
		u.Explanation = "no combined estimate: " + recheck.Explanation
		return u, nil
	}
	u.Combined = &combined
	u.Explanation = fmt.Sprintf("combined from %d pairs: %+v, before %+v", combined.N, combined.Offset, before.Offset)
	return u, nil
}

// checkNewIDs refuses a later check with an id of the strip.
func checkNewIDs(fn string, gauge []Location, cores []Core, later []LaterCheck) error {
	used := make(map[string]bool, len(gauge)+len(cores))
	for _, l := range gauge {
		used[l.ID] = true
	}
	for _, c := range cores {
		used[c.ID] = true
	}
	for i, l := range later {
		if used[l.Location.ID] || used[l.Core.ID] {
			return place(fn, "later", i, l.Location.ID, "", fmt.Errorf("%w: on the strip", ErrRepeatedID))
		}
	}
	return nil
}

// ofRecheck names the options of a recheck ro, as UpdateOffset does.
func ofRecheck(fn string, err error) error {
	var e *stats.InputError
	if errors.As(err, &e) && strings.HasPrefix(e.Arg, "o.") {
		return stats.Renamed(err, fn, "r"+e.Arg)
	}
	return stats.Renamed(err, fn, "")
}

// extend tells what is new about an offset that later checks were added to.
func (r RecheckResult) extend(o Options) Options {
	first, last := density.DateOf(r.Pairs[0].At), density.DateOf(r.Pairs[len(r.Pairs)-1].At)
	o.Source += fmt.Sprintf("; with %d checks of %v to %v", len(r.Pairs), first, last)
	o.Made = last
	if !r.Renewed.IsZero() {
		o.Scope = r.Renewed.Scope()
	}
	return o
}
