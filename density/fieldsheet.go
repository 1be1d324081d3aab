package density

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/densilot/densilot/units"
)

// ReadingsSheet writes sets as a plain-text table for people: one line per
// location in the order given, columns aligned, units in the headings. A unit
// stands in the cells instead where a column holds several. A column that nobody
// filled is left out; what all lines share of project, lot and sublot stands above
// the table. Means are shown to 0.01, half-even.
//
// The errors are those of [ReadingsGeoJSON].
func ReadingsSheet(sets []ReadingSet) (string, error) {
	const fn = "density.ReadingsSheet"
	if err := checkTogether(fn, sets); err != nil {
		return "", err
	}
	n := len(sets)
	place := func(i int) Place { return sets[i].record.Place }
	var t table
	t.common(n, place)
	t.column("location", n, func(i int) string { return sets[i].ID() })
	t.place(n, place, func(i int) string { return instantText(sets[i].record.At) })
	t.column("stage", n, func(i int) string { return sets[i].Stage().String() })
	t.column("pattern", n, func(i int) string { return sets[i].patterns() })
	t.list("readings", n, func(i int) []string { return sets[i].recorded() })
	t.quantity("n", n, func(i int) string { return strconv.Itoa(sets[i].N()) })
	t.quantity("mean", n, func(i int) string { return fixedDensity(sets[i].Mean()) })
	t.quantity("mat", n, func(i int) string { return sets[i].record.Mat.String() })
	t.column("moisture", n, func(i int) string { return sets[i].record.Moisture.String() })
	return t.String(), nil
}

// ResultsSheet writes the results of sublots like [ReadingsSheet]: one line per
// location with its density in place and where that came from, and after each
// sublot's locations a line with its mean and percentage.
//
// The errors are those of [ResultsGeoJSON].
func ResultsSheet(results []SublotResult) (string, error) {
	if err := checkDistinct("density.ResultsSheet", results); err != nil {
		return "", err
	}
	var rows []sheetRow
	for _, r := range results {
		for _, l := range r.Locations {
			rows = append(rows, sheetRow{result: r, location: l})
		}
		rows = append(rows, sheetRow{result: r, location: LocationResult{ID: "mean", Density: r.Density}, percent: r.percentText()})
	}
	return resultTable(rows).String(), nil
}

// sheetRow is a location, or with a percentage the mean of a sublot.
type sheetRow struct {
	result   SublotResult
	location LocationResult
	percent  string
}

func resultTable(rows []sheetRow) *table {
	n := len(rows)
	var t table
	t.column("sublot", n, func(i int) string { return rows[i].result.ID })
	t.column("characteristic", n, func(i int) string { return rows[i].result.Characteristic.String() })
	t.column("location", n, func(i int) string { return rows[i].location.ID })
	t.place(n, func(i int) Place { return rows[i].location.Place }, func(i int) string { return instantText(rows[i].location.At) })
	t.column("origin", n, func(i int) string {
		if rows[i].location.Origin == 0 {
			return ""
		}
		return rows[i].location.Origin.String()
	})
	t.quantity("readings", n, func(i int) string {
		if rows[i].location.Readings == 0 {
			return ""
		}
		return strconv.Itoa(rows[i].location.Readings)
	})
	t.quantity("gauge mean", n, func(i int) string { return fixedDensity(rows[i].location.Gauge) })
	t.quantity("density", n, func(i int) string { return rows[i].location.Density.String() })
	t.quantity("result", n, func(i int) string { return rows[i].percent })
	return &t
}

func fixedDensity(d units.Density) string {
	if d.IsZero() {
		return ""
	}
	return fmt.Sprintf("%.2f", d)
}

func (s ReadingSet) patterns() string {
	var all []string
	for _, e := range s.record.Entries {
		if e.Pattern != "" {
			all = append(all, e.Pattern)
		}
	}
	return strings.Join(all, ", ")
}

func (s ReadingSet) recorded() (all []string) {
	for _, e := range s.record.Entries {
		all = append(all, e.Value.String())
	}
	return all
}
