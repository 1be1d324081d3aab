package examples_test

import (
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/units"
)

var densityFunctions = []any{
	density.AirVoids, density.AlreadyCorrected, density.AuditCore, density.AuditReadings, density.AuditSublot,
	density.AuditVoids, density.CheckEdge, density.ErrorOfCompaction, density.CheckLift, density.CheckSets, density.CheckSublots, density.ControlStrip,
	density.Core, density.CoreOf, density.DateOf, density.GmbParaffin, density.GmbSurfaceDry, density.GmbVacuumSealed, density.GmbVolumeter, density.GmmBowl,
	density.GmmBowlDryBack, density.GmmFlask, density.GmmFlaskDryBack, density.LaboratoryBulk, density.MaximumTheoretical,
	density.MeanGravity, density.MeanOf, density.NewLine, density.NewMaximumHistory, density.NewOffset, density.NewRatio, density.NewReadingSet,
	density.ParseDate, density.ParseInstant, density.ParseReferenceKind, density.PercentCompaction, density.ReadingsGeoJSON,
	density.ReadingsSheet, density.RememberedPrecision, density.ResultsGeoJSON, density.ResultsSheet, density.RollerPattern,
	density.Uncorrected, density.VFA, density.VMA, density.WGS84,
}

func densityValues(t *testing.T) []any {
	correction := must(density.NewOffset(density.Offset{Offset: units.LbPerFt3.Difference(2.4), Scope: sweptScope, Source: "strip"}))(t)
	dated := must(density.NewOffset(density.Offset{Offset: units.LbPerFt3.Difference(2.4), Scope: must(sweptScope.ValidFor(density.DateOf(sweptTimes(8)), 14))(t), Source: "strip"}))(t)
	maximum := must(density.MaximumTheoretical(sweptGmm, units.Water62_245))(t)
	policy := density.RoundingPolicy{Mean: absolute, Density: half, Maximum: half, Percentage: half}
	own := []any{
		sweptScope, density.DateOf(sweptTimes(8)), density.DateOf(sweptTimes(8).AddDate(1, 0, 0)), dated, dated.Scope(), correction, density.Core(sweptDensity), density.Core(sweptDensity).Origin(), sweptReading,
		[]density.Reading{sweptReading, sweptReading}, maximum, maximum.Kind(), density.Compaction{}, policy,
	}
	own = append(own, laboratoryValues()...)
	own = append(own, historyValues(t)...)
	own = append(own, fieldValues(t, correction, maximum, policy)...)
	return append(own, patternValues(t)...)
}

func laboratoryValues() []any {
	g, precision := units.Gram.Of, density.RememberedPrecision()
	return []any{
		density.SurfaceDryMasses{Dry: g(1250.5), SurfaceDry: g(1256), InWater: g(725)},
		density.VolumeterMasses{Dry: g(1524.6), SurfaceDry: g(1529.4), Filled: g(6250), WithSample: g(7135.7)},
		density.CoatedMasses{Dry: g(1520.3), Coated: g(1563.8), CoatedInWater: g(862.1), Coating: units.SpecificGravityOf(0.903)},
		density.SealedMasses{Dry: g(1520.3), Sealed: g(1546.9), Unsealed: g(1523.9), SealedInWater: g(871.4), Bag: units.SpecificGravityOf(0.916)},
		density.BowlMasses{Dry: g(1521.4), BowlInWater: g(301.2), SampleInWater: g(1217.4)},
		density.FlaskMasses{Dry: g(1203.1), Filled: g(7480.2), WithSample: g(8204.9), Water: units.Celsius.Of(24)},
		density.Mix{Gmb: units.SpecificGravityOf(2.368), Gmm: sweptGmm, Gsb: units.SpecificGravityOf(2.637), Aggregate: decimal.RequireFromString("94.7")},
		density.VoidsRounding{AirVoids: halfEven(1), VMA: halfEven(1), VFA: halfEven(1)},
		density.Plausible[units.SpecificGravity]{Low: units.SpecificGravityOf(2.4), High: units.SpecificGravityOf(2.6)},
		density.Plausible[units.Density]{Low: sweptDensity}, density.SingleOperator, precision[0], precision[1],
	}
}

// sweptTimes are the times of the day that determinations and results come from.
func sweptTimes(hour int) time.Time {
	return time.Date(2024, 5, 14, hour, 0, 0, 0, time.FixedZone("", -5*60*60))
}

func historyValues(t *testing.T) []any {
	rule := density.MaximumRule{Basis: density.MovingAverage, Count: 2, Rounding: halfEven(3), Water: units.Water62_245}
	ofDay := density.MaximumRule{Basis: density.OfDay, Rounding: halfEven(3), Water: units.Water62_4}
	screen := density.GmmScreen{Distance: decimal.RequireFromString("0.02")}
	first := density.Determination{ID: "a", At: sweptTimes(8), Day: density.DateOf(sweptTimes(0)), Sublot: "1", Gmm: sweptGmm}
	second := density.Determination{ID: "b", At: sweptTimes(12), Day: density.DateOf(sweptTimes(0)), Sublot: "2", Gmm: units.SpecificGravityOf(2.478)}
	right := density.Determination{ID: "c", At: sweptTimes(8), Day: density.DateOf(sweptTimes(0)), Sublot: "1", Gmm: units.SpecificGravityOf(2.508), Replaces: "a", Reason: "mistyped"}
	own := []any{
		sweptTimes(8), sweptTimes(12), time.Time{}, time.Date(-4, 1, 1, 0, 0, 0, 0, time.UTC), time.Date(20000, 1, 1, 0, 0, 0, 0, time.UTC),
		density.OfSublot, density.Latest, rule, ofDay, screen, first, second, right, []density.Determination{first, second},
		[]density.Determination{{ID: "d", At: sweptTimes(13), Day: density.DateOf(sweptTimes(0)), Sublot: "2", Gmm: sweptGmm}},
		density.Placement{Sublot: "1", Day: density.DateOf(sweptTimes(0)), At: sweptTimes(12)},
		[]density.Placement{{Sublot: "1", Day: density.DateOf(sweptTimes(0)), At: sweptTimes(8)}, {Sublot: "2", Day: density.DateOf(sweptTimes(0)), At: sweptTimes(13)}},
	}
	for _, r := range []density.MaximumRule{rule, ofDay} {
		empty := must(density.NewMaximumHistory(r, screen))(t)
		older := must(empty.Add(first, second))(t)
		own = append(own, older, must(older.Add(right))(t))
	}
	return own
}

func fieldValues(t *testing.T, c density.Correction, maximum density.Reference, p density.RoundingPolicy) []any {
	point := must(density.WGS84(44.9537, -93.09))(t)
	place := density.Place{Project: "TH 61", Lot: "3", Sublot: "2", Station: units.Station100Ft.Of(1234.5), Offset: units.Foot.Of(6.5),
		Edge: "right edge", Coordinates: point}
	entry := density.Entry{Value: units.LbPerFt3.Of(143.5), Stage: density.AsShown, Pattern: "centre"}
	record := density.SetRecord{ID: "A", Entries: []density.Entry{entry, entry}, At: sweptTimes(12), Mat: units.Fahrenheit.Of(148), Place: place}
	corrected := density.SetRecord{ID: "B", Corrected: "gauge adds 2.4", Moisture: density.MatDamp,
		Entries: []density.Entry{{Value: units.LbPerFt3.Of(145.9), Stage: density.AsCorrected}}}
	sets := []density.ReadingSet{must(density.NewReadingSet(record))(t), must(density.NewReadingSet(corrected))(t)}
	policy := density.SublotPolicy{RoundingPolicy: p, Locations: half}
	location := must(sets[0].Location(density.MatDensity, half))(t)
	cored := density.SublotLocation{ID: "C", Characteristic: density.MatDensity, InPlace: density.Core(sweptDensity)}
	sublot := density.Sublot{ID: "3-2", Locations: []density.SublotLocation{location, cored}}
	result := must(density.AuditSublot(sublot, c, sweptScope, maximum, policy))(t)
	spread := density.SpreadPolicy{Limit: units.LbPerFt3.Difference(2.5), Enough: 4}
	return []any{
		point, place, entry, density.AsShown, density.MatDensity, density.MatDamp, density.FineGraded, record, corrected,
		sets[0], sets[1], sets[:1], spread, density.SetPolicy{Spread: spread, Copied: 2, Stuck: 3},
		density.EdgePolicy{Least: units.Foot.Of(1)}, density.LiftPolicy{Fine: decimal.NewFromInt(3), Coarse: decimal.NewFromInt(4)},
		policy, location, cored, sublot, result, []density.SublotResult{result},
	}
}

func patternValues(t *testing.T) []any {
	var passes []density.Pass
	for i, x := range []float64{136.2, 139.7, 141.8, 143.3, 143.6, 143.9, 143.8} {
		passes = append(passes, density.Pass{Spots: []string{"left", "right"}, Mat: units.Fahrenheit.Of(290 - 10*float64(i)),
			Readings: []density.Reading{density.Uncorrected(units.LbPerFt3.Of(x)), density.Uncorrected(units.LbPerFt3.Of(x + 1))}})
	}
	tender := density.TemperatureRange{Low: units.Fahrenheit.Of(190), High: units.Fahrenheit.Of(240)}
	o := density.PatternOptions{Tolerance: units.LbPerFt3.Difference(0.5), MinMat: units.Fahrenheit.Of(175), Tender: tender}
	pattern := must(density.RollerPattern(passes, o))(t)
	return []any{
		passes[0], passes, tender, o, pattern, pattern.Outcome,
		density.Requirement{Percent: decimal.NewFromInt(92), Kind: density.KindMaximumTheoretical},
	}
}
