package density

import (
	"fmt"
	"math"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Compaction is a density as a percentage of a reference density, with the kind
// of that reference.
type Compaction struct {
	Percent  float64 // 100 · density/reference
	Kind     ReferenceKind
	Warnings []stats.Warning
}

// String returns the percentage to 0.01 with its kind, such as
// "93.10 % of maximum theoretical density".
func (c Compaction) String() string { return fmt.Sprintf("%.2f %s", c.Percent, c.Kind.PercentOf()) }

// PercentCompaction returns
//
//	100 · d/reference
//
// in percent. d and the reference are in one unit. More than 100 % of maximum
// theoretical density is impossible and comes with [WarnAboveHundred]: look for a
// wrong Gmm, offset or water density.
//
// Errors are [*stats.InputError] around [units.ErrNotGiven], [ErrNotPositive],
// [ErrUnitMismatch], [ErrWater] for a core of [CoreOf] with another density of water
// than the reference, or [units.ErrRange] for a percentage beyond all numbers.
func PercentCompaction(d InPlace, ref Reference) (Compaction, error) {
	const fn = "density.PercentCompaction"
	if err := checkPair(fn, d, "ref", ref); err != nil {
		return Compaction{}, err
	}
	unit := ref.d.Unit()
	c := Compaction{Percent: 100 * (d.d.In(unit) / ref.d.In(unit)), Kind: ref.kind}
	if math.IsInf(c.Percent, 1) {
		return Compaction{}, stats.Refuse(fn, "ref", ref.String(), units.ErrRange)
	}
	c.Warnings = aboveHundred(c.Percent > 100, ref.kind)
	return c, nil
}

// AirVoids returns the air voids of the mat in percent of its volume,
//
//	100 · (1 - d/maximum)
//
// The reference must be the maximum theoretical density; for another kind the
// error wraps [ErrKind]. Otherwise errors are those of [PercentCompaction].
func AirVoids(d InPlace, maximum Reference) (float64, error) {
	const fn = "density.AirVoids"
	if err := checkPair(fn, d, "maximum", maximum); err != nil {
		return 0, err
	}
	if maximum.kind != KindMaximumTheoretical {
		return 0, stats.Refuse(fn, "maximum", maximum.String(), fmt.Errorf("%w; air voids need the maximum theoretical density", ErrKind))
	}
	unit := maximum.d.Unit()
	m := maximum.d.In(unit)
	voids := 100 * ((m - d.d.In(unit)) / m)
	if math.IsInf(voids, -1) {
		return 0, stats.Refuse(fn, "maximum", maximum.String(), units.ErrRange)
	}
	return voids, nil
}

func checkPair(fn string, d InPlace, arg string, ref Reference) error {
	if err := check(fn, "d", -1, d.d); err != nil {
		return err
	}
	if err := check(fn, arg, -1, ref.d); err != nil {
		return err
	}
	if err := checkUnit(fn, "d", -1, d.d, ref.d.Unit()); err != nil {
		return err
	}
	return d.sameWater(fn, "d", ref)
}

func aboveHundred(above bool, kind ReferenceKind) []stats.Warning {
	if !above || kind != KindMaximumTheoretical {
		return nil
	}
	return []stats.Warning{{Code: WarnAboveHundred,
		Text: "more than 100 % of maximum theoretical density cannot be; check Gmm, offset and water density"}}
}
