package density

import (
	"fmt"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// passesBeyond is how many passes after the optimum must confirm it.
const passesBeyond = 2

// warm reports whether a pass was warm enough to be evidence.
func (o PatternOptions) warm(pass Pass) bool {
	return o.MinMat.IsZero() || !pass.Mat.IsZero() && pass.Mat.Compare(o.MinMat) >= 0
}

// cold reports whether a pass was too cold for another after it to be evidence.
func (o PatternOptions) cold(pass Pass) bool { return !pass.Mat.IsZero() && !o.warm(pass) }

func countWarm(passes []Pass, o PatternOptions) (n int) {
	for _, pass := range passes {
		if o.warm(pass) {
			n++
		}
	}
	return n
}

// judge decides the outcome. Every way out but the last leaves Optimum at 0 and
// says why it is not established and what would settle it.
func (p *Pattern) judge(c curve, passes []Pass) {
	best := c.optimum()
	beyond := len(c.averages) - 1 - best
	switch {
	case len(c.averages) <= passesBeyond:
		p.Reason = fmt.Sprintf("%d passes cannot show where density stops rising", len(c.averages))
		p.Next = fmt.Sprintf("keep reading until %d passes bring no more", passesBeyond)
	case !c.roseBefore(best):
		p.Reason = "density did not rise by more than the tolerance"
		p.Next = "read from the first pass on, before the mat is compacted, on a fresh section"
	case beyond < passesBeyond && p.Options.cold(passes[len(passes)-1]):
		p.stop(best, fmt.Sprintf("the mat was below %v before %d passes beyond pass %d could show a plateau", p.Options.MinMat, passesBeyond, best+1))
	case beyond < passesBeyond && c.endsLow():
		p.Reason = fmt.Sprintf("density fell by more than the tolerance after pass %d; one pass does not show whether it stays down", p.Peak)
		p.Next = "read one more pass, on a stretch that may come out loose"
	case beyond < passesBeyond:
		p.Reason = fmt.Sprintf("density was still rising at pass %d", best+1)
		p.Next = fmt.Sprintf("roll and read %d more", passesBeyond-beyond)
	case countWarm(passes[best+1:], p.Options) < passesBeyond:
		p.stop(best, fmt.Sprintf("the passes that would show a plateau were made below %v or without a mat temperature", p.Options.MinMat))
	default:
		p.establish(c, best)
	}
}

func (p *Pattern) stop(best int, why string) {
	p.Outcome = StoppedByTemperature
	p.Reason = fmt.Sprintf("%d passes usable; %s", p.Usable, why)
	p.Next = fmt.Sprintf("roll closer to the paver and measure the mat at every pass, so that %d passes beyond pass %d are made at %v or above", passesBeyond, best+1, p.Options.MinMat)
}

func (p *Pattern) establish(c curve, best int) {
	p.Optimum = best + 1
	p.Outcome = Plateau
	p.Reason = fmt.Sprintf("no later pass average exceeds pass %d by more than %v", p.Optimum, p.Options.Tolerance)
	if fell := c.fell(); fell > 0 {
		p.Outcome = BreakOver
		p.FellAt = fell + 1
		p.Reason = fmt.Sprintf("the average fell more than %v below the peak of pass %d at pass %d and stayed down; pass %d is within the tolerance of the peak",
			p.Options.Tolerance, p.Peak, p.FellAt, p.Optimum)
	}
}

// plateauPasses are the passes that show the level reached: from the optimum on,
// before a break-over and warm enough. There is at least one, because the optimum
// itself is taken where no other is left.
func (p *Pattern) plateauPasses(passes []Pass) []int {
	end := len(passes)
	if p.FellAt > 0 {
		end = p.FellAt - 1
	}
	var level []int
	for i := p.Optimum - 1; i < end; i++ {
		if p.Options.warm(passes[i]) {
			level = append(level, i)
		}
	}
	if len(level) == 0 {
		return []int{p.Optimum - 1}
	}
	return level
}

func (p *Pattern) window(passes []Pass) (w TemperatureRange) {
	for i, pass := range passes {
		if p.Optimum > 0 && i >= p.Optimum || pass.Mat.IsZero() || !p.Options.warm(pass) {
			continue
		}
		if w.Low.IsZero() || pass.Mat.Compare(w.Low) < 0 {
			w.Low = pass.Mat
		}
		if pass.Mat.Compare(w.High) > 0 {
			w.High = pass.Mat
		}
	}
	return w
}

func (p *Pattern) warnAt(code stats.WarningCode, pass int, format string, args ...any) {
	w := stats.Warning{Code: code, Text: fmt.Sprintf(format, args...)}
	if pass > 0 {
		w.Where = fmt.Sprintf("pass %d", pass)
	}
	p.Warnings = append(p.Warnings, w)
}

func (p *Pattern) warn(c curve, passes []Pass) {
	if fall, back := c.dip(); back > 0 {
		p.warnAt(WarnDip, fall+1, "density fell by more than the tolerance and was back by pass %d: %s, not a break-over", back+1, p.dipCause(passes[fall:back]))
	}
	switch {
	case p.Outcome == BreakOver:
		p.warnAt(WarnOverRolled, p.FellAt, "rolling past the peak loosens the mat; stop before it%s", p.PeakTest.text())
		p.warnTender(passes)
	case p.Outcome == Plateau && c.endsLow():
		p.warnAt(WarnOverRolled, len(passes), "density had come back from a drop but ended more than the tolerance below pass %d; do not roll on", p.Peak)
	case c.endsLow():
		p.warnAt(WarnOverRolled, len(passes), "density ended more than the tolerance below pass %d; do not roll on before the cause is known", p.Peak)
	}
	for i, pass := range passes {
		if !p.Options.MinMat.IsZero() && pass.Mat.IsZero() {
			p.warnAt(WarnNoMatTemp, i+1, "no mat temperature, so the pass is not counted as warm enough")
		}
	}
}

// dipCause names the tender zone only where every low pass was in it.
func (p *Pattern) dipCause(low []Pass) string {
	for _, pass := range low {
		if !p.Options.Tender.Contains(pass.Mat) {
			return "a tender mix or a shifted spot"
		}
	}
	return fmt.Sprintf("a tender zone, with the mat from %v to %v", low[0].Mat, low[len(low)-1].Mat)
}

// warnTender doubts a break-over that nobody followed until the mat had cooled
// through the tender range.
func (p *Pattern) warnTender(passes []Pass) {
	tender := p.Options.Tender
	if !tender.Contains(passes[p.FellAt-1].Mat) {
		return
	}
	for _, pass := range passes[p.FellAt:] {
		if belowRange(pass.Mat, tender) {
			return
		}
	}
	p.warnAt(WarnTender, p.FellAt, "the fall began at %v, in the tender range, and no pass below %v followed; keep off until the mat is below it, then read one more pass",
		passes[p.FellAt-1].Mat, tender.Low)
}

func belowRange(t units.Temperature, r TemperatureRange) bool {
	return !t.IsZero() && t.Compare(r.Low) < 0
}
