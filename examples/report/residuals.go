package main

import (
	"fmt"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg/draw"

	"github.com/densilot/densilot/bias"
)

func residualFigure(e bias.OffsetEstimate) *figure {
	f := &figure{ID: "residuals", Title: "Residuals in the order of the locations",
		Text:  fmt.Sprintf("What each location differs from the mean offset, in %v, in the order in which they were read: %s. %s", e.Unit, residualWords(e), residualLimits(e)),
		Table: table{Caption: fmt.Sprintf("Residuals in order (%v)", e.Unit), Head: []string{"Location", "Core − gauge − offset"}}}
	for _, p := range e.Pairs {
		f.Table.Rows = append(f.Table.Rows, []string{p.ID, signed(p.Residual.In(e.Unit))})
	}
	f.draw = func(phone bool) *chart { return drawResiduals(e, phone) }
	return f
}

func residualWords(e bias.OffsetEstimate) string {
	var words []string
	for _, p := range e.Pairs {
		words = append(words, fmt.Sprintf("%s %s", p.ID, signed(p.Residual.In(e.Unit))))
	}
	return list(words)
}

func residualLimits(e bias.OffsetEstimate) string {
	if e.Screen == nil {
		return ""
	}
	return fmt.Sprintf("The screen would flag one beyond ±%.2f.", e.Screen.Critical*e.StdDev)
}

func drawResiduals(e bias.OffsetEstimate, phone bool) *chart {
	var ids []string
	var points plotter.XYs
	values := []float64{0}
	for i, p := range e.Pairs {
		r := p.Residual.In(e.Unit)
		ids, values, points = append(ids, p.ID), append(values, r), append(points, plotter.XY{X: float64(i), Y: r})
	}
	if e.Screen != nil {
		values = append(values, e.Screen.Critical*e.StdDev, -e.Screen.Critical*e.StdDev)
	}
	c := newChart(phone, span{-0.6, float64(len(ids)) - 0.4}, around(0.12, values...))
	c.X.Label.Text, c.Y.Label.Text = "Location, in order", fmt.Sprintf("Core − gauge − offset (%v)", e.Unit)
	c.names(ids)
	c.grid()
	zero := c.across(stroke(grey, 1, solid), 0)
	for _, p := range points {
		c.line(stroke(blue, 1.2, solid), plotter.XY{X: p.X}, p)
	}
	c.key("location", c.marks(glyph(blue, 4, draw.CircleGlyph{}), points...))
	c.key("the mean offset", zero)
	if e.Screen != nil {
		limit := c.across(stroke(vermillion, 1.2, dashed), e.Screen.Critical*e.StdDev)
		c.across(limit.LineStyle, -e.Screen.Critical*e.StdDev)
		c.key("beyond: flagged by the screen", limit)
	}
	return c
}
