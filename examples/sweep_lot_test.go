package examples_test

import (
	"testing"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
)

var lotFunctions = []any{
	lot.AtLeast, lot.AtLeastDecimal, lot.AtMost, lot.AtMostDecimal, lot.Between, lot.BetweenDecimal, lot.Composite,
	lot.EstimateLots, lot.EstimateWithin, lot.Formula, lot.MeanAbsoluteDeviation, lot.NewPlan, lot.NewSchedule,
	lot.PercentWithin, lot.PlaceOf, lot.QualityIndex, lot.RandomLocations, lot.Step, lot.Through, lot.TotalPay, lot.Verify,
	lot.VerifyEquivalence, lot.VerifyFamily, lot.VerifyPair,
}

func lotValues(t *testing.T) []any {
	limits := lot.AtLeast(92)
	schedule := must(lot.NewSchedule(lot.Segment{From: decimal.Zero, Pay: lot.Step(decimal.NewFromInt(1))}))(t)
	rounding := lot.RoundingPolicy{Value: absolute, Mean: absolute, StdDev: absolute, Q: absolute, Measure: absolute, Factor: half, Money: half}
	terms := lot.Terms{Name: "invented", Characteristic: "mat density", Unit: "%", GmmSource: "mean of day", Limits: limits, Plausible: lot.Between(0.5, 110),
		Estimation: lot.Estimation{Method: lot.ExactWithin},
		Rounding:   rounding, Schedule: schedule, UnitPrice: hundred, QuantityUnit: "t", Currency: "USD"}
	oneLot := lot.Lot{ID: "7", Unit: "%"}
	for _, v := range []float64{93.1, 92.4, 94.0, 93.3, 91.8} {
		oneLot.Results = append(oneLot.Results, lot.Result{ID: decimal.NewFromFloat(v).String(), Value: decimal.NewFromFloat(v), Quantity: hundred})
	}
	own := []any{
		[]lot.Weighted{{Name: "a", Factor: hundred, Weight: decimal.New(6, -1)}, {Name: "b", Factor: hundred, Weight: decimal.New(4, -1)}},
		lot.Decision(0), lot.Accepted, limits, lot.Between(92, 97), lot.Step(hundred),
		must(lot.NewPlan(terms))(t), schedule, terms, oneLot, rounding, make([]lot.Within, 1), make([]lot.Within, 2),
		lot.TotalTerms{UnitPrice: hundred, QuantityUnit: "t", Currency: "USD", Factor: half, Money: half},
		[]lot.LotFactor{{Lot: "7", Quantity: hundred, Factor: decimal.New(98, -2)}, {Lot: "8", Quantity: hundred, Factor: decimal.New(1, 0)}},
	}
	return append(append(own, verificationValues(t)...), samplingValues(t)...)
}

func verificationValues(t *testing.T) []any {
	terms := lot.VerificationTerms{Characteristic: "mat density", Unit: "%", Kind: lot.IndependentSamples,
		VarianceAlpha: 0.05, MeanAlpha: 0.05, Difference: 0.3, Power: 0.9}
	split := lot.VerificationTerms{Characteristic: "air voids", Unit: "%", Kind: lot.SplitSamples, MeanAlpha: 0.05, Difference: 0.5, Power: 0.9}
	pair := lot.PairTerms{Characteristic: "core", Unit: "%", D2S: decimal.New(8, -1), Source: "invented", Difference: 0.5, Power: 0.9}
	contractor, agency := []float64{93.2, 92.1, 94.4, 91.5}, []float64{92.9, 91.7, 94.0, 91.1}
	one := must(lot.Verify(contractor, agency, terms))(t)
	two := must(lot.Verify(contractor, agency, split))(t)
	margins := stats.Margins{Lower: -0.6, Upper: 0.6}
	split.Difference = 0
	equivalence := must(lot.VerifyEquivalence(contractor, agency, margins, split))(t)
	members := must(lot.VerifyFamily([]lot.Verification{one, two}, 0.05))(t)
	return []any{
		lot.SplitSamples, lot.DifferenceShown, terms, split, pair, margins, one, two, equivalence, *one.Detection,
		[]lot.Verification{one, two}, members[0], must(lot.VerifyPair(hundred, hundred, pair))(t),
	}
}

func samplingValues(t *testing.T) []any {
	terms := lot.SamplingTerms{
		Lot:     "7",
		Along:   lot.Axis{Name: "tonnage", Unit: "t", Rounding: halfEven(1)},
		Sublots: []lot.SublotSize{{ID: "7-1", Size: hundred}, {ID: "7-2", Size: decimal.NewFromInt(80)}},
		Across: &lot.Transverse{Axis: lot.Axis{Name: "offset", Unit: "m", Rounding: half,
			Excluded: []lot.Exclusion{{From: decimal.Zero, To: decimal.New(5, -1), Reason: "edge"}}}, Width: decimal.New(35, -1)},
	}
	return []any{terms, terms.Along, terms.Across.Excluded, *terms.Across, terms.Sublots, must(lot.RandomLocations(terms, 7))(t)}
}
