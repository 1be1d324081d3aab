package density

import (
	"fmt"
	"math"
	"math/big"
	"strconv"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Codes of the warnings about corrections.
const (
	WarnExtrapolated stats.WarningCode = "extrapolated"     // a reading outside those a line was estimated from
	WarnOverridden   stats.WarningCode = "scope-overridden" // a correction used outside its scope by decision
)

// Model is the form of a correction. The zero value is none.
type Model uint8

// The models of a correction.
const (
	ConstantOffset Model = iota + 1 // reading + offset
	ConstantRatio                   // ratio · reading
	StraightLine                    // slope · reading + intercept
)

// String returns the model in words.
func (m Model) String() string {
	switch m {
	case ConstantOffset:
		return "offset"
	case ConstantRatio:
		return "ratio"
	case StraightLine:
		return "line"
	}
	return "no model"
}

// MarshalText returns the words, empty for no model. The error is nil.
func (m Model) MarshalText() ([]byte, error) { return wordsOf(m) }

// UnmarshalText reads the words; empty text means no model. The error is a
// [*units.ParseError] around [ErrModel].
func (m *Model) UnmarshalText(text []byte) error {
	return readWords(m, StraightLine, "density.Model.UnmarshalText", text, ErrModel)
}

// Correction turns gauge readings into in-place densities within its scope. The
// zero value corrects nothing and is refused; make one with [NewOffset],
// [NewRatio] or [NewLine].
type Correction struct {
	model            Model
	slope, intercept *big.Rat // corrected = slope·reading + intercept, whatever the model
	record           Line
	overrides        []Override
}

// Model returns the form of c.
func (c Correction) Model() Model { return c.model }

// Offset returns the offset, core - gauge; not given for a ratio or a line, which
// have none.
func (c Correction) Offset() units.DensityDifference {
	if c.model != ConstantOffset {
		return units.DensityDifference{}
	}
	return c.record.Intercept
}

// Line returns c as the line slope · reading + intercept that it is: an offset has
// slope 1, a ratio has no intercept.
func (c Correction) Line() Line { return c.record }

// Exact returns a copy of the offset without rounding, in the unit of Offset; nil
// where Offset is not given.
func (c Correction) Exact() *big.Rat {
	if c.model != ConstantOffset {
		return nil
	}
	return new(big.Rat).Set(c.intercept)
}

// StdErr returns the standard error of an offset in its unit, of a ratio, or of a
// density that a line corrected at its centre, and its degrees of freedom, both 0
// where they are not known. See [Correction.StdErrAt].
func (c Correction) StdErr() (stdErr, df float64) {
	if c.model == ConstantRatio {
		return c.record.SlopeStdErr, c.record.DF
	}
	return c.record.StdErr, c.record.DF
}

// StdErrAt returns the standard error that c itself brings into the density it
// makes of a reading x, in the unit of x, and its degrees of freedom:
//
//	√(u² + (x - centre)²·u(slope)²)
//
// It is that of the offset everywhere, and x times that of a ratio. Both are 0
// where they are not known, or where x or c is not given or their units differ.
func (c Correction) StdErrAt(x units.Density) (stdErr, df float64) {
	if c.IsZero() || x.IsZero() || c.model != ConstantRatio && c.record.Intercept.Unit() != x.Unit() {
		return 0, 0
	}
	away := x.In(x.Unit())
	if c.model == StraightLine {
		away -= c.record.Centre.In(x.Unit())
	}
	return min(math.Hypot(c.record.StdErr, c.record.SlopeStdErr*away), math.MaxFloat64), c.record.DF
}

// Scope returns what c holds for.
func (c Correction) Scope() Scope { return c.record.Scope }

// Made returns the day of the comparison that c comes from; not given where that is
// not known.
func (c Correction) Made() Date { return c.record.Made }

// Source says where c came from.
func (c Correction) Source() string { return c.record.Source }

// IsZero reports whether c is no correction.
func (c Correction) IsZero() bool { return c.slope == nil }

// String gives the correction with its direction, such as
// "+2.3 lb/ft3 (core - gauge), gauge 7, mix B, lift surface".
func (c Correction) String() string {
	slope := strconv.FormatFloat(c.record.Slope, 'f', -1, 64)
	switch c.model {
	case ConstantOffset:
		return fmt.Sprintf("%+v (core - gauge), %v", c.record.Intercept, c.record.Scope)
	case ConstantRatio:
		return fmt.Sprintf("x %s (core/gauge), %v", slope, c.record.Scope)
	case StraightLine:
		return fmt.Sprintf("x %s %+v (core on gauge), %v", slope, c.record.Intercept, c.record.Scope)
	}
	return ""
}

// MarshalText returns what String returns, so that a record in JSON shows which
// correction was used. It is not read back: Line, Exact and Overrides hold what
// [NewOffset], [NewRatio] or [NewLine] need to make it anew. The error is nil.
func (c Correction) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// Apply corrects one reading taken at a scope, in the unit they share. The result
// is the float64 nearest to the exact one.
//
// Errors are [*stats.InputError] around [units.ErrNotGiven], [ErrNotPositive],
// [ErrUnitMismatch], [ErrScope] where at is not within the scope of c, as one of
// its kind [ErrDay] where only the days are not, or [units.ErrRange] for a result
// beyond all numbers.
func (c Correction) Apply(r Reading, at Scope) (InPlace, error) {
	const fn = "density.Correction.Apply"
	if err := check(fn, "r", -1, r.d); err != nil {
		return InPlace{}, err
	}
	if err := c.check(fn, r.d.Unit(), at); err != nil {
		return InPlace{}, err
	}
	d, err := resultOf(fn, "corrected", c.exactAt(r.d.Exact(r.d.Unit())), r.d.Unit())
	if err != nil {
		return InPlace{}, err
	}
	return InPlace{d: d, origin: FromReading, source: c.record.Source}, nil
}

// ApplyExactly corrects the exact mean of readings, for callers that go on in exact
// arithmetic as [AuditReadings] does. mean is in unit and not changed.
//
// Errors are those of [Correction.Apply].
func (c Correction) ApplyExactly(mean *big.Rat, unit units.DensityUnit, at Scope) (*big.Rat, error) {
	const fn = "density.Correction.ApplyExactly"
	switch {
	case mean == nil:
		return nil, stats.Refuse(fn, "mean", "", units.ErrNotGiven)
	case mean.Sign() <= 0:
		return nil, stats.Refuse(fn, "mean", units.ExactText(mean), ErrNotPositive)
	}
	if err := c.check(fn, unit, at); err != nil {
		return nil, err
	}
	corrected := c.exactAt(mean)
	if corrected.Sign() <= 0 {
		return nil, stats.Refuse(fn, "corrected", units.ExactText(corrected), ErrNotPositive)
	}
	return corrected, nil
}

// exactAt returns slope·x + intercept.
func (c Correction) exactAt(x *big.Rat) *big.Rat {
	y := new(big.Rat).Mul(c.slope, x)
	return y.Add(y, c.intercept)
}

// formula returns the correction of a mean in symbols and in numbers.
func (c Correction) formula(mean *big.Rat) (symbols, numbers string) {
	x, slope := units.ExactText(mean), units.ExactText(c.slope)
	switch c.model {
	case ConstantRatio:
		return "ratio·mean", slope + " x " + x
	case StraightLine:
		return "slope·mean + intercept", slope + " x " + x + " " + signedText(c.intercept)
	}
	return "mean + offset", x + " " + signedText(c.intercept)
}

// Warnings returns what there is to doubt where c corrects x: [WarnOverridden] for each
// decision that took c outside its scope and, for a line, [WarnExtrapolated] where x
// lies outside the readings it was estimated from. They are in every audited result; a
// density of [Correction.Apply] can't carry them. where names the record that x belongs
// to. None where x or c is not given or their units differ.
func (c Correction) Warnings(where string, x units.Density) []stats.Warning {
	if c.IsZero() || x.IsZero() || c.model != ConstantRatio && c.record.Intercept.Unit() != x.Unit() {
		return nil
	}
	return c.warnings(x.Exact(x.Unit()), x.Unit(), where)
}

// warnings is Warnings for the exact mean of readings in the unit of c.
func (c Correction) warnings(mean *big.Rat, unit units.DensityUnit, where string) (ws []stats.Warning) {
	for _, o := range c.overrides {
		ws = append(ws, stats.Warning{Code: WarnOverridden, Where: where, Text: fmt.Sprintf("the correction was made for %v and used for %v: %s", o.From, o.To, o.Reason)})
	}
	low, high := c.record.Low, c.record.High
	if c.model == StraightLine && (mean.Cmp(low.Exact(unit)) < 0 || mean.Cmp(high.Exact(unit)) > 0) {
		ws = append(ws, stats.Warning{Code: WarnExtrapolated, Where: where,
			Text: fmt.Sprintf("the mean reading %s %v lies outside the %v to %v that the line was estimated from; cut a core there", units.ExactText(mean), unit, low, high)})
	}
	return ws
}

func (c Correction) check(fn string, unit units.DensityUnit, at Scope) error {
	switch {
	case c.IsZero():
		return stats.Refuse(fn, "c", "", units.ErrNotGiven)
	case c.model != ConstantRatio && c.record.Intercept.Unit() != unit:
		return stats.Refuse(fn, "c", c.record.Intercept.String(), fmt.Errorf("%w (the reading is in %v)", ErrUnitMismatch, unit))
	}
	if err := c.record.Scope.holds(at); err != nil {
		return stats.Refuse(fn, "at", at.String(), fmt.Errorf("%w (%v)", err, c.record.Scope))
	}
	return nil
}
