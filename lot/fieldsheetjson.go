package lot

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
)

// fieldSheetDocument is how a field sheet is stored.
var fieldSheetDocument = document{format: "densilot/field-sheet", version: 1}

// ErrNotDrawn is the reason for refusing a field sheet with other places than its
// terms and seed give.
var ErrNotDrawn = errors.New("the places are not those that the terms and the seed give")

// ParseFieldSheet reads a field sheet from the JSON that [FieldSheet.MarshalJSON]
// writes, as strictly as [ParsePlan] reads a plan. A saved sheet reads back equal.
// The places are drawn again from the terms and the seed, so that a sheet with a
// place that was changed is refused.
//
// Errors are [*FormatError] with the JSON pointer of the place, as those of
// ParsePlan, or around [ErrNotDrawn] or those of [RandomLocations].
func ParseFieldSheet(data []byte) (FieldSheet, error) {
	const fn = "lot.ParseFieldSheet"
	var s FieldSheet
	if err := fieldSheetDocument.read(fn, data, s.form); err != nil {
		return FieldSheet{}, err
	}
	if _, err := s.drawn(fn); err != nil {
		return FieldSheet{}, err
	}
	return s, nil
}

// MarshalJSON writes the sheet in its canonical form, recorded numbers and the seed
// as text.
//
// The error is [*FormatError] for a sheet that ParseFieldSheet would not read back:
// one that was changed by hand ([ErrNotDrawn]).
func (s FieldSheet) MarshalJSON() ([]byte, error) {
	const fn = "lot.FieldSheet.MarshalJSON"
	data, err := s.drawn(fn)
	if err != nil {
		return nil, err
	}
	if _, err := ParseFieldSheet(data); err != nil {
		return nil, named(fn, err)
	}
	return data, nil
}

// UnmarshalJSON is [ParseFieldSheet], with its errors.
func (s *FieldSheet) UnmarshalJSON(data []byte) error {
	return readInto(s, data, ParseFieldSheet)
}

// drawn returns the canonical form of the sheet that the terms and the seed give,
// which must be s.
func (s FieldSheet) drawn(fn string) ([]byte, error) {
	if len(s.Locations) != len(s.Terms.Sublots) {
		return nil, &FormatError{fn, "/locations", ErrNotDrawn}
	}
	again, err := RandomLocations(s.Terms, s.Seed)
	if err != nil {
		return nil, inTerms(fn, err)
	}
	data := fieldSheetDocument.write(again.form)
	if !bytes.Equal(data, fieldSheetDocument.write(s.form)) {
		return nil, &FormatError{fn, "/locations", ErrNotDrawn}
	}
	return data, nil
}

// inTerms places an error about the terms below their key.
func inTerms(fn string, err error) error {
	var e *FormatError
	errors.As(placedError(fn, err), &e)
	return &FormatError{fn, "/terms" + e.Path, e.Err}
}

func (s *FieldSheet) form(f form) {
	f.object("terms", s.Terms.form)
	f.scalar("seed", kindText, strconv.FormatUint(s.Seed, 10), func(text string) (err error) {
		s.Seed, err = strconv.ParseUint(text, 10, 64)
		if err != nil || strconv.FormatUint(s.Seed, 10) != text {
			return fmt.Errorf("%.40q: %w; need a whole number below 2^64", text, ErrOutOfDomain)
		}
		return nil
	})
	listField(f, "locations", &s.Locations, locationForm)
}

func (t *SamplingTerms) form(f form) {
	textField(f, "lot", &t.Lot)
	f.object("along", t.Along.form)
	decimalField(f, "start", &t.Start)
	listField(f, "sublots", &t.Sublots, func(f form, s *SublotSize) {
		textField(f, "id", &s.ID)
		decimalField(f, "size", &s.Size)
	})
	optionalObject(f, "across", &t.Across, func(f form, a *Transverse) {
		a.form(f)
		decimalField(f, "width", &a.Width)
	})
}

func (a *Axis) form(f form) {
	textField(f, "name", &a.Name)
	textField(f, "unit", &a.Unit)
	roundingField(f, "rounding", &a.Rounding)
	optionalList(f, "excluded", &a.Excluded, func(f form, e *Exclusion) {
		decimalField(f, "from", &e.From)
		decimalField(f, "to", &e.To)
		textField(f, "reason", &e.Reason)
	})
}

func locationForm(f form, l *Location) {
	textField(f, "sublot", &l.Sublot)
	decimalField(f, "from", &l.From)
	decimalField(f, "size", &l.Size)
	floatField(f, "weight", &l.Weight)
	f.object("along", l.Along.form)
	optionalObject(f, "across", &l.Across, func(f form, p *Place) { p.form(f) })
	optionalList(f, "discarded", &l.Discarded, func(f form, d *Discarded) {
		d.Place.form(f)
		textField(f, "axis", &d.Axis)
		textField(f, "reason", &d.Reason)
	})
}

func (p *Place) form(f form) {
	decimalField(f, "number", &p.Number)
	decimalField(f, "into", &p.Into)
	decimalField(f, "at", &p.At)
}
