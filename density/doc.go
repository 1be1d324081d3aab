// Package density goes from gauge readings and laboratory results to percent
// compaction and air voids.
//
// A number knows its stage. A [Reading] is what the gauge showed, an [InPlace]
// density is a core or a corrected reading, a [Reference] is what a percentage is
// taken of. They are different types, so that an uncorrected reading cannot
// become a percentage and a correction cannot be applied twice. Only a
// [Correction], which package bias estimates from paired cores, turns the first
// into the second:
//
//	corrected = reading + offset,   offset = mean core - mean gauge
//
// so the offset is positive when the gauge reads low. A correction has a [Scope]: gauge,
// mix, lift, base and the days it is valid on. A use outside is refused, on another day
// with [ErrDay], unless [Correction.Override] records who decided otherwise.
//
// Every calculation stays in one unit. A reading in lb/ft3 and a reference in
// kg/m3 are refused with [ErrUnitMismatch] instead of converted, because the
// water densities of the two systems are not exact equivalents (ASTM D7113 1.3). Nor
// are the densities of water in use equal: a core of [CoreOf] and a reference must be
// of the same one.
//
// # Laboratory
//
// The methods for bulk specific gravity are [GmbSurfaceDry], [GmbVolumeter],
// [GmbParaffin] and [GmbVacuumSealed], those for the maximum [GmmBowl], [GmmFlask]
// and their dry-back forms; [AuditVoids] goes on to VMA and VFA. Masses are in any
// unit and stay exact up to the one rounding that the caller names. Masses that no
// specimen has are errors; results outside the range a project expects are
// warnings of [Plausible], and two results of one sample are judged by a
// [Precision] statement.
//
// # Maximum density
//
// [MaximumHistory] keeps the determinations of Gmm of a mix and answers which
// maximum applies to a result, by the rule of the contract. Determinations that
// come late or are put right make a new version, which says what results it
// changes.
//
// # Two speeds
//
// [PercentCompaction] and [AirVoids] work in float64. [AuditReadings] and
// [AuditCore] and, for several locations, [AuditSublot] run the same chain in exact
// rational arithmetic, round only where a [RoundingPolicy] says so and return the
// working; their percentage is the decimal that package lot takes.
//
// # From the mat to a result
//
// In the order of a day:
//
//   - [RollerPattern] says how many passes are enough, with the noise of the
//     readings and how likely noise alone shows such a peak; whether the level reached is
//     enough is another question, which [Pattern.AuditLevel] answers.
//   - [NewReadingSet] takes what was written down at one location, corrected or
//     not; [CheckSets] looks for readings too far apart, copied blocks and a stuck
//     gauge.
//   - [AuditSublot] averages locations, with cores in place of readings where they
//     were cut; joint density is a [Characteristic] of its own.
//   - [ReadingsGeoJSON], [ResultsGeoJSON], [ReadingsSheet] and [ResultsSheet] write
//     records for maps and for people.
//   - [CheckLift] and [CheckEdge] compare a lift and a place with a policy.
//
// # As JSON
//
// A choice is written as its words. A date, coordinates, a [Reading] and an [InPlace]
// are written as the text that they read, so that a [SetRecord] or a [SublotLocation] comes back as it was. A [Reference],
// a [Correction] and a [ReadingSet] are written for people only and made anew by their
// makers, which check what they are made of; of a [MaximumHistory] keep Rule and
// Determinations.
//
// # When not to use it
//
// To find an offset, which is for package bias, or to judge a lot, which is for package lot.
// Nor for soil, whose dry density and moisture it does not know, for strength, or to steer
// a roller.
//
// Results are for qualified people to review; the contract documents decide.
package density
