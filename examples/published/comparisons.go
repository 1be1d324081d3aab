package main

import (
	"fmt"
	"strings"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/units"
)

// eliminated applies the rule of elimination to pairs of cores and gauge readings.
func eliminated(in *input) (bias.Elimination, error) {
	gauge, cores := pairs(in)
	return bias.EliminateWorst(gauge, cores, bias.Options{Level: 0.95, Rounding: absolute, Scope: scope, Source: "check"},
		bias.EliminationRule{Limit: units.LbPerFt3.Difference(in.float("limit")), Keep: in.int("keep"),
			Mean: in.places("round mean"), StdDev: in.places("round s")})
}

// ruled returns the last look at the pairs, with its rounded figures.
func ruled(r bias.Elimination) (s bias.EliminationStep) {
	if n := len(r.Steps); n > 0 {
		s = r.Steps[n-1]
	}
	return s
}

// laboratories compares the laboratories of one material; a stroke parts them.
func laboratories(in *input) (bias.LaboratoryStudy, error) {
	var labs []bias.Laboratory
	for i, text := range strings.Split(in.values["labs"], "/") {
		own := parseInput(in.files, "x="+text)
		labs = append(labs, bias.Laboratory{ID: fmt.Sprint(i + 1), Results: own.floats("x")})
		if in.err == nil {
			in.err = own.err
		}
	}
	return bias.CompareLaboratories(labs, in.float("alpha"))
}

// agreement compares single readings of two instruments, whatever their unit.
func agreement(in *input) (bias.Agreement, error) {
	locations := func(name string) (ls []bias.Location) {
		for i, x := range in.floats(name) {
			ls = append(ls, bias.Location{ID: fmt.Sprint(i + 1), Readings: []density.Reading{density.Uncorrected(units.KgPerM3.Of(x))}})
		}
		return ls
	}
	return bias.CompareGauges(locations("a"), locations("b"), bias.AgreementOptions{Level: 0.95, Coverage: 0.95})
}
