package main

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg/draw"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
)

func distributionParts(number int, e *estimate, t lot.Terms) []part {
	parts := []part{{Heading: "Lot " + e.Lot.Lot + ": estimated share within the limits"}}
	parts = append(parts, paragraph("The mean is %.3f and the standard deviation %.3f. The share of the lot within the limits is estimated as %s %%; with %g %% confidence the true share lies between %.1f and %.1f %%, if the results are free of measurement error.",
		e.Mean.Exact, e.StdDev.Exact, e.PWL.Used, 100*e.Bounds.CI.Level, e.Bounds.CI.Lo, e.Bounds.CI.Hi))
	if e.StdDev.Exact == 0 {
		return append(parts, paragraph("All results are equal, so no distribution can be drawn."))
	}
	return append(parts, part{Figure: distributionFigure(number, e, t)}, warnings(e.Bounds.Warnings))
}

// shape is the distribution of the lot that its results let estimate: with
// u = (x - mean)·√n/(s(n-1)) it is proportional to (1-u²)^(n/2-2) for |u| < 1. The
// share that it has within the limits is the estimated percent within limits.
type shape struct {
	mean, half float64 // it reaches from mean - half to mean + half
	beta       stats.SymmetricBeta
}

func newShape(e *estimate) (shape, error) {
	n := float64(e.N)
	beta, err := stats.NewSymmetricBeta(n/2 - 1)
	return shape{e.Mean.Exact, e.StdDev.Exact * (n - 1) / math.Sqrt(n), beta}, err
}

// below returns the percentage below x.
func (d shape) below(x float64) float64 {
	p, err := d.beta.CDF(min(1, max(-1, (x-d.mean)/d.half)))
	if err != nil {
		return 0 // not reached: u is between -1 and 1
	}
	return 100 * p
}

// curve returns the percentage per unit from a to b, each point the mean over a cell:
// for three results the density itself grows without bound at its ends. The cells are
// narrow at the ends, where it is steep.
func (d shape) curve(a, b float64) plotter.XYs {
	const cells = 90
	a, b = max(a, d.mean-d.half), min(b, d.mean+d.half)
	if a >= b {
		return nil
	}
	points := plotter.XYs{{X: a}}
	lo := a
	for i := range cells {
		hi := a + (b-a)*(1-math.Cos(math.Pi*float64(i+1)/cells))/2
		points = append(points, plotter.XY{X: (lo + hi) / 2, Y: (d.below(hi) - d.below(lo)) / (hi - lo)})
		lo = hi
	}
	points[0].Y = points[1].Y
	return append(points, plotter.XY{X: b, Y: points[cells].Y})
}

func distributionFigure(number int, e *estimate, t lot.Terms) *figure {
	f := &figure{ID: fmt.Sprintf("distribution-%d", number), Title: fmt.Sprintf("Lot %s: results and the distribution estimated from them", e.Lot.Lot), Table: distributionTable(e, t)}
	f.Text = fmt.Sprintf("The distribution estimated from %s, mean %.2f and standard deviation %.2f, over percent compaction. Of its area %.2f %% lies below and %.2f %% above the limits %v, and %.2f %% within.",
		count(e.N, "result", "results"), e.Mean.Exact, e.StdDev.Exact, e.Bounds.Below, e.Bounds.Above, t.Limits, e.Bounds.PWL)
	f.draw = func(phone bool) *chart { return drawDistribution(e, t, phone) }
	return f
}

func distributionTable(e *estimate, t lot.Terms) table {
	rows := [][]string{{"mean of the results", fmt.Sprintf("%.3f", e.Mean.Exact)}, {"standard deviation", fmt.Sprintf("%.3f", e.StdDev.Exact)}}
	if _, ok := t.Limits.Lower(); ok {
		rows = append(rows, []string{"estimated share below the lower limit", fmt.Sprintf("%.2f", e.Bounds.Below)})
	}
	if _, ok := t.Limits.Upper(); ok {
		rows = append(rows, []string{"estimated share above the upper limit", fmt.Sprintf("%.2f", e.Bounds.Above)})
	}
	rows = append(rows, []string{"estimated share within the limits", fmt.Sprintf("%.2f", e.Bounds.PWL)},
		[]string{"true share, lower end of the interval", fmt.Sprintf("%.2f", e.Bounds.CI.Lo)}, []string{"true share, upper end of the interval", fmt.Sprintf("%.2f", e.Bounds.CI.Hi)})
	return table{Caption: fmt.Sprintf("Lot %s: what the figure shows, in %%", e.Lot.Lot), Head: []string{"Quantity", "Value (%)"}, Rows: rows}
}

func drawDistribution(e *estimate, t lot.Terms, phone bool) *chart {
	d, err := newShape(e)
	if err != nil {
		return newChart(phone, span{0, 1}, span{0, 1}) // not reached: a lot has three results or more
	}
	mean, s := e.Mean.Exact, e.StdDev.Exact
	x := around(0.05, append(limitValues(t.Limits), mean-max(3*s, d.half), mean+max(3*s, d.half))...)
	bellTop := 100 / (s * math.Sqrt(2*math.Pi))
	peak := bellTop
	for _, p := range d.curve(x.lo, x.hi) {
		peak = max(peak, min(p.Y, 2*bellTop))
	}
	c := newChart(phone, x, span{-0.18 * peak, 1.12 * peak})
	c.X.Label.Text, c.Y.Label.Text = "Percent compaction (%)", "Share of the lot (% per 1 %)"
	c.grid()
	d.fill(c, t.Limits)
	c.across(stroke(grey, 0.7, solid), 0)
	outline := c.line(stroke(ink, 1.6, solid), d.outline(x)...)
	bell := c.line(stroke(blue, 1.2, dashed), normalCurve(mean, s, x)...)
	limit := &plotter.Line{}
	for _, l := range limitValues(t.Limits) {
		limit = c.up(stroke(vermillion, 1.6, dashDot), l)
	}
	results := c.marks(glyph(ink, 3.5, draw.CircleGlyph{}))
	for _, r := range e.Results {
		at := plotter.XY{X: r.Value.InexactFloat64(), Y: -0.06 * peak}
		results.XYs = append(results.XYs, at)
		if !t.Limits.Contains(r.Value) || r.ID == flagged(e.Lot) {
			c.label(at, r.ID)
		}
	}
	c.key("result of a sublot", results)
	c.key("estimated distribution", outline)
	c.key("normal curve of the same mean and s", bell)
	c.key("limit", limit)
	return c
}

func (d shape) outline(x span) plotter.XYs {
	points := d.curve(x.lo, x.hi)
	first, last := points[0], points[len(points)-1]
	points = append(plotter.XYs{{X: first.X}}, points...)
	return append(points, plotter.XY{X: last.X})
}

func normalCurve(mean, s float64, x span) plotter.XYs {
	var points plotter.XYs
	const steps = 120
	for i := range steps + 1 {
		at := x.lo + (x.hi-x.lo)*float64(i)/steps
		z := (at - mean) / s
		points = append(points, plotter.XY{X: at, Y: 100 / (s * math.Sqrt(2*math.Pi)) * math.Exp(-z*z/2)})
	}
	return points
}

// fill shades what is within the limits and shades and hatches what is outside.
func (d shape) fill(c *chart, l lot.Limits) {
	lo, hi := math.Inf(-1), math.Inf(1)
	if x, ok := l.Lower(); ok {
		lo = x.InexactFloat64()
	}
	if x, ok := l.Upper(); ok {
		hi = x.InexactFloat64()
	}
	if in := d.curve(lo, hi); in != nil {
		c.key("estimated within the limits", c.area(paleBlue, closed(in)...))
	}
	outside := false
	for _, out := range []plotter.XYs{d.curve(math.Inf(-1), lo), d.curve(hi, math.Inf(1))} {
		if out == nil {
			continue
		}
		outside = true
		c.area(paleRed, closed(out)...)
		d.hatch(c, out[0].X, out[len(out)-1].X)
	}
	if outside {
		c.key("estimated outside the limits", hatch{})
	}
}

// hatch draws lines of even distance under the curve from a to b.
func (d shape) hatch(c *chart, a, b float64) {
	step := (c.x.hi - c.x.lo) / 110
	for x := a + step/2; x < b; x += step {
		y := (d.below(x+step/8) - d.below(x-step/8)) / (step / 4)
		c.line(stroke(vermillion, 0.7, solid), plotter.XY{X: x}, plotter.XY{X: x, Y: y})
	}
}

// closed brings a curve down to the axis at both ends.
func closed(points plotter.XYs) plotter.XYs {
	out := append(plotter.XYs{{X: points[0].X}}, points...)
	return append(out, plotter.XY{X: points[len(points)-1].X})
}
