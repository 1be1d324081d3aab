package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// cautions end every report that a decision can be read from.
var cautions = []string{
	"This is a calculation, not a ruling. The contract documents, the agency's specification and the",
	"responsible engineer govern; a qualified person reviews flags and signs.",
	"On the road: work behind traffic control with a spotter, in sight of roller and truck drivers; the mat",
	"is 135 to 175 °C when laid; coring means silica dust, noise, water and electricity. Never read a",
	"screen in live traffic.",
}

// report writes the answers for a person. Writing ends at the first error, which
// flush returns.
type report struct {
	w   *tabwriter.Writer
	err error
}

func writeReport(out io.Writer, j judged, demo bool) error {
	r := &report{w: tabwriter.NewWriter(out, 0, 0, 3, ' ', tabwriter.AlignRight)}
	r.linef("From readings to pay: %s", j.contract.project)
	if demo {
		r.linef("Demo data of an invented job; no place, mix, limit or price is real.")
	}
	r.offset(j)
	r.pattern(j.pattern, j.passes)
	r.maximum(j)
	r.sublots(j)
	for _, l := range j.lots {
		r.lot(l, j)
	}
	r.heading("Cautions")
	for _, c := range cautions {
		r.linef("  %s", c)
	}
	return r.flush()
}

func (r *report) linef(format string, args ...any) {
	if r.err == nil {
		_, r.err = fmt.Fprintf(r.w, format+"\n", args...)
	}
}

// flush aligns what was written since the last flush.
func (r *report) flush() error {
	if r.err == nil {
		r.err = r.w.Flush()
	}
	return r.err
}

func (r *report) heading(title string) {
	r.flush()
	r.linef("\n%s\n%s", title, strings.Repeat("-", len([]rune(title))))
}

func (r *report) warnings(ws []stats.Warning) {
	r.flush()
	for _, w := range ws {
		r.linef("  ! %v", w)
	}
}

func (r *report) working(steps []units.Step) {
	r.flush()
	for _, s := range steps {
		r.linef("    %v", s)
	}
	r.flush()
}

func (r *report) offset(j judged) {
	e := j.offset
	r.heading("Gauge against cores")
	r.linef("  %v", j.contract.strip.scope)
	r.linef("  all densities in %v", e.Unit)
	r.linef("location\treadings\tmean gauge\tcore\tcore - gauge\tresidual\toffset without it\t")
	for _, p := range e.Pairs {
		r.linef("%s\t%d\t%.2f\t%.1f\t%+.2f\t%+.2f\t%+.2f\t", p.ID, p.Readings, p.Gauge.In(e.Unit), p.Core.In(e.Unit),
			p.Difference.In(e.Unit), p.Residual.In(e.Unit), p.Without.In(e.Unit))
	}
	r.flush()
	r.linef("  offset %+v (core - gauge), %g%% interval %+.2f to %+.2f %v, s %.2f, %d locations, %g degrees of freedom",
		e.Offset, 100*e.CI.Level, e.CI.Lo, e.CI.Hi, e.Unit, e.StdDev, e.N, e.DF)
	if e.Screen != nil && !e.Screen.Outlier {
		r.linef("  screen for a bad core: none flagged (G = %.3f, critical %.3f, two-sided, alpha %g)", e.Screen.G, e.Screen.Critical, e.Screen.Alpha)
	}
	r.working(e.Working)
	r.warnings(e.Warnings)
}

func (r *report) pattern(p density.Pattern, passes []density.Pass) {
	r.heading("Roller pattern")
	if p.Outcome == density.Plateau || p.Outcome == density.BreakOver {
		r.linef("  %v: %d passes are enough; highest average after pass %d", p.Outcome, p.Optimum, p.Peak)
	} else {
		r.linef("  %v", p.Outcome)
	}
	r.linef("  %s", p.Reason)
	if p.Next != "" {
		r.linef("  %s", p.Next)
	}
	r.linef("pass\taverage\tstandard error\tfitted\tgain\tmat\t")
	for i, a := range p.Averages {
		gain, stdErr := "", ""
		if i > 0 {
			gain = fmt.Sprintf("%+.1f", a.Sub(p.Averages[i-1]))
		}
		if p.StdErrs != nil {
			stdErr = fmt.Sprintf("%.2f", p.StdErrs[i])
		}
		r.linef("%d\t%.1f\t%s\t%.1f\t%s\t%v\t", i+1, a, stdErr, p.Fit.Fitted[i], gain, passes[i].Mat)
	}
	r.flush()
	if t := p.PeakTest; t != nil {
		r.linef("  the peak stands %+.2f above what follows; noise alone shows as much with a probability of at most %.2f", t.Drop, t.P)
	}
	r.linef("  Readings here are uncorrected, so they compare with each other only; a plateau does not mean a limit is met.")
	r.warnings(p.Warnings)
}

func (r *report) maximum(j judged) {
	r.heading("Maximum density")
	r.linef("  water %v, the same for cores and Gmm", j.contract.water)
	for _, d := range j.days {
		r.linef("  %s  %v", d.date, d.maximum)
		r.linef("    %v", d.step)
	}
	r.flush()
}

func (r *report) sublots(j judged) {
	r.heading("Percent compaction (" + j.contract.kind.PercentOf() + ")")
	r.linef("lot\tsublot\tday\tquantity\treadings\tcorrected\tmaximum\tcompaction\tair voids\t")
	places := max(0, j.contract.rounding.Density.Places)
	for _, b := range j.sublots {
		a := b.audited
		r.linef("%s\t%s\t%s\t%s %s\t%d\t%.*f\t%.*f\t%s %%\t%s %%\t", b.lot, b.id, b.date, b.quantity, j.contract.plan.Terms().QuantityUnit,
			a.N, places, a.Density, places, a.Maximum, digits(a.Percentage), digits(a.AirVoids))
	}
	r.flush()
	first := j.sublots[0]
	r.linef("  Working of sublot %s, the others alike:", first.id)
	r.working(first.audited.Working)
	for _, b := range j.sublots {
		r.warnings(b.audited.Warnings)
	}
}

// digits writes d with all the places it was rounded to.
func digits(d decimal.Decimal) string { return d.StringFixed(max(0, -d.Exponent())) }

// screenText says what Grubbs' test found, which the contract of a shift asks for.
func screenText(s *lot.Screen) string {
	if s == nil {
		return "none"
	}
	found := "none flagged"
	if s.Flagged != nil {
		found = s.Flagged[0] + " flagged and kept"
	}
	g := s.Steps[0]
	return fmt.Sprintf("%s (G = %.3f, critical %.3f, %v, alpha %g)", found, g.Statistic.Exact, g.Critical, s.Side, s.Alpha)
}

func (r *report) lot(l lot.Evaluation, j judged) {
	t := j.contract.plan.Terms()
	r.heading("Lot " + l.Lot)
	r.linef("  %s, %v %s, %d results, %d of them within", t.Characteristic, t.Limits, t.Unit, l.N, l.WithinCount)
	r.linef("  outlier screen: %s", screenText(l.Screen))
	if l.PWLLower != nil {
		r.linef("  estimated at or above the lower limit: %.2f %%", l.PWLLower.Exact)
	}
	if l.PWLUpper != nil {
		r.linef("  estimated at or below the upper limit: %.2f %%", l.PWLUpper.Exact)
	}
	r.linef("  percent within limits (PWL): %s", l.PWL.Used)
	if l.Payment != nil {
		r.linef("  DECISION: %v, pay factor %s, adjustment %s %s, pay %s %s", l.Decision, l.Factor.Used,
			digits(l.Payment.Adjustment), t.Currency, digits(l.Payment.Total), t.Currency)
	} else {
		r.linef("  DECISION: %v; the engineer decides what happens to the lot", l.Decision)
	}
	r.linef("  Working:")
	r.working(l.Working)
	r.warnings(l.Warnings)
}
