package density

import (
	"strconv"

	"github.com/densilot/densilot/stats"
)

// VFA returns the voids filled with asphalt, the part of the voids in mineral
// aggregate that is not air, in percent:
//
//	VFA = 100 · (VMA - Va)/VMA
//
// vma, more than 0 and at most 100, and airVoids, from 0 to vma, are percentages of
// the volume of the mix, as of [VMA] and [AirVoids].
//
// Errors are [*stats.InputError] around [ErrPercentage] for a number outside its
// range, or [ErrVoids] for more air voids than voids. [AuditVoids] is the exact
// form.
//
// Source: Asphalt Institute MS-2, AASHTO R 35 (formula from memory).
func VFA(vma, airVoids float64) (float64, error) {
	const fn = "density.VFA"
	switch {
	case !(vma > 0 && vma <= 100):
		return 0, stats.Refuse(fn, "vma", strconv.FormatFloat(vma, 'g', -1, 64), ErrPercentage)
	case !(airVoids >= 0 && airVoids <= 100):
		return 0, stats.Refuse(fn, "airVoids", strconv.FormatFloat(airVoids, 'g', -1, 64), ErrPercentage)
	case airVoids > vma:
		return 0, stats.Refuse(fn, "airVoids", strconv.FormatFloat(airVoids, 'g', -1, 64), ErrVoids)
	}
	return 100 * ((vma - airVoids) / vma), nil
}
