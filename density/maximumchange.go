package density

import (
	"errors"
	"fmt"

	"github.com/densilot/densilot/stats"
)

// MaximumChange is a result whose maximum density is not what it was. Before is
// the zero value where there was none, After where there is none any more.
type MaximumChange struct {
	Sublot        string
	Before, After Maximum
}

// Changes says which of the results at the placements have another maximum density
// by h than by an earlier version of it, such as after a Gmm that came late: their
// percentages are to be computed anew. The order is that of the placements. A
// result that has none by either version is left out.
//
// Errors are [*stats.InputError] as of [MaximumHistory.Of], except [ErrNoGmm], or
// around [ErrRepeatedID] for a sublot that is placed twice.
func (h MaximumHistory) Changes(earlier MaximumHistory, placements []Placement) ([]MaximumChange, error) {
	const fn = "density.MaximumHistory.Changes"
	var changes []MaximumChange
	seen := make(map[string]bool)
	for i, p := range placements {
		if seen[p.Sublot] {
			return nil, &stats.InputError{Func: fn, Arg: "placements", Index: i, ID: p.Sublot, Err: ErrRepeatedID}
		}
		seen[p.Sublot] = true
		arg := fmt.Sprintf("placements[%d]", i)
		before, err := earlier.ofAny(fn, arg, p)
		if err != nil {
			return nil, err
		}
		after, err := h.ofAny(fn, arg, p)
		if err != nil {
			return nil, err
		}
		if !before.Reference.Equal(after.Reference) {
			changes = append(changes, MaximumChange{Sublot: p.Sublot, Before: before, After: after})
		}
	}
	return changes, nil
}

// ofAny is of with the zero value where nothing applies.
func (h MaximumHistory) ofAny(fn, arg string, p Placement) (Maximum, error) {
	m, err := h.of(fn, arg, p)
	if errors.Is(err, ErrNoGmm) {
		return Maximum{}, nil
	}
	return m, err
}
