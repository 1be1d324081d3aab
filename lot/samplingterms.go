package lot

import (
	"errors"
	"fmt"
	"slices"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// ErrNoRoom is the reason for refusing terms whose exclusions leave no place.
var ErrNoRoom = errors.New("the exclusions leave no place to sample")

// Exclusion is a stretch in which no sample is taken, both ends included, such as
// the strip along an edge or joint, or a bridge.
type Exclusion struct {
	From, To decimal.Decimal // in the unit of its axis; From below To
	Reason   string          // such as "unsupported edge"
}

// Axis is one of the measures that a place is found by. All fields but
// Excluded are needed.
type Axis struct {
	Name     string         // heading on the field sheet, such as "tonnage" or "offset from left edge"
	Unit     string         // such as "t" or "m"
	Rounding units.Rounding // of the distance from the start of the sublot, or from the edge
	Excluded []Exclusion
}

// Transverse is the axis across the mat. Its exclusions are the edges and
// joints to keep clear of.
type Transverse struct {
	Axis
	Width decimal.Decimal // of the mat, more than 0
}

// SublotSize is one sublot: its share of the lot.
type SublotSize struct {
	ID   string
	Size decimal.Decimal // in the unit of the axis along, more than 0
}

// SamplingTerms are what a procedure says about the places of samples in one lot.
// All fields are needed but where a remark says otherwise.
type SamplingTerms struct {
	Lot     string
	Along   Axis            // tonnage or stationing
	Start   decimal.Decimal // where the first sublot begins, 0 or a station
	Sublots []SublotSize    // one after the other, of any sizes
	Across  *Transverse     // nil where no offset is drawn
}

// clone copies what the caller could change.
func (t SamplingTerms) clone() SamplingTerms {
	t.Sublots = slices.Clone(t.Sublots)
	t.Along.Excluded = slices.Clone(t.Along.Excluded)
	if t.Across != nil {
		across := *t.Across
		across.Excluded = slices.Clone(across.Excluded)
		t.Across = &across
	}
	return t
}

func (t SamplingTerms) check(fn string) error {
	if t.Lot == "" {
		return stats.Refuse(fn, "t.Lot", "", ErrNoID)
	}
	if !plainText(t.Lot) {
		return stats.Refuse(fn, "t.Lot", fmt.Sprintf("%.80q", t.Lot), ErrText)
	}
	if !fewDigits(t.Start) {
		return stats.Refuse(fn, "t.Start", "", ErrDigits)
	}
	if err := t.Along.check(fn, "t.Along"); err != nil {
		return err
	}
	if err := t.checkSublots(fn); err != nil {
		return err
	}
	if t.Across == nil {
		return nil
	}
	if err := checkSize(t.Across.Width); err != nil {
		return stats.Refuse(fn, "t.Across.Width", "", err)
	}
	return t.Across.check(fn, "t.Across")
}

func (t SamplingTerms) checkSublots(fn string) error {
	if len(t.Sublots) == 0 {
		return stats.Refuse(fn, "t.Sublots", "", fmt.Errorf("%w (have 0, need 1)", stats.ErrTooFew))
	}
	seen := make(map[string]bool, len(t.Sublots))
	for i, s := range t.Sublots {
		err := checkSize(s.Size)
		switch {
		case s.ID == "":
			err = ErrNoID
		case !plainText(s.ID):
			err = ErrText
		case seen[s.ID]:
			err = ErrRepeatedID
		}
		if err != nil {
			return &stats.InputError{Func: fn, Arg: "t.Sublots", Index: i, ID: fmt.Sprintf("%.80s", s.ID), Err: err}
		}
		seen[s.ID] = true
	}
	return nil
}

func checkSize(size decimal.Decimal) error {
	switch {
	case !fewDigits(size):
		return ErrDigits
	case size.Sign() <= 0:
		return needs(stats.ErrParameter, "more than 0")
	}
	return nil
}

func (a Axis) check(fn, arg string) error {
	for _, f := range []struct{ name, value string }{{"Name", a.Name}, {"Unit", a.Unit}} {
		if f.value == "" {
			return stats.Refuse(fn, arg+"."+f.name, "", ErrMissing)
		}
		if !plainText(f.value) {
			return stats.Refuse(fn, arg+"."+f.name, fmt.Sprintf("%.80q", f.value), ErrText)
		}
	}
	if err := a.Rounding.Validate(); err != nil {
		return stats.Refuse(fn, arg+".Rounding", "", err)
	}
	for i, e := range a.Excluded {
		if err := e.check(); err != nil {
			return refuseAt(fn, arg+".Excluded", i, fmt.Sprintf("%.80s", e.Reason), err)
		}
	}
	return nil
}

func (e Exclusion) check() error {
	switch {
	case !fewDigits(e.From) || !fewDigits(e.To):
		return ErrDigits
	case e.From.Cmp(e.To) >= 0:
		return fmt.Errorf("%w: From is not below To", stats.ErrParameter)
	case e.Reason == "":
		return fmt.Errorf("its reason %w", ErrMissing)
	case !plainText(e.Reason):
		return fmt.Errorf("its reason %w", ErrText)
	}
	return nil
}

// excluded returns the reason why a place is excluded, "" where it is not.
func (a Axis) excluded(at decimal.Decimal) string {
	for _, e := range a.Excluded {
		if e.From.Cmp(at) <= 0 && at.Cmp(e.To) <= 0 {
			return e.Reason
		}
	}
	return ""
}
