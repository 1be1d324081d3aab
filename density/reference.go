package density

import (
	"math/big"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// ReferenceKind says what a percentage is taken of. Limits in percent of one kind
// mean nothing for another: 144.0 lb/ft3 can be 96.3 % of laboratory bulk density
// and 92.1 % of maximum theoretical density.
type ReferenceKind uint8

// The kinds of reference density.
const (
	KindMaximumTheoretical ReferenceKind = iota + 1 // Gmm times water
	KindLaboratoryBulk                              // Gmb of laboratory specimens times water
	KindControlStrip                                // the density reached on a control strip
)

// String returns the kind in words.
func (k ReferenceKind) String() string {
	switch k {
	case KindMaximumTheoretical:
		return "maximum theoretical density"
	case KindLaboratoryBulk:
		return "laboratory bulk density"
	case KindControlStrip:
		return "control strip density"
	}
	return "no reference"
}

// PercentOf names the unit of a percentage of this kind, such as
// "% of maximum theoretical density". Package lot compares it with the unit of
// its limits.
func (k ReferenceKind) PercentOf() string { return "% of " + k.String() }

// ParseReferenceKind finds a kind by its words, such as "maximum theoretical
// density" or "% of maximum theoretical density". The error is a
// [*units.ParseError] around [ErrKind].
func ParseReferenceKind(text string) (ReferenceKind, error) {
	for k := KindMaximumTheoretical; k <= KindControlStrip; k++ {
		if text == k.String() || text == k.PercentOf() {
			return k, nil
		}
	}
	return 0, &units.ParseError{Func: "density.ParseReferenceKind", Text: text, Err: ErrKind,
		Need: "maximum theoretical density, laboratory bulk density or control strip density"}
}

// MarshalText returns the words of the kind, empty for none. The error is nil.
func (k ReferenceKind) MarshalText() ([]byte, error) { return wordsOf(k) }

// UnmarshalText reads the words of a kind; empty text means none. The error is a
// [*units.ParseError] around [ErrKind].
func (k *ReferenceKind) UnmarshalText(text []byte) error {
	return readWords(k, KindControlStrip, "density.ReferenceKind.UnmarshalText", text, ErrKind)
}

// Reference is the density that a percentage is taken of, with its kind. Make
// one with [MaximumTheoretical], [LaboratoryBulk] or [ControlStrip]; the zero
// value is none.
type Reference struct {
	kind    ReferenceKind
	d       units.Density
	gravity units.SpecificGravity
	water   units.Water
}

// MaximumTheoretical returns Gmm times the density of water, the only reference
// that air voids can be computed from.
//
// Errors are [*stats.InputError] around [units.ErrNotGiven] or [ErrNotPositive].
func MaximumTheoretical(gmm units.SpecificGravity, w units.Water) (Reference, error) {
	return fromGravity("density.MaximumTheoretical", "gmm", KindMaximumTheoretical, gmm, w)
}

// LaboratoryBulk returns the bulk specific gravity of laboratory specimens times
// the density of water. The errors are those of [MaximumTheoretical].
func LaboratoryBulk(gmb units.SpecificGravity, w units.Water) (Reference, error) {
	return fromGravity("density.LaboratoryBulk", "gmb", KindLaboratoryBulk, gmb, w)
}

// ControlStrip returns the density that a control strip reached. The errors are
// those of [MaximumTheoretical].
func ControlStrip(d InPlace) (Reference, error) {
	if err := check("density.ControlStrip", "d", -1, d.d); err != nil {
		return Reference{}, err
	}
	return Reference{kind: KindControlStrip, d: d.d}, nil
}

func fromGravity(fn, arg string, kind ReferenceKind, g units.SpecificGravity, w units.Water) (Reference, error) {
	switch {
	case g.IsZero():
		return Reference{}, stats.Refuse(fn, arg, "", units.ErrNotGiven)
	case g.Float64() <= 0:
		return Reference{}, stats.Refuse(fn, arg, g.String(), ErrNotPositive)
	case w == nil || w.Density().IsZero():
		return Reference{}, stats.Refuse(fn, "w", "", units.ErrNotGiven)
	}
	d := g.Density(w)
	if err := check(fn, arg, -1, d); err != nil {
		return Reference{}, err
	}
	return Reference{kind: kind, d: d, gravity: g, water: w}, nil
}

// Kind returns what a percentage of r is a percentage of.
func (r Reference) Kind() ReferenceKind { return r.kind }

// Density returns the reference density in the unit of its water.
func (r Reference) Density() units.Density { return r.d }

// Gravity returns the Gmm or Gmb that r was made from; not given for a control
// strip.
func (r Reference) Gravity() units.SpecificGravity { return r.gravity }

// Water returns the density of water that r was made with; nil for a control
// strip.
func (r Reference) Water() units.Water { return r.water }

// IsZero reports whether r is none.
func (r Reference) IsZero() bool { return r.kind == 0 }

// Equal reports whether r and other are of one kind and made from the same records:
// gravity and water, or density.
func (r Reference) Equal(other Reference) bool { return r == other }

// exact returns the density without rounding, in its unit.
func (r Reference) exact() *big.Rat {
	if r.water == nil {
		return r.d.Exact(r.d.Unit())
	}
	return new(big.Rat).Mul(r.gravity.Exact(), r.water.Density().Exact(r.d.Unit()))
}

// String names the density, its kind and where it comes from.
func (r Reference) String() string {
	switch {
	case r.IsZero():
		return ""
	case r.water == nil:
		return r.d.String() + " " + r.kind.String()
	}
	return r.d.String() + " " + r.kind.String() + " (" + r.gravity.String() + " x " + r.water.String() + ")"
}

// MarshalText returns what String returns, so that a record in JSON shows what a
// percentage was taken of. It is not read back: Kind, Gravity and Water hold what
// [MaximumTheoretical] or [LaboratoryBulk] need to make it anew. The error is nil.
func (r Reference) MarshalText() ([]byte, error) { return []byte(r.String()), nil }
