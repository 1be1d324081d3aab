// Package units holds the quantities of paving density work as they were
// recorded: a number and its unit, hidden in a small value, so that a bare
// number never becomes a density by accident and lb/ft³ never meets kg/m³
// unnoticed.
//
// Programs that only need numbers can stay with float64 and package stats;
// programs that judge compaction want package density, which is written in these
// types.
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
// is 2.3, not 2.3000000000000114.
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
// with unit, NULL for not given). Parsing is strict: no hexadecimal, underscore,
// plus sign, NaN, decimal comma or no-break space, and no more digits than the
// number can keep.
//
// # Rounding
//
// A [Rounding] is a named rule of ASTM E29, applied to decimal digits, so that
// 92.45 is a tie and goes to 92.4 half-even and to 92.5 half-up. The result is the
// same on every processor.
package units
