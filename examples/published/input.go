package main

import (
	"fmt"
	"io/fs"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// input is the named values of a check. It keeps the first error, so that a check
// can read on and look at the end.
type input struct {
	values map[string]string
	files  fs.FS // testdata, for checks on whole data sets
	err    error
}

func parseInput(files fs.FS, text string) *input {
	in := &input{values: make(map[string]string), files: files}
	for _, part := range strings.Split(text, ";") {
		name, value, _ := strings.Cut(part, "=")
		in.values[name] = value
	}
	return in
}

func (in *input) has(name string) bool { _, ok := in.values[name]; return ok }

func get[T any](in *input, name string, parse func(string) (T, error)) T {
	v, err := parse(in.values[name])
	if err != nil && in.err == nil {
		in.err = fmt.Errorf("%s: %w", name, err)
	}
	return v
}

func (in *input) decimal(name string) decimal.Decimal { return get(in, name, units.ParseDecimal) }

func (in *input) float(name string) float64 { return in.decimal(name).InexactFloat64() }

func (in *input) int(name string) int { return get(in, name, strconv.Atoi) }

func (in *input) density(name string) units.Density { return get(in, name, units.ParseDensity) }

func (in *input) gravity(name string) units.SpecificGravity {
	return get(in, name, units.ParseSpecificGravity)
}

func (in *input) temperature(name string) units.Temperature {
	return get(in, name, units.ParseTemperature)
}

func (in *input) water(name string) units.WaterConvention {
	return get(in, name, units.ParseWaterConvention)
}

func (in *input) grams(name string) units.Mass {
	return units.Gram.Of(in.float(name))
}

func (in *input) decimals(name string) (ds []decimal.Decimal) {
	for _, word := range strings.Fields(in.values[name]) {
		d, err := units.ParseDecimal(word)
		if err != nil && in.err == nil {
			in.err = err
		}
		ds = append(ds, d)
	}
	return ds
}

func (in *input) floats(name string) (xs []float64) {
	for _, d := range in.decimals(name) {
		xs = append(xs, d.InexactFloat64())
	}
	return xs
}

func (in *input) readings(name string) (rs []density.Reading) {
	for _, x := range in.floats(name) {
		rs = append(rs, density.Uncorrected(units.LbPerFt3.Of(x)))
	}
	return rs
}

func (in *input) side(name string) stats.Side {
	return get(in, name, func(s string) (stats.Side, error) {
		for side := stats.Low; side <= stats.TwoSide; side++ {
			if side.String() == s {
				return side, nil
			}
		}
		return 0, fmt.Errorf("%q is no side", s)
	})
}

func (in *input) limits() lot.Limits {
	switch {
	case in.has("lower") && in.has("upper"):
		return lot.Between(in.float("lower"), in.float("upper"))
	case in.has("upper"):
		return lot.AtMost(in.float("upper"))
	}
	return lot.AtLeast(in.float("lower"))
}

// places returns half-even rounding to the places named, absolute without the name.
func (in *input) places(name string) units.Rounding {
	if !in.has(name) {
		return units.Rounding{Method: units.Absolute}
	}
	return units.Rounding{Method: units.HalfEven, Places: in.int(name)}
}
