package bias

import (
	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Location is what the gauge showed at one place of a test strip.
type Location struct {
	ID       string
	Readings []density.Reading // one or more, uncorrected
	Moisture density.Moisture  // of the mat; not noted where nobody looked
}

// LocationOf takes over a set of readings with its moisture. A set that was
// recorded as corrected says nothing about the bias of the gauge and is refused.
//
// Errors are [*stats.InputError] around [units.ErrNotGiven] (the zero set) or
// [density.ErrStage].
func LocationOf(s density.ReadingSet) (Location, error) {
	const fn = "bias.LocationOf"
	switch {
	case s.IsZero():
		return Location{}, stats.Refuse(fn, "s", "", units.ErrNotGiven)
	case s.Stage() != density.AsShown:
		return Location{}, refuseID(fn, "s", s.ID(), s.Stage().String(), density.ErrStage)
	}
	return Location{ID: s.ID(), Readings: s.Readings(), Moisture: s.Record().Moisture}, nil
}

// Core is what was cut at the location of the same id: the density of its core, or of
// several cores cut side by side, or of several determinations on one core. They are
// averaged and count as one. Only cores side by side show what the mat differs by
// within the reach of the gauge; determinations on one core show the laboratory alone.
type Core struct {
	ID        string
	Densities []density.InPlace // one or more, each of [density.CoreOf] or [density.Core]
}

// series writes the readings in their order, to be compared.
func (m measured) series() string {
	var b []byte
	for _, d := range m.values {
		b = append(append(b, d.String()...), ';')
	}
	return string(b)
}
