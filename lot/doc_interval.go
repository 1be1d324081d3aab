// # How sure: five sublots and a PWL of 90
//
// Five invented sublots have 94.2, 92.5, 93.4, 91.9 and 93.8 % of maximum theoretical
// density, and the limits are 92.0 and 97.0. The mean is 93.16, the standard deviation
// 0.945 and the PWL 89.96. [WithinInterval] with level 0.90 gives the confidence
// interval 57 to 99. In words that can be put before a contractor:
//
//   - The lot has a true percentage within limits, which only testing all of it would
//     show. The PWL of 90 is an estimate of it from five results. Over many lots such
//     estimates are neither too high nor too low on average, and so it is fair to both
//     sides to pay by them. For this one lot the estimate may be far off.
//   - At least 57 % of the lot is within limits, with 95 % confidence: a lot with less
//     would give five results as good as these no more than one time in twenty.
//   - At most 99 % of the lot is within limits, with 95 % confidence: a lot with more
//     would give five results as poor as these no more than one time in twenty.
//   - Both together are the interval 57 to 99 with 90 % confidence. If an interval is
//     worked out like this for lot after lot, about nine in ten of them contain the true
//     percentage of their lot; one in twenty lies above it, one in twenty below it.
//   - These results do not show that the lot misses a quality level of 90, and they do
//     not show that it meets it.
//   - The interval is wide because five results say little about a mean and less about
//     a standard deviation. No arithmetic makes up for that; more sublots do.
//   - The interval is no second verdict. The contract accepts and pays by the estimate,
//     and both sides knew how many results it rests on. Where the interval reaches
//     across a step that matters, removal above all, it is a reason for the engineer to
//     take more samples before deciding. The contract documents say whether that may be
//     done.
//
// What it does not say: that this lot is between 57 and 99 with a probability of 90 %
// (the 90 % belong to the method, over many lots), that any value in it is as likely as
// any other, or that 90 % of the sublots are there. And it rests on a model: results of
// places chosen at random, independent, of one normal population. A lot of two unlike
// halves is no such population, and results of which the worst were removed or retested
// are no such sample: [Plan.TrueWithin] says what it knows of that.
//
// # The same with a gauge
//
// Where the results are corrected gauge readings, the error of the offset and that of
// the day's Gmm are the same in all five, and the scatter of the gauge is part of their
// standard deviation. [Plan.TrueWithin] sets the interval beside what the contract made
// of the lot, given a [MeasurementError]: here an offset with a standard error of 0.24
// from ten cores, a Gmm with one of 0.13, and a gauge that repeats to 0.32. Its example
// prints
//
//	percent within limits by the contract = 90.025066280…, accepted
//	true percent within limits, results taken as exact = 57.3 to 98.6 with 90 % confidence; …
//	percent within limits without repeatability = 91.90
//	true percent within limits, errors included = 55.6 to 99.7 with 90 % confidence; …
//
// How to read it:
//
//   - The contract's number stays, and so do decision and pay. (It is 90.03 and not 89.96
//     since this contract rounds the quality index to hundredths.)
//   - The contract counts the scatter of the gauge as scatter of the mat. Without it the
//     estimate is 91.9.
//   - The interval is wider all the same. If the offset is off by 0.24, all five results
//     are, in the same direction, and no number of sublots would show it.
//   - The budget says what each source has part in. Of the variance of the mean 62 % come
//     from sampling the lot, 23 % from the offset, 8 % from the scatter of the gauge, 7 %
//     from the Gmm; together that is all of it.
//   - It also says what would help. If further results had the same mean and standard
//     deviation, four times the cores behind the offset would bring 55.6 to 99.7 to 56.8
//     to 99.6, and four times the sublots to 71.9 to 98.5. Here more cores buy little and
//     more sublots much. Such gains do not add up, since each is worked out alone.
//   - With twenty sublots it would be another matter: then 48 % of the variance would come
//     from the offset and 33 % from the lot (the example of [Contribution]), and cores would
//     be next.
package lot
