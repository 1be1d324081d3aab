package lot

import (
	"bytes"
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
	b.WriteString("| step | formula | numbers | value | used | rounding |\n| --- | --- | --- | --- | --- | --- |\n")
	for _, s := range steps {
		rounded := s.Rounded
		if rounded == s.Value {
			rounded = ""
		}
		for _, cell := range []string{s.What, s.Formula, s.Numbers, s.Value, rounded, s.Rounding} {
			b.WriteString("| ")
			b.WriteString(markdown.Replace(cell))
			b.WriteByte(' ')
		}
		b.WriteString("|\n")
	}
	return b.String()
}

var markdown = strings.NewReplacer("|", `\|`, "*", `\*`, "_", `\_`, "`", "\\`", "[", `\[`, "<", "&lt;", "&", "&amp;", `\`, `\\`, "\n", " ")
