package lot

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/densilot/densilot/stats"
)

// EvaluateLots evaluates the lots of a job, which come in the order they were
// placed. A lot of fewer results than the plan wants is joined with the one before
// or behind it as the plan says: the raw results are put together, "lot/" before
// each id, and judged anew, never their percentages or pay. The evaluation of such a
// lot has the ids of all with a plus between, names them in Joined and those of them
// that could have stood alone in Reopened, with [WarnReopened].
//
// Results count as in the estimate: neither those that are removed nor those that a
// retest replaces. With JoinNext several short lots in a row add up until they are
// enough. A lot without any result is refused, not joined.
//
// Errors are those of [Plan.Evaluate] with the id of the lot in the argument, or wrap
// [ErrNoNeighbour] where there is no lot to join, [ErrNoID] or [ErrRepeatedID] (of a
// lot).
func (p Plan) EvaluateLots(lots []Lot) ([]Evaluation, error) {
	const fn = "lot.Plan.EvaluateLots"
	if p.IsZero() {
		return nil, stats.Refuse(fn, "p", "", ErrEmptyPlan)
	}
	groups, err := p.join(fn, lots)
	if err != nil {
		return nil, err
	}
	evaluations, seen := make([]Evaluation, 0, len(groups)), make(map[string]bool, len(groups))
	for _, g := range groups {
		if seen[g.id()] { // lots A and B are joined as A+B, beside a lot of that id
			return nil, stats.Refuse(fn, "lots", g.id(), ErrRepeatedID)
		}
		seen[g.id()] = true
		e, err := p.evaluateGroup(fn, g)
		if err != nil {
			return nil, err
		}
		evaluations = append(evaluations, e)
	}
	return evaluations, nil
}

// group are lots that are judged as one.
type group []Lot

// join makes the groups.
func (p Plan) join(fn string, lots []Lot) ([]group, error) {
	if err := checkLotIDs(fn, lots); err != nil {
		return nil, err
	}
	s := p.terms.SmallLot
	var groups []group
	var waiting group
	for i, l := range lots {
		g := append(waiting, l)
		waiting = nil
		switch {
		case s == nil || s.Rule == OwnTable || g.count(p.terms.Retest) >= s.Fewest:
			groups = append(groups, g)
		case s.Rule == JoinNext:
			waiting = g
		case len(groups) == 0:
			return nil, refuseAt(fn, "lots", i, l.ID, fmt.Errorf("%w before it", ErrNoNeighbour))
		default:
			groups[len(groups)-1] = append(groups[len(groups)-1], g...)
		}
	}
	return p.joinLast(fn, groups, waiting)
}

// joinLast places short lots at the end that waited for one behind them.
func (p Plan) joinLast(fn string, groups []group, waiting group) ([]group, error) {
	switch {
	case waiting == nil:
		return groups, nil
	case p.terms.SmallLot.Last == OwnTable:
		return append(groups, waiting), nil
	case len(groups) == 0:
		return nil, stats.Refuse(fn, "lots", waiting.id(), fmt.Errorf("%w behind it nor before it", ErrNoNeighbour))
	}
	groups[len(groups)-1] = append(groups[len(groups)-1], waiting...)
	return groups, nil
}

func checkLotIDs(fn string, lots []Lot) error {
	seen := make(map[string]bool, len(lots))
	for i, l := range lots {
		if l.ID == "" {
			return refuseAt(fn, "lots", i, "", ErrNoID)
		}
		if seen[l.ID] {
			return refuseAt(fn, "lots", i, l.ID, ErrRepeatedID)
		}
		seen[l.ID] = true
	}
	return nil
}

// count returns how many results count.
func (g group) count(rule RetestRule) (n int) {
	for _, l := range g {
		removed := make(map[string]bool)
		for _, r := range l.Results {
			removed[r.ID] = r.Removed
		}
		for _, r := range l.Results {
			switch {
			case r.RetestOf == "" && !r.Removed, r.RetestOf != "" && (rule == PoolResults || removed[r.RetestOf]):
				n++
			}
		}
	}
	return n
}

func (g group) id() string { return strings.Join(g.ids(), "+") }

func (g group) ids() []string {
	ids := make([]string, len(g))
	for i, l := range g {
		ids[i] = l.ID
	}
	return ids
}

// lot puts the raw results of a group together.
func (g group) lot() Lot {
	if len(g) == 1 {
		return g[0]
	}
	all := Lot{ID: g.id(), Unit: g[0].Unit}
	for _, l := range g {
		for _, r := range l.Results {
			r.ID = l.ID + "/" + r.ID
			if r.RetestOf != "" {
				r.RetestOf = l.ID + "/" + r.RetestOf
			}
			all.Results = append(all.Results, r)
		}
	}
	return all
}

func (p Plan) evaluateGroup(fn string, g group) (Evaluation, error) {
	for _, l := range g {
		if err := p.terms.check(fn, l); err != nil { // of its own ids, which are others in the whole
			return Evaluation{}, inPart("lots", l.ID, err)
		}
		if len(g) > 1 && len(l.Results) == 0 { // it would be taken for judged, and leave no trace but its id
			return Evaluation{}, inPart("lots", l.ID, stats.Refuse(fn, "l.Results", "", fmt.Errorf("%w (have 0, need 1)", stats.ErrTooFew)))
		}
	}
	e, err := p.evaluate(fn, g.lot())
	if err != nil {
		return Evaluation{}, inPart("lots", g.id(), err)
	}
	if len(g) == 1 {
		return e, nil
	}
	e.Joined = g.ids()
	for _, l := range g {
		if (group{l}).count(p.terms.Retest) >= p.terms.SmallLot.Fewest {
			e.Reopened = append(e.Reopened, l.ID)
			e.warn(WarnReopened, l.ID, "judged anew together with %s; what was paid for it before is to be settled",
				strings.Join(slices.DeleteFunc(g.ids(), func(id string) bool { return id == l.ID }), ", "))
		}
	}
	return e, nil
}

// inPart names one of several in the argument of an error.
func inPart(of, name string, err error) error {
	var e *stats.InputError
	if !errors.As(err, &e) {
		return err
	}
	named := *e
	named.Arg = fmt.Sprintf("%s %.80q %s", of, name, e.Arg)
	return &named
}
