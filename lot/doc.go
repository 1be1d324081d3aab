// Package lot decides from a handful of sublot results whether a lot is accepted
// and what it is paid: outliers are screened, the percent within limits (PWL) is
// estimated, a pay factor is read off a schedule and money is computed to the
// cent.
//
// It works on plain numbers of any quality characteristic, such as percent
// compaction, air voids or binder content, and needs no other package of the
// trade.
//
// # Which function for which question
//
// A question, and the name to start from:
//
//   - What is the percent within limits of these numbers? [EstimateWithin].
//   - What does the contract make of this lot? [Plan.Evaluate], or [Plan.EvaluateLots] where
//     small lots are joined; [WorkingText] and its kin write the working. The plan comes
//     from [NewPlan] or, out of a file, [ParsePlan].
//   - What did a late result change? [Changes]. What is a contract paid in all? [TotalPay],
//     and [Composite] for several characteristics.
//   - How far can that percentage be off? [Plan.TrueWithin], or [WithinInterval] and
//     [WithinMeasured] of plain numbers.
//   - Who carries which risk under the contract? [Plan.Risk], over populations from
//     [PopulationsWithin]; of a bare limit on the estimate, [NewEstimator] and [RisksOf].
//   - How many sublots does it take? [DesignAcceptance]. Which line pays fairly?
//     [FairPayLine].
//   - Do contractor and agency agree? [Plan.Verify], or [Verify] without a plan. How many
//     results does that take? [stats.TSampleSize], before there are any.
//   - Where are the samples taken? [RandomLocations].
//
// # When not to use it
//
// For results that are no random sample, or far from normal: the percent within limits
// then says little, whatever the arithmetic gives. For attributes, such as cracked or not.
// For a contract whose computation is another one than [Terms] can say: do as the
// contract says.
//
// # The estimate
//
// With the mean x̄ and standard deviation s (divisor n-1) of n ≥ 3 results, and
// limits that belong to the inside,
//
//	Q_L = (x̄ - L)/s,   Q_U = (U - x̄)/s
//	PWL(Q, n) = 100 · (1 - I_x(n/2-1, n/2-1)),   x = 1/2 - Q·√n/(2(n-1)), clamped to [0, 1]
//	PWL = PWL(Q_L, n) + PWL(Q_U, n) - 100 for two limits
//
// It is the minimum variance unbiased estimate for a normal population, and the
// one that published PWL tables hold.
//
// # Two speeds
//
// [EstimateWithin] takes float64 values and allocates nothing. [Plan.Evaluate]
// takes decimals as they were recorded and a contract written as data; it
// computes in exact rational arithmetic, rounds only where the plan says, decides
// every comparison exactly (but for the p of two outliers, see [Screen]) and returns
// the working, so that a person can redo it. It gives the same bits on every processor.
//
// # A contract as data
//
// [Terms] say all that moves a decision: limits, how the measure is estimated (the
// formula, whole rows of the exact table, ranges, mean deviation, moving averages) and
// weighted, each rounding, the outlier screen, single results, small lots, retests, the
// pay schedule by measure and number of results, a second pass, caps, how the factor
// enters a composite and how results are verified. [NewPlan] checks them once. Nothing
// has a default: what is optional is a pointer, and an enum is refused until a choice is
// made, but that the zero values of Retest and Weights mean none. No published schedule
// is built in.
//
// Plans, lots, evaluations, intervals, verifications and field sheets are stored as
// versioned JSON ([ParsePlan], [ParseLot], [ParseEvaluation], [ParseTrueWithin],
// [ParseVerification], [ParsePairVerification], [ParseFieldSheet]) in which recorded
// numbers are texts and nothing unknown passes. How a plan and a lot are written stands
// under "A contract and a lot in files" below. Other results are plain structs, which
// encoding/json writes by the names of their fields.
//
// # Contractor, agency, places
//
// [Verify] compares a contractor's results with an agency's, [VerifyEquivalence] by
// the stricter question, [VerifyPair] a single split pair; whether samples are
// independent or split is a choice that has to be made, and what was not rejected
// is never called equal. [Plan.Verify] and [VerifyByPlans] do so by what a plan says.
// [RandomLocations] draws stratified random places that anyone can draw again from the
// seed. [TotalPay] adds lots up.
//
// # The truth behind an estimate
//
// [WithinInterval] is the confidence interval of the true percent within limits,
// [WithinMeasured] the one that includes measurement error, with a budget of its
// sources, and [Plan.TrueWithin] sets it beside an evaluation. How to read it is
// said under "How sure" below.
//
// # Risk before the work
//
// [NewEstimator] is the distribution of the estimate at a given true quality. From
// it come the chance of acceptance ([AcceptanceCurve], [RisksOf],
// [DesignAcceptance]) and the pay to expect ([ExpectedPay], [PayCurve],
// [FairPayLine]), by integration. [Plan.Risk] asks the same of a contract, with
// second pass, single results and outlier removal, at its own quality levels, and
// says of each part of it what became of it. [Simulate] and [SimulatePlans], which
// judges lots of one characteristic or several as [Plan.Evaluate] does, are for
// what has no formula.
//
// The contract documents and the responsible engineer decide on acceptance,
// removal and retest; this package computes.
package lot
