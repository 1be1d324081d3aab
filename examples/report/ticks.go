package main

import (
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot"
)

// evenTicks are marks at multiples of 1, 2 or 5 times a power of ten, as close as
// leaves at most so many of them.
type evenTicks int

// Ticks implements [plot.Ticker].
func (most evenTicks) Ticks(lo, hi float64) []plot.Tick {
	power := int(math.Floor(math.Log10((hi - lo) / float64(most))))
	for {
		for _, m := range []float64{1, 2, 5} {
			if ticks := multiples(lo, hi, m, power); len(ticks) <= int(most) {
				return ticks
			}
		}
		power++
	}
}

// multiples are the multiples of m·10^power from lo to hi. A small power divides, so
// that every value is the number its label says.
func multiples(lo, hi, m float64, power int) []plot.Tick {
	scale, places := math.Pow10(-power), max(0, -power)
	var ticks []plot.Tick
	for i := math.Ceil(lo * scale / m); i <= math.Floor(hi*scale/m); i++ {
		x := i * m / scale
		ticks = append(ticks, plot.Tick{Value: x, Label: minus(strconv.FormatFloat(x+0, 'f', places, 64))})
	}
	return ticks
}

// minus writes the sign of a number as typography has it.
func minus(number string) string { return strings.Replace(number, "-", "−", 1) }
