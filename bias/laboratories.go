package bias

import (
	"fmt"

	"github.com/densilot/densilot/stats"
)

// Laboratory is what one laboratory, gauge or operator found on one material.
type Laboratory struct {
	ID      string
	Results []float64 // in one unit, as many as every other laboratory has
}

// LaboratoryStudy is the precision of a method as laboratories showed it on one
// material, in the unit of the results.
type LaboratoryStudy struct {
	stats.InterlaboratoryStudy
	IDs []string // of the laboratories, in the order of Scores
}

// CompareLaboratories gives the repeatability and reproducibility of a method from p ≥ 3
// laboratories, gauges or operators with n ≥ 2 results each on one material, and shows
// which of them stands apart, as [stats.Interlaboratory] says. A mark is a question to
// the laboratory; nothing is left out.
//
// Errors are [*stats.InputError] with the id, around [ErrNoID], [ErrRepeatedID],
// [stats.ErrTooFew], [stats.ErrLength], [stats.ErrNotFinite], [stats.ErrLevel],
// [stats.ErrOverflow] or [stats.ErrUnderflow].
//
// Source: ASTM E691 (from memory).
func CompareLaboratories(labs []Laboratory, o stats.InterlaboratoryOptions) (LaboratoryStudy, error) {
	const fn = "bias.CompareLaboratories"
	var s LaboratoryStudy
	var results [][]float64
	seen := make(map[string]bool, len(labs))
	for i, l := range labs {
		if err := checkID(fn, "labs", i, l.ID, seen[l.ID]); err != nil {
			return LaboratoryStudy{}, err
		}
		seen[l.ID] = true
		if len(l.Results) != len(labs[0].Results) {
			return LaboratoryStudy{}, place(fn, "labs", i, l.ID, "", fmt.Errorf("%w (%d results, the first has %d)", stats.ErrLength, len(l.Results), len(labs[0].Results)))
		}
		if _, err := stats.Summarize(l.Results); err != nil {
			return LaboratoryStudy{}, inRecord(fn, "labs", i, l.ID, stats.Renamed(err, fn, "Results"))
		}
		s.IDs, results = append(s.IDs, l.ID), append(results, l.Results)
	}
	if len(labs) < 3 {
		return LaboratoryStudy{}, stats.Refuse(fn, "labs", "", fmt.Errorf("%w (have %d, need 3)", stats.ErrTooFew, len(labs)))
	}
	var err error
	if s.InterlaboratoryStudy, err = stats.Interlaboratory(results, o); err != nil {
		return LaboratoryStudy{}, stats.Renamed(err, fn, "")
	}
	return s, nil
}
