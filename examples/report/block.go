package main

import (
	"fmt"
	"strings"
	"time"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg/draw"

	"github.com/densilot/densilot/examples/internal/shift"
)

func blockSection(b *shift.BlockChecks) section {
	s := section{ID: "check", Title: "Daily check of the gauge"}
	if b == nil {
		s.Parts = []part{paragraph("No readings on the reference block were handed over (block.csv, block-terms.csv), so nothing is said here about whether the gauge was in order.")}
		return s
	}
	last := b.Readings[len(b.Readings)-1]
	verdict, rules := "passed", b.Check.Kept
	if !b.Check.Passed {
		verdict, rules = "did not pass", b.Check.Broken
	}
	s.Parts = []part{
		paragraph("Each morning the gauge is read on its reference block before the first reading on the mat. The check of %s, %v, %s: %s.",
			last.At.Format("2 January 2006"), last.Value, verdict, strings.Join(rules, "; ")),
	}
	if !b.Check.Passed {
		s.Parts = append(s.Parts, paragraph("In doubt is what was read from %s on.", doubtFrom(b)))
	}
	s.Parts = append(s.Parts, part{Figure: blockFigure(b)}, warnings(b.Check.Warnings))
	return s
}

func doubtFrom(b *shift.BlockChecks) string {
	if b.Check.InDoubt.From.IsZero() {
		return "the beginning"
	}
	return b.Check.InDoubt.From.Format("2 January 2006 15:04")
}

func blockFigure(b *shift.BlockChecks) *figure {
	f := &figure{ID: "block", Title: "Control chart of the gauge on its reference block", Text: blockText(b), Table: blockTable(b)}
	f.draw = func(phone bool) *chart { return drawBlock(b, phone) }
	return f
}

func blockText(b *shift.BlockChecks) string {
	o := b.Check.Options
	text := fmt.Sprintf("%s in order of time against the value of the block, %v ± %v.", count(len(b.Readings), "morning reading", "morning readings"), o.Assigned, o.Tolerance)
	l := b.Check.Chart
	if l == nil {
		return text + " The earlier ones are all equal and give no limits of their own."
	}
	return text + fmt.Sprintf(" The limits from the %d before the last are %.2f to %.2f about a mean of %.2f; %s of those outside them.", l.N, l.Limits.Lo, l.Limits.Hi, l.Mean, count(len(l.Outside), "reading", "readings"))
}

func blockTable(b *shift.BlockChecks) table {
	unit := b.Check.Options.Assigned.Unit()
	t := table{Caption: fmt.Sprintf("Readings on the block, and cumulative sums about the mean of the earlier ones (%v)", unit), Head: []string{"Morning", "Reading", "Sum up", "Sum down"}}
	for i, r := range b.Readings {
		up, down := "–", "–"
		if s := b.Check.CUSUM; s != nil {
			up, down = fmt.Sprintf("%.2f", s.High[i]), fmt.Sprintf("%.2f", s.Low[i])
		}
		t.Rows = append(t.Rows, []string{r.At.Format(time.DateOnly), fmt.Sprintf("%.1f", r.Value.In(unit)), up, down})
	}
	return t
}

func drawBlock(b *shift.BlockChecks, phone bool) *chart {
	o := b.Check.Options
	unit := o.Assigned.Unit()
	value, tolerance := o.Assigned.In(unit), o.Tolerance.In(unit)
	var days []string
	var points plotter.XYs
	values := []float64{value - tolerance, value + tolerance}
	for i, r := range b.Readings {
		x := r.Value.In(unit)
		days, values, points = append(days, r.At.Format("2 Jan")), append(values, x), append(points, plotter.XY{X: float64(i), Y: x})
	}
	if l := b.Check.Chart; l != nil {
		values = append(values, l.Limits.Lo, l.Limits.Hi)
	}
	c := newChart(phone, span{-0.6, float64(len(days)) - 0.4}, around(0.08, values...))
	c.X.Label.Text, c.Y.Label.Text = fmt.Sprintf("Morning (%s)", b.Readings[0].At.Format("2006")), fmt.Sprintf("Reading on the block (%v)", unit)
	c.names(days)
	c.grid()
	bound := c.across(stroke(vermillion, 1.4, dashDot), value-tolerance)
	c.across(bound.LineStyle, value+tolerance)
	c.line(stroke(grey, 0.8, solid), points...)
	last := len(points) - 1
	c.key("earlier morning", c.marks(glyph(ink, 3, draw.CircleGlyph{}), points[:last]...))
	c.key("the last check, judged by the earlier", c.marks(glyph(ink, 5, draw.PyramidGlyph{}), points[last]))
	if l := b.Check.Chart; l != nil {
		c.key(fmt.Sprintf("mean of the earlier, %.2f", l.Mean), c.across(stroke(blue, 1.2, solid), l.Mean))
		limit := c.across(stroke(blue, 1.2, dashed), l.Limits.Lo)
		c.across(limit.LineStyle, l.Limits.Hi)
		c.key(fmt.Sprintf("limits, mean ± %g sigma", o.Multiple), limit)
	}
	c.key(fmt.Sprintf("block value %.1f ± %.1f", value, tolerance), bound)
	return c
}
