package main

import (
	"fmt"
	"slices"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"

	"github.com/densilot/densilot/examples/internal/shift"
	"github.com/densilot/densilot/lot"
)

// risk is what the plan does on average to lots of one number of results.
type risk struct {
	n       int
	rest    string // where what is not within the limits lies
	dashes  []vg.Length
	quality []lot.Quality
	pay     []lot.Pay
}

// riskPoints are the points of a curve: one for every second percentage.
const riskPoints = 51

// risksOf computes a curve for each number of results among the lots. With two
// limits the true percentage alone does not settle the risk, so both extremes are
// drawn.
func risksOf(a shift.Answers) ([]risk, error) {
	t := a.Contract.Plan.Terms()
	kinds := []struct {
		rest string
		at   func(float64) lot.Quality
	}{{"all else beyond one limit", lot.QualityOneLimit}, {"all else half and half", lot.QualityCentred}}
	dashes := [][]vg.Length{solid, dashed, dashDot, dotted}
	var out []risk
	for _, n := range sizes(a.Lots) {
		for _, k := range kinds[:len(limitValues(t.Limits))] {
			r := risk{n: n, rest: k.rest, dashes: dashes[len(out)%len(dashes)], pay: make([]lot.Pay, riskPoints)}
			var err error
			if r.quality, err = lot.QualityRange(0, 100, riskPoints, k.at); err != nil {
				return nil, err
			}
			if err = lot.PayCurve(r.pay, r.quality, n, t.Schedule, lot.Retesting{}); err != nil {
				return nil, err
			}
			out = append(out, r)
		}
	}
	return out, nil
}

// sizes are the numbers of results of the lots, each once.
func sizes(lots []shift.Lot) []int {
	var ns []int
	for _, l := range lots {
		ns = append(ns, l.N)
	}
	slices.Sort(ns)
	return slices.Compact(ns)
}

func (r risk) name() string { return fmt.Sprintf("%d results, %s", r.n, r.rest) }

// points are the curve of one outcome over the true percentage.
func (r risk) points(of func(lot.Pay) float64) plotter.XYs {
	var xys plotter.XYs
	for i, q := range r.quality {
		xys = append(xys, plotter.XY{X: q.PWL(), Y: of(r.pay[i])})
	}
	return xys
}

// riskTable has a row for every tenth percentage and a column for every curve.
func riskTable(caption, format string, risks []risk, of func(lot.Pay) float64) table {
	t := table{Caption: caption, Head: []string{"True percent within limits"}}
	for _, r := range risks {
		t.Head = append(t.Head, r.name())
	}
	for i := 0; i < riskPoints; i += 5 {
		row := []string{fmt.Sprintf("%.0f", risks[0].quality[i].PWL())}
		for _, r := range risks {
			row = append(row, fmt.Sprintf(format, of(r.pay[i])))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func riskSection(estimates []estimate, risks []risk, t lot.Terms) section {
	return section{ID: "risk", Title: "What the plan does on average", Parts: []part{
		paragraph("A few results tell little of a lot. The curves say how often a lot of a given true quality is accepted, and what it is paid on average, by this plan; the lots of this shift are marked at their estimate, with the %g %% interval of their true quality. The curves hold for normal lots, results free of measurement error and an estimate that is not rounded.",
			100*estimates[0].Bounds.CI.Level),
		{Figure: operatingFigure(estimates, risks)}, {Figure: payFigure(estimates, risks, t)},
	}}
}

// interval draws the interval of the true quality of a lot.
func (c *chart) interval(e estimate, y float64) *plotter.Line {
	ends := e.Bounds.CI
	tick := 0.015 * (c.y.hi - c.y.lo)
	for _, x := range []float64{ends.Lo, ends.Hi} {
		c.line(stroke(ink, 1.1, solid), plotter.XY{X: x, Y: y - tick}, plotter.XY{X: x, Y: y + tick})
	}
	return c.line(stroke(ink, 1.1, solid), plotter.XY{X: ends.Lo, Y: y}, plotter.XY{X: ends.Hi, Y: y})
}
