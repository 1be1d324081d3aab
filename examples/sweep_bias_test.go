package examples_test

import (
	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/density"
)

var biasFunctions = []any{bias.EstimateOffset}

func biasValues() []any {
	var locations []bias.Location
	var cores []bias.Core
	for _, id := range []string{"1", "2", "3", "4"} {
		locations = append(locations, bias.Location{ID: id, Readings: []density.Reading{sweptReading, sweptReading}})
		cores = append(cores, bias.Core{ID: id, Density: density.Core(sweptDensity)})
	}
	return []any{bias.Options{Level: 0.95, Rounding: half, Scope: sweptScope, Source: "strip"}, locations, cores}
}
