package density

import (
	"errors"
	"math"
	"strconv"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// VMA returns the voids in mineral aggregate of a compacted mix in percent of its
// volume: the air and the effective asphalt between the particles,
//
//	VMA = 100 - Gmb·Ps/Gsb
//
// where Gsb is the bulk specific gravity of the combined aggregate and aggregate
// is Ps, the aggregate in percent of the mass of the whole mix (100 less the
// asphalt content), more than 1 and at most 100. Gmb and Gsb are at one
// temperature. A negative result means that the aggregate alone would fill more
// than the specimen and is refused: look for a wrong Gsb.
//
// Errors are [*stats.InputError] around [units.ErrNotGiven], [ErrNotPositive],
// [ErrPercentage] for aggregate, or [ErrVoids]. [AuditVoids] is the exact form.
//
// Source: Asphalt Institute MS-2, AASHTO R 35 (formula from memory).
func VMA(gmb, gsb units.SpecificGravity, aggregate float64) (float64, error) {
	const fn = "density.VMA"
	if err := errors.Join(gravityGiven(fn, "gmb", gmb), gravityGiven(fn, "gsb", gsb)); err != nil {
		return 0, err
	}
	if !(aggregate > 0 && aggregate <= 100) {
		return 0, stats.Refuse(fn, "aggregate", strconv.FormatFloat(aggregate, 'g', -1, 64), ErrPercentage)
	}
	if err := notFraction(fn, "aggregate", decimal.NewFromFloat(aggregate)); err != nil {
		return 0, err
	}
	vma := 100 - float64(gmb.Float64()/gsb.Float64()*aggregate)
	if vma < 0 || math.IsNaN(vma) {
		return 0, stats.Refuse(fn, "gsb", gsb.String(), ErrVoids)
	}
	return vma, nil
}
