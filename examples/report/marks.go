package main

import (
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// ring is a circle with a line strong enough to be seen around a point.
type ring struct{}

// DrawGlyph implements [draw.GlyphDrawer].
func (ring) DrawGlyph(c *draw.Canvas, s draw.GlyphStyle, at vg.Point) {
	c.SetLineStyle(stroke(s.Color, 1.8, solid))
	var p vg.Path
	p.Move(vg.Point{X: at.X + s.Radius, Y: at.Y})
	p.Arc(at, s.Radius, 0, 2*math.Pi)
	p.Close()
	c.Stroke(p)
}

// hatch is the sample of a hatched area in a legend.
type hatch struct{}

// Thumbnail implements [plot.Thumbnailer].
func (hatch) Thumbnail(c *draw.Canvas) {
	corner := vg.Rectangle{Min: c.Min, Max: c.Max}
	c.SetColor(paleRed)
	c.Fill(corner.Path())
	for x := c.Min.X + 2; x < c.Max.X; x += 4 {
		c.StrokeLine2(stroke(vermillion, 0.7, solid), x, c.Min.Y, x, c.Max.Y)
	}
}
