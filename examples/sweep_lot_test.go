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
	lot.VerifyEquivalence, lot.VerifyFamily, lot.VerifyPair, lot.VerifyByPlans,
	lot.ParseFieldSheet, lot.ParsePairVerification, lot.ParseVerification, lot.WorkingHTML,
	lot.Changes, lot.NewDeviationTable, lot.ParseEvaluation, lot.ParseLot, lot.ParsePlan, lot.ParseTrueWithin, lot.Quadratic,
	lot.WithinInterval, lot.WithinMeasured, lot.WithinTable, lot.WorkingJSON, lot.WorkingMarkdown, lot.WorkingText,
	lot.AcceptanceCurve, lot.BestOf, lot.DesignAcceptance, lot.ExpectedPay, lot.FairPayLine, lot.NewEstimator, lot.NormalLots,
	lot.PayCurve, lot.QualitiesOverSpread, lot.QualityCentred, lot.QualityOf, lot.QualityOffCentre, lot.QualityOneLimit,
	lot.QualityRange, lot.RetestBelow, lot.RisksOf, lot.SerialLots, lot.SkewLots, lot.StratifiedLots, lot.TwoModeLots, lot.WithGauge,
	lot.PopulationWithin, lot.PopulationsWithin, lot.CorrelatedLots, lot.JointLots, lot.SeparateLots,
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
		[]lot.CharacteristicFactor{{Name: "a", Factor: decimal.New(95, -2), Weight: decimal.New(6, -1)}, {Name: "b", Factor: decimal.New(102, -2), Weight: decimal.New(4, -1)}},
		lot.Decision(0), lot.Accepted, lot.Number{Exact: 92.456, Used: "92.46"}, limits, lot.Between(92, 97), lot.Step(hundred),
		must(lot.NewPlan(terms))(t), schedule, terms, oneLot, rounding, make([]lot.Within, 1), make([]lot.Within, 2),
		lot.TotalTerms{UnitPrice: hundred, QuantityUnit: "t", Currency: "USD", Factor: half, Money: half},
		[]lot.LotFactor{{Lot: "7", Quantity: hundred, Factor: decimal.New(98, -2)}, {Lot: "8", Quantity: hundred, Factor: decimal.New(1, 0)}},
	}
	own = append(append(own, verificationValues(t)...), samplingValues(t)...)
	return append(append(own, documentValues(t, terms, oneLot)...), riskValues(t)...)
}

// documentValues are a plan, a lot and an evaluation, and their JSON.
func documentValues(t *testing.T, terms lot.Terms, oneLot lot.Lot) []any {
	plan := must(lot.NewPlan(terms))(t)
	evaluation := must(plan.Evaluate(oneLot))(t)
	oneTenth := decimal.New(1, -1)
	screen := terms
	screen.Outlier = &lot.OutlierPolicy{Test: lot.GeneralizedESDTest, Side: stats.TwoSide, Alpha: 0.05, MinN: 4, Suspects: 2}
	screening := must(lot.NewPlan(screen))(t)
	verified := terms
	verified.Verification = &lot.VerificationPolicy{Kind: lot.IndependentSamples, VarianceAlpha: 0.05, MeanAlpha: 0.05, Difference: 0.3, Power: 0.9}
	verifying := must(lot.NewPlan(verified))(t)
	verified.Verification.FamilyAlpha = 0.05
	family := must(lot.NewPlan(verified))(t)
	verified.Verification = &lot.VerificationPolicy{Kind: lot.SplitSamples, MeanAlpha: 0.05, Difference: 0.3, Power: 0.9,
		Pair: &lot.PairLimit{D2S: oneTenth, Source: "invented"}}
	paired := must(lot.NewPlan(verified))(t)
	late := oneLot
	late.Results = append([]lot.Result(nil), oneLot.Results...)
	late.Results[0].Value = decimal.New(925, -1)
	after := must(plan.Evaluate(late))(t)
	changes := must(lot.Changes(evaluation, after))(t)
	behind := must(plan.TrueWithin(evaluation, 0.9, lot.MeasurementError{Repeatability: lot.Component{Source: "gauge", StdErr: 0.3, DF: 20}}))(t)
	return []any{
		*must(screening.Evaluate(oneLot))(t).Screen, screening, verifying, family, paired, []lot.PlannedVerification{{Plan: family, Contractor: oneLot, Agency: late}}, must(verifying.Verify(oneLot, late))(t),
		behind, behind.Budget[0], must(behind.MarshalJSON())(t),
		evaluation, after, changes[0], must(plan.MarshalJSON())(t), must(oneLot.MarshalJSON())(t), must(evaluation.MarshalJSON())(t),
		lot.FormatError{Path: "/name", Err: lot.ErrMissing}, lot.VersionError{}, evaluation.Working,
		lot.ExactWithin, lot.QuantityWeights, lot.CompositeRule(1), lot.IndividualAction(1), lot.NegativeRule(1), lot.OutlierTest(1), lot.RetestRule(1), lot.SmallLotRule(1),
		lot.Estimation{Method: lot.ExactWithin}, []lot.DeviationRow{{To: &oneTenth, Factor: decimal.New(1, 0)}, {Factor: decimal.New(9, -1)}},
	}
}

func riskValues(t *testing.T) []any {
	good, poor := lot.QualityOneLimit(90), lot.QualityCentred(70)
	mat := lot.Population{Mean: 93.2, StdDev: 0.9}
	gaugeError := lot.MeasurementError{Common: []lot.Component{{Source: "offset", StdErr: 0.1, DF: 4}}, Repeatability: lot.Component{Source: "gauge", StdErr: 0.3, DF: 20}}
	return []any{
		good, poor, must(lot.NewEstimator(5, good))(t), must(lot.NewEstimator(4, poor))(t), lot.BestOf(2), lot.RetestBelow(50, 3), lot.Retesting{},
		lot.WantedRisks{AQL: good, RQL: lot.QualityOneLimit(50), Seller: 0.1, Buyer: 0.1}, gaugeError, gaugeError.Common[0],
		lot.LotSource(lot.NormalLots(93, 1)), []lot.Quality{good, poor}, make([]float64, 2), make([]lot.Pay, 2),
		func(pwl float64) lot.Quality { return lot.QualityOneLimit(pwl) },
		mat, []lot.Population{mat, mat}, [][]float64{{1, 0.5}, {0.5, 1}}, lot.SeparateLots(lot.NormalLots(93, 1)), lot.PayLine{Intercept: 0.55, Slope: 0.005, Cap: 1.05},
		lot.RiskOptions{N: 5, StdDev: 0.8, Curve: []lot.Population{mat}}, lot.PlanRisk{Acceptable: &lot.RiskPoint{Rejected: 0.1}}, lot.RiskPoint{},
	}
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
	policy := lot.VerificationPolicy{Kind: lot.IndependentSamples, VarianceAlpha: 0.05, MeanAlpha: 0.05, Difference: 0.3, Power: 0.9, FamilyAlpha: 0.05}
	pairOf := must(lot.VerifyPair(hundred, hundred, pair))(t)
	return []any{
		policy, must(one.MarshalJSON())(t), must(equivalence.MarshalJSON())(t), must(pairOf.MarshalJSON())(t),
		lot.SplitSamples, lot.DifferenceShown, terms, split, pair, margins, one, two, equivalence, *one.Detection,
		[]lot.Verification{one, two}, members[0], pairOf,
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
	sheet := must(lot.RandomLocations(terms, 7))(t)
	return []any{terms, terms.Along, terms.Across.Excluded, *terms.Across, terms.Sublots, sheet, must(sheet.MarshalJSON())(t)}
}
