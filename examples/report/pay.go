package main

import (
	"fmt"

	"gonum.org/v1/plot/plotter"

	"github.com/densilot/densilot/lot"
)

func factor(p lot.Pay) float64 { return p.Factor }

func payFigure(estimates []estimate, risks []risk, t lot.Terms) *figure {
	f := &figure{ID: "pay", Title: "Expected pay factor, and the schedule it comes from",
		Table: riskTable("Expected pay factor, a rejected lot counted as 0", "%.3f", risks, factor)}
	f.Text = "The expected pay factor rises with the true percent within limits:"
	for _, i := range []int{20, 25, 30, 35, 40, 45, 50} {
		f.Text += fmt.Sprintf(" %.3f at %.0f,", factor(risks[0].pay[i]), risks[0].quality[i].PWL())
	}
	f.Text = f.Text[:len(f.Text)-1] + fmt.Sprintf(" (%s).", risks[0].name())
	for _, e := range estimates {
		f.Text += fmt.Sprintf(" Lot %s, estimated at %s, has the factor %s.", e.Lot.Lot, e.PWL.Used, factorText(e))
	}
	f.draw = func(phone bool) *chart { return drawPay(estimates, risks, t.Schedule, phone) }
	return f
}

// factorText is the pay factor as used, or that there is none.
func factorText(e estimate) string {
	if e.Factor == nil {
		return "none: rejected"
	}
	return e.Factor.Used
}

func drawPay(estimates []estimate, risks []risk, s lot.Schedule, phone bool) *chart {
	rows := scheduleRows(s)
	values := []float64{0, 1}
	for _, row := range rows {
		for _, p := range row {
			values = append(values, p.Y)
		}
	}
	y := around(0.1, values...)
	y.lo = 0
	c := newChart(phone, span{0, 100}, y)
	c.X.Label.Text, c.Y.Label.Text = "Percent within limits (%)", "Pay factor"
	c.X.Tick.Marker = percentTicks()
	c.grid()
	full := c.across(stroke(grey, 1, dashDot), 1)
	var schedule *plotter.Line
	for _, row := range rows {
		schedule = c.line(stroke(vermillion, 1.6, dotted), row...)
	}
	for _, r := range risks {
		c.key("expected: "+r.name(), c.line(stroke(blue, 1.8, r.dashes), r.points(factor)...))
	}
	c.key("schedule, over the estimate", schedule)
	c.key("full pay", full)
	marked(c, estimates, func(e estimate) float64 {
		if e.Factor == nil {
			return 0
		}
		return e.Factor.Exact
	})
	return c
}

// scheduleRows are the rows of a schedule as curves, so that its steps stay steps;
// a row that rejects lies at 0.
func scheduleRows(s lot.Schedule) []plotter.XYs {
	const steps = 20
	var out []plotter.XYs
	rows := s.Rows()
	for i, row := range rows {
		from, to := row.From.InexactFloat64(), 100.0
		if i+1 < len(rows) {
			to = min(to, rows[i+1].From.InexactFloat64())
		}
		var points plotter.XYs
		for k := range steps + 1 {
			share := min(float64(k)/steps, 1-1e-9) // the end belongs to the next row
			if i+1 == len(rows) {
				share = float64(k) / steps
			}
			x := from + (to-from)*share
			y, reject, err := s.FactorAt(x)
			if err != nil || reject {
				y = 0
			}
			points = append(points, plotter.XY{X: x, Y: y})
		}
		out = append(out, points)
	}
	return out
}
