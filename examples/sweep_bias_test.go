package examples_test

import (
	"testing"
	"time"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/units"
)

var biasFunctions = []any{
	bias.CheckBlock, bias.CompareCores, bias.CompareGauges, bias.CompareGroups, bias.CompareLaboratories, bias.CompareModels, bias.EliminateWorst,
	bias.EstimateOffset, bias.GainFrom, bias.LocationOf, bias.OffsetOf, bias.PlanStrip, bias.Recheck, bias.StripComponents,
	bias.UncertaintyOf, bias.UpdateOffset,
}

// biasValues are the values of package bias and of the corrections it makes.
func biasValues(t *testing.T) []any {
	scope := sweptScope
	lb, day := units.LbPerFt3, time.Date(2025, 5, 12, 9, 0, 0, 0, time.UTC)
	var locations []bias.Location
	var cores []bias.Core
	var later []bias.LaterCheck
	var history []bias.BlockReading
	for i, x := range []float64{144.1, 145.3, 143.8, 146.2, 145.0} {
		id := string(rune('A' + i))
		l := bias.Location{ID: id, Readings: []density.Reading{density.Uncorrected(lb.Of(x)), density.Uncorrected(lb.Of(x + 0.3))}}
		c := bias.Core{ID: id, Densities: []density.InPlace{density.Core(lb.Of(x + 2.4 + 0.1*float64(i%3))), density.Core(lb.Of(x + 2.5))}}
		locations, cores = append(locations, l), append(cores, c)
		l.ID, c.ID = "later "+id, "later "+id
		later = append(later, bias.LaterCheck{At: day.AddDate(0, 0, i), Location: l, Core: c})
		history = append(history, bias.BlockReading{At: day.AddDate(0, 0, i-9), Value: lb.Of(135 + 0.1*float64(i%3))})
	}
	line := density.Line{Slope: 0.9, Intercept: lb.Difference(17), Low: lb.Of(143), High: lb.Of(147), Centre: lb.Of(145), StdErr: 0.2, SlopeStdErr: 0.1, DF: 5, Scope: scope, Source: "strip"}
	ratio := density.Ratio{Ratio: 1.015, StdErr: 0.001, DF: 5, Scope: scope, Source: "strip"}
	o := bias.Options{Level: 0.95, Rounding: half, Scope: scope, Source: "strip", OutlierAlpha: 0.01, Copied: 2, Tolerance: lb.Difference(1)}
	e := must(bias.EstimateOffset(locations, cores, o))(t)
	models := must(bias.CompareModels(locations, cores, bias.ModelOptions{Level: 0.95, ErrorRatio: 0.5}))(t)
	return []any{
		locations, cores, later, later[1], history, bias.BlockReading{At: day, Value: lb.Of(135.1)}, o, e, e.Correction, models, line, ratio,
		must(density.NewLine(line))(t), must(density.NewRatio(ratio))(t), density.ConstantOffset, density.ConstantRatio, density.StraightLine,
		must(bias.StripComponents(locations, cores, 0.95))(t), bias.Components{Unit: lb, Reading: 0.3, ReadingDF: 10, Location: 0.9, LocationDF: 4},
		bias.ModelOptions{Level: 0.95, ErrorRatio: 0.5}, bias.ModelOptions{Level: 0.95, Replicates: true}, models.Errors, models.Errors.Source, bias.ModelOptions{Level: 0.9, CoreStdDev: lb.Difference(0.8)},
		bias.CorrectionOptions{Offset: half, Slope: half, Scope: scope, Source: "strip"}, bias.EliminationRule{Limit: lb.Difference(2.5), Keep: 3, Mean: half, StdDev: half},
		bias.StripRequest{HalfWidth: lb.Difference(0.5), Level: 0.95, CostCore: 100, CostReading: 2, MostCores: 20, MostReadings: 4}, bias.StripDesign{},
		bias.RecheckOptions{Tolerance: lb.Difference(1), Alpha: 0.05, Reference: lb.Difference(0.5), Decision: lb.Difference(2)}, bias.Holds, bias.Verdict(0), bias.TimeSpan{From: day, To: day.AddDate(0, 0, 1)},
		bias.BlockOptions{Assigned: lb.Of(135), Tolerance: lb.Difference(0.5), Multiple: 3, Reference: 0.5, Decision: 4},
		[]bias.Group{{Name: "dry", Gauge: locations, Cores: cores}, {Name: "wet", Gauge: locations[:3], Cores: cores}}, bias.GroupOptions{Level: 0.95, Alpha: 0.05},
		bias.AgreementOptions{Level: 0.95, Coverage: 0.95},
		[]bias.Laboratory{{ID: "A", Results: []float64{1, 2}}, {ID: "B", Results: []float64{2, 2.5}}, {ID: "C", Results: []float64{3, 2}}},
	}
}
