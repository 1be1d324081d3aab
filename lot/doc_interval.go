// # How sure: five sublots and a PWL of 90
//
// Five invented sublots, 94.2, 92.5, 93.4, 91.9 and 93.8 % of maximum theoretical
// density, with limits of 92.0 and 97.0, have mean 93.16 and standard deviation
// 0.945, and a PWL of 90.0. [WithinInterval] with level 0.90 says 57 to 99. In
// words that can be put before a contractor:
//
//   - The lot has some true percentage within limits, which only testing all of it
//     would show. 90 is the fair estimate from five results: over many lots the
//     errors of such estimates average out, or nearly, and so does the pay. On this
//     lot it may be far off.
//   - A lot with as little as 57 % within limits would give five results as good as
//     these, or better, one time in twenty. A lot with 99 % within would give results
//     as poor as these, or poorer, one time in twenty. What lies between does not
//     contradict the results.
//   - So these results do not show that the lot misses a quality level of 90, and
//     they do not show that it meets it. "At least 57 % is within limits" is a
//     statement that is right about 19 times in 20 when it is made of lot after lot.
//   - The interval is wide because five results say little about a mean and less
//     about a standard deviation. No arithmetic makes up for that; more sublots do.
//   - The interval is no second verdict. The contract pays by the estimate, and both
//     sides knew that it rests on five results. Where the interval reaches across a
//     step that matters, removal above all, it is the reason to take more samples
//     before deciding.
//
// What it does not say: that the lot is between 57 and 99 with a probability of 90 %
// (the 90 % belong to the method, over many lots), or that 90 % of the sublots are
// there. And it rests on the model: independent results of one normal population. A
// lot of two halves is not one, which a warning may hint at and a plot shows.
//
// # With a gauge
//
// Where the results are corrected gauge readings, the offset and the Gmm of the day
// are in all five alike, and the scatter of the gauge is in the standard deviation.
// [Plan.TrueWithin] sets the interval beside what the contract made of the lot, given a
// [MeasurementError], here an offset known to 0.24 from ten cores, a Gmm known to 0.13
// and a gauge that repeats to 0.32; its example prints
//
//	percent within limits by the contract = 90.025066280…, accepted
//	true percent within limits, results taken as exact = 57.3 to 98.6 with 90 % confidence; …
//	percent within limits without repeatability = 91.90
//	true percent within limits, errors included = 55.6 to 99.7 with 90 % confidence; …
//
// How to read it:
//
//   - The contract's number stays 90.0, and so do decision and pay. (It rounds the
//     quality index to hundredths first, hence .03.) It counts the scatter of the gauge
//     as scatter of the mat, so the mat is a little better than that: 91.9.
//   - The interval is wider all the same. If the offset is wrong by 0.3, all five
//     results are, and no number of sublots would show it.
//   - The budget says what would help. Sampling the lot makes 62 % of the variance of
//     its mean, the offset 23 %, the gauge's scatter 8 %, Gmm 7 %. Four times the
//     cores would bring 55.6 to 99.7 only to 56.8 to 99.6; four times the sublots to
//     71.9 to 98.5. Here more cores buy little and more sublots much. With twenty
//     sublots the offset would make nearly half of the variance, and cores would be
//     next.
package lot
