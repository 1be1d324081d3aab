package main

import (
	"fmt"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg/draw"

	"github.com/densilot/densilot/examples/internal/shift"
	"github.com/densilot/densilot/lot"
)

func sublotSection(a shift.Answers, estimates []estimate) section {
	t := a.Contract.Plan.Terms()
	results, days := sublotTable(a), dayTable(a)
	s := section{ID: "sublots", Title: "Sublot results", Parts: []part{
		paragraph("A corrected reading over the maximum density of its day is percent compaction; the limits are %v %s. The water density is %v, for cores and Gmm alike.", t.Limits, t.Unit, a.Contract.Water),
		{Table: &days}, {Table: &results}, {Figure: resultsFigure(a)},
	}}
	for i := range estimates {
		s.Parts = append(s.Parts, distributionParts(i+1, &estimates[i], t)...)
	}
	first := a.Sublots[0]
	s.Parts = append(s.Parts, part{Heading: fmt.Sprintf("Working of sublot %s, the others alike", first.ID)}, working(first.Audited.Working))
	for _, b := range a.Sublots {
		s.Parts = append(s.Parts, warnings(b.Audited.Warnings))
	}
	return s
}

func dayTable(a shift.Answers) table {
	t := table{Caption: "Maximum density of each day", Head: []string{"Day", "Gmm", "Maximum density", "Working"}, Words: true}
	for _, d := range a.Days {
		t.Rows = append(t.Rows, []string{d.Date.String(), d.Maximum.Gravity().String(), d.Maximum.Density().String(), d.Step.String()})
	}
	return t
}

func sublotTable(a shift.Answers) table {
	unit := a.Offset.Unit
	t := table{Caption: "Sublots of the shift, " + a.Contract.Kind.PercentOf(),
		Head: []string{"Sublot", "Compaction (%)", "Air voids (%)", fmt.Sprintf("Corrected (%v)", unit), fmt.Sprintf("Maximum (%v)", unit), "Readings",
			fmt.Sprintf("Quantity (%s)", a.Contract.Plan.Terms().QuantityUnit), "Lot", "Day"}}
	places := max(0, a.Contract.Rounding.Density.Places)
	for _, b := range a.Sublots {
		r := b.Audited
		t.Rows = append(t.Rows, []string{b.ID, shift.Digits(r.Percentage), shift.Digits(*r.AirVoids), fmt.Sprintf("%.*f", places, r.Density.In(unit)),
			fmt.Sprintf("%.*f", places, r.Maximum.In(unit)), fmt.Sprint(r.N), b.Quantity.String(), b.Lot, b.Date.String()})
	}
	return t
}

// flagged is the id of the result that the screen of the lot flags, or "".
func flagged(l shift.Lot) string {
	if l.Screen == nil || l.Screen.Flagged == nil {
		return ""
	}
	return l.Screen.Flagged[0]
}

func resultsFigure(a shift.Answers) *figure {
	t := a.Contract.Plan.Terms()
	f := &figure{ID: "results", Title: "Percent compaction of the sublots against the limits", Text: fmt.Sprintf("The results of %s in order against the limits %v %s.", count(len(a.Lots), "lot", "lots"), t.Limits, t.Unit)}
	f.Table = table{Caption: "Results of the lots", Head: []string{"Sublot", "Lot", "Result (%)", "Within the limits", "Screen"}}
	for _, l := range a.Lots {
		f.Text += fmt.Sprintf(" Lot %s: mean %.2f, %d of %d within.", l.Lot, l.Mean.Exact, l.WithinCount, l.N)
		for _, r := range l.Results {
			f.Table.Rows = append(f.Table.Rows, []string{r.ID, l.Lot, shift.Digits(r.Value), yes(t.Limits.Contains(r.Value)), map[bool]string{true: "flagged", false: "–"}[r.ID == flagged(l)]})
		}
	}
	f.draw = func(phone bool) *chart { return drawResults(a, t, phone) }
	return f
}

func yes(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

func drawResults(a shift.Answers, t lot.Terms, phone bool) *chart {
	var ids []string
	values := limitValues(t.Limits)
	for _, l := range a.Lots {
		for _, r := range l.Results {
			ids, values = append(ids, r.ID), append(values, r.Value.InexactFloat64())
		}
	}
	c := newChart(phone, span{-0.6, float64(len(ids)) - 0.4}, around(0.12, values...))
	c.X.Label.Text, c.Y.Label.Text = "Sublot, in order", "Percent compaction (%)"
	c.names(ids)
	c.grid()
	limit := c.limits(t.Limits)
	var out, mark, mean = &plotter.Scatter{}, &plotter.Scatter{}, &plotter.Line{}
	at := 0.0
	for i, l := range a.Lots {
		if i > 0 {
			c.line(stroke(grey, 0.7, solid), plotter.XY{X: at - 0.5, Y: c.y.lo}, plotter.XY{X: at - 0.5, Y: c.y.hi})
		}
		width := float64(len(l.Results))
		mean = c.line(stroke(blue, 1.4, dashed), plotter.XY{X: at - 0.3, Y: l.Mean.Exact}, plotter.XY{X: at + width - 0.7, Y: l.Mean.Exact})
		c.label(plotter.XY{X: at + (width-1)/2, Y: c.y.hi}, "lot "+l.Lot)
		mark = c.marks(glyph(ink, 4, draw.CircleGlyph{}))
		for _, r := range l.Results {
			p := plotter.XY{X: at, Y: r.Value.InexactFloat64()}
			mark.XYs = append(mark.XYs, p)
			if r.ID == flagged(l) {
				out = c.marks(glyph(vermillion, 7.5, ring{}), p)
			}
			at++
		}
	}
	c.key("result of a sublot", mark)
	c.key("mean of the lot", mean)
	c.key("limit", limit)
	if len(out.XYs) > 0 {
		c.key("flagged by the outlier screen, kept", out)
	}
	return c
}

func limitValues(l lot.Limits) []float64 {
	var values []float64
	if x, ok := l.Lower(); ok {
		values = append(values, x.InexactFloat64())
	}
	if x, ok := l.Upper(); ok {
		values = append(values, x.InexactFloat64())
	}
	return values
}

// limits draws the limits across the chart.
func (c *chart) limits(l lot.Limits) *plotter.Line {
	var line *plotter.Line
	for _, x := range limitValues(l) {
		line = c.across(stroke(vermillion, 1.6, dashDot), x)
	}
	return line
}
