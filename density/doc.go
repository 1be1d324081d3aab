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
// # Which function for which question
//
// A question, and the name to start from:
//
//   - What is the bulk specific gravity of a core? [GmbSurfaceDry], [GmbVolumeter],
//     [GmbParaffin] or [GmbVacuumSealed]; its density, [CoreOf].
//   - What is the maximum specific gravity? [GmmBowl], [GmmFlask] and their dry-back
//     forms; the density that a percentage is taken of, [MaximumTheoretical],
//     [LaboratoryBulk] or [ControlStrip].
//   - Which Gmm applies to this result? [MaximumHistory.Of].
//   - May two results of one sample differ that far? [Precision.Duplicates].
//   - How many passes are enough? [RollerPattern].
//   - What was read at one location, and can it be right? [NewReadingSet], [CheckSets].
//   - What percentage of its reference is that? [AuditSublot] over several locations,
//     [AuditReadings] or [AuditCore] at one, [PercentCompaction] in float64.
//   - How sure is a percentage? [ErrorOfCompaction].
//   - What are air voids, VMA and VFA? [AirVoids], [AuditVoids].
//   - Is the lift thick enough, the place far enough from an edge? [CheckLift], [CheckEdge].
//   - How do the records get on a map and on paper? [ReadingsGeoJSON], [ResultsGeoJSON],
//     [ReadingsSheet], [ResultsSheet].
//
// # Laboratory
//
// Masses are in any unit and stay exact up to the one rounding that the caller names.
// Masses that no specimen has are errors; results outside the range a project expects
// are warnings of [Plausible].
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
// # On the mat
//
// A roller pattern comes with the noise of the readings and how likely noise alone shows
// such a peak; whether the level reached is enough is another question, which
// [Pattern.AuditLevel] answers. Sets are looked through for readings too far apart, copied
// blocks and a stuck gauge. A sublot averages its locations, with cores in place of
// readings where they were cut; joint density is a [Characteristic] of its own.
//
// # As JSON
//
// A choice is written as its words. A date, coordinates, a [Reading] and an [InPlace]
// are written as the text that they read, so that a [SetRecord] or a [SublotLocation]
// comes back as it was. A [Reference], a [Correction] and a [ReadingSet] are written for
// people only and made anew by their makers, which check what they are made of; of a
// [MaximumHistory] keep Rule and Determinations.
//
// # When not to use it
//
// To find an offset, which is for package bias, or to judge a lot, which is for package lot.
// Nor for soil, whose dry density and moisture it does not know, for strength, or to steer
// a roller.
//
// Results are for qualified people to review; the contract documents decide.
package density
