package density_test

import (
	"fmt"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/units"
)

// sublotSets are the readings at two locations of an invented sublot.
func sublotSets() (sets []density.ReadingSet) {
	c, err := density.WGS84(44.9537, -93.0900)
	if err != nil {
		fmt.Println(err)
	}
	at, err := density.ParseInstant("2026-05-12T14:05:00-05:00")
	if err != nil {
		fmt.Println(err)
	}
	entry := func(x float64, pattern string) density.Entry {
		return density.Entry{Value: units.LbPerFt3.Of(x), Stage: density.AsShown, Pattern: pattern}
	}
	for _, r := range []density.SetRecord{
		{ID: "A", Entries: []density.Entry{entry(143.5, "centre"), entry(143.8, "turned")}, At: at, Mat: units.Fahrenheit.Of(148),
			Place: density.Place{Lot: "3", Sublot: "2", Station: units.Station100Ft.Of(1234.5), Offset: units.Foot.Of(6.5), Edge: "right edge", Coordinates: c}},
		{ID: "B", Entries: []density.Entry{entry(144.9, "centre"), entry(142.1, "turned")}, Moisture: density.MatDamp,
			Place: density.Place{Lot: "3", Sublot: "2", Station: units.Station100Ft.Of(1380)}},
	} {
		s, err := density.NewReadingSet(r)
		if err != nil {
			fmt.Println(err)
		}
		sets = append(sets, s)
	}
	return sets
}

// sublotResults are those sets, with a core cut at B, and a joint beside them.
func sublotResults() (results []density.SublotResult) {
	policy := density.SublotPolicy{RoundingPolicy: jobRounding(), Locations: units.Rounding{Method: units.HalfEven, Places: 1}}
	var mat []density.SublotLocation
	for _, s := range sublotSets() {
		l, err := s.Location(density.MatDensity, policy.Mean)
		if err != nil {
			fmt.Println(err)
		}
		mat = append(mat, l)
	}
	mat[1].InPlace = density.Core(units.LbPerFt3.Of(146.8))
	joint := []density.SublotLocation{{ID: "J", Characteristic: density.JointDensity, InPlace: density.Core(units.LbPerFt3.Of(142.3))}}
	for _, locations := range [][]density.SublotLocation{mat, joint} {
		r, err := density.AuditSublot(density.Sublot{ID: "3-2", Locations: locations}, jobOffset(), jobScope, jobMaximum(), policy)
		if err != nil {
			fmt.Println(err)
		}
		results = append(results, r)
	}
	return results
}

func ExampleWGS84() {
	c, err := density.WGS84(44.9537, -93.0900)
	fmt.Println(c, err)
	_, err = density.WGS84(-93.0900, 44.9537)
	fmt.Println(err)
	// Output:
	// 44.9537, -93.09 <nil>
	// density.WGS84: latitude = -93.09: out of range, -90 to 90 degrees
}

func ExampleParseInstant() {
	at, err := density.ParseInstant("2026-05-12T14:05:00-05:00")
	fmt.Println(at.Format("2 January 15:04 -07:00"), err)
	_, err = density.ParseInstant("2026-05-12 14:05")
	fmt.Println(err)
	// Output:
	// 12 May 14:05 -05:00 <nil>
	// density.ParseInstant "2026-05-12 14:05": not an instant with its offset from UTC; need text like 2026-05-12T14:05:00-05:00
}

func ExampleNewReadingSet() {
	s, err := density.NewReadingSet(density.SetRecord{ID: "A", Entries: []density.Entry{
		{Value: units.LbPerFt3.Of(143.5), Stage: density.AsShown, Pattern: "centre"},
		{Value: units.LbPerFt3.Of(143.8), Stage: density.AsShown, Pattern: "turned"}}})
	fmt.Println(s, err)
	_, err = density.NewReadingSet(density.SetRecord{ID: "A", Entries: []density.Entry{
		{Value: units.LbPerFt3.Of(143.5), Stage: density.AsShown}, {Value: units.LbPerFt3.Of(146.2), Stage: density.AsCorrected}}})
	fmt.Println(err)
	// Output:
	// A: mean of 2, 143.65 lb/ft3 uncorrected <nil>
	// density.NewReadingSet: r.Entries[1] "A" = recorded as corrected: corrected and uncorrected readings are mixed (the first is uncorrected)
}

func ExampleReadingSet_CheckSpread() {
	r, err := sublotSets()[1].CheckSpread(density.SpreadPolicy{Limit: units.LbPerFt3.Difference(2.5), Enough: 4})
	fmt.Println(r.Explanation, err)
	// Output: centre (144.9 lb/ft3) and turned (142.1 lb/ft3) are 2.8 lb/ft3 apart, more than 2.5 lb/ft3; read both again and, if they stay apart, turn the gauge further until 4 are averaged <nil>
}

func ExampleCheckSets() {
	sets := sublotSets()
	r := sets[0].Record()
	r.ID = "C" // the same numbers once more
	again, err := density.NewReadingSet(r)
	if err != nil {
		fmt.Println(err)
		return
	}
	warnings, err := density.CheckSets(append(sets, again),
		density.SetPolicy{Spread: density.SpreadPolicy{Limit: units.LbPerFt3.Difference(3)}, Copied: 2, Stuck: 5})
	fmt.Println(warnings, err)
	// Output: [C: the 2 readings are those of A, in the same order (143.5, 143.8); look at the original record] <nil>
}

func ExampleAuditSublot() {
	for _, r := range sublotResults() {
		fmt.Println(r.ID, r.Characteristic, r.Percentage, r.Unit, r.Warnings)
	}
	// Output:
	// 3-2 mat density 93.55 % of maximum theoretical density [3-2: the result mixes methods: core at B; corrected reading at A; check that the contract allows it]
	// 3-2 joint density 90.93 % of maximum theoretical density at the joint []
}

func ExampleCheckSublots() {
	_, err := density.CheckSublots(sublotResults())
	fmt.Println(err)
	// Output: density.CheckSublots: results[1] "3-2" = % of maximum theoretical density at the joint: mat and joint density are different characteristics
}

func ExampleReadingsGeoJSON() {
	b, err := density.ReadingsGeoJSON(sublotSets()[:1])
	fmt.Print(string(b), err)
	// Output:
	// {"type":"FeatureCollection","features":[
	// {"type":"Feature","id":"A","geometry":{"type":"Point","coordinates":[-93.09,44.9537]},"properties":{"lot":"3","sublot":"2","station":"12+34.5 ft","offset":"6.5 ft","edge":"right edge","time":"2026-05-12T14:05:00-05:00","stage":"uncorrected","readings":["143.5 lb/ft3","143.8 lb/ft3"],"patterns":["centre","turned"],"count":2,"mean (lb/ft3)":143.65,"mat":"148 °F"}}
	// ]}
	// <nil>
}

func ExampleResultsGeoJSON() {
	b, err := density.ResultsGeoJSON(sublotResults()[1:])
	fmt.Print(string(b), err)
	// Output:
	// {"type":"FeatureCollection","features":[
	// {"type":"Feature","id":"joint density/3-2/J","geometry":null,"properties":{"sublot":"3-2","location":"J","characteristic":"joint density","origin":"core","count":0,"density (lb/ft3)":142.3,"sublot result":"90.93 % of maximum theoretical density at the joint"}}
	// ]}
	// <nil>
}

func ExampleReadingsSheet() {
	sheet, err := density.ReadingsSheet(sublotSets())
	fmt.Print(sheet, err)
	// Output:
	// lot 3, sublot 2
	// location  station (ft)  offset (ft)  edge        latitude (°)  longitude (°)  time                       stage        pattern         readings (lb/ft3)  n  mean (lb/ft3)  mat (°F)  moisture
	// A              12+34.5          6.5  right edge       44.9537         -93.09  2026-05-12T14:05:00-05:00  uncorrected  centre, turned  143.5, 143.8       2         143.65       148
	// B                13+80                                                                                   uncorrected  centre, turned  144.9, 142.1       2         143.50            damp
	// <nil>
}

func ExampleResultsSheet() {
	sheet, err := density.ResultsSheet(sublotResults()[1:])
	fmt.Print(sheet, err)
	// Output:
	// sublot  characteristic  location  origin  density (lb/ft3)  result (% of maximum theoretical density at the joint)
	// 3-2     joint density   J         core               142.3
	// 3-2     joint density   mean                         142.3                                                   90.93
	// <nil>
}

func ExampleCheckLift() {
	policy := density.LiftPolicy{Fine: decimal.NewFromInt(3), Coarse: decimal.NewFromInt(4)} // NCHRP Report 531, from memory
	l, err := density.CheckLift(units.Inch.Of(1.5), units.Millimetre.Of(12.5), density.CoarseGraded, policy)
	fmt.Println(l.Met, l.Warnings, err)
	// Output: false [the lift is 3.05 times the nominal maximum aggregate size, less than 4 for a coarse-graded mix; 1.96850393701 in would do] <nil>
}

func ExampleCheckEdge() {
	at := density.Place{Station: units.Station100Ft.Of(1380), Offset: units.Inch.Of(9), Edge: "unconfined edge"}
	warnings, err := density.CheckEdge(at, density.EdgePolicy{Least: units.Inch.Of(12)})
	fmt.Println(warnings, err)
	// Output: [13+80 ft: 9 in from the unconfined edge is nearer than 12 in] <nil>
}
