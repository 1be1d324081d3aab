package density

import (
	"errors"
	"fmt"
	"math/big"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// AuditSublot runs the chain from the locations of a sublot to its result in exact
// rational arithmetic,
//
//	at each location  mean of readings → + offset,  or the core cut there
//	of the sublot     mean of the locations → / reference → · 100
//
// rounding each result by the policy before it is used further. Every location
// counts once, however many readings it has. Where a core was cut it counts in
// place of the readings, which stay in the record (as in the WSDOT Standard
// Specifications, 5-04.3(10)). The result of cores and gauge values together comes
// with [WarnMixedMethod].
//
// The locations are of one characteristic, and ref is the reference for it: a joint
// between two mixes has another than the mat. c is needed only where a location
// has no density in place; a location with an instant is corrected as of its own day,
// the others as of the days of at. Everything is in one unit.
//
// Errors are [*stats.InputError] with the id of the location, around
// [units.ErrNotGiven] (no id), [ErrText], [ErrRepeatedID], [ErrCharacteristic],
// [ErrMixedStages] (readings beside a density that is corrected already) or
// [stats.ErrTooFew] (no locations), otherwise as of [AuditReadings], [Place.Validate] and [SublotPolicy.Validate].
func AuditSublot(s Sublot, c Correction, at Scope, ref Reference, p SublotPolicy) (SublotResult, error) {
	const fn = "density.AuditSublot"
	if err := p.validate(fn); err != nil {
		return SublotResult{}, err
	}
	if err := s.check(fn); err != nil {
		return SublotResult{}, err
	}
	r := SublotResult{ID: s.ID, Characteristic: s.Locations[0].Characteristic}
	w := sublotAudit{fn: fn, correction: c, at: at, policy: p}
	var densities []*big.Rat
	for i, l := range s.Locations {
		d, result, err := w.location(l)
		if err != nil {
			return SublotResult{}, located(fn, i, l.ID, err)
		}
		densities, r.Locations = append(densities, d), append(r.Locations, result)
		if result.Origin == FromReading {
			w.readings += result.Readings
		}
	}
	var err error
	if r.Audited, err = w.finish(densities, ref); err != nil {
		return SublotResult{}, err
	}
	for i, l := range s.Locations {
		if err := l.InPlace.sameWater(fn, "InPlace", ref); err != nil {
			return SublotResult{}, located(fn, i, l.ID, err)
		}
	}
	r.Unit = r.Characteristic.percentOf(r.Kind)
	r.Warnings = append(r.Warnings, r.mixedMethods()...)
	return r, nil
}

func (s Sublot) check(fn string) error {
	if err := checkID(fn, "s.ID", -1, s.ID); err != nil {
		return err
	}
	if len(s.Locations) == 0 {
		return stats.Refuse(fn, "s.Locations", "", fmt.Errorf("%w (have 0, need 1)", stats.ErrTooFew))
	}
	seen := map[string]bool{}
	for i, l := range s.Locations {
		if err := checkID(fn, "s.Locations", i, l.ID); err != nil {
			return err
		}
		if seen[l.ID] {
			return located(fn, i, l.ID, ErrRepeatedID)
		}
		seen[l.ID] = true
		if err := l.check(fn, s.Locations[0].Characteristic); err != nil {
			return located(fn, i, l.ID, err)
		}
	}
	return nil
}

func (l SublotLocation) check(fn string, c Characteristic) error {
	switch {
	case l.Characteristic != MatDensity && l.Characteristic != JointDensity:
		return fmt.Errorf("Characteristic: %w", units.ErrNotGiven)
	case l.Characteristic != c:
		return fmt.Errorf("%w: %v among %v", ErrCharacteristic, l.Characteristic, c)
	case len(l.Readings) > 0 && !l.InPlace.IsZero() && l.InPlace.origin != FromCore:
		return ErrMixedStages
	}
	if err := checkInstant(fn, l.At); err != nil {
		return err
	}
	return l.Place.check(fn)
}

// located names the location in an error about it.
func located(fn string, i int, id string, err error) error {
	if e := (*stats.InputError)(nil); errors.As(err, &e) && e.Func == fn {
		err = fmt.Errorf("%s: %w", e.Place(), e.Err)
	}
	return &stats.InputError{Func: fn, Arg: "s.Locations", Index: i, ID: id, Err: err}
}

// sublotAudit collects the working of all locations in the unit of the first.
type sublotAudit struct {
	audit
	fn         string
	correction Correction
	at         Scope
	policy     SublotPolicy
	readings   int
}

// location returns the density in place of one location, rounded.
func (w *sublotAudit) location(l SublotLocation) (*big.Rat, LocationResult, error) {
	r := LocationResult{ID: l.ID, Place: l.Place, At: l.At, Readings: len(l.Readings), Origin: l.InPlace.origin, Source: l.InPlace.source}
	w.prefix = l.ID + ": "
	var mean *big.Rat
	if len(l.Readings) > 0 || l.InPlace.IsZero() {
		m, unit, err := meanOf(w.fn, "Readings", l.Readings)
		if err != nil {
			return nil, r, err
		}
		if err := w.useUnit(l.Readings[0].d, unit); err != nil {
			return nil, r, err
		}
		mean = w.round("mean reading", "Σx/n", sumText(l.Readings), m, w.policy.Mean)
		r.Gauge = record(mean, w.unit)
	}
	d, err := w.inPlace(l, mean)
	if err != nil {
		return nil, r, err
	}
	if l.InPlace.IsZero() {
		r.Origin, r.Source = FromReading, w.correction.Source()
	}
	r.Density, err = resultOf(w.fn, "density in place", d, w.unit)
	return d, r, err
}

func (w *sublotAudit) inPlace(l SublotLocation, mean *big.Rat) (*big.Rat, error) {
	if l.InPlace.IsZero() {
		at := w.at
		if !l.At.IsZero() {
			at = at.On(DateOf(l.At))
		}
		if err := w.correction.check(w.fn, w.unit, at); err != nil {
			return nil, err
		}
		return w.correct(mean, w.correction, w.policy.RoundingPolicy), nil
	}
	if err := check(w.fn, "InPlace", -1, l.InPlace.d); err != nil {
		return nil, err
	}
	if err := w.useUnit(l.InPlace.d, l.InPlace.d.Unit()); err != nil {
		return nil, err
	}
	return w.round(l.InPlace.origin.String(), "", "", l.InPlace.d.Exact(w.unit), w.policy.Density), nil
}

// useUnit takes the unit of the first density and refuses another one later.
func (w *sublotAudit) useUnit(d units.Density, unit units.DensityUnit) error {
	if w.unit == 0 {
		w.unit = unit
	}
	return checkUnit(w.fn, "density", -1, d, w.unit)
}

func (w *sublotAudit) finish(densities []*big.Rat, ref Reference) (Audited, error) {
	w.prefix = ""
	mean := w.round("mean of the locations", "Σd/n", meanText(densities), meanRat(densities), w.policy.Locations)
	return w.audit.finish(w.fn, mean, w.readings, ref, w.policy.RoundingPolicy)
}
