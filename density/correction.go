package density

import (
	"fmt"
	"math"
	"math/big"

	"github.com/densilot/densilot/units"
)

// Scope is what a correction holds for. A gauge is biased differently for every
// mix and lift, and no two gauges alike.
type Scope struct {
	Gauge string // serial number or other id
	Mix   string // job mix formula
	Lift  string // lift or layer
}

// String returns the scope in words.
func (s Scope) String() string {
	return fmt.Sprintf("gauge %s, mix %s, lift %s", s.Gauge, s.Mix, s.Lift)
}

// Offset is a constant correction as it is handed over: by package bias, or on
// paper.
type Offset struct {
	Offset units.DensityDifference // core - gauge, added to every reading
	Exact  *big.Rat                // the same without rounding in the same unit; nil if the record is exact
	StdErr float64                 // standard error in the unit of Offset; 0 if not known
	DF     float64                 // degrees of freedom of StdErr; 0 if not known
	Scope  Scope                   // gauge, mix and lift; all three are needed
	Source string                  // who estimated it, from what; needed
}

// Correction turns gauge readings into in-place densities within its scope. The
// zero value corrects nothing and is refused; make one with [NewOffset].
type Correction struct {
	record Offset
	exact  *big.Rat
}

// NewOffset returns the correction that adds a constant offset:
//
//	corrected = reading + offset,   offset = mean core - mean gauge
//
// positive when the gauge reads low. It serves an offset handed over on paper as
// well as one that package bias estimated.
//
// Errors are [*stats.InputError] around [units.ErrNotGiven] (offset), [ErrScope]
// (an empty gauge, mix or lift), [ErrNoSource] or [units.ErrRange] (a standard
// error or degrees of freedom that are negative or not finite).
func NewOffset(o Offset) (Correction, error) {
	const fn = "density.NewOffset"
	switch {
	case o.Offset.IsZero():
		return Correction{}, refuse(fn, "o.Offset", "", units.ErrNotGiven)
	case o.Scope.Gauge == "" || o.Scope.Mix == "" || o.Scope.Lift == "":
		return Correction{}, refuse(fn, "o.Scope", o.Scope.String(), fmt.Errorf("%w: name gauge, mix and lift", ErrScope))
	case o.Source == "":
		return Correction{}, refuse(fn, "o.Source", "", ErrNoSource)
	case !(o.StdErr >= 0) || math.IsInf(o.StdErr, 1):
		return Correction{}, refuse(fn, "o.StdErr", fmt.Sprint(o.StdErr), units.ErrRange)
	case !(o.DF >= 0) || math.IsInf(o.DF, 1):
		return Correction{}, refuse(fn, "o.DF", fmt.Sprint(o.DF), units.ErrRange)
	}
	exact := o.Offset.Exact(o.Offset.Unit())
	if o.Exact != nil {
		exact = new(big.Rat).Set(o.Exact)
	}
	o.Exact = nil // kept apart, so that a caller cannot change it later
	return Correction{record: o, exact: exact}, nil
}

// Offset returns the offset, core - gauge.
func (c Correction) Offset() units.DensityDifference { return c.record.Offset }

// Exact returns a copy of the offset without rounding, in the unit of Offset; nil
// for the zero value.
func (c Correction) Exact() *big.Rat {
	if c.exact == nil {
		return nil
	}
	return new(big.Rat).Set(c.exact)
}

// StdErr returns the standard error of the offset in its unit and its degrees of
// freedom, both 0 where they are not known.
func (c Correction) StdErr() (stdErr, df float64) { return c.record.StdErr, c.record.DF }

// Scope returns what c holds for.
func (c Correction) Scope() Scope { return c.record.Scope }

// Source says where c came from.
func (c Correction) Source() string { return c.record.Source }

// IsZero reports whether c is no correction.
func (c Correction) IsZero() bool { return c.exact == nil }

// String gives the offset with its direction, such as
// "+2.3 lb/ft3 (core - gauge), gauge 7, mix B, lift surface".
func (c Correction) String() string {
	if c.IsZero() {
		return ""
	}
	return fmt.Sprintf("%+v (core - gauge), %v", c.record.Offset, c.record.Scope)
}

// Apply corrects one reading taken at a scope: reading + offset, in the unit they
// share.
//
// Errors are [*stats.InputError] around [units.ErrNotGiven], [ErrNotPositive],
// [ErrUnitMismatch], or [ErrScope] where at is not the scope of c.
func (c Correction) Apply(r Reading, at Scope) (InPlace, error) {
	const fn = "density.Correction.Apply"
	if err := check(fn, "r", -1, r.d); err != nil {
		return InPlace{}, err
	}
	if err := c.check(fn, r.d.Unit(), at); err != nil {
		return InPlace{}, err
	}
	d := r.d.Add(c.record.Offset)
	if err := check(fn, "r + offset", -1, d); err != nil {
		return InPlace{}, err
	}
	return InPlace{d: d, origin: FromReading, source: c.record.Source}, nil
}

func (c Correction) check(fn string, unit units.DensityUnit, at Scope) error {
	switch {
	case c.IsZero():
		return refuse(fn, "c", "", units.ErrNotGiven)
	case c.record.Offset.Unit() != unit:
		return refuse(fn, "c", c.record.Offset.String(), fmt.Errorf("%w (the reading is in %v)", ErrUnitMismatch, unit))
	case at != c.record.Scope:
		return refuse(fn, "at", at.String(), fmt.Errorf("%w (%v)", ErrScope, c.record.Scope))
	}
	return nil
}
