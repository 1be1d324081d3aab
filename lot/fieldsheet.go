package lot

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Records returns the sheet as rows of text with a heading, units in it, ready for
// encoding/csv. Numbers have the digits they were rounded to.
func (f FieldSheet) Records() [][]string {
	along, across := f.Terms.Along, f.Terms.Across
	heading := []string{"sublot", "from (" + along.Unit + ")", "size (" + along.Unit + ")", "weight", "number along", "into sublot (" + along.Unit + ")", along.Name + " (" + along.Unit + ")"}
	if across != nil {
		heading = append(heading, "number across", across.Name+" ("+across.Unit+")")
	}
	rows := [][]string{heading}
	for _, l := range f.Locations {
		row := []string{l.Sublot, digits(l.From), digits(l.Size), strconv.FormatFloat(l.Weight, 'f', 4, 64), digits(l.Along.Number), digits(l.Along.Into), digits(l.Along.At)}
		if l.Across != nil {
			row = append(row, digits(l.Across.Number), digits(l.Across.At))
		}
		rows = append(rows, row)
	}
	return rows
}

// String returns the sheet as plain text: how it was drawn, what is kept clear, one
// line for each sublot, and the numbers that were discarded.
func (f FieldSheet) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "lot %s, seed %d, SplitMix64; number x size = into sublot\n", f.Terms.Lot, f.Seed)
	writeExclusions(&b, f.Terms.Along)
	if f.Terms.Across != nil {
		fmt.Fprintf(&b, "width %s %s; number x width = offset\n", digits(f.Terms.Across.Width), f.Terms.Across.Unit)
		writeExclusions(&b, f.Terms.Across.Axis)
	}
	b.WriteByte('\n')
	writeTable(&b, f.Records())
	f.writeDiscarded(&b)
	return b.String()
}

func writeExclusions(b *strings.Builder, a Axis) {
	for _, e := range a.Excluded {
		fmt.Fprintf(b, "not at %s %s to %s %s (%s)\n", a.Name, digits(e.From), digits(e.To), a.Unit, e.Reason)
	}
}

// writeTable puts ids to the left of their column and numbers to the right.
func writeTable(b *strings.Builder, rows [][]string) {
	widths := make([]int, len(rows[0]))
	for _, row := range rows {
		for i, cell := range row {
			widths[i] = max(widths[i], utf8.RuneCountInString(cell))
		}
	}
	for _, row := range rows {
		for i, cell := range row {
			gap := strings.Repeat(" ", widths[i]-utf8.RuneCountInString(cell))
			if i == 0 {
				b.WriteString(cell + gap)
			} else {
				b.WriteString("  " + gap + cell)
			}
		}
		b.WriteByte('\n')
	}
}

func (f FieldSheet) writeDiscarded(b *strings.Builder) {
	for _, l := range f.Locations {
		for _, d := range l.Discarded {
			fmt.Fprintf(b, "sublot %s: number %s discarded, %s %s: %s\n", l.Sublot, digits(d.Number), d.Axis, digits(d.At), d.Reason)
		}
	}
}
