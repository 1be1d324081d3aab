package road

import (
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"math"
	"slices"

	"github.com/densilot/densilot/stats"
)

// level is the confidence of every interval of the report.
const level = 0.95

// Report is what the network came to.
type Report struct {
	Records int           `json:"records"`
	Judged  int           `json:"judged"` // records, not lots
	Aside   map[Fault]int `json:"aside"`
	Years   []YearReport  `json:"years"`
	Gauges  []GaugeReport `json:"gauges"`
}

// YearReport is the quality of the work of one year.
type YearReport struct {
	Year       int     `json:"year"`
	Lots       int     `json:"lots"`
	TooFew     int     `json:"tooFew"`
	Rejected   int     `json:"rejected"`
	Mean       float64 `json:"mean"`   // percent compaction
	StdDev     float64 `json:"stdDev"` // of all results of the year
	MeanPWL    float64 `json:"meanPWL"`
	StdErrPWL  float64 `json:"stdErrPWL"`
	MeanFactor float64 `json:"meanFactor"`
}

// GaugeReport is how a gauge drifts.
type GaugeReport struct {
	Gauge    int     `json:"gauge"`
	Checks   int     `json:"checks"`
	Drift    float64 `json:"drift"` // lb/ft3 a year
	Lo       float64 `json:"lo"`    // of its interval
	Hi       float64 `json:"hi"`
	Followed bool    `json:"followed"` // false with checks in fewer than three quarters
}

// NewReport returns the report of a tally.
func NewReport(t *Tally) (Report, error) {
	r := Report{Records: t.Records, Judged: t.Records, Aside: t.Aside}
	for _, n := range t.Aside {
		r.Judged -= n
	}
	for _, y := range slices.Sorted(maps.Keys(t.Years)) {
		year, err := t.Years[y].report(y)
		if err != nil {
			return Report{}, fmt.Errorf("year %d: %w", y, err)
		}
		r.Years = append(r.Years, year)
	}
	for gauge := range Gauges {
		g, err := t.gauge(gauge)
		if err != nil {
			return Report{}, fmt.Errorf("gauge %d: %w", gauge, err)
		}
		r.Gauges = append(r.Gauges, g)
	}
	return r, nil
}

func (y *Year) report(year int) (YearReport, error) {
	results, err := y.Results.Description()
	if err != nil {
		return YearReport{}, err
	}
	pwl, err := y.PWL.Description()
	if err != nil {
		return YearReport{}, err
	}
	factor, err := y.Factor.Mean()
	stdErr := pwl.StdDev / math.Sqrt(float64(pwl.N))
	return YearReport{year, y.Lots, y.TooFew, y.Rejected, results.Mean, results.StdDev, pwl.Mean, stdErr, factor}, err
}

// gauge fits a line to the means of the quarters.
func (t *Tally) gauge(gauge int) (GaugeReport, error) {
	g := GaugeReport{Gauge: gauge}
	var years, means []float64
	for _, q := range t.quarters(gauge) {
		checks := t.Checks[Quarter{gauge, q}]
		mean, err := checks.Mean()
		if err != nil {
			return GaugeReport{}, err
		}
		g.Checks += checks.N()
		years, means = append(years, (float64(q)+0.5)/4), append(means, mean)
	}
	if len(years) < 3 {
		return g, nil
	}
	line, err := stats.FitLine(years, means)
	if err != nil {
		return GaugeReport{}, err
	}
	slope, err := line.SlopeAgainst(0, level)
	g.Drift, g.Lo, g.Hi, g.Followed = line.Slope.Value, slope.CI.Lo, slope.CI.Hi, true
	return g, err
}

// JSON returns the report as JSON, the same bytes for the same report.
func (r Report) JSON() ([]byte, error) {
	b, err := json.MarshalIndent(r, "", "  ")
	return append(b, '\n'), err
}

// Write prints the report beside the truth.
func (r Report) Write(w io.Writer, truth Truth) error {
	p := printer{w: w}
	p.line("Invented road network: %d records, %d judged, %d set aside.", r.Records, r.Judged, r.Records-r.Judged)
	for _, fault := range slices.Sorted(maps.Keys(r.Aside)) {
		p.line("  %7d  %s", r.Aside[fault], fault)
	}
	p.line("\n%-6s %8s %8s %9s %8s %7s %9s %16s %10s", "year", "lots", "too few", "rejected", "mean %", "s", "mean PWL", "true (std error)", "pay factor")
	for _, y := range r.Years {
		p.line("%-6d %8d %8d %9d %8.3f %7.3f %9.3f %8.3f (%.3f) %10.4f", y.Year, y.Lots, y.TooFew, y.Rejected, y.Mean, y.StdDev, y.MeanPWL,
			truth.Within[y.Year-FirstYear], y.StdErrPWL, y.MeanFactor)
	}
	p.line("mean PWL and pay factor are of the judged lots, a rejected lot counted as 0.")
	p.line("\n%-6s %8s %18s %20s %8s", "gauge", "checks", "drift, lb/ft3/year", "95 % interval", "true")
	for _, g := range r.Gauges {
		if g.Followed {
			p.line("%-6d %8d %+18.3f %20s %+8.3f", g.Gauge, g.Checks, g.Drift, fmt.Sprintf("%+.3f to %+.3f", g.Lo, g.Hi), truth.Drift[g.Gauge])
		}
	}
	held, followed := r.held(truth)
	p.line("%d of these %d intervals hold the true drift.", held, followed)
	p.line("\nThe network, its contract and its gauges are invented. In real work the contract documents and the\nresponsible engineer govern.")
	return p.err
}

// Print writes a report of the network as JSON, or as text beside the truth.
func (n Network) Print(w io.Writer, r Report, asJSON bool) error {
	if asJSON {
		b, err := r.JSON()
		if err == nil {
			_, err = w.Write(b)
		}
		return err
	}
	truth, err := n.Truth()
	if err != nil {
		return err
	}
	return r.Write(w, truth)
}

// held counts the gauges that could be followed, and those whose interval holds the
// true drift.
func (r Report) held(truth Truth) (held, followed int) {
	for _, g := range r.Gauges {
		if !g.Followed {
			continue
		}
		followed++
		if g.Lo <= truth.Drift[g.Gauge] && truth.Drift[g.Gauge] <= g.Hi {
			held++
		}
	}
	return held, followed
}

// printer remembers the first error of a row of prints.
type printer struct {
	w   io.Writer
	err error
}

func (p *printer) line(format string, args ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintf(p.w, format+"\n", args...)
	}
}
