package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/examples/internal/shift"
	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// report writes the answers for a person. Writing ends at the first error, which
// flush returns.
type report struct {
	w   *tabwriter.Writer
	err error
}

func writeReport(out io.Writer, j shift.Answers, demo bool) error {
	r := &report{w: tabwriter.NewWriter(out, 0, 0, 3, ' ', tabwriter.AlignRight)}
	r.linef("From readings to pay: %s", j.Contract.Project)
	if demo {
		r.linef("Demo data of an invented job; no place, mix, limit or price is real.")
	}
	r.offset(j)
	r.pattern(j.Pattern, j.Passes)
	r.maximum(j)
	r.sublots(j)
	for _, l := range j.Lots {
		r.lot(l, j)
	}
	r.heading("Cautions")
	for _, c := range shift.Cautions {
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

func (r *report) offset(j shift.Answers) {
	e := j.Offset
	r.heading("Gauge against cores")
	r.linef("  %v", j.Contract.Strip.Scope)
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
			gain = fmt.Sprintf("%+.2f", a.Sub(p.Averages[i-1]))
		}
		if p.StdErrs != nil {
			stdErr = fmt.Sprintf("%.2f", p.StdErrs[i])
		}
		r.linef("%d\t%.2f\t%s\t%.2f\t%s\t%v\t", i+1, a, stdErr, p.Fit.Fitted[i], gain, passes[i].Mat)
	}
	r.flush()
	if t := p.PeakTest; t != nil {
		r.linef("  the peak stands %+.2f above what follows; noise alone shows as much with a probability of at most %.2f", t.Drop, t.P)
	}
	r.linef("  Readings here are uncorrected, so they compare with each other only; a plateau does not mean a limit is met.")
	r.warnings(p.Warnings)
}

func (r *report) maximum(j shift.Answers) {
	r.heading("Maximum density")
	r.linef("  water %v, the same for cores and Gmm", j.Contract.Water)
	for _, d := range j.Days {
		r.linef("  %s  %v", d.Date, d.Maximum)
		r.linef("    %v", d.Step)
	}
	r.flush()
}

func (r *report) sublots(j shift.Answers) {
	r.heading("Percent compaction (" + j.Contract.Kind.PercentOf() + ")")
	r.linef("lot\tsublot\tday\tquantity\treadings\tcorrected\tmaximum\tcompaction\tair voids\t")
	places := max(0, j.Contract.Rounding.Density.Places)
	for _, b := range j.Sublots {
		a := b.Audited
		r.linef("%s\t%s\t%s\t%s %s\t%d\t%.*f\t%.*f\t%s %%\t%s %%\t", b.Lot, b.ID, b.Date, b.Quantity, j.Contract.Plan.Terms().QuantityUnit,
			a.N, places, a.Density, places, a.Maximum, shift.Digits(a.Percentage), shift.Digits(*a.AirVoids))
	}
	r.flush()
	first := j.Sublots[0]
	r.linef("  Working of sublot %s, the others alike:", first.ID)
	r.working(first.Audited.Working)
	for _, b := range j.Sublots {
		r.warnings(b.Audited.Warnings)
	}
}

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

func (r *report) lot(l shift.Lot, j shift.Answers) {
	t := j.Contract.Plan.Terms()
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
			shift.Digits(l.Payment.Adjustment), t.Currency, shift.Digits(l.Payment.Total), t.Currency)
	} else {
		r.linef("  DECISION: %v; the engineer decides what happens to the lot", l.Decision)
	}
	r.linef("  Working:")
	r.working(l.Working)
	r.warnings(l.Warnings)
}
