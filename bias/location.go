package bias

import (
	"github.com/densilot/densilot/density"
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
		return Location{}, refuse(fn, "s", "", units.ErrNotGiven)
	case s.Stage() != density.AsShown:
		return Location{}, refuseID(fn, "s", s.ID(), s.Stage().String(), density.ErrStage)
	}
	return Location{ID: s.ID(), Readings: s.Readings(), Moisture: s.Record().Moisture}, nil
}

// Core is the density of the core cut at the location of the same id.
type Core struct {
	ID      string
	Density density.InPlace
}

// series writes the readings in their order, to be compared.
func (l Location) series() string {
	var b []byte
	for _, r := range l.Readings {
		b = append(append(b, r.Density().String()...), ';')
	}
	return string(b)
}
