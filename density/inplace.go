package density

import (
	"strings"

	"github.com/densilot/densilot/units"
)

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
}

// Core marks d as the density of a core, that is its bulk specific gravity times
// the density of water:
//
//	density.Core(gmb.Density(units.Water62_245))
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
		return InPlace{}, refuse(fn, "source", "", ErrNoSource)
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

// IsZero reports whether p is not given.
func (p InPlace) IsZero() bool { return p.d.IsZero() }

// Equal reports whether p and other are the same amount of the same origin and source.
func (p InPlace) Equal(other InPlace) bool {
	return p.d.Equal(other.d) && p.origin == other.origin && p.source == other.source
}

// String returns the record with its stage, such as "146.5 lb/ft3 (core)".
func (p InPlace) String() string {
	if p.IsZero() {
		return ""
	}
	return p.d.String() + " (" + p.origin.String() + ")"
}

// MarshalText returns what String returns, with the source of a corrected value:
// "146.5 lb/ft3 (corrected reading: letter of 3 May)". The error is nil.
func (p InPlace) MarshalText() ([]byte, error) {
	text := p.String()
	if p.source != "" {
		text = strings.TrimSuffix(text, ")") + ": " + p.source + ")"
	}
	return []byte(text), nil
}

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
	words, source, _ := strings.Cut(stage, ": ")
	d, err := units.ParseDensity(number)
	parsed := InPlace{d: d, source: source}
	switch {
	case err != nil:
		return err
	case parsed.origin.UnmarshalText([]byte(words)) != nil || parsed.origin == 0 || !closed:
		err = ErrStage
	case (source == "") != (parsed.origin == FromCore):
		err = ErrNoSource
	default:
		*p = parsed
		return nil
	}
	return &units.ParseError{Func: "density.InPlace.UnmarshalText", Text: string(text), Err: err,
		Need: "text like 146.5 lb/ft3 (core) or 146.5 lb/ft3 (recorded as corrected: who and how)"}
}
