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
//   - [EstimateOffset] is the correction that everybody makes, with its interval and
//     the prediction for one more location; [OffsetOf] the same for columns of
//     numbers; [EliminateWorst] follows a contract that drops pairs by rule.
//   - [CompareModels] asks whether an offset is enough and makes the ratio or the
//     line where it is not.
//   - [StripComponents], [PlanStrip] and [GainFrom] say how many cores and readings
//     a test strip needs.
//   - [Recheck] and [UpdateOffset] ask later cores whether a correction still holds,
//     and renew its days where it does; [CheckBlock] asks the reference block every morning.
//   - [UncertaintyOf] gives a corrected reading its standard uncertainty, term by
//     term. In a lot the term of the correction is common to all results.
//   - [CompareGauges], [CompareCores] and [CompareLaboratories] compare those who
//     measure, [CompareGroups] the offsets of wet and dry, of mixes, lifts or gauges.
//
// Analysts who hold plain differences can use stats.MeanInterval instead; the
// types here are what keeps readings, cores and units apart.
package bias
