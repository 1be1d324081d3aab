package density

import (
	"strings"
	"unicode/utf8"
)

// table is text in aligned columns, with lines above it.
type table struct {
	above   []string
	columns []sheetColumn
}

type sheetColumn struct {
	head  string
	right bool // numbers stand to the right
	cells []string
}

// column adds text, unless no cell holds any.
func (t *table) column(head string, n int, cell func(i int) string) {
	t.add(sheetColumn{head: head, cells: cellsOf(n, cell)})
}

// quantity adds numbers with units and moves the unit into the heading where all
// share it.
func (t *table) quantity(head string, n int, cell func(i int) string) {
	cells := cellsOf(n, cell)
	unit, shared := "", true
	for _, c := range cells {
		_, u, _ := strings.Cut(c, " ")
		switch {
		case c == "":
		case unit == "":
			unit = u
		case u != unit:
			shared = false
		}
	}
	if shared && unit != "" {
		head += " (" + unit + ")"
		for i, c := range cells {
			cells[i], _, _ = strings.Cut(c, " ")
		}
	}
	t.add(sheetColumn{head, true, cells})
}

// list adds several quantities of one unit per line.
func (t *table) list(head string, n int, quantities func(i int) []string) {
	unit := ""
	t.column(head, n, func(i int) string {
		var numbers []string
		for _, q := range quantities(i) {
			x, u, _ := strings.Cut(q, " ")
			numbers, unit = append(numbers, x), u
		}
		return strings.Join(numbers, ", ")
	})
	if unit != "" {
		t.columns[len(t.columns)-1].head += " (" + unit + ")"
	}
}

// place adds the columns that say where and when.
func (t *table) place(n int, place func(i int) Place, instant func(i int) string) {
	t.quantity("station", n, func(i int) string { return place(i).Station.String() })
	t.quantity("offset", n, func(i int) string { return place(i).Offset.String() })
	t.column("edge", n, func(i int) string { return place(i).Edge })
	t.quantity("latitude", n, func(i int) string { return coordinate(place(i).Coordinates, Coordinates.Latitude) })
	t.quantity("longitude", n, func(i int) string { return coordinate(place(i).Coordinates, Coordinates.Longitude) })
	t.column("time", n, instant)
}

func coordinate(c Coordinates, part func(Coordinates) float64) string {
	if c.IsZero() {
		return ""
	}
	return degrees(part(c)) + " °"
}

// common writes above the table what all lines share of the job, and adds a column
// for what they do not.
func (t *table) common(n int, place func(i int) Place) {
	for _, part := range []struct {
		head string
		of   func(Place) string
	}{{"project", func(p Place) string { return p.Project }}, {"lot", func(p Place) string { return p.Lot }}, {"sublot", func(p Place) string { return p.Sublot }}} {
		cells := cellsOf(n, func(i int) string { return part.of(place(i)) })
		switch {
		case n > 0 && same(cells) && cells[0] != "":
			t.above = append(t.above, part.head+" "+cells[0])
		default:
			t.add(sheetColumn{head: part.head, cells: cells})
		}
	}
}

func cellsOf(n int, cell func(i int) string) []string {
	cells := make([]string, n)
	for i := range cells {
		cells[i] = cell(i)
	}
	return cells
}

func same(cells []string) bool {
	for _, c := range cells {
		if c != cells[0] {
			return false
		}
	}
	return true
}

func (t *table) add(c sheetColumn) {
	if strings.Join(c.cells, "") != "" {
		t.columns = append(t.columns, c)
	}
}

// String writes the table, lines ended by \n and without blanks at their end.
func (t *table) String() string {
	var b strings.Builder
	if len(t.above) > 0 {
		b.WriteString(strings.Join(t.above, ", ") + "\n")
	}
	rows := 0
	for _, c := range t.columns {
		rows = len(c.cells)
	}
	for i := -1; i < rows; i++ {
		var line []string
		for _, c := range t.columns {
			line = append(line, c.padded(i))
		}
		if text := strings.TrimRight(strings.Join(line, "  "), " "); text != "" {
			b.WriteString(text + "\n")
		}
	}
	return b.String()
}

// padded returns cell i, or the heading for -1, in the width of the column.
func (c sheetColumn) padded(i int) string {
	width := utf8.RuneCountInString(c.head)
	for _, cell := range c.cells {
		width = max(width, utf8.RuneCountInString(cell))
	}
	text := c.head
	if i >= 0 {
		text = c.cells[i]
	}
	blanks := strings.Repeat(" ", width-utf8.RuneCountInString(text))
	if c.right {
		return blanks + text
	}
	return text + blanks
}
