package examples_test

import (
	"errors"
	"testing"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// sweptFunctions are the exported functions of the module.
var sweptFunctions = []any{
	units.ExactText, units.ParseDecimal, units.ParseDensity, units.ParseDensityDifference, units.ParseDensityUnit,
	units.ParseLength, units.ParseLengthUnit, units.ParseMass, units.ParseMassUnit, units.ParseSpecificGravity,
	units.ParseTemperature, units.ParseTemperatureDifference, units.ParseTemperatureUnit, units.ParseWaterConvention,
	units.SpecificGravityOf, units.WaterAt,
	stats.Bootstrap, stats.ConformingInterval, stats.ConformingIntervalOf, stats.Describe, stats.DetectableDifference,
	stats.EqualVariances, stats.EqualVariancesOf, stats.EquivalencePower, stats.EquivalenceSampleSize, stats.FPower,
	stats.FSampleSize, stats.FitLine, stats.FitLineThroughOrigin, stats.FitLinear, stats.FitLinearThroughOrigin,
	stats.FitPolynomial, stats.GeneralizedESD, stats.Grubbs, stats.GrubbsCritical, stats.GrubbsCriticalBounds, stats.Holm,
	stats.LagOne, stats.LargestGap, stats.MAD, stats.MADInto, stats.Mean, stats.MeanInterval, stats.MeanIntervalOf, stats.Median,
	stats.NewChiSquared, stats.NewFDistribution, stats.NewNoncentralT, stats.NewNormal, stats.NewStudentT, stats.NewSymmetricBeta,
	stats.OneSampleEquivalence, stats.OneSampleEquivalenceOf, stats.OneSampleT, stats.OneSampleTOf, stats.OneWay,
	stats.PairedEquivalence, stats.PairedT, stats.PooledEquivalence, stats.PooledEquivalenceOf, stats.PooledT, stats.PooledTOf,
	stats.Quantile, stats.QuantileInto, stats.Sum, stats.Summarize, stats.TPower, stats.TSampleSize, stats.ToleranceOneSided,
	stats.ToleranceTwoSided, stats.TwoOutliers, stats.TwoOutliersCritical, stats.WelchEquivalence, stats.WelchEquivalenceOf,
	stats.WelchT, stats.WelchTOf,
	density.AirVoids, density.AlreadyCorrected, density.AuditCore, density.AuditReadings, density.ControlStrip, density.Core,
	density.GmbSurfaceDry, density.GmmBowl, density.GmmFlask, density.LaboratoryBulk, density.MaximumTheoretical,
	density.MeanGravity, density.MeanOf, density.NewOffset, density.ParseReferenceKind, density.PercentCompaction,
	density.RollerPattern, density.Uncorrected,
	density.NewLine, density.NewRatio,
	bias.CheckBlock, bias.CompareGauges, bias.CompareGroups, bias.CompareLaboratories, bias.CompareModels, bias.EliminateWorst, bias.EstimateOffset,
	bias.GainFrom, bias.LocationOf, bias.OffsetOf, bias.PlanStrip, bias.Recheck, bias.StripComponents, bias.UncertaintyOf,
	bias.UpdateOffset,
	lot.AtLeast, lot.AtLeastDecimal, lot.AtMost, lot.AtMostDecimal, lot.Between, lot.BetweenDecimal, lot.Composite,
	lot.EstimateWithin, lot.Formula, lot.MeanAbsoluteDeviation, lot.NewPlan, lot.NewSchedule, lot.PercentWithin, lot.QualityIndex,
	lot.Step, lot.Through,
}

// sweptValues are values of types of the module, good ones; the generator adds zero and
// spoiled ones. Their types are those whose methods are swept; the values are receivers
// and arguments.
func sweptValues(t *testing.T) []any {
	half := units.Rounding{Method: units.HalfEven, Places: 2}
	absolute := units.Rounding{Method: units.Absolute}
	scope := density.Scope{Gauge: "G-07", Mix: "TC-12.5-A", Lift: "surface"}
	d := units.LbPerFt3.Of(147.2)
	reading, gmm := density.Uncorrected(units.LbPerFt3.Of(144.7)), units.SpecificGravityOf(2.514)
	correction := must(density.NewOffset(density.Offset{Offset: units.LbPerFt3.Difference(2.4), Scope: scope, Source: "strip"}))(t)
	maximum := must(density.MaximumTheoretical(gmm, units.Water62_245))(t)
	sum := stats.Summary{N: 5, Mean: 93.2, StdDev: 0.8}
	fit := must(stats.FitLine([]float64{1, 2, 3, 4}, []float64{2, 4.1, 5.9, 8}))(t)
	limits, hundred := lot.AtLeast(92), decimal.NewFromInt(100)
	schedule := must(lot.NewSchedule(lot.Segment{From: decimal.Zero, Pay: lot.Step(decimal.NewFromInt(1))}))(t)
	rounding := lot.RoundingPolicy{Value: absolute, Mean: absolute, StdDev: absolute, Q: absolute, PWL: absolute, Factor: half, Money: half}
	terms := lot.Terms{Name: "invented", Characteristic: "mat density", Unit: "%", Limits: limits, Plausible: lot.Between(0.5, 110),
		Rounding: rounding, Schedule: schedule, UnitPrice: hundred, QuantityUnit: "t", Currency: "USD"}
	var account stats.Accumulator
	account.AddSlice([]float64{93.1, 92.4, 94.0, 93.3, 91.8})
	var locations []bias.Location
	var cores []bias.Core
	for _, id := range []string{"1", "2", "3", "4"} {
		locations = append(locations, bias.Location{ID: id, Readings: []density.Reading{reading, reading}})
		cores = append(cores, bias.Core{ID: id, Density: density.Core(d)})
	}
	oneLot := lot.Lot{ID: "7", Unit: "%"}
	for _, v := range []float64{93.1, 92.4, 94.0, 93.3, 91.8} {
		oneLot.Results = append(oneLot.Results, lot.Result{ID: decimal.NewFromFloat(v).String(), Value: decimal.NewFromFloat(v), Quantity: hundred})
	}
	return append(biasValues(t, scope), []any{
		d, units.LbPerFt3.Difference(0.5), units.LbPerFt3, units.KgPerM3, units.DensityUnit(0),
		units.Foot.Of(12), units.Foot, units.Gram.Of(1250.5), units.Gram,
		units.Fahrenheit.Of(285), units.Fahrenheit.Of(77), units.Fahrenheit, units.Fahrenheit.Difference(9),
		gmm, half, absolute, units.HalfEven, units.Step{}, units.Water62_245, units.WaterConvention(0),
		must(units.WaterAt(units.Fahrenheit.Of(77)))(t), units.ParseError{}, units.ParseError{Err: errors.New("x")},
		account, stats.BootstrapPercentile, stats.Quantile7, stats.Side(0), stats.Low, stats.High, stats.TwoSide, stats.Tested,
		stats.DesignPaired, stats.DesignOneSample, stats.DesignPooled, stats.DesignWelch, sum, fit,
		stats.BootstrapOptions{Replicates: 40, Level: 0.9, Method: stats.BootstrapBCa}, stats.Margins{Lower: -1, Upper: 1},
		stats.MeansPlan{Design: stats.DesignPooled, N1: 5, N2: 5, StdDev1: 1, StdDev2: 2, Difference: 1, Alpha: 0.05},
		stats.VariancesPlan{N1: 5, N2: 5, StdDev1: 1, StdDev2: 2, Alpha: 0.05},
		must(stats.WelchTOf(sum, stats.Summary{N: 3, Mean: 92, StdDev: 2}, 0.95))(t),
		stats.Interval{Lo: 1, Hi: 2, Level: 0.95}, stats.Gap{Lo: 1, Hi: 2, Below: 2, Above: 2}, stats.Warning{Where: "x"},
		stats.InputError{}, stats.InputError{Index: -1, Err: errors.New("x")},
		must(stats.NewChiSquared(4))(t), must(stats.NewFDistribution(4, 9))(t),
		must(stats.NewNoncentralT(4))(t), must(stats.NewNoncentralT(4.5))(t), must(stats.NewNormal(93, 1))(t),
		must(stats.NewStudentT(4))(t), must(stats.NewSymmetricBeta(1.5))(t),
		scope, correction, density.Core(d), density.Core(d).Origin(),
		reading, maximum, maximum.Kind(), density.Compaction{}, density.Pattern{}.Outcome,
		density.RoundingPolicy{Mean: absolute, Density: half, Maximum: half, Percentage: half},
		density.SurfaceDryMasses{Dry: units.Gram.Of(1250.5), SurfaceDry: units.Gram.Of(1256), InWater: units.Gram.Of(725)},
		density.BowlMasses{Dry: units.Gram.Of(2000), BowlInWater: units.Gram.Of(1300), SampleInWater: units.Gram.Of(2500)},
		density.FlaskMasses{Dry: units.Gram.Of(1203.1), Filled: units.Gram.Of(7480.2), WithSample: units.Gram.Of(8204.9), Water: units.Celsius.Of(24)},
		density.Pass{Readings: []density.Reading{reading, reading}, Mat: units.Fahrenheit.Of(250)},
		bias.Options{Level: 0.95, Rounding: half, Scope: scope, Source: "strip"},
		locations, cores, []density.Reading{reading, reading}, []lot.Weighted{{Name: "a", Factor: hundred, Weight: decimal.New(6, -1)}, {Name: "b", Factor: hundred, Weight: decimal.New(4, -1)}},
		decimal.Decimal{}, hundred, decimal.RequireFromString("92.45"), decimal.New(1, 400), decimal.New(-3, -30),
		lot.Decision(0), lot.Accepted, limits, lot.Between(92, 97), lot.Step(hundred),
		must(lot.NewPlan(terms))(t), schedule, terms, oneLot, rounding,
	}...)
}

// must passes a good value on; t is nil where another caller has looked.
func must[T any](v T, err error) func(t *testing.T) T {
	return func(t *testing.T) T {
		if err != nil && t != nil {
			t.Fatal(err)
		}
		return v
	}
}
