package density_test

import (
	"strings"
	"testing"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/units"
)

// The bytes and the columns follow by hand: (146.1 + 147.9)/2 = 147 and
// 100 · 147/156.4 = 93.989…, a percentage that keeps its last zero as 94.0.
func TestResultsWritten(t *testing.T) {
	ref := maximum(t, 2.512, units.Water62_245)
	p := sublotRounding
	p.Percentage.Places = 1
	locations := []density.SublotLocation{matAt("A", units.Density{}, 143.5, 143.9), matAt("B", lb(147.9), 144)}
	locations[0].Place = density.Place{Lot: "3", Station: units.Station100Ft.Of(1234.5)}
	r, err := density.AuditSublot(density.Sublot{ID: "2", Locations: locations}, offset(t, units.LbPerFt3.Difference(2.4)), scope, ref, p)
	if err != nil {
		t.Fatal(err)
	}
	wantJSON := `{"type":"FeatureCollection","features":[
{"type":"Feature","id":"mat density/2/A","geometry":null,"properties":{"lot":"3","sublot":"2","station":"12+34.5 ft","location":"A","characteristic":"mat density","origin":"corrected reading","source":"letter of 3 May","count":2,"gauge mean (lb/ft3)":143.7,"density (lb/ft3)":146.1,"sublot result":"94.0 % of maximum theoretical density"}},
{"type":"Feature","id":"mat density/2/B","geometry":null,"properties":{"sublot":"2","location":"B","characteristic":"mat density","origin":"core","count":1,"gauge mean (lb/ft3)":144,"density (lb/ft3)":147.9,"sublot result":"94.0 % of maximum theoretical density"}}
]}
`
	if got, err := density.ResultsGeoJSON([]density.SublotResult{r}); err != nil || string(got) != wantJSON {
		t.Errorf("got %s%v\nwant %s", got, err, wantJSON)
	}
	wantSheet := "" +
		"sublot  characteristic  location  station (ft)  origin             readings  gauge mean (lb/ft3)  density (lb/ft3)  result (% of maximum theoretical density)\n" +
		"2       mat density     A              12+34.5  corrected reading         2               143.70             146.1\n" +
		"2       mat density     B                       core                      1               144.00             147.9\n" +
		"2       mat density     mean                                                                                   147" + strings.Repeat(" ", 2+37) + "94.0\n"
	if got, err := density.ResultsSheet([]density.SublotResult{r}); err != nil || got != wantSheet {
		t.Errorf("got\n%s%v\nwant\n%s", got, err, wantSheet)
	}
}
