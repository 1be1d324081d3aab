package lot

import (
	"bytes"
	"html"
	"strings"

	"github.com/densilot/densilot/units"
)

// WorkingText writes a working as lines, one step each, for a person who redoes it
// by hand.
func WorkingText(steps []units.Step) string {
	var b strings.Builder
	for _, s := range steps {
		b.WriteString(s.String())
		b.WriteByte('\n')
	}
	return b.String()
}

// WorkingJSON writes a working as a JSON list of steps with the keys what, formula,
// numbers, value, rounded and rounding, of which the empty ones are left out; the
// same form as in [Evaluation.MarshalJSON].
func WorkingJSON(steps []units.Step) []byte {
	var b bytes.Buffer
	w := &writer{b: &b}
	w.each(len(steps), func(i int) { writeForm(&b, func(f form) { stepForm(f, &steps[i]) }) })
	return b.Bytes()
}

// WorkingMarkdown writes a working as a table in Markdown with the columns step,
// formula, numbers, value, used and rounding. Used is empty where nothing is
// rounded. Characters that mean something in Markdown are escaped.
func WorkingMarkdown(steps []units.Step) string {
	var b strings.Builder
	b.WriteString("| " + strings.Join(workingColumns, " | ") + " |\n" + strings.Repeat("| --- ", len(workingColumns)) + "|\n")
	for _, s := range steps {
		for _, cell := range cellsOf(s) {
			b.WriteString("| ")
			b.WriteString(markdown.Replace(cell))
			b.WriteByte(' ')
		}
		b.WriteString("|\n")
	}
	return b.String()
}

// WorkingHTML writes a working as an HTML table with the columns of
// [WorkingMarkdown], for a page that is put together elsewhere: a caption, and
// headings with their scope, so that it can be read aloud. Every text is escaped.
func WorkingHTML(caption string, steps []units.Step) string {
	var b strings.Builder
	b.WriteString("<table>\n<caption>" + html.EscapeString(caption) + "</caption>\n<thead>\n<tr>")
	for _, name := range workingColumns {
		b.WriteString(`<th scope="col">` + name + "</th>")
	}
	b.WriteString("</tr>\n</thead>\n<tbody>\n")
	for _, s := range steps {
		cells := cellsOf(s)
		b.WriteString(`<tr><th scope="row">` + html.EscapeString(cells[0]) + "</th>")
		for _, cell := range cells[1:] {
			b.WriteString("<td>" + html.EscapeString(cell) + "</td>")
		}
		b.WriteString("</tr>\n")
	}
	b.WriteString("</tbody>\n</table>\n")
	return b.String()
}

var workingColumns = []string{"step", "formula", "numbers", "value", "used", "rounding"}

func cellsOf(s units.Step) []string {
	used := s.Rounded
	if used == s.Value {
		used = ""
	}
	return []string{s.What, s.Formula, s.Numbers, s.Value, used, s.Rounding}
}

var markdown = strings.NewReplacer("|", `\|`, "*", `\*`, "_", `\_`, "`", "\\`", "[", `\[`, "<", "&lt;", "&", "&amp;", `\`, `\\`, "~", `\~`, "\n", " ", "\r", " ")
