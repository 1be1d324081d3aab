// Package stats holds the statistics a quality engineer needs when a decision
// rests on a handful of results: means with honest intervals, outlier screens,
// and the distributions behind them, accurate in both tails.
//
// It knows nothing of paving and nothing of units. Programs that judge a lot
// against a contract want package lot, programs that correlate a gauge with
// cores want package bias; both call this one.
//
// # Conventions
//
// Functions take plain float64 slices, never change them and keep no state, so
// all of them are safe for concurrent use. A standard deviation has divisor
// n-1. A level is the confidence of an interval as a fraction, alpha the
// significance of a test as a fraction; neither has a default, because both
// move decisions.
//
// Bad input is an [*InputError] that names the argument and wraps a reason for
// errors.Is. A sound result with something to think about carries a [Warning].
// No function panics, and none returns NaN or an infinity beside a nil error.
//
// # Which function for which question
//
// Of one sample:
//
//   - What are its mean and spread? [Summarize], and [Describe] with the shape; [Accumulator]
//     for a stream or for parts that are merged. [Median], [MAD] and [Quantile] where wild
//     values should count little.
//   - How sure is the mean? [MeanInterval]; any other statistic, [Bootstrap].
//   - Is the mean the one stated? [OneSampleT]; is it near enough, [OneSampleEquivalence].
//   - Which share of the population keeps a limit? [ConformingInterval]. Between which
//     values does a stated share lie? [ToleranceTwoSided], and [ToleranceOneSided] beyond one.
//   - Is a value an outlier? [Grubbs], or [Dixon], which sets gaps against ranges where Grubbs
//     has a standard deviation. Two on one side, [TwoOutliers]; up to a stated number,
//     [GeneralizedESD]. They flag and never drop.
//   - May it be normal at all? [ShapiroWilk] and [AndersonDarling]; in how coarse steps was
//     it recorded, [RecordedResolution]; where is its widest gap, [LargestGap].
//
// Of two samples and more:
//
//   - Do the means differ? [PairedT] for pairs; [WelchT] for samples taken apart, and
//     [PooledT] where their variances are known to be alike; [OneWay] for several groups.
//   - Are they near enough to be called equal? [PairedEquivalence], [WelchEquivalence],
//     [PooledEquivalence].
//   - Do the variances differ? [EqualVariances].
//   - How many values does it take, and what could these have found? [TSampleSize],
//     [FSampleSize], [EquivalenceSampleSize]; [TPower], [FPower], [EquivalencePower],
//     [DetectableDifference].
//   - Several tests at once? [Holm] adjusts their p.
//
// Of values in order:
//
//   - Is a process in control? [NewIndividualsChart] for single values, [NewSubgroupChart] for
//     means with ranges or standard deviations, [EWMA] and [CUSUM] for small lasting shifts;
//     [RunSignals] reads the first two by rules that are data.
//   - Does it drift? [Trend]. Does a value depend on the one before? [LagOneTest] and
//     [VonNeumann].
//
// Of a line:
//
//   - y over an x without error: [FitLine], [FitPolynomial], [FitLinear], each also through the
//     origin but the second; is a line enough, [LackOfFit]; which x belongs to a y,
//     [LineFit.Calibrate].
//   - Both have errors: [FitDeming] where the ratio of the errors is known,
//     [FitDemingReplicates] where repeated measurements show it, [FitYork] where each point has
//     its own.
//   - Some points may be wild: [FitTheilSen] where x has no error, [FitPassingBablok] between
//     two methods.
//
// Of two methods of measuring one thing, how far they differ:
//
//   - [LimitsOfAgreement], or [LimitsOfRatio] where the difference grows in proportion, or
//     [RegressionLimits] where it depends on the size in another way.
//   - Measured more than once: [ReplicatedLimits], and [LinkedLimits] where the thing itself
//     changes from one time to the next.
//
// Of where variance arises:
//
//   - [OneWayComponents] and [NestedComponents] split it by mean squares, [NestedREML] by
//     likelihood, which is for unbalanced data.
//   - How precise is a test method in one laboratory and between several?
//     [Interlaboratory], repeatability and reproducibility as in ASTM E691.
//
// # How a test answers
//
// A test reports its statistic with a p from the survival function, which is small
// but never 0, and the interval that says what the data still allow. "Not rejected"
// carries a warning, because it does not mean equal: the Equivalence functions show
// that, and the Power, SampleSize and Detectable functions what a test could have
// found. Where nothing varies there is no p: the statistic is nil and [Status] says
// why.
//
// # When not to use it
//
// For tests by ranks, censored or categorical data, designed experiments with several
// factors that cross, mixed models that are not nested, long series in time and Bayesian
// answers: a general package such as R has them. Nearly all here assumes independent
// values of a normal population; what does not, says so.
//
// # Accuracy and cost
//
// Largest relative error in either tail against values of 20 digits and more,
// measured by go test ./stats -run Accuracy -v, where gonum's stand beside them; and
// time beside that of gonum v0.17 in one run of go test ./stats -run - -bench . (amd64,
// one core). Nothing in this table allocates.
//
//	function              method                                       error     time/gonum, or time
//	SymmetricBeta         n ≤ 32: piecewise polynomials of degree 12   8e-16     1/17
//	                      else positive series, expansion in 1/a       2e-15
//	  quantiles           Halley steps on the same kernel              9e-16
//	StudentT              the same kernel                              4e-15     1/8 (ν = 4), 1/3 (ν = 60)
//	  quantiles           the same kernel                              2e-15     1/29
//	Grubbs critical value the same kernel                              3e-16
//	Normal                erfc, argument corrected                     3e-16     1.2
//	ChiSquared            series and continued fraction                1e-13 ¹   1.3
//	  quantiles           Halley steps                                 2e-15     0.7
//	FDistribution         continued fraction                           1e-13 ¹   0.9
//	  quantiles           Halley steps                                 4e-15     1.0
//	NoncentralT           Owen's sums, else trapezoid in ln w          2e-13 ²   1/4 (ν = 4) to 3 (whole table)
//	  quantiles           secants on the normal score of the tails               0.6
//	ToleranceOneSided     quantile of NoncentralT                      1e-14     3 µs at n = 5
//	ToleranceTwoSided     trapezoid over the mean                      5e-12     40 µs at n = 5
//	DixonCritical         trapezoid in ln v and y                      4e-15     3 ms at n = 10
//	NewChartConstants     trapezoid in ln w and the middle             2e-15     0.5 ms
//
// ¹ at tails of 1e-150, where the exponent's own rounding shows; 2e-14 above 1e-15.
//
// ² down to 1e-300, |ncp| to 100, ν to 9999 and not whole. gonum's lower tail,
// timed alone against both of ours, is good to 1e-12 absolute for ncp below 38
// and wrong beyond.
//
// Of samples and fits: digits that agree with the certified values of the NIST
// Statistical Reference Datasets beside the most that float64 data allow (both
// printed by the same tests), and time beside gonum or a loop.
//
//	function                  method                                   error or digits     time
//	Describe, Summarize       two passes in blocks, means in pairs     at the ceiling      1/2.4 gonum (5 values)
//	                                                                                       1/2.9 gonum (1e7)
//	Accumulator               one pass, mean and squares in pairs      at the ceiling      23 ns a value
//	Sum, Mean                 compensated, exact where in doubt        correctly rounded   2.5 plain loops
//	Quantile, Median, MAD     selection on a copy                      exact               1/6.5 of sorting (1e5)
//	LagOne                    sums in pairs                            at the ceiling      20 ns a value
//	OneWay                    means and sums in pairs                  at the ceiling      35 ns a value
//	FitLine                   centred sums in pairs                    at the ceiling      65 ns a point
//	FitLinear, FitPolynomial  Householder reflections in pairs         at the ceiling      30·n·(p+1)² ns
//	FitTheilSen               selection among slopes by counting       to the last bit     1/160 of sorting (5000)
//	Bootstrap                 own random stream for each replicate     as the statistic    0.7 µs a median of 30
//
// Sources stand with each type. Two forms of one function meet within these
// errors; tests walk across the switches. The bits may differ between processors
// that fuse a multiplication with an addition and those that do not, except in
// the kernel of SymmetricBeta for n ≤ 32, which prevents it.
package stats
