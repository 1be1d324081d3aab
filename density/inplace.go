package density

import (
	"errors"
	"fmt"
	"strings"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// ErrWater is the reason for refusing a core whose gravity was multiplied by another
// density of water than that of the reference or of the cores beside it.
var ErrWater = errors.New("different densities of water")

// Origin says how an in-place density was obtained. The zero value says nothing
// and belongs to an [InPlace] that is not given.
type Origin uint8

// The origins of an in-place density.
const (
	FromCore     Origin = iota + 1 // measured on a core
	FromReading                    // a gauge reading and a Correction
	FromRecorded                   // recorded by others as already corrected
)

// String returns the origin in words.
func (o Origin) String() string {
	switch o {
	case FromCore:
		return "core"
	case FromReading:
		return "corrected reading"
	case FromRecorded:
		return "recorded as corrected"
	}
	return "no origin"
}

// MarshalText returns the words, empty for no origin. The error is nil.
func (o Origin) MarshalText() ([]byte, error) { return wordsOf(o) }

// UnmarshalText reads the words; empty text means no origin. The error is a
// [*units.ParseError] around [ErrStage].
func (o *Origin) UnmarshalText(text []byte) error {
	return readWords(o, FromRecorded, "density.Origin.UnmarshalText", text, ErrStage)
}

// InPlace is the density of the mat at a place: of a core, or of a reading that
// has been corrected once. It cannot be corrected again. The zero value is not
// given.
type InPlace struct {
	d      units.Density
	origin Origin
	source string
	water  units.Density // of a core that [CoreOf] made
}

// CoreOf returns the density of a core of bulk specific gravity gmb,
//
//	gmb · density of water
//
// and keeps that density of water, so that a percentage of a reference made with
// another is refused with [ErrWater]: 62.4 instead of 62.245 lb/ft3 is worth 0.23
// percentage points of compaction. The errors are those of [MaximumTheoretical].
func CoreOf(gmb units.SpecificGravity, w units.Water) (InPlace, error) {
	r, err := fromGravity("density.CoreOf", "gmb", KindLaboratoryBulk, gmb, w)
	if err != nil {
		return InPlace{}, err
	}
	return InPlace{d: r.d, origin: FromCore, water: w.Density()}, nil
}

// Core marks d as the density of a core where only the density was recorded; from its
// bulk specific gravity, [CoreOf] makes it.
func Core(d units.Density) InPlace {
	if d.IsZero() {
		return InPlace{}
	}
	return InPlace{d: d, origin: FromCore}
}

// AlreadyCorrected takes over a density that somebody else recorded as corrected,
// such as from a gauge that was set to add its offset. source says who and how;
// without it the error wraps [ErrNoSource], and without a positive density
// [units.ErrNotGiven] or [ErrNotPositive].
func AlreadyCorrected(d units.Density, source string) (InPlace, error) {
	const fn = "density.AlreadyCorrected"
	if err := check(fn, "d", -1, d); err != nil {
		return InPlace{}, err
	}
	if source == "" {
		return InPlace{}, stats.Refuse(fn, "source", "", ErrNoSource)
	}
	return InPlace{d: d, origin: FromRecorded, source: source}, nil
}

// Density returns the number.
func (p InPlace) Density() units.Density { return p.d }

// Origin says whether p is a core or a corrected reading.
func (p InPlace) Origin() Origin { return p.origin }

// Source returns where a corrected value came from: the source of the
// correction, or what was said to [AlreadyCorrected]; "" for a core.
func (p InPlace) Source() string { return p.source }

// Water returns the density of water that a core of [CoreOf] was made with; not given
// for any other.
func (p InPlace) Water() units.Density { return p.water }

// sameWater refuses a core of another density of water than ref, where both are known.
func (p InPlace) sameWater(fn, arg string, ref Reference) error {
	if p.water.IsZero() || ref.water == nil || p.water.Equal(ref.water.Density()) {
		return nil
	}
	return stats.Refuse(fn, arg, p.String(), fmt.Errorf("%w: %v and %v", ErrWater, p.water, ref.water.Density()))
}

// IsZero reports whether p is not given.
func (p InPlace) IsZero() bool { return p.d.IsZero() }

// Equal reports whether p and other are the same amount of the same origin, source and
// density of water.
func (p InPlace) Equal(other InPlace) bool {
	return p.d.Equal(other.d) && p.origin == other.origin && p.source == other.source && p.water.Equal(other.water)
}

// String returns the record with its stage, such as "146.5 lb/ft3 (core)".
func (p InPlace) String() string {
	if p.IsZero() {
		return ""
	}
	return p.d.String() + " (" + p.origin.String() + ")"
}

// MarshalText returns what String returns, with the source of a corrected value or the
// water of a core: "146.5 lb/ft3 (corrected reading: letter of 3 May)". The error is nil.
func (p InPlace) MarshalText() ([]byte, error) {
	more := p.source
	if !p.water.IsZero() {
		more = waterIs + p.water.String()
	}
	if more == "" {
		return []byte(p.String()), nil
	}
	return []byte(strings.TrimSuffix(p.String(), ")") + ": " + more + ")"), nil
}

const waterIs = "water "

// UnmarshalText reads what MarshalText writes; empty text means not given. Errors are
// those of [units.ParseDensity], or [*units.ParseError] around [ErrStage] where the text
// does not say how the density was obtained, or [ErrNoSource].
func (p *InPlace) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*p = InPlace{}
		return nil
	}
	number, stage, _ := strings.Cut(string(text), " (")
	stage, closed := strings.CutSuffix(stage, ")")
	words, more, _ := strings.Cut(stage, ": ")
	d, err := units.ParseDensity(number)
	if err != nil {
		return err
	}
	parsed := InPlace{d: d}
	if parsed.origin.UnmarshalText([]byte(words)) != nil || parsed.origin == 0 || !closed {
		err = ErrStage
	} else {
		err = parsed.addMore(more)
	}
	if err != nil {
		return &units.ParseError{Func: "density.InPlace.UnmarshalText", Text: string(text), Err: err,
			Need: "text like 146.5 lb/ft3 (core) or 146.5 lb/ft3 (recorded as corrected: who and how)"}
	}
	*p = parsed
	return nil
}

// addMore takes over what stands after the origin: the water of a core, if it is
// known, or the source of any other.
func (p *InPlace) addMore(more string) error {
	water, isWater := strings.CutPrefix(more, waterIs)
	switch {
	case p.origin == FromCore && isWater:
		return p.water.UnmarshalText([]byte(water))
	case (p.origin == FromCore) != (more == ""):
		return ErrNoSource
	}
	p.source = more
	return nil
}
