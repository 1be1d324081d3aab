package bias

import (
	"fmt"
	"strings"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Group is a part of the pairs that may have a bias of its own: those read wet, those
// of one mix, one lift, one gauge or one operator.
type Group struct {
	Name  string
	Gauge []Location
	Cores []Core
}

// GroupOptions sets how [CompareGroups] works. Both fields are required.
type GroupOptions struct {
	Level float64 // confidence of the interval of each offset
	Alpha float64 // significance of the test that all have one offset
}

// GroupOffset is the offset of one group.
type GroupOffset struct {
	stats.Estimate
	Name     string
	Unpaired []string
}

// GroupComparison says whether one offset can serve several groups. Numbers are in
// Unit.
type GroupComparison struct {
	Unit        units.DensityUnit
	Groups      []GroupOffset     // in the order given
	Table       stats.OneWayTable // of the differences core - gauge in groups
	Differ      bool              // the test rejects one offset for all
	Explanation string
	Options     GroupOptions
}

// CompareGroups tests whether groups of pairs have one offset, by the F test of the
// one-way analysis of variance of their differences core - gauge, joined and averaged
// as in [EstimateOffset]. Where it rejects, each group needs an offset of its own.
// Where it does not, that is no proof of one offset: look at the intervals.
//
// Warnings of a group name its ids without a partner, [WarnUnpaired], and say where all
// its differences are equal. Where that is so in every group nothing can be tested: Differ
// says only whether the offsets are the same, and Explanation tells.
//
// There are at least two groups of two pairs or more, in one unit; an id may come back
// in another group. It assumes independent normal differences that scatter alike in
// every group.
//
// Errors are those of [EstimateOffset] for the data, naming the group, or
// [*stats.InputError] around [stats.ErrTooFew], [stats.ErrLevel], [ErrNoID] (a group
// without a name), [ErrRepeatedID] or [density.ErrUnitMismatch].
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 7.4.3.
func CompareGroups(groups []Group, o GroupOptions) (GroupComparison, error) {
	const fn = "bias.CompareGroups"
	if err := o.check(fn, len(groups)); err != nil {
		return GroupComparison{}, err
	}
	r := GroupComparison{Options: o}
	var all [][]float64
	seen := make(map[string]bool, len(groups))
	for i, g := range groups {
		if err := checkID(fn, "groups", i, g.Name, seen[g.Name]); err != nil {
			return GroupComparison{}, err
		}
		seen[g.Name] = true
		differences, err := r.add(fn, g)
		if err != nil {
			return GroupComparison{}, inRecord(fn, "groups", i, g.Name, err)
		}
		all = append(all, differences)
	}
	var err error
	if r.Table, err = stats.OneWay(all); err != nil {
		return GroupComparison{}, stats.Renamed(err, fn, "")
	}
	r.judge()
	return r, nil
}

func (o GroupOptions) check(fn string, groups int) error {
	switch {
	case !(o.Level > 0 && o.Level < 1):
		return stats.Refuse(fn, "o.Level", fmt.Sprint(o.Level), stats.ErrLevel)
	case !(o.Alpha > 0 && o.Alpha < 1):
		return stats.Refuse(fn, "o.Alpha", fmt.Sprint(o.Alpha), stats.ErrLevel)
	case groups < 2:
		return stats.Refuse(fn, "groups", "", fmt.Errorf("%w (have %d, need 2)", stats.ErrTooFew, groups))
	}
	return nil
}

// add estimates the offset of one group and returns its differences.
func (r *GroupComparison) add(fn string, g Group) ([]float64, error) {
	j, err := join(fn, g.Gauge, g.Cores)
	if err != nil {
		return nil, err
	}
	if len(j.pairs) < 2 {
		return nil, fmt.Errorf("%w (have %d pairs, need 2)", stats.ErrTooFew, len(j.pairs))
	}
	if r.Unit == 0 {
		r.Unit = j.unit
	}
	if j.unit != r.Unit {
		return nil, fmt.Errorf("%w (the first group is in %v)", density.ErrUnitMismatch, r.Unit)
	}
	differences := j.differences()
	e, err := stats.MeanInterval(differences, r.Options.Level)
	if err != nil {
		return nil, err
	}
	e.Warnings = append(e.Warnings, j.unpairedWarnings(leftOut)...)
	r.Groups = append(r.Groups, GroupOffset{Estimate: e, Name: g.Name, Unpaired: j.unpaired})
	return differences, nil
}

func (r *GroupComparison) judge() {
	var offsets []string
	for _, g := range r.Groups {
		offsets = append(offsets, fmt.Sprintf("%s %+.2f (%+.2f to %+.2f)", g.Name, g.Mean, g.CI.Lo, g.CI.Hi))
	}
	r.Differ = r.Table.P <= r.Options.Alpha
	text := fmt.Sprintf("offsets in %v: %s", r.Unit, strings.Join(offsets, ", "))
	tested := fmt.Sprintf("%s; one offset for all has p = %.2g", text, r.Table.P)
	switch {
	case r.Table.Within.SS == 0:
		r.Explanation = text + "; no group has any spread, so nothing can be tested; check that the differences are separate measurements"
	case r.Differ:
		r.Explanation = tested + ": use one for each"
	default:
		r.Explanation = tested + ": not rejected, which is not the same as shown"
	}
}
