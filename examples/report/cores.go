package main

import (
	"fmt"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg/draw"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/examples/internal/shift"
)

func coresSection(a shift.Answers) section {
	e := a.Offset
	pairs := pairTable(e)
	s := section{ID: "gauge", Title: "Gauge against cores", Parts: []part{
		paragraph("The gauge was read at %s of the test strip and a core was cut at each. The mean difference core minus gauge, %+v, is added to every later reading of %v. With %g %% confidence the true offset lies between %+.2f and %+.2f %v.",
			count(e.N, "location", "locations"), e.Offset, a.Contract.Strip.Scope, 100*e.CI.Level, e.CI.Lo, e.CI.Hi, e.Unit),
		{Figure: coresFigure(e)}, {Figure: residualFigure(e)}, {Table: &pairs},
		paragraph("%s", screenText(e)),
		working(e.Working), warnings(e.Warnings),
	}}
	return s
}

func screenText(e bias.OffsetEstimate) string {
	if e.Screen == nil {
		return "Too few cores to screen for a bad one."
	}
	finding := "no core is flagged"
	if e.Screen.Outlier {
		finding = fmt.Sprintf("core %s is flagged and kept", e.Pairs[e.Screen.Index].ID)
	}
	return fmt.Sprintf("Screen for a bad core: %s (G = %.3f, critical %.3f, %v, alpha %g).", finding, e.Screen.G, e.Screen.Critical, e.Screen.Side, e.Screen.Alpha)
}

func pairTable(e bias.OffsetEstimate) table {
	t := table{Caption: fmt.Sprintf("Locations of the test strip, densities in %v", e.Unit),
		Head: []string{"Location", "Readings", "Mean gauge", "Core", "Core − gauge", "Residual", "Offset without it"}}
	for _, p := range e.Pairs {
		t.Rows = append(t.Rows, []string{p.ID, fmt.Sprint(p.Readings), fmt.Sprintf("%.2f", p.Gauge.In(e.Unit)), fmt.Sprintf("%.1f", p.Core.In(e.Unit)),
			signed(p.Difference.In(e.Unit)), signed(p.Residual.In(e.Unit)), signed(p.Without.In(e.Unit))})
	}
	return t
}

func coresFigure(e bias.OffsetEstimate) *figure {
	f := &figure{ID: "cores", Title: "Core density against the mean gauge reading",
		Text: fmt.Sprintf("%s lie about the line core = gauge %+.2f %v. The shaded band, the %g %% interval of the offset, goes from %+.2f to %+.2f; the dashed lines, between which one more location is expected, from %+.2f to %+.2f.",
			count(e.N, "core", "cores"), e.Mean, e.Unit, 100*e.CI.Level, e.CI.Lo, e.CI.Hi, e.Prediction.Lo, e.Prediction.Hi),
		Table: table{Caption: "Lines of the figure", Head: []string{"Line", fmt.Sprintf("Core − gauge (%v)", e.Unit)}, Rows: [][]string{
			{"offset before rounding", signed(e.Mean)}, {"offset as used", fmt.Sprintf("%+v", e.Offset)},
			{"interval of the offset, lower end", signed(e.CI.Lo)}, {"interval of the offset, upper end", signed(e.CI.Hi)},
			{"one more location, lower end", signed(e.Prediction.Lo)}, {"one more location, upper end", signed(e.Prediction.Hi)}}}}
	f.draw = func(phone bool) *chart { return drawCores(e, phone) }
	return f
}

func drawCores(e bias.OffsetEstimate, phone bool) *chart {
	var gauge, core []float64
	for _, p := range e.Pairs {
		gauge, core = append(gauge, p.Gauge.In(e.Unit)), append(core, p.Core.In(e.Unit))
	}
	x := around(0.12, gauge...)
	y := around(0.08, append(core, x.lo, x.lo+e.Prediction.Lo, x.hi+e.Prediction.Hi)...)
	c := newChart(phone, x, y)
	c.X.Label.Text, c.Y.Label.Text = fmt.Sprintf("Mean gauge reading (%v)", e.Unit), fmt.Sprintf("Core density (%v)", e.Unit)
	c.grid()
	at := func(x, above float64) plotter.XY { return plotter.XY{X: x, Y: x + above} }
	along := func(s draw.LineStyle, above float64) *plotter.Line {
		return c.line(s, at(x.lo, above), at(x.hi, above))
	}
	band := c.area(paleBlue, at(x.lo, e.CI.Lo), at(x.hi, e.CI.Lo), at(x.hi, e.CI.Hi), at(x.lo, e.CI.Hi))
	equal := along(stroke(grey, 1.2, dotted), 0)
	next := along(stroke(blue, 1, dashed), e.Prediction.Lo)
	along(next.LineStyle, e.Prediction.Hi)
	mean := along(stroke(blue, 1.8, solid), e.Mean)
	points := c.marks(glyph(ink, 4, draw.CircleGlyph{}))
	var ids []string
	for i, p := range e.Pairs {
		points.XYs = append(points.XYs, plotter.XY{X: gauge[i], Y: core[i]})
		ids = append(ids, p.ID)
	}
	c.tag(points.XYs, ids)
	c.key("location of the test strip", points)
	c.key(fmt.Sprintf("core = gauge %+.2f", e.Mean), mean)
	c.key(fmt.Sprintf("%g %% interval of the offset", 100*e.CI.Level), band)
	c.key("one more location is expected between", next)
	c.key("core = gauge", equal)
	return c
}
