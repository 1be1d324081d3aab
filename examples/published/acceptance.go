package main

import (
	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/units"
)

// sellersRisk is the percentage of lots at the acceptable quality that a plan by
// variables turns down.
func sellersRisk(in *input) (float64, error) {
	accepted, err := acceptedShare(in, in.float("aql"))
	return 100 * (1 - accepted), err
}

// limitingQuality is the percentage outside the limit at which such a plan accepts
// one lot in ten.
func limitingQuality(in *input) (float64, error) {
	lo, hi := 0.0, 100.0
	for range 60 {
		middle := (lo + hi) / 2
		accepted, err := acceptedShare(in, middle)
		if err != nil {
			return 0, err
		}
		if accepted > 0.1 {
			lo = middle
		} else {
			hi = middle
		}
	}
	return lo, nil
}

// acceptedShare is the chance that a lot with that percentage outside is accepted
// by the constant k of its quality index.
func acceptedShare(in *input, outside float64) (float64, error) {
	n := in.int("n")
	pwl, err := lot.PercentWithin(in.float("k"), n)
	if err != nil {
		return 0, err
	}
	e, err := lot.NewEstimator(n, lot.QualityOneLimit(100-outside))
	if err != nil {
		return 0, err
	}
	return e.AtLeast(pwl)
}

func placeOf(in *input) (lot.Place, error) {
	return lot.PlaceOf(in.decimal("number"), in.decimal("start"), in.decimal("size"), units.Rounding{Method: units.HalfEven, Places: 1})
}
