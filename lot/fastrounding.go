package lot

import (
	"math"

	"github.com/densilot/densilot/units"
)

// fastRounding is a rounding rule on float64, for simulation. A number within 1e-12
// of half a step, relative to its size, counts as a tie, as a number of 12 digits
// would.
type fastRounding struct {
	absolute, even bool
	scale          float64
}

func newFastRounding(r units.Rounding) fastRounding {
	return fastRounding{r.Method == units.Absolute, r.Method == units.HalfEven, math.Pow10(r.Places)}
}

func (r *fastRounding) of(x float64) float64 {
	if r.absolute {
		return x
	}
	steps := float64(math.Abs(x) * r.scale)
	whole := math.Floor(steps)
	switch over := steps - whole - 0.5; {
	case math.Abs(over) <= max(1, steps)*1e-12:
		if !r.even || math.Mod(whole, 2) != 0 {
			whole++
		}
	case over > 0:
		whole++
	}
	return math.Copysign(whole/r.scale, x)
}

// twelveDigits returns x to 12 significant digits: what sums in float64 add to the last
// few must not take a number off the step or the limit that it is on.
func twelveDigits(x float64) float64 {
	size := math.Abs(x)
	if !(size > 1e-200 && size < 1e200) {
		return x
	}
	scale := math.Pow10(11 - int(math.Floor(math.Log10(size))))
	return math.Round(x*scale) / scale
}
