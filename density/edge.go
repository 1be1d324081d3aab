package density

import (
	"fmt"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// EdgePolicy is how far from the edge a location may be. Either end may be left out,
// not both. AASHTO T 355 keeps a gauge 12 in (300 mm) from a vertical edge (2016
// text, seen in an excerpt); joint density is commonly read 2 in to 6 in beside the
// joint (common practice, from memory).
type EdgePolicy struct {
	Least units.Length // nearest to the edge; not given means no limit
	Most  units.Length // farthest from it; not given means no limit
}

// CheckEdge warns with [WarnEdge] where a place is nearer to its edge than Least or
// farther than Most. A distance of exactly a limit is within; units may differ.
//
// Errors are [*stats.InputError] around [units.ErrNotGiven] (no limit at all, a
// place without an offset), [units.ErrRange] (Least more than Most) or as of
// [Place.Validate].
func CheckEdge(at Place, p EdgePolicy) ([]stats.Warning, error) {
	const fn = "density.CheckEdge"
	switch {
	case p.Least.IsZero() && p.Most.IsZero():
		return nil, stats.Refuse(fn, "p", "", units.ErrNotGiven)
	case !p.Most.IsZero() && p.Least.Compare(p.Most) > 0:
		return nil, stats.Refuse(fn, "p", p.Least.String()+" to "+p.Most.String(), units.ErrRange)
	case at.Offset.IsZero():
		return nil, stats.Refuse(fn, "at.Offset", "", units.ErrNotGiven)
	}
	if err := at.check(fn); err != nil {
		return nil, err
	}
	text := ""
	switch {
	case !p.Least.IsZero() && at.Offset.Compare(p.Least) < 0:
		text = fmt.Sprintf("%v from the %s is nearer than %v", at.Offset, at.Edge, p.Least)
	case !p.Most.IsZero() && at.Offset.Compare(p.Most) > 0:
		text = fmt.Sprintf("%v from the %s is farther than %v", at.Offset, at.Edge, p.Most)
	default:
		return nil, nil
	}
	return []stats.Warning{{Code: WarnEdge, Where: at.Station.String(), Text: text}}, nil
}
