package main

import (
	"fmt"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg/draw"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/examples/internal/shift"
)

func patternSection(a shift.Answers) section {
	p := a.Pattern
	s := section{ID: "pattern", Title: "Roller pattern", Parts: []part{
		paragraph("%s %s", patternFinding(p), p.Next),
	}}
	if len(p.Averages) > 0 {
		passes := passTable(p, a.Passes)
		s.Parts = append(s.Parts, part{Figure: patternFigure(p, a.Passes)}, part{Table: &passes})
	}
	if t := p.PeakTest; t != nil {
		s.Parts = append(s.Parts, paragraph("The peak stands %+.2f above what follows; noise alone shows as much with a probability of at most %.2f.", t.Drop, t.P))
	}
	s.Parts = append(s.Parts, paragraph("Readings here are uncorrected, so they compare with each other only; a plateau does not mean that a limit is met."), warnings(p.Warnings))
	return s
}

// shown says whether an optimum was established.
func shown(p density.Pattern) bool {
	return p.Outcome == density.Plateau || p.Outcome == density.BreakOver
}

func patternFinding(p density.Pattern) string {
	if !shown(p) {
		return fmt.Sprintf("%s: %s.", sentence(p.Outcome.String()), p.Reason)
	}
	return fmt.Sprintf("%s: %s enough, because %s. The highest average is that after pass %d.", sentence(p.Outcome.String()), count(p.Optimum, "pass is", "passes are"), p.Reason, p.Peak)
}

func passTable(p density.Pattern, passes []density.Pass) table {
	unit := p.Averages[0].Unit()
	t := table{Caption: fmt.Sprintf("Averages after each pass (%v)", unit), Head: []string{"Pass", "Average", "Standard error", "Fitted", "Gain", "Mat"}}
	for i, a := range p.Averages {
		gain, stdErr := "–", "–"
		if i > 0 {
			gain = minus(fmt.Sprintf("%+.1f", a.Sub(p.Averages[i-1]).In(unit)))
		}
		if p.StdErrs != nil {
			stdErr = fmt.Sprintf("%.2f", p.StdErrs[i].In(unit))
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(i + 1), fmt.Sprintf("%.1f", a.In(unit)), stdErr, fmt.Sprintf("%.1f", p.Fit.Fitted[i].In(unit)), gain, passes[i].Mat.String()})
	}
	return t
}

func patternFigure(p density.Pattern, passes []density.Pass) *figure {
	f := &figure{ID: "passes", Title: "Average gauge reading after each roller pass",
		Text: fmt.Sprintf("The averages of %s, from %.1f after the first to %.1f after the last, with the nearest curve that rises and then falls. %s",
			count(len(p.Averages), "pass", "passes"), p.Averages[0], p.Averages[len(p.Averages)-1], patternFinding(p))}
	f.draw = func(phone bool) *chart { return drawPattern(p, passes, phone) }
	return f
}

func drawPattern(p density.Pattern, passes []density.Pass, phone bool) *chart {
	unit := p.Averages[0].Unit()
	mat := passes[0].Mat.Unit()
	var names []string
	var values []float64
	var points, fit plotter.XYs
	var errs plotter.YErrors
	for i, a := range p.Averages {
		x, y, half := float64(i), a.In(unit), 0.0
		if p.StdErrs != nil {
			half = p.StdErrs[i].In(unit)
		}
		names = append(names, fmt.Sprintf("%d\n%.0f", i+1, passes[i].Mat.In(mat)))
		values = append(values, y-half, y+half)
		points, fit = append(points, plotter.XY{X: x, Y: y}), append(fit, plotter.XY{X: x, Y: p.Fit.Fitted[i].In(unit)})
		errs = append(errs, struct{ Low, High float64 }{half, half})
	}
	tolerance := p.Options.Tolerance.In(unit)
	c := newChart(phone, span{-0.6, float64(len(names)) - 0.4}, around(0.12, values...))
	c.X.Label.Text, c.Y.Label.Text = fmt.Sprintf("Roller pass; below it the mat temperature (%v)", mat), fmt.Sprintf("Average reading (%v)", unit)
	c.names(names)
	c.grid()
	if shown(p) {
		drawOptimum(c, p, points[p.Optimum-1], tolerance)
	}
	c.key("nearest curve that rises, then falls", c.line(stroke(blue, 1.6, dashed), fit...))
	if p.StdErrs != nil {
		c.Add(&plotter.YErrorBars{XYs: points, YErrors: errs, LineStyle: stroke(ink, 1, solid), CapWidth: 9})
	}
	name := "average"
	if p.StdErrs != nil {
		name = "average ± its standard error"
	}
	c.key(name, c.marks(glyph(ink, 3, draw.CircleGlyph{}), points...))
	return c
}

// drawOptimum shades the room that the tolerance leaves above the optimum: no later
// average is above it.
func drawOptimum(c *chart, p density.Pattern, at plotter.XY, tolerance float64) {
	right := c.x.hi
	room := c.area(paleBlue, at, plotter.XY{X: right, Y: at.Y}, plotter.XY{X: right, Y: at.Y + tolerance}, plotter.XY{X: at.X, Y: at.Y + tolerance})
	c.key(fmt.Sprintf("no later average is more than %v above", p.Options.Tolerance), room)
	c.key(fmt.Sprintf("%s enough", count(p.Optimum, "pass is", "passes are")), c.up(stroke(green, 1.6, dashDot), at.X))
	if p.FellAt > 0 {
		c.key(fmt.Sprintf("break-over first shown by pass %d", p.FellAt), c.up(stroke(vermillion, 1.6, dotted), float64(p.FellAt-1)))
	}
}
