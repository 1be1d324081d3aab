package main

import (
	"bytes"
	"fmt"
	"html/template"
	"image/color"
	"math"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"
)

// chart is one drawing of a figure. The phone has a drawing of its own: one that is
// only made smaller could not be read there.
type chart struct {
	*plot.Plot
	phone  bool
	x, y   span
	legend []entry
}

type span struct{ lo, hi float64 }

type entry struct {
	name   string
	thumbs []plot.Thumbnailer
}

// newChart makes a chart over fixed ranges; what lies outside is cut off.
func newChart(phone bool, x, y span) *chart {
	c := &chart{Plot: plot.New(), phone: phone, x: x, y: y}
	c.BackgroundColor = nil
	for _, a := range []*plot.Axis{&c.X, &c.Y} {
		a.Label.TextStyle.Font = letters(11).Font
		a.Label.TextStyle.Color = ink
		a.Label.Padding = 4
		a.Tick.Label.Font = letters(10.5).Font
		a.Tick.Label.Color = ink
		a.LineStyle = stroke(grey, 0.7, solid)
		a.Tick.LineStyle = a.LineStyle
		a.Padding = 3
	}
	c.X.Tick.Marker, c.Y.Tick.Marker = evenTicks(9), evenTicks(7)
	if phone {
		c.X.Tick.Marker, c.Y.Tick.Marker = evenTicks(5), evenTicks(7)
	}
	return c
}

// around widens the range of xs by a share of its width on both sides.
func around(share float64, xs ...float64) span {
	s := span{math.Inf(1), math.Inf(-1)}
	for _, x := range xs {
		s.lo, s.hi = min(s.lo, x), max(s.hi, x)
	}
	extra := share * (s.hi - s.lo)
	if extra == 0 {
		extra = max(0.01*math.Abs(s.hi), 1e-6)
	}
	return span{s.lo - extra, s.hi + extra}
}

func (c *chart) grid() {
	g := plotter.NewGrid()
	g.Horizontal, g.Vertical = stroke(faint, 0.7, solid), stroke(faint, 0, solid)
	c.Add(g)
}

func (c *chart) line(s draw.LineStyle, points ...plotter.XY) *plotter.Line {
	l := &plotter.Line{XYs: points, LineStyle: s}
	c.Add(l)
	return l
}

// across and up draw a line over the whole chart.
func (c *chart) across(s draw.LineStyle, y float64) *plotter.Line {
	return c.line(s, plotter.XY{X: c.x.lo, Y: y}, plotter.XY{X: c.x.hi, Y: y})
}

func (c *chart) up(s draw.LineStyle, x float64) *plotter.Line {
	return c.line(s, plotter.XY{X: x, Y: c.y.lo}, plotter.XY{X: x, Y: c.y.hi})
}

func (c *chart) marks(s draw.GlyphStyle, points ...plotter.XY) *plotter.Scatter {
	m := &plotter.Scatter{XYs: points, GlyphStyle: s}
	c.Add(m)
	return m
}

func (c *chart) area(fill color.Color, points ...plotter.XY) *plotter.Polygon {
	p := &plotter.Polygon{XYs: []plotter.XYs{points}, Color: fill}
	c.Add(p)
	return p
}

// label writes below a point.
func (c *chart) label(at plotter.XY, s string) {
	style := letters(10.5)
	style.XAlign, style.YAlign = draw.XCenter, draw.YTop
	c.Add(&plotter.Labels{XYs: plotter.XYs{at}, Labels: []string{s}, TextStyle: []text.Style{style}, Offset: vg.Point{Y: -5}})
}

func (c *chart) key(name string, thumbs ...plot.Thumbnailer) {
	c.legend = append(c.legend, entry{name, thumbs})
}

// names puts words at whole numbers from 0 on the horizontal axis, leaving some out
// where there is no room for all.
func (c *chart) names(words []string) {
	room := 560.0
	if c.phone {
		room = 250
	}
	longest := 0
	for _, w := range words {
		longest = max(longest, len([]rune(strings.Split(w, "\n")[0])))
	}
	every := int(math.Ceil(float64(len(words)) * (6*float64(longest) + 8) / room))
	ticks := make(plot.ConstantTicks, len(words))
	for i, w := range words {
		ticks[i].Value = float64(i)
		if i%every == 0 {
			ticks[i].Label = w
		}
	}
	c.X.Tick.Marker = ticks
}

const (
	rowHeight = vg.Length(18)
	topRoom   = vg.Length(6) // above the highest grid line, for half a tick label
)

func (c *chart) size() (width, height vg.Length, columns int) {
	if c.phone {
		return 330, 270, 1
	}
	return 660, 330, 2
}

// svg draws the chart with its legend below and gives it a text alternative.
func (c *chart) svg(id, title, description string) template.HTML {
	width, height, columns := c.size()
	rows := (len(c.legend) + columns - 1) / columns
	legend := rowHeight * vg.Length(rows)
	canvas := vgsvg.New(width, height+legend)
	all := draw.New(canvas)
	c.X.Min, c.X.Max, c.Y.Min, c.Y.Max = c.x.lo, c.x.hi, c.y.lo, c.y.hi
	c.Draw(draw.Crop(all, 2, -8, legend+4, -topRoom))
	for i := range columns {
		left := width / vg.Length(columns) * vg.Length(i)
		c.drawLegend(draw.Crop(all, left+6, 0, 0, -(height+4)), c.legend[min(i*rows, len(c.legend)):min((i+1)*rows, len(c.legend))])
	}
	return inline(canvas, id, title, description)
}

func (c *chart) drawLegend(at draw.Canvas, entries []entry) {
	l := plot.NewLegend()
	l.Top, l.Left = true, true
	l.TextStyle = letters(11)
	l.ThumbnailWidth = 26
	l.Padding = 5
	for _, e := range entries {
		l.Add(e.name, e.thumbs...)
	}
	l.Draw(at)
}

// inline turns a drawing into an element of the page: without the head of a file of
// its own, named for those who cannot see it, its text in a font that everybody has.
func inline(canvas *vgsvg.Canvas, id, title, description string) template.HTML {
	var b bytes.Buffer
	canvas.WriteTo(&b) // into memory: it cannot fail
	drawn := b.String()
	body := drawn[strings.Index(drawn, "<g "):]
	body = strings.ReplaceAll(body, "font-family:Liberation Sans;font-variant:none;font-weight:normal;font-style:normal;", "")
	w, h := canvas.Size()
	head := fmt.Sprintf(`<svg viewBox="0 0 %g %g" role="img" aria-labelledby="%s-title" aria-describedby="%s-text" font-family="'Liberation Sans', Arial, Helvetica, sans-serif">`+"\n"+
		`<title id="%s-title">%s</title>`+"\n"+`<desc id="%s-text">%s</desc>`+"\n",
		w.Points(), h.Points(), id, id, id, template.HTMLEscapeString(title), id, template.HTMLEscapeString(description))
	return template.HTML(head + body)
}
