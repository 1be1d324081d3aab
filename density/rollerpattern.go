package density

import (
	"fmt"
	"math/big"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Pass is what was read after one roller pass, at the same spots every time.
type Pass struct {
	Readings []Reading         // one or more, uncorrected
	Mat      units.Temperature // mat temperature; not given where nobody measured it
}

// PatternOptions sets how [RollerPattern] judges.
type PatternOptions struct {
	// Tolerance is the difference of two pass averages that counts as no
	// difference, about twice the noise of an average; required and at least 0.
	Tolerance units.DensityDifference
	// MinMat is the lowest mat temperature at which a pass counts as evidence;
	// not given means that temperature is not looked at.
	MinMat units.Temperature
}

// PatternOutcome is what a series of passes shows. NotEstablished is a normal
// answer, not a failure.
type PatternOutcome uint8

// The outcomes of a roller pattern.
const (
	NotEstablished       PatternOutcome = iota // the passes do not show where density stops rising
	Plateau                                    // density stopped rising
	BreakOver                                  // density rose, fell and stayed down
	StoppedByTemperature                       // the mat was too cold for the passes that would have shown it
)

// String returns the outcome in words.
func (o PatternOutcome) String() string {
	switch o {
	case NotEstablished:
		return "not established"
	case Plateau:
		return "plateau"
	case BreakOver:
		return "break-over"
	case StoppedByTemperature:
		return "stopped by temperature"
	}
	return fmt.Sprintf("PatternOutcome(%d)", o)
}

// Pattern is the answer of [RollerPattern]. Passes count from 1.
type Pattern struct {
	Outcome  PatternOutcome
	Optimum  int             // fewest passes that no later average beats by more than the tolerance; 0 if not shown
	Peak     int             // pass with the highest average, the first of equals; 0 without passes
	FellAt   int             // first pass of a break-over, 0 for none
	Usable   int             // passes made at or above the minimum mat temperature, all where none is set
	Averages []units.Density // pass averages in the unit of the readings
	Reason   string          // why, and what would settle it
	Options  PatternOptions
	Warnings []stats.Warning
}

// passesBeyond is how many passes after the optimum must confirm it.
const passesBeyond = 2

// RollerPattern finds how many passes are enough from the average density after
// each. With averages a₁…a_k and the tolerance T, decided on exact decimals,
//
//	optimum    = fewest passes i with a_j ≤ a_i + T for all j > i
//	break-over = a_k < peak - T and no average after the first drop below
//	             peak - T came back to within T of the peak
//
// A pattern is established by a rise of more than T before the optimum and at
// least two passes beyond it, made while the mat was at or above MinMat. A drop
// that came back is reported with [WarnDip]. Uncorrected readings serve: the
// pattern is relative, and a plateau does not mean that a limit is met.
//
// Errors are [*stats.InputError] as of [MeanOf] with the number of the pass, or
// around [units.ErrNotGiven] and [units.ErrRange] for the tolerance.
func RollerPattern(passes []Pass, o PatternOptions) (Pattern, error) {
	const fn = "density.RollerPattern"
	if o.Tolerance.IsZero() {
		return Pattern{}, refuse(fn, "o.Tolerance", "", units.ErrNotGiven)
	}
	if o.Tolerance.In(o.Tolerance.Unit()) < 0 {
		return Pattern{}, refuse(fn, "o.Tolerance", o.Tolerance.String(), units.ErrRange)
	}
	averages, unit, err := passAverages(fn, passes)
	if err != nil {
		return Pattern{}, err
	}
	p := Pattern{Options: o, Usable: countWarm(passes, o)}
	if len(passes) == 0 {
		p.Reason = "no passes; read the same spots after every pass"
		return p, nil
	}
	for _, a := range averages {
		p.Averages = append(p.Averages, record(a, unit))
	}
	c := curve{averages, o.Tolerance.Exact(unit)}
	p.Peak = c.peak() + 1
	p.judge(c, passes)
	p.warn(c, passes)
	return p, nil
}

func passAverages(fn string, passes []Pass) ([]*big.Rat, units.DensityUnit, error) {
	var averages []*big.Rat
	var unit units.DensityUnit
	for i, pass := range passes {
		mean, u, err := meanOf(fn, fmt.Sprintf("passes[%d].Readings", i), pass.Readings)
		if err != nil {
			return nil, 0, err
		}
		if i > 0 && u != unit {
			return nil, 0, checkUnit(fn, "passes", i, pass.Readings[0].d, unit)
		}
		unit = u
		averages = append(averages, mean)
	}
	return averages, unit, nil
}

// countWarm counts the passes that were warm enough to be evidence.
func countWarm(passes []Pass, o PatternOptions) (n int) {
	for _, pass := range passes {
		if o.MinMat.IsZero() || !pass.Mat.IsZero() && pass.Mat.Compare(o.MinMat) >= 0 {
			n++
		}
	}
	return n
}

// judge decides the outcome. Every way out but the last leaves Optimum at 0 or
// says why it is not established.
func (p *Pattern) judge(c curve, passes []Pass) {
	best := c.optimum()
	beyond := len(c.averages) - 1 - best
	switch {
	case len(c.averages) <= passesBeyond:
		p.Reason = fmt.Sprintf("%d passes cannot show where density stops rising; keep reading until %d passes bring no more", len(c.averages), passesBeyond)
		return
	case !c.roseBefore(best):
		p.Reason = "density did not rise by more than the tolerance; check that the first reading came before the mat was compacted"
		return
	case beyond < passesBeyond:
		p.Reason = fmt.Sprintf("density was still rising at pass %d; roll and read %d more", best+1, passesBeyond-beyond)
		return
	case countWarm(passes[best+1:], p.Options) < passesBeyond:
		p.Outcome = StoppedByTemperature
		p.Reason = fmt.Sprintf("%d passes usable; the passes that would show a plateau were made below %v or without a mat temperature", p.Usable, p.Options.MinMat)
		return
	}
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

func (p *Pattern) warn(c curve, passes []Pass) {
	if fall, back := c.dip(); back > 0 {
		p.Warnings = append(p.Warnings, stats.Warning{Code: WarnDip, Where: fmt.Sprintf("pass %d", fall+1), Text: fmt.Sprintf(
			"density fell by more than the tolerance and was back by pass %d: a tender mix or a shifted spot, not a break-over", back+1)})
	}
	if p.Outcome == BreakOver {
		p.Warnings = append(p.Warnings, stats.Warning{Code: WarnOverRolled, Where: fmt.Sprintf("pass %d", p.FellAt),
			Text: "rolling past the peak loosens the mat; stop before it"})
	}
	for i, pass := range passes {
		if !p.Options.MinMat.IsZero() && pass.Mat.IsZero() {
			p.Warnings = append(p.Warnings, stats.Warning{Code: WarnNoMatTemp, Where: fmt.Sprintf("pass %d", i+1),
				Text: "no mat temperature, so the pass is not counted as warm enough"})
		}
	}
}

// curve is density against passes, in exact numbers.
type curve struct {
	averages  []*big.Rat
	tolerance *big.Rat
}

// exceeds reports whether a is more than the tolerance above b.
func (c curve) exceeds(a, b *big.Rat) bool {
	return new(big.Rat).Sub(a, b).Cmp(c.tolerance) > 0
}

func (c curve) peak() int {
	best := 0
	for i, a := range c.averages {
		if a.Cmp(c.averages[best]) > 0 {
			best = i
		}
	}
	return best
}

// optimum walks back from the end while the highest average seen stays within
// the tolerance.
func (c curve) optimum() int {
	last := len(c.averages) - 1
	best, highest := last, c.averages[last]
	for i := last - 1; i >= 0; i-- {
		if !c.exceeds(highest, c.averages[i]) {
			best = i
		}
		if c.averages[i].Cmp(highest) > 0 {
			highest = c.averages[i]
		}
	}
	return best
}

func (c curve) roseBefore(i int) bool {
	for _, a := range c.averages[:i] {
		if c.exceeds(c.averages[i], a) {
			return true
		}
	}
	return false
}

// fell returns the first pass of a break-over, 0 for none.
func (c curve) fell() int {
	peak := c.averages[c.peak()]
	first := 0
	for i := c.peak() + 1; i < len(c.averages); i++ {
		low := c.exceeds(peak, c.averages[i])
		switch {
		case low && first == 0:
			first = i
		case !low && first > 0:
			return 0
		}
	}
	return first
}

// dip returns the first pass of a drop that came back to within the tolerance of
// what was reached before it, and the pass that was back; 0, 0 for none.
func (c curve) dip() (fall, back int) {
	highest := c.averages[0]
	for i, a := range c.averages {
		low := c.exceeds(highest, a)
		switch {
		case low && fall == 0:
			fall = i
		case !low && fall > 0:
			return fall, i
		case a.Cmp(highest) > 0:
			highest = a
		}
	}
	return 0, 0
}
