package main

import (
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// tags name points: each tag stands at the first of the places around its point where
// it covers no point and no earlier tag.
type tags struct {
	plotter.XYs
	names []string
}

func (c *chart) tag(points plotter.XYs, names []string) { c.Add(tags{points, names}) }

const (
	gap = vg.Length(6)   // between a point and its tag
	rim = vg.Length(4.5) // that a point takes on each side
)

// Plot implements [plot.Plotter].
func (t tags) Plot(c draw.Canvas, p *plot.Plot) {
	x, y := p.Transforms(&c)
	var taken []vg.Rectangle
	for _, q := range t.XYs {
		at := vg.Point{X: x(q.X), Y: y(q.Y)}
		taken = append(taken, vg.Rectangle{Min: at.Sub(vg.Point{X: rim, Y: rim}), Max: at.Add(vg.Point{X: rim, Y: rim})})
	}
	style := letters(10.5)
	for i, q := range t.XYs {
		at := place(vg.Point{X: x(q.X), Y: y(q.Y)}, style.Rectangle(t.names[i]).Size(), taken)
		taken = append(taken, at)
		c.FillText(style, at.Min, t.names[i])
	}
}

// place finds room for a text of that size beside a point, to the left above it where all is
// taken: a rising curve through the point does not cross it there.
func place(at, size vg.Point, taken []vg.Rectangle) vg.Rectangle {
	left, right, middle := at.X-gap-size.X, at.X+gap, at.X-size.X/2
	above, below, level := at.Y+gap, at.Y-gap-size.Y*0.8, at.Y-size.Y*0.35
	corners := []vg.Point{{X: left, Y: above}, {X: middle, Y: above}, {X: right, Y: below}, {X: middle, Y: below}, {X: right, Y: level}, {X: left, Y: level}, {X: right, Y: above}, {X: left, Y: below}}
	for _, corner := range corners {
		box := vg.Rectangle{Min: corner, Max: corner.Add(size)}
		if !meets(box, taken) {
			return box
		}
	}
	return vg.Rectangle{Min: corners[0], Max: corners[0].Add(size)}
}

func meets(box vg.Rectangle, taken []vg.Rectangle) bool {
	for _, t := range taken {
		if box.Min.X < t.Max.X && t.Min.X < box.Max.X && box.Min.Y < t.Max.Y && t.Min.Y < box.Max.Y {
			return true
		}
	}
	return false
}
