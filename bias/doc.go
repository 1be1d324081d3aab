// Package bias says what a density gauge is worth: it compares the gauge with
// cores, estimates the correction that package density applies to later readings,
// and says how far and how long to trust it.
//
//	offset = mean core - mean gauge
//
// Readings, and cores, are averaged within their location first, because several
// readings at one place are not several comparisons. A suspect core is flagged and never
// dropped, both answers are given.
//
// # Which function for which question
//
// A question, and the name to start from:
//
//   - What is the offset, and how sure? [EstimateOffset], with its interval and the
//     prediction for one more location; [OffsetOf] the same for columns of numbers;
//     [EliminateWorst] for a contract that drops pairs by rule.
//   - Is an offset enough? [CompareModels], which makes the ratio or the line where it is not.
//   - How many cores and readings does a test strip need? [StripComponents], [PlanStrip]
//     and [GainFrom].
//   - Does the correction still hold? [Recheck] and [UpdateOffset] ask later cores, and
//     renew its days where it does.
//   - Is the gauge in order this morning? [CheckBlock] asks the reference block.
//   - How sure is one corrected reading? [UncertaintyOf], term by term. In a lot the term of
//     the correction is common to all results.
//   - Do those who measure agree? [CompareGauges], [CompareCores], [CompareLaboratories].
//   - Do wet and dry, or mixes, lifts and gauges, need offsets of their own? [CompareGroups].
//
// # When not to use it
//
// Where there are no cores, or cores whose places were chosen for what the gauge showed
// there: no arithmetic makes an offset of them. Where differences are all there is,
// [stats.MeanInterval] does; the types here are what keeps readings, cores and units apart.
// A gauge that fails on its reference block needs repair or calibration, not a correction.
package bias
