package bias

import (
	"math/big"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// joined are the locations that have a core, in the order of the locations, and
// the ids that are on one side only.
type joined struct {
	unit     units.DensityUnit
	pairs    []exactPair
	unpaired []string
}

// exactPair is a pair before anything is rounded.
type exactPair struct {
	Location
	gauge *big.Rat // mean of the readings
	core  units.Density
}

func (p exactPair) difference() *big.Rat {
	return new(big.Rat).Sub(p.core.Exact(p.core.Unit()), p.gauge)
}

// join pairs locations and cores by id. It checks every record, also those that
// stay unpaired, so that nothing wrong hides in one.
func join(fn string, gauge []Location, cores []Core) (joined, error) {
	byID, err := indexCores(fn, cores)
	if err != nil {
		return joined{}, err
	}
	var j joined
	seen := make(map[string]bool, len(gauge))
	for i, l := range gauge {
		if err := checkID(fn, "gauge", i, l.ID, seen[l.ID]); err != nil {
			return joined{}, err
		}
		seen[l.ID] = true
		if err := j.add(fn, i, l, byID); err != nil {
			return joined{}, err
		}
	}
	for i, c := range cores {
		if j.unit != 0 && c.Density.Density().Unit() != j.unit {
			return joined{}, &stats.InputError{Func: fn, Arg: "cores", Index: i, ID: c.ID, Value: c.Density.Density().String(), Err: density.ErrUnitMismatch}
		}
		if !seen[c.ID] {
			j.unpaired = append(j.unpaired, c.ID)
		}
	}
	return j, nil
}

// add averages one location and joins it to its core, if it has one.
func (j *joined) add(fn string, i int, l Location, cores map[string]units.Density) error {
	mean, unit, err := density.MeanOf(l.Readings)
	if err != nil {
		return &stats.InputError{Func: fn, Arg: "gauge", Index: i, ID: l.ID, Err: err}
	}
	if j.unit == 0 {
		j.unit = unit
	}
	if unit != j.unit {
		return &stats.InputError{Func: fn, Arg: "gauge", Index: i, ID: l.ID, Value: l.Readings[0].Density().String(), Err: density.ErrUnitMismatch}
	}
	core, ok := cores[l.ID]
	if !ok {
		j.unpaired = append(j.unpaired, l.ID)
		return nil
	}
	j.pairs = append(j.pairs, exactPair{Location: l, gauge: mean, core: core})
	return nil
}

func indexCores(fn string, cores []Core) (map[string]units.Density, error) {
	byID := make(map[string]units.Density, len(cores))
	for i, c := range cores {
		_, repeated := byID[c.ID]
		if err := checkID(fn, "cores", i, c.ID, repeated); err != nil {
			return nil, err
		}
		d := c.Density.Density()
		bad := &stats.InputError{Func: fn, Arg: "cores", Index: i, ID: c.ID, Value: d.String()}
		switch {
		case d.IsZero():
			bad.Err = units.ErrNotGiven
			return nil, bad
		case c.Density.Origin() != density.FromCore:
			bad.Err = ErrNotCore
			return nil, bad
		case d.In(d.Unit()) <= 0:
			bad.Err = density.ErrNotPositive
			return nil, bad
		}
		byID[c.ID] = d
	}
	return byID, nil
}

func checkID(fn, arg string, i int, id string, repeated bool) error {
	switch {
	case id == "":
		return &stats.InputError{Func: fn, Arg: arg, Index: i, Err: ErrNoID}
	case repeated:
		return &stats.InputError{Func: fn, Arg: arg, Index: i, ID: id, Err: ErrRepeatedID}
	}
	return nil
}

// meanDifference returns the exact mean of core - gauge.
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
