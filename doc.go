// Package densilot is the map of a module that takes asphalt density work from
// gauge readings to pay, exactly and with its uncertainty. It holds no code.
//
//   - [github.com/densilot/densilot/units]: quantities that keep the recorded
//     number and its unit, water densities by name, rounding by ASTM E29.
//   - [github.com/densilot/densilot/stats]: means, intervals, outlier screens and
//     the distributions behind them; knows nothing of paving.
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
// The contract documents, the agency's specification and the responsible engineer
// govern; results are for qualified people to review.
package densilot
