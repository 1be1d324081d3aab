package lot

import (
	"fmt"
	"slices"

	"github.com/densilot/densilot/stats"
)

// LeftOut is a result that does not count in the estimate, and why.
type LeftOut struct {
	ID, Why string
}

// settled is a lot after removals and retests.
type settled struct {
	used   []Result // those that count, in their order; a retest that replaces stands where the replaced result stood
	before []Result // the same as if nothing had been removed, nil where nothing was
	out    []LeftOut
	looks  []*screening // by which results were removed
}

// settle applies the rules for removal and retests.
func (t *Terms) settle(fn string, l Lot) (s settled, err error) {
	first, retests, err := splitRetests(fn, l)
	if err != nil {
		return s, err
	}
	if s.looks, err = t.checkRemoved(fn, first, retests); err != nil {
		return s, err
	}
	for _, r := range first {
		retest := retests[r.ID]
		if t.Retest == ReplaceResult && len(retest) > 1 {
			return s, stats.Refuse(fn, "l.Results", r.ID, fmt.Errorf("%w: more than one retest would replace it", ErrRetest))
		}
		count := retest
		switch {
		case r.Removed:
			s.out = append(s.out, LeftOut{r.ID, removedText(r.Cause)})
		case len(retest) > 0 && t.Retest == ReplaceResult:
			s.out = append(s.out, LeftOut{r.ID, "replaced by " + retest[0].ID})
		default:
			count = append([]Result{r}, retest...)
		}
		s.used = append(s.used, count...)
		if r.Removed {
			count = []Result{r}
		}
		s.before = append(s.before, count...)
	}
	if s.looks == nil {
		s.before = nil
	}
	return s, nil
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
// removed result must be one that the screen flags when those flagged before it are
// gone.
func (t *Terms) checkRemoved(fn string, first []Result, retests map[string][]Result) (looks []*screening, err error) {
	removed := 0
	for i, r := range first {
		if !r.Removed {
			continue
		}
		removed++
		if err := t.mayRemove(r, removed, retests); err != nil {
			return nil, &stats.InputError{Func: fn, Arg: "l.Results", Index: i, ID: r.ID, Value: short(r.Value), Err: err}
		}
	}
	for rest := first; removed > 0; {
		look, err := t.look(rest)
		if err != nil {
			return nil, stats.Renamed(err, fn, "")
		}
		left := rest
		if look != nil {
			left = look.remove()
		}
		if len(left) == len(rest) {
			return nil, stats.Refuse(fn, "l.Results", removedIDs(rest), fmt.Errorf("%w: the screen of the plan does not flag it", ErrRemoval))
		}
		removed -= len(rest) - len(left)
		rest, looks = left, append(looks, look)
	}
	return looks, nil
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

// look makes the screen of the plan, nil where it takes no such number of results.
func (t *Terms) look(results []Result) (*screening, error) {
	if !t.Outlier.takes(len(results)) {
		return nil, nil
	}
	return t.Outlier.screen(results, t.valuesOf(results))
}

// remove returns the results without those that are flagged and marked as removed.
func (s *screening) remove() (left []Result) {
	for i, r := range s.results {
		if !r.Removed || !slices.Contains(s.flagged, i) {
			left = append(left, r)
		}
	}
	return left
}

func removedIDs(results []Result) (ids string) {
	for _, r := range results {
		if r.Removed {
			ids += " " + r.ID
		}
	}
	return ids[min(1, len(ids)):]
}
