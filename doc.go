// Package densilot is the map of a module that takes asphalt density work from
// gauge readings to pay, exactly and with its uncertainty. It holds no code.
//
//   - [github.com/densilot/densilot/units]: quantities that keep the recorded
//     number and its unit, water densities by name, rounding by ASTM E29.
//   - [github.com/densilot/densilot/stats]: means, intervals, tests, outlier screens,
//     control charts, fits, comparison of methods, and the distributions behind them;
//     knows nothing of paving.
//   - [github.com/densilot/densilot/density]: from readings and laboratory results
//     to percent compaction, air voids and the roller pattern.
//   - [github.com/densilot/densilot/bias]: what a gauge is worth: offset, ratio or
//     line from cores, whether it still holds, comparisons of gauges.
//   - [github.com/densilot/densilot/lot]: acceptance of a lot: percent within
//     limits, outliers, pay.
//
// Imports point one way: units and stats stand alone, density uses both, bias uses
// density, and lot works on plain numbers of any characteristic with units for
// rounding only.
//
// Each step has a fast path in float64 and an audited path in exact arithmetic
// that returns its working. Bad data is an error that names the place, doubt is a
// warning beside the number, and nothing panics.
//
// # Which function for which question
//
//	recorded values
//	  read a number with its unit                      units.ParseDensity and its kin
//	  round as the contract says                       units.Rounding
//	  which density of water                           units.WaterConvention, units.WaterAt
//	laboratory
//	  bulk specific gravity of a core                  density.GmbSurfaceDry and its kin
//	  maximum specific gravity                         density.GmmBowl, density.GmmFlask
//	  which maximum applies to this result             density.MaximumHistory
//	test strip
//	  offset of a gauge from cores                     bias.EstimateOffset
//	  the same from columns of numbers                 bias.OffsetOf
//	  is an offset enough, or is it a ratio or a line  bias.CompareModels
//	  how many cores and readings                      bias.StripComponents, bias.PlanStrip
//	  how many passes                                  density.RollerPattern
//	day by day
//	  is the gauge in order this morning               bias.CheckBlock
//	  does the offset still hold                       bias.Recheck
//	  percent compaction, air voids                    density.AuditSublot; density.PercentCompaction in float64
//	  how sure is one corrected reading                bias.UncertaintyOf
//	  two gauges, two laboratories                     bias.CompareGauges, bias.CompareLaboratories
//	the lot
//	  where to test                                    lot.RandomLocations
//	  percent within limits                            lot.EstimateWithin
//	  decision, pay factor and pay by a contract       lot.Plan.Evaluate
//	  contract and lot from a file                     lot.ParsePlan, lot.ParseLot
//	  how sure is that PWL                             lot.Plan.TrueWithin; lot.WithinInterval of float64
//	  do contractor and agency agree                   lot.Plan.Verify, lot.Verify
//	  what did a late result change                    lot.Changes
//	  pay of a whole contract                          lot.TotalPay, lot.Composite
//	before the work
//	  chance of acceptance at a true quality           lot.NewEstimator, lot.AcceptanceCurve
//	  pay to expect at a true quality                  lot.ExpectedPay, lot.PayCurve
//	  risk and expected pay of a contract as written   lot.Plan.Risk; lot.SimulatePlans for several
//	  the same as a curve over the true quality        lot.PopulationsWithin for lot.Plan.Risk
//	  how many sublots for wanted risks                lot.DesignAcceptance
//	  how many results for a verification              stats.TSampleSize, stats.FSampleSize
//	numbers without a road
//	  mean, spread, interval                           stats.Summarize, stats.MeanInterval
//	  do means or variances differ                     stats.WelchT, stats.PairedT, stats.EqualVariances
//	  is a value an outlier                            stats.Grubbs and its kin
//	  may they be normal at all                        stats.ShapiroWilk, stats.AndersonDarling
//	  is a process in control                          stats.NewIndividualsChart, stats.NewSubgroupChart
//	  line between two methods that both have errors   stats.FitDeming, stats.FitPassingBablok
//	  line that wild points hardly move                stats.FitTheilSen
//	  how far two methods differ on one thing          stats.LimitsOfAgreement and its kin
//	  where variance arises                            stats.NestedComponents, stats.NestedREML
//	  repeatability and reproducibility                stats.Interlaboratory
//	  everything else                                  the list in package stats
//
// Programs of some twenty lines show three of them from file to answer:
// examples/correction, examples/decision and examples/riskcurve.
//
// # When not to use it
//
// It is the wrong tool:
//
//   - Where a contract prescribes another computation than a plan can say: do as the
//     contract says.
//   - For a decision on the safety of a structure or of people: density is not strength.
//   - For results that are not a random sample. Places that somebody chose have no
//     percent within limits, whatever the arithmetic gives.
//   - For readings while the roller works: the roller pattern compares spots at rest,
//     it steers no machine.
//   - For soils and aggregates: nothing here knows dry density or moisture of soil.
//
// # Words of the trade
//
// As they are commonly used in North American practice; the definitions of a contract
// come before these.
//
//   - acceptable and rejectable quality, AQL and RQL: the true percent within limits at
//     which the seller's and the buyer's risk are stated.
//   - air voids: volume of air in the compacted mat in percent of its volume, 100 less
//     the percentage of the maximum theoretical density.
//   - buyer's risk, β: chance that a lot of rejectable quality is accepted. The
//     seller's risk α is that a lot of acceptable quality is not.
//   - composite factor: one pay factor from those of several characteristics.
//   - control chart: values in order between limits that a steady process seldom crosses.
//   - control strip: a stretch rolled until its density no longer rises; its density may
//     serve as a reference.
//   - core: a cylinder cut from the mat, whose density a laboratory determines.
//   - correction: what makes a density in place of a reading. An offset is added, a
//     ratio multiplies, a line does both.
//   - D2S, difference two-sigma limit: what two results of one sample differ by no more
//     than 19 times in 20.
//   - density gauge: an instrument on the surface of the mat, electromagnetic or nuclear,
//     precise but biased by mix, lift and base.
//   - Gmb, Gmm: bulk specific gravity of a compacted specimen, and maximum specific
//     gravity of the loose mix, without voids.
//   - independent and split samples: taken apart at places of their own, or one sample
//     divided between those who test.
//   - joint density: that beside a longitudinal joint, a characteristic of its own.
//   - lift: a layer of asphalt that is placed and compacted at once.
//   - limits of agreement: between which most differences of two methods on the same
//     thing lie.
//   - lot, sublot: the quantity that is judged and paid at once, and a part of it for
//     which one result stands.
//   - mat: the layer behind the paver, while it is compacted and after.
//   - maximum theoretical density: Gmm times the density of water.
//   - offset: mean difference core minus gauge, positive when the gauge reads low.
//   - operating characteristic: chance of acceptance over the true quality.
//   - outlier: a result that is further from the others than chance explains. It is flagged;
//     a person finds the cause.
//   - pay factor: what multiplies the price of a lot, 1 for full pay.
//   - percent compaction: density in place in percent of a reference, here mostly the
//     maximum theoretical density.
//   - percent within limits, PWL: estimated percentage of the lot inside the
//     specification limits, by the quality index Q = (mean - limit)/s and n.
//   - reading: what the gauge shows, before any correction.
//   - reference block: a block of stated density on which a gauge is checked each morning.
//   - repeatability, reproducibility: scatter of a test method with one operator and
//     instrument, and between laboratories.
//   - retest: a second result for a sublot; the contract says whether it replaces the
//     first or is pooled with it.
//   - roller pattern: density after each pass of the rollers at the same spots; more
//     passes stop where it no longer rises, or falls after a peak.
//   - station, offset: place along a road and across it.
//   - stratified random sampling: one place by chance in each sublot.
//   - test strip: the stretch on which gauge and cores are compared before the work.
//   - VMA, VFA: voids in the mineral aggregate in percent of the volume, and the percentage
//     of them that binder fills.
//   - verification: the agency's own results, compared with the contractor's.
//   - working: the steps of a calculation as a person would write them down.
//
// The contract documents, the agency's specification and the responsible engineer
// govern; results are for qualified people to review.
package densilot
