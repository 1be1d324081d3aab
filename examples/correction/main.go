// Correction makes the offset of a gauge from a CSV of a test strip: one line for
// each location, with its core and five readings of the gauge, all in lb/ft3.
//
//	go run ./examples/correction examples/correction/strip.csv
//
// The strip is invented. The procedure of the contract governs.
package main

import (
	"encoding/csv"
	"flag"
	"fmt"
	"log"
	"os"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/units"
)

func main() {
	flag.Parse()
	strip := csv.NewReader(must(os.Open(flag.Arg(0))))
	strip.FieldsPerRecord = 7 // location, core, five readings
	must(strip.Read())        // the header
	var locations []bias.Location
	var cores []bias.Core
	for _, row := range must(strip.ReadAll()) {
		location := bias.Location{ID: row[0]}
		for _, cell := range row[2:] {
			location.Readings = append(location.Readings, density.Uncorrected(must(units.ParseDensity(cell+" lb/ft3"))))
		}
		locations = append(locations, location)
		cores = append(cores, bias.Core{ID: row[0], Densities: []density.InPlace{density.Core(must(units.ParseDensity(row[1] + " lb/ft3")))}})
	}
	e := must(bias.EstimateOffset(locations, cores, bias.Options{Level: 0.95, OutlierAlpha: 0.01, Source: "strip of 2026-06-02",
		Scope: density.Scope{Gauge: "G-07", Mix: "TC-12.5-A", Lift: "surface"}, Rounding: units.Rounding{Method: units.HalfEven, Places: 1}}))
	fmt.Printf("%v\nmean %.2f, 95 %% interval %.2f to %.2f lb/ft3, warnings %v\n", e.Correction, e.Mean, e.CI.Lo, e.CI.Hi, e.Warnings)
}

func must[T any](value T, err error) T {
	if err != nil {
		log.Fatal(err)
	}
	return value
}
