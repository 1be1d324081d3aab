package examples_test

import (
	"errors"
	"testing"

	"github.com/densilot/densilot/stats"
)

var statsFunctions = []any{
	stats.Bootstrap, stats.CUSUM, stats.ConformingInterval, stats.ConformingIntervalOf, stats.DemingLine, stats.Describe,
	stats.DetectableDifference, stats.EqualVariances, stats.EqualVariancesOf, stats.EquivalencePower,
	stats.EquivalenceSampleSize, stats.FPower, stats.FSampleSize, stats.FitDeming, stats.FitDemingReplicates, stats.FitLine,
	stats.FitLineThroughOrigin, stats.FitLinear, stats.FitLinearThroughOrigin, stats.FitPolynomial, stats.FitYork,
	stats.GeneralizedESD, stats.Grubbs, stats.GrubbsCritical, stats.GrubbsCriticalBounds, stats.Holm, stats.LackOfFit,
	stats.LackOfFitThroughOrigin, stats.LagOne, stats.LagOneTest, stats.LargestGap, stats.MAD, stats.MADInto, stats.Mean,
	stats.MeanInterval, stats.MeanIntervalOf, stats.Median, stats.NestedComponents, stats.NewChiSquared,
	stats.NewFDistribution, stats.NewIndividualsChart, stats.NewNoncentralT, stats.NewNormal, stats.NewReplicateRatio,
	stats.NewStudentT, stats.NewSymmetricBeta, stats.OneSampleEquivalence, stats.OneSampleEquivalenceOf, stats.OneSampleT,
	stats.OneSampleTOf, stats.OneWay, stats.OneWayComponents, stats.PairedEquivalence, stats.PairedT,
	stats.PooledEquivalence, stats.PooledEquivalenceOf, stats.PooledT, stats.PooledTOf, stats.Quantile, stats.QuantileInto,
	stats.RecordedResolution, stats.Sum, stats.Summarize, stats.SummarizePairs, stats.TPower, stats.TSampleSize,
	stats.ToleranceOneSided, stats.ToleranceTwoSided, stats.Trend, stats.TwoOutliers, stats.TwoOutliersCritical,
	stats.VonNeumann, stats.WelchEquivalence, stats.WelchEquivalenceOf, stats.WelchT, stats.WelchTOf,
	stats.Dixon, stats.DixonCritical, stats.EWMA, stats.NelsonRules, stats.NewChartConstants, stats.NewSubgroupChart,
	stats.RunSignals, stats.UsualDixonRatio, stats.WesternElectricRules, stats.AndersonDarling, stats.ShapiroWilk,
	stats.FitPassingBablok, stats.FitTheilSen, stats.LimitsOfAgreement, stats.LimitsOfAgreementOf, stats.LimitsOfRatio,
	stats.LinkedLimits, stats.RegressionLimits, stats.ReplicatedLimits,
	stats.ConsistencyHCritical, stats.ConsistencyKCritical, stats.Interlaboratory, stats.NestedREML,
	stats.Refuse, stats.Renamed,
}

func statsValues(t *testing.T) []any {
	sum := stats.Summary{N: 5, Mean: 93.2, StdDev: 0.8}
	xs, ys := []float64{1, 2, 3, 4, 5}, []float64{2, 4.1, 5.9, 8, 10.3}
	groups := [][]float64{{93.1, 92.4}, {94.0, 93.3}, {91.8, 92.6}}
	others := [][]float64{{95.2, 94.1}, {96.0, 95.4}, {93.7, 93.9}}
	deming := stats.DemingOptions{VarYOverVarX: 0.25, Level: 0.95, Method: stats.DemingAngle}
	jackknife := stats.DemingOptions{VarYOverVarX: 1, Level: 0.9, Method: stats.DemingJackknife}
	var account stats.Accumulator
	account.AddSlice([]float64{93.1, 92.4, 94.0, 93.3, 91.8})
	return []any{
		account, stats.BootstrapPercentile, stats.Quantile7, stats.Side(0), stats.Low, stats.High, stats.TwoSide, stats.Tested,
		stats.DesignPaired, stats.DesignOneSample, stats.DesignPooled, stats.DesignWelch, sum,
		must(stats.FitLine(xs, ys))(t), must(stats.FitPolynomial(xs, ys, 1))(t), must(stats.FitPolynomial(xs, ys, 2))(t),
		stats.BootstrapOptions{Replicates: 40, Level: 0.9, Method: stats.BootstrapBCa}, stats.Margins{Lower: -1, Upper: 1},
		stats.MeansPlan{Design: stats.DesignPooled, N1: 5, N2: 5, StdDev1: 1, StdDev2: 2, Difference: 1, Alpha: 0.05},
		stats.VariancesPlan{N1: 5, N2: 5, StdDev1: 1, StdDev2: 2, Alpha: 0.05},
		must(stats.WelchTOf(sum, stats.Summary{N: 3, Mean: 92, StdDev: 2}, 0.95))(t),
		stats.Interval{Lo: 1, Hi: 2, Level: 0.95}, stats.Gap{Lo: 1, Hi: 2, Below: 2, Above: 2}, stats.Warning{Where: "x"},
		stats.InputError{}, stats.InputError{Index: -1, Err: errors.New("x")},
		must(stats.NewChiSquared(4))(t), must(stats.NewFDistribution(4, 9))(t),
		must(stats.NewNoncentralT(4))(t), must(stats.NewNoncentralT(4.5))(t), must(stats.NewNormal(93, 1))(t),
		must(stats.NewStudentT(4))(t), must(stats.NewSymmetricBeta(1.5))(t),
		stats.Fieller, stats.CalibrationOptions{Level: 0.95, Readings: 2, Method: stats.Fieller}, stats.Between,
		stats.ConfidenceSet{Interval: stats.Interval{Lo: 1, Hi: 2, Level: 0.95}, Shape: stats.Outside},
		stats.DemingAngle, deming, jackknife, must(stats.FitDeming(xs, ys, deming))(t), must(stats.FitDeming(xs, ys, jackknife))(t),
		must(stats.SummarizePairs(xs, ys))(t), stats.Line{Intercept: 1, Slope: 2}, groups, others, fiveEach[:1], fiveEach[:2],
		stats.AbsoluteErrors, stats.YorkOptions{Errors: stats.AbsoluteErrors, Level: 0.95},
		stats.CUSUMOptions{Target: 93, Reference: 0.4, DecisionInterval: 4}, must(stats.RecordedResolution(xs))(t),
		stats.ModifiedLargeSample, stats.ComponentOptions{Level: 0.95, Method: stats.ModifiedLargeSample},
		stats.ComponentOptions{Level: 0.9, Method: stats.Satterthwaite},
		stats.RankExact, stats.TheilSenOptions{Level: 0.95, Method: stats.RankNormal}, stats.TheilSenOptions{Level: 0.9, Method: stats.RankExact},
		stats.PassingBablokOptions{Level: 0.95}, stats.LimitExact, stats.AgreementOptions{Level: 0.95, Coverage: 0.95, Method: stats.LimitExact},
		stats.AgreementOptions{Level: 0.9, Coverage: 0.8, Method: stats.LimitApproximate}, stats.ReplicatedAgreementOptions{Level: 0.95, Coverage: 0.95},
		stats.SpreadLinear, stats.RegressionAgreementOptions{Level: 0.95, Coverage: 0.95, Spread: stats.SpreadConstant},
		must(stats.RegressionLimits(ys, xs, stats.RegressionAgreementOptions{Level: 0.95, Coverage: 0.95, Spread: stats.SpreadLinear}))(t),
		stats.InterlaboratoryOptions{Level: 0.95, Alpha: 0.005}, stats.InterlaboratoryOptions{Level: 0.9, Alpha: 0.05},
		[][]string{{"1", "1", "2", "2", "2"}}, [][]string{{"1", "1", "1", "2", "2", "2"}, {"a", "a", "b", "c", "d", "d"}},
		stats.DixonR10, stats.DixonR11, stats.DixonR21, stats.DixonR22, stats.SpreadRange, stats.SpreadStdDev, stats.BeyondOneSide,
		stats.EWMAOptions{Target: 93, Sigma: 0.5, Weight: 0.2, Multiple: 2.962}, stats.WesternElectricRules(), stats.NelsonRules(),
	}
}
