// Package road judges the paving of a road network that we invented: ten years of
// contracts, each of a hundred lots of five sublots, with faults in the records such
// as any large file has. The truth behind the records is known, so that what comes
// out can be held against it.
//
// A record is a line of text,
//
//	contract,lot,sublot,date,gauge,percent,check
//	17,4,1,2022-06-14,9,93.84,+1.2
//
// percent compaction of the sublot, and on the first sublot of a lot the difference
// of a check core and the corrected reading in lb/ft3, by which the drift of the gauge is
// followed.
//
// The steps are plain functions, so that a loop and a distributed pipeline run the
// same ones: [Parse] a line, [JudgeLot] the records of a lot, [Tally.AddLot] the
// lots of a contract in order, [Tally.Merge] the contracts in order, and [NewReport].
// Because every order is fixed, so is every bit of the answers, however the work was
// spread.
package road
