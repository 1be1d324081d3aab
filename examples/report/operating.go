package main

import (
	"fmt"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg/draw"

	"github.com/densilot/densilot/lot"
)

func accepted(p lot.Pay) float64 { return 100 * (1 - p.Rejected) }

func operatingFigure(estimates []estimate, risks []risk) *figure {
	f := &figure{ID: "operating", Title: "Operating characteristic: the chance that a lot is accepted",
		Table: riskTable("Chance of acceptance (%)", "%.1f", risks, accepted)}
	f.Text = "The chance of acceptance rises with the true percent within limits:"
	for _, i := range []int{10, 20, 25, 30, 40, 45} {
		f.Text += fmt.Sprintf(" %.0f %% at %.0f,", accepted(risks[0].pay[i]), risks[0].quality[i].PWL())
	}
	f.Text = f.Text[:len(f.Text)-1] + fmt.Sprintf(" (%s).", risks[0].name())
	for _, e := range estimates {
		f.Text += fmt.Sprintf(" Lot %s is estimated at %s, interval %.1f to %.1f.", e.Lot.Lot, e.PWL.Used, e.Bounds.CI.Lo, e.Bounds.CI.Hi)
	}
	f.draw = func(phone bool) *chart { return drawOperating(estimates, risks, phone) }
	return f
}

func drawOperating(estimates []estimate, risks []risk, phone bool) *chart {
	c := newChart(phone, span{0, 100}, span{0, 112})
	c.X.Label.Text, c.Y.Label.Text = "True percent within limits (%)", "Chance of acceptance (%)"
	c.X.Tick.Marker, c.Y.Tick.Marker = percentTicks(), percentTicks()
	c.grid()
	for _, r := range risks {
		c.key(r.name(), c.line(stroke(blue, 1.8, r.dashes), r.points(accepted)...))
	}
	marked(c, estimates, func(e estimate) float64 { return at(risks, e, accepted) })
	return c
}

// marked marks the lots at their estimates and at heights of their own.
func marked(c *chart, estimates []estimate, height func(estimate) float64) {
	var bar *plotter.Line
	var names []string
	lots := &plotter.Scatter{GlyphStyle: glyph(vermillion, 5, draw.PyramidGlyph{})}
	for _, e := range estimates {
		y := height(e)
		bar = c.interval(e, y)
		names = append(names, "lot "+e.Lot.Lot)
		lots.XYs = append(lots.XYs, plotter.XY{X: e.PWL.Exact, Y: y})
	}
	c.Add(lots)
	c.tag(lots.XYs, names)
	c.key("lot at its estimate, with the interval", bar, lots)
}

// at reads the first curve of the lot's number of results at its estimate.
func at(risks []risk, e estimate, of func(lot.Pay) float64) float64 {
	for _, r := range risks {
		if r.n == e.N {
			return between(r.points(of), e.PWL.Exact)
		}
	}
	return 0 // not reached: every number of results has its curve
}

// between interpolates a curve with points at rising x.
func between(points plotter.XYs, x float64) float64 {
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		if x <= b.X {
			return a.Y + (b.Y-a.Y)*(x-a.X)/(b.X-a.X)
		}
	}
	return points[len(points)-1].Y
}

func percentTicks() plot.ConstantTicks {
	var ticks plot.ConstantTicks
	for p := 0; p <= 100; p += 10 {
		t := plot.Tick{Value: float64(p)}
		if p%20 == 0 {
			t.Label = fmt.Sprint(p)
		}
		ticks = append(ticks, t)
	}
	return ticks
}
