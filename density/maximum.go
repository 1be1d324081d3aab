package density

import (
	"fmt"
	"math/big"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// MeanGravity returns the mean of specific gravities, such as the Gmm
// determinations of one day, computed exactly and recorded as the rule says
// (three decimals are usual), with the step that shows it.
//
// Errors are [*stats.InputError] around [stats.ErrTooFew] for none,
// [units.ErrNotGiven], [ErrNotPositive], also where the rule rounds the mean to
// nothing, [units.ErrRounding] or [units.ErrRange].
func MeanGravity(gravities []units.SpecificGravity, r units.Rounding) (units.SpecificGravity, units.Step, error) {
	const fn = "density.MeanGravity"
	if err := r.Validate(); err != nil {
		return units.SpecificGravity{}, units.Step{}, stats.Refuse(fn, "r", "", err)
	}
	if len(gravities) == 0 {
		return units.SpecificGravity{}, units.Step{}, stats.Refuse(fn, "gravities", "", fmt.Errorf("%w (have 0, need 1)", stats.ErrTooFew))
	}
	sum, numbers := new(big.Rat), ""
	for i, g := range gravities {
		if g.IsZero() {
			return units.SpecificGravity{}, units.Step{}, &stats.InputError{Func: fn, Arg: "gravities", Index: i, Err: units.ErrNotGiven}
		}
		if g.Float64() <= 0 {
			return units.SpecificGravity{}, units.Step{}, &stats.InputError{Func: fn, Arg: "gravities", Index: i, Value: g.String(), Err: ErrNotPositive}
		}
		sum.Add(sum, g.Exact())
		numbers += " + " + g.String()
	}
	mean := sum.Quo(sum, new(big.Rat).SetInt64(int64(len(gravities))))
	rounded, _ := r.Rat(mean)
	if rounded.Sign() <= 0 {
		return units.SpecificGravity{}, units.Step{}, stats.Refuse(fn, "r", r.String(), ErrNotPositive)
	}
	step := units.Step{What: "mean specific gravity", Formula: "ΣG/n", Numbers: fmt.Sprintf("(%s)/%d", numbers[3:], len(gravities)),
		Value: units.ExactText(mean), Rounded: units.ExactText(rounded), Rounding: r.Rule()}
	x, _ := rounded.Float64()
	return units.SpecificGravityOf(x), step, nil
}
