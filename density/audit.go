package density

import (
	"fmt"
	"math/big"
	"strings"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// RoundingPolicy says how each recorded result on the way to a percentage is
// rounded. Every rule is needed; units.Absolute leaves a number as it is. The
// percentage itself needs a number of places, because a quotient rarely ends.
type RoundingPolicy struct {
	Mean       units.Rounding // the mean of the readings at a location
	Density    units.Rounding // the corrected density
	Maximum    units.Rounding // the reference density
	Percentage units.Rounding // percent compaction and air voids
}

// Validate refuses a policy with a rule missing or with Percentage absolute. The
// error wraps [units.ErrRounding], [units.ErrRange] or [units.ErrAbsolute].
func (p RoundingPolicy) Validate() error { return p.validate("density.RoundingPolicy.Validate", "p") }

func (p RoundingPolicy) validate(fn, arg string) error {
	for _, f := range []struct {
		name string
		r    units.Rounding
	}{{".Mean", p.Mean}, {".Density", p.Density}, {".Maximum", p.Maximum}} {
		if err := f.r.Validate(); err != nil {
			return stats.Refuse(fn, arg+f.name, "", err)
		}
	}
	return places(fn, arg+".Percentage", p.Percentage)
}

// Audited is a percentage with everything needed to redo it by hand.
type Audited struct {
	N          int              // readings averaged; 0 for a core
	Unit       string           // of Percentage, such as "% of maximum theoretical density"
	Density    units.Density    // in place, as rounded
	Maximum    units.Density    // the reference, as rounded
	Percentage decimal.Decimal  // as rounded: what package lot takes
	AirVoids   *decimal.Decimal // 100 - Percentage; nil unless of maximum theoretical density
	Kind       ReferenceKind
	Working    []units.Step
	Warnings   []stats.Warning
}

// AuditReadings runs the whole chain from the readings at one location to percent
// compaction in exact rational arithmetic:
//
//	mean of readings → corrected → / reference → · 100
//
// rounding each result by the policy before it is used further. The readings, the
// correction and the reference are in one unit.
//
// Errors are [*stats.InputError] as of [Correction.Apply], [PercentCompaction]
// and [RoundingPolicy.Validate], or around [stats.ErrTooFew] for no readings.
func AuditReadings(readings []Reading, c Correction, at Scope, ref Reference, p RoundingPolicy) (Audited, error) {
	const fn = "density.AuditReadings"
	if err := p.validate(fn, "p"); err != nil {
		return Audited{}, err
	}
	mean, unit, err := meanOf(fn, "readings", readings)
	if err != nil {
		return Audited{}, err
	}
	if err := c.check(fn, unit, at); err != nil {
		return Audited{}, err
	}
	a := audit{unit: unit}
	m := a.round("mean reading", "Σx/n", sumText(readings), mean, p.Mean)
	return a.finish(fn, a.correct(m, c, p), len(readings), ref, p)
}

// AuditCore is [AuditReadings] for a density that is in place already, such as a
// core, with the errors of [PercentCompaction] and [RoundingPolicy.Validate].
func AuditCore(core InPlace, ref Reference, p RoundingPolicy) (Audited, error) {
	const fn = "density.AuditCore"
	if err := p.validate(fn, "p"); err != nil {
		return Audited{}, err
	}
	if err := check(fn, "core", -1, core.d); err != nil {
		return Audited{}, err
	}
	a := audit{unit: core.d.Unit()}
	d := a.round("in-place density", "", "", core.d.Exact(a.unit), p.Density)
	audited, err := a.finish(fn, d, 0, ref, p)
	if err == nil {
		err = core.sameWater(fn, "core", ref)
	}
	if err != nil {
		return Audited{}, err
	}
	return audited, nil
}

// audit collects the working.
type audit struct {
	unit   units.DensityUnit
	prefix string // names the location, "" where there is only one
	steps  []units.Step

	warnings []stats.Warning
}

// round applies a rule that is valid and notes the step.
func (a *audit) round(what, formula, numbers string, x *big.Rat, r units.Rounding) *big.Rat {
	rounded, _ := r.Rat(x)
	a.steps = append(a.steps, units.Step{What: a.prefix + what, Formula: formula, Numbers: numbers,
		Value: units.ExactText(x) + " " + a.unit.String(), Rounded: units.ExactText(rounded) + " " + a.unit.String(), Rounding: r.Rule()})
	return rounded
}

// correct corrects a mean.
func (a *audit) correct(mean *big.Rat, c Correction, p RoundingPolicy) *big.Rat {
	a.warnings = append(a.warnings, c.warnings(mean, a.unit, strings.TrimSuffix(a.prefix, ": "))...)
	symbols, numbers := c.formula(mean)
	return a.round("corrected density", symbols, numbers, c.exactAt(mean), p.Density)
}

func (a *audit) finish(fn string, d *big.Rat, n int, ref Reference, p RoundingPolicy) (Audited, error) {
	if err := check(fn, "ref", -1, ref.d); err != nil {
		return Audited{}, err
	}
	if err := checkUnit(fn, "ref", -1, ref.d, a.unit); err != nil {
		return Audited{}, err
	}
	inPlace, err := resultOf(fn, "density in place", d, a.unit)
	if err != nil {
		return Audited{}, err
	}
	maximum := a.round(ref.kind.String(), ref.formula(), ref.numbers(), ref.exact(), p.Maximum)
	reference, err := resultOf(fn, ref.kind.String()+" "+p.Maximum.String(), maximum, a.unit)
	if err != nil {
		return Audited{}, err
	}
	percent := new(big.Rat).Quo(d, maximum)
	percent.Mul(percent, big.NewRat(100, 1))
	rounded, _ := p.Percentage.Rat(percent)
	a.steps = append(a.steps, units.Step{What: "percent compaction", Formula: "100·density/" + ref.kind.String(),
		Numbers: "100 x " + units.ExactText(d) + "/" + units.ExactText(maximum), Value: units.ExactText(percent) + " %",
		Rounded: fixed(rounded, p.Percentage) + " %", Rounding: p.Percentage.Rule()})
	r := Audited{N: n, Unit: ref.kind.PercentOf(), Density: inPlace, Maximum: reference, Kind: ref.kind,
		Percentage: toDecimal(rounded, p.Percentage), Warnings: append(a.warnings, aboveHundred(percent.Cmp(big.NewRat(100, 1)) > 0, ref.kind)...)}
	if ref.kind == KindMaximumTheoretical {
		voids := decimal.NewFromInt(100).Sub(r.Percentage)
		r.AirVoids = &voids
		a.steps = append(a.steps, units.Step{What: "air voids", Formula: "100 - percent compaction", Numbers: "100 - " + fixed(rounded, p.Percentage),
			Value: voids.StringFixed(int32(max(0, p.Percentage.Places))) + " %"})
	}
	r.Working = a.steps
	return r, nil
}

func (r Reference) formula() string {
	switch r.kind {
	case KindMaximumTheoretical:
		return "Gmm·water"
	case KindLaboratoryBulk:
		return "Gmb·water"
	}
	return ""
}

func (r Reference) numbers() string {
	if r.water == nil {
		return ""
	}
	return r.gravity.String() + " x " + r.water.Density().String()
}

func signedText(x *big.Rat) string {
	if x.Sign() < 0 {
		return "- " + units.ExactText(new(big.Rat).Neg(x))
	}
	return "+ " + units.ExactText(x)
}

func sumText(readings []Reading) string {
	if len(readings) > 12 {
		return fmt.Sprintf("sum of %d readings/%d", len(readings), len(readings))
	}
	return meanText(exactOf(readings))
}

// meanText writes the mean of numbers, such as "(145.5 + 145.4)/2".
func meanText(xs []*big.Rat) string {
	var all []string
	for _, x := range xs {
		all = append(all, units.ExactText(x))
	}
	return fmt.Sprintf("(%s)/%d", strings.Join(all, " + "), len(xs))
}

func fixed(x *big.Rat, r units.Rounding) string { return x.FloatString(max(0, r.Places)) }

// toDecimal converts a number that was rounded by r, so the decimal is exact.
func toDecimal(x *big.Rat, r units.Rounding) decimal.Decimal {
	return decimal.NewFromBigRat(x, int32(max(0, r.Places)))
}
