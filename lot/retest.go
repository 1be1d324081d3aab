package lot

import (
	"fmt"

	"github.com/densilot/densilot/stats"
)

// LeftOut is a result that does not count in the estimate, and why.
type LeftOut struct {
	ID, Why string
}

// settle returns the results that count, in their order, by the rules for removal
// and retests. A retest that replaces stands where the replaced result stood.
func (t *Terms) settle(fn string, l Lot) (used []Result, out []LeftOut, err error) {
	first, retests, err := splitRetests(fn, l)
	if err != nil {
		return nil, nil, err
	}
	if err := t.checkRemoved(fn, first, retests); err != nil {
		return nil, nil, err
	}
	for _, r := range first {
		retest := retests[r.ID]
		switch {
		case r.Removed:
			out = append(out, LeftOut{r.ID, removedText(r.Cause)})
		case len(retest) > 0 && t.Retest == ReplaceResult:
			out = append(out, LeftOut{r.ID, "replaced by " + retest[len(retest)-1].ID})
		default:
			used = append(used, r)
		}
		if t.Retest == ReplaceResult && len(retest) > 1 {
			return nil, nil, refuse(fn, "l.Results", r.ID, fmt.Errorf("%w: more than one retest would replace it", ErrRetest))
		}
		used = append(used, retest...)
	}
	return used, out, nil
}

func removedText(cause string) string {
	if cause == "" {
		return "removed as an outlier"
	}
	return "removed as an outlier: " + cause
}

// splitRetests returns the first results, and the retests by what they repeat.
func splitRetests(fn string, l Lot) (first []Result, retests map[string][]Result, err error) {
	known := make(map[string]bool)
	for _, r := range l.Results {
		if r.RetestOf == "" {
			first = append(first, r)
			known[r.ID] = true
		}
	}
	retests = make(map[string][]Result)
	for i, r := range l.Results {
		if r.RetestOf == "" {
			continue
		}
		if !known[r.RetestOf] {
			return nil, nil, refuseAt(fn, "l.Results", i, r.ID, fmt.Errorf("%w: %q is not a first result of the lot", ErrRetest, r.RetestOf))
		}
		retests[r.RetestOf] = append(retests[r.RetestOf], r)
	}
	return first, retests, nil
}

// checkRemoved refuses a removal that the outlier policy does not allow: each
// removed result must be the one that the screen flags when those flagged before
// it are gone.
func (t *Terms) checkRemoved(fn string, first []Result, retests map[string][]Result) error {
	removed := 0
	for i, r := range first {
		if !r.Removed {
			continue
		}
		removed++
		if err := t.mayRemove(r, removed, retests); err != nil {
			return &stats.InputError{Func: fn, Arg: "l.Results", Index: i, ID: r.ID, Value: short(r.Value), Err: err}
		}
	}
	for rest := first; removed > 0; removed-- {
		flagged, err := t.flagged(rest)
		if err != nil {
			return inName(fn, err)
		}
		if flagged < 0 || !rest[flagged].Removed {
			return refuse(fn, "l.Results", removedIDs(rest), fmt.Errorf("%w: the screen of the plan does not flag it", ErrRemoval))
		}
		rest = append(append([]Result(nil), rest[:flagged]...), rest[flagged+1:]...)
	}
	return nil
}

func (t *Terms) mayRemove(r Result, removed int, retests map[string][]Result) error {
	o := t.Outlier
	switch {
	case o == nil:
		return fmt.Errorf("%w: the plan has no outlier policy", ErrRemoval)
	case removed > o.MaxRemoved:
		return fmt.Errorf("%w: the plan allows %d", ErrRemoval, o.MaxRemoved)
	case o.CauseRequired && r.Cause == "":
		return fmt.Errorf("%w: the plan wants a cause", ErrRemoval)
	case o.RetestNeeded && len(retests[r.ID]) == 0:
		return fmt.Errorf("%w: the plan wants a retest", ErrRemoval)
	}
	return nil
}

// flagged returns the position of the result that the screen flags, -1 for none.
func (t *Terms) flagged(results []Result) (int, error) {
	if len(results) < t.Outlier.MinN {
		return -1, nil
	}
	r, err := stats.Grubbs(floatsOf(t.valuesOf(results)), t.Outlier.Side, t.Outlier.Alpha)
	if err != nil || !r.Outlier {
		return -1, err
	}
	return r.Index, nil
}

func removedIDs(results []Result) (ids string) {
	for _, r := range results {
		if r.Removed {
			ids += " " + r.ID
		}
	}
	return ids[min(1, len(ids)):]
}
