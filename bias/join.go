package bias

import (
	"errors"
	"fmt"
	"math/big"
	"strconv"
	"strings"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// measured is what one side has of one place, before anything is rounded.
type measured struct {
	id       string
	values   []units.Density
	mean     *big.Rat
	moisture density.Moisture // of a location
}

// exactPair is a place that both sides have: the gauge and its core, or one and the
// other of two gauges or two laboratories.
type exactPair struct{ first, second measured }

// difference returns second - first, so core - gauge.
func (p exactPair) difference() *big.Rat { return new(big.Rat).Sub(p.second.mean, p.first.mean) }

// joined are the places that both sides have, in the order of the first side, and the
// ids that are on one side only.
type joined struct {
	unit     units.DensityUnit
	pairs    []exactPair
	unpaired []string
}

// join pairs locations and cores by id. It checks every record, also those that
// stay unpaired, so that nothing wrong hides in one.
func join(fn string, gauge []Location, cores []Core) (joined, error) {
	read, err := locations(fn, "gauge", gauge)
	if err != nil {
		return joined{}, err
	}
	cut, err := coresOf(fn, "cores", cores)
	if err != nil {
		return joined{}, err
	}
	return match(fn, "cores", read, cut)
}

// locations averages within each location.
func locations(fn, arg string, ls []Location) ([]measured, error) {
	all := make([]measured, 0, len(ls))
	for _, l := range ls {
		m := measured{id: l.ID, moisture: l.Moisture}
		for _, r := range l.Readings {
			m.values = append(m.values, r.Density())
		}
		all = append(all, m)
	}
	return average(fn, arg, "readings", all)
}

// coresOf averages the cores of each place. Where their density of water is known, it
// is one.
func coresOf(fn, arg string, cs []Core) ([]measured, error) {
	all := make([]measured, 0, len(cs))
	var water units.Density
	for i, c := range cs {
		m := measured{id: c.ID}
		for k, d := range c.Densities {
			if !d.IsZero() && d.Origin() != density.FromCore {
				return nil, place(fn, arg, i, c.ID, d.String(), fmt.Errorf("densities[%d]: %w", k, ErrNotCore))
			}
			if water.IsZero() {
				water = d.Water()
			}
			if w := d.Water(); w.Unit() == water.Unit() && !w.Equal(water) {
				return nil, place(fn, arg, i, c.ID, d.String(), fmt.Errorf("densities[%d]: %w: %v and %v", k, density.ErrWater, w, water))
			}
			m.values = append(m.values, d.Density())
		}
		all = append(all, m)
	}
	return average(fn, arg, "densities", all)
}

// average checks ids and values, which are of one unit, and sets the means.
func average(fn, arg, what string, all []measured) ([]measured, error) {
	seen := make(map[string]bool, len(all))
	for i := range all {
		m := &all[i]
		if err := checkID(fn, arg, i, m.id, seen[m.id]); err != nil {
			return nil, err
		}
		seen[m.id] = true
		if err := m.average(what, all[0]); err != nil {
			return nil, place(fn, arg, i, m.id, "", err)
		}
	}
	return all, nil
}

func (m *measured) average(what string, first measured) error {
	if len(m.values) == 0 {
		return fmt.Errorf("%s: %w (have 0, need 1)", what, stats.ErrTooFew)
	}
	sum, unit := new(big.Rat), first.values[0].Unit()
	for i, d := range m.values {
		var reason error
		switch {
		case d.IsZero():
			reason = units.ErrNotGiven
		case d.Unit() != unit:
			reason = density.ErrUnitMismatch
		case d.In(unit) <= 0:
			reason = density.ErrNotPositive
		}
		if reason != nil {
			return fmt.Errorf("%s[%d] = %v: %w", what, i, d, reason)
		}
		sum.Add(sum, d.Exact(unit))
	}
	m.mean = sum.Quo(sum, new(big.Rat).SetInt64(int64(len(m.values))))
	return nil
}

// match joins two sides that are checked; arg names the second.
func match(fn, arg string, first, second []measured) (joined, error) {
	var j joined
	left := make(map[string]measured, len(second))
	for i, m := range second {
		left[m.id] = m
		if len(first) > 0 && m.values[0].Unit() != first[0].values[0].Unit() {
			return joined{}, place(fn, arg, i, m.id, m.values[0].String(), density.ErrUnitMismatch)
		}
	}
	for _, m := range first {
		j.unit = m.values[0].Unit()
		other, ok := left[m.id]
		if !ok {
			j.unpaired = append(j.unpaired, m.id)
			continue
		}
		delete(left, m.id)
		j.pairs = append(j.pairs, exactPair{m, other})
	}
	for _, m := range second {
		if _, unpaired := left[m.id]; unpaired {
			j.unpaired = append(j.unpaired, m.id)
		}
	}
	return j, nil
}

// place is an error about one record.
func place(fn, arg string, i int, id, value string, err error) error {
	return &stats.InputError{Func: fn, Arg: arg, Index: i, ID: id, Value: value, Err: err}
}

// inRecord is an error about a part of a record as one about the record.
func inRecord(fn, arg string, i int, id string, err error) error {
	var e *stats.InputError
	if errors.As(err, &e) {
		err = fmt.Errorf("%s: %w", e.Place(), e.Err)
	}
	return place(fn, arg, i, id, "", err)
}

func checkID(fn, arg string, i int, id string, repeated bool) error {
	switch {
	case id == "":
		return place(fn, arg, i, "", "", ErrNoID)
	case repeated:
		return place(fn, arg, i, id, "", ErrRepeatedID)
	}
	return nil
}

// enough refuses fewer pairs than are needed. Who measured one place over and over is
// told what counts, and whose ids do not match, which.
func (j joined) enough(fn string, need int) error {
	if len(j.pairs) >= need {
		return nil
	}
	var measurements int
	for _, p := range j.pairs {
		measurements += len(p.first.values)
	}
	hint := ""
	if measurements >= need {
		hint = fmt.Sprintf("; %d measurements at one place are one comparison", measurements)
		if len(j.pairs) > 1 {
			hint = fmt.Sprintf("; %d measurements at %d places are %[2]d comparisons", measurements, len(j.pairs))
		}
	}
	if len(j.unpaired) > 0 {
		hint += "; on one side only: " + j.listUnpaired()
	}
	return stats.Refuse(fn, "pairs", "", fmt.Errorf("%w (have %d, need %d%s)", stats.ErrTooFew, len(j.pairs), need, hint))
}

// listUnpaired writes the ids that are on one side only, the first ten of them.
func (j joined) listUnpaired() string {
	const most = 10
	var ids []string
	for _, id := range j.unpaired[:min(len(j.unpaired), most)] {
		ids = append(ids, strconv.Quote(id))
	}
	if more := len(j.unpaired) - most; more > 0 {
		ids = append(ids, fmt.Sprintf("and %d more", more))
	}
	return strings.Join(ids, ", ")
}

// meanDifference returns the exact mean of second - first.
func (j joined) meanDifference() *big.Rat {
	sum := new(big.Rat)
	for _, p := range j.pairs {
		sum.Add(sum, p.difference())
	}
	return sum.Quo(sum, new(big.Rat).SetInt64(int64(len(j.pairs))))
}

func (j joined) differences() []float64 {
	diffs := make([]float64, len(j.pairs))
	for i, p := range j.pairs {
		diffs[i] = float(p.difference())
	}
	return diffs
}
