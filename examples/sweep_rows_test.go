package examples_test

import (
	"slices"
	"testing"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/units"
)

// sweptFunctions are the exported functions of the module. The rows of a package stand
// in its file, such as sweep_units_test.go: its functions, and values of its types.
var sweptFunctions = slices.Concat(unitsFunctions, statsFunctions, densityFunctions, biasFunctions, lotFunctions)

// sweptValues are values of types of the module, good ones; the generator adds zero and
// spoiled ones. Their types are those whose methods are swept; the values are receivers
// and arguments.
func sweptValues(t *testing.T) []any {
	return slices.Concat(unitsValues(t), statsValues(t), densityValues(t), biasValues(t), lotValues(t))
}

// What the values of several packages are made of.
var (
	absolute = units.Rounding{Method: units.Absolute}
	half     = halfEven(2)
	hundred  = decimal.NewFromInt(100)

	sweptScope   = density.Scope{Gauge: "G-07", Mix: "TC-12.5-A", Lift: "surface"}
	sweptDensity = units.LbPerFt3.Of(147.2)
	sweptReading = density.Uncorrected(units.LbPerFt3.Of(144.7))
	sweptGmm     = units.SpecificGravityOf(2.514)
)

func halfEven(places int) units.Rounding {
	return units.Rounding{Method: units.HalfEven, Places: places}
}

// must passes a good value on; t is nil where another caller has looked.
func must[T any](v T, err error) func(t *testing.T) T {
	return func(t *testing.T) T {
		if err != nil && t != nil {
			t.Helper()
			t.Fatal(err)
		}
		return v
	}
}
