// Package units holds the quantities of paving density work as they were
// recorded: a number and its unit, hidden in a small value, so that a bare
// number never becomes a density by accident and lb/ft³ never meets kg/m³
// unnoticed.
//
// Programs that only need numbers can stay with float64 and package stats;
// programs that judge compaction want package density, which is written in these
// types.
//
// # Which function for which question
//
// A question, and the name to start from:
//
//   - A quantity from a number: [DensityUnit.Of], [TemperatureUnit.Of], [LengthUnit.Of],
//     [MassUnit.Of], [SpecificGravityOf]; from text, [ParseDensity] and its kin.
//   - Its number in a unit: [Density.In] as float64, [Density.Exact] as a fraction; the
//     quantity in another unit, [Density.To].
//   - How far two are apart: [Density.Sub], which makes a [DensityDifference].
//   - A specific gravity as a density: [SpecificGravity.Density] with a [Water]; which water,
//     [WaterConvention] or, at a temperature, [WaterAt].
//   - Round as a document says: [Rounding].
//
// # When not to use it
//
// For conversion of units in general, or for arithmetic on many values: it knows the few
// quantities of density work and keeps each as it was written down.
//
// # Quantities and units
//
// A unit is a value that makes quantities and is asked for when one is read:
//
//	d := units.LbPerFt3.Of(147.2)
//	x := d.In(units.KgPerM3) // 2357.9…
//
// Nothing is converted until a conversion is asked for: d prints, stores and
// compares as 147.2 lb/ft3, and the shortest decimal text of its number is the
// record. Sums and differences are those of the decimal numbers: 148.3 - 146.0
// is 2.3, not 2.3000000000000114. Where two units meet, the result is in that of the
// first; package density refuses to mix units of density at all.
//
// The zero value of every quantity means "not given". A number that is NaN or
// infinite makes the zero value, and functions that need a quantity refuse it.
// Two quantities are Equal when they are the same amount, in whatever unit;
// the operator == compares number and unit as recorded.
//
// # Text
//
// The text of a quantity is its number, a space and its unit, and reads back
// equal, unit and all. It serves JSON, CSV, flags (flag.TextVar) and SQL (text
// with unit, NULL for not given); not given is empty text, and a JSON null leaves
// a value as it was, as encoding/json does for every such type. Parsing is strict:
// no hexadecimal, underscore, plus sign, NaN, decimal comma or no-break space, and
// no more digits than the number can keep. An exponent is read because the text of
// numbers below 1e-6 or from 1e15 has one. Units, water conventions and rounding
// rules have text forms too, so that files name them.
//
// A [Station] is a place along a road, such as 12+34.5 ft.
//
// # Water
//
// A specific gravity becomes a density by a density of water, and the documents
// do not agree on one. Use one for cores, Gmm and the offset of a gauge; a
// quotient of two specific gravities at one temperature needs none.
//
//	density of water       named by                                     how we know
//	62.4 lb/ft3            common practice in inch-pound work           from memory
//	62.245 lb/ft3, 25 °C   AASHTO T 209 and ASTM D2041 practice,        from memory
//	                       paired there with 997.1 kg/m3
//	62.24 lb/ft3, 25 °C    ASTM D2726, paired there with 997.0 kg/m3    from memory
//	1000 kg/m3             metric practice: specific gravity as g/cm3   seen second-hand
//	997.1 kg/m3, 25 °C     AASHTO T 209 and ASTM D2041 practice         from memory
//	997.0 kg/m3, 25 °C     ASTM D2726                                   from memory
//	ρ(t), 0 to 40 °C       ASTM D2726-09 and D1188-07 (2015): the       rule seen
//	                       water at the temperature of the specific
//	                       gravity; here by the CIPM formula            formula seen
//	                       (Tanaka et al. 2001)
//
// The pairs are not conversions of each other: 62.245 lb/ft3 is 997.069 kg/m3, and
// 997.1 kg/m3 is 62.2469 lb/ft3. Pure water at 25 °C has 997.047 kg/m3 or 62.2436
// lb/ft3; the larger numbers go back to the litre before 1964, whose 0.997075 g/mL
// was read as g/cm3 (computed). A table of water in the asphalt standards in those
// millilitres gives the same ratios R as the CIPM formula to 3e-6.
//
// # Rounding
//
// A [Rounding] is a named rule of ASTM E29, applied to decimal digits, so that
// 92.45 is a tie and goes to 92.4 half-even and to 92.5 half-up. The result is the
// same on every processor.
package units
