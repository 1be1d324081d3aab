package density

import (
	"errors"
	"fmt"
	"math/big"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Pass is what was read after one roller pass, at the same spots every time.
type Pass struct {
	Readings []Reading         // one or more, uncorrected
	Spots    []string          // id of the spot of each reading; nil where they were not noted
	Mat      units.Temperature // mat temperature; not given where nobody measured it
}

// TemperatureRange is the span from Low to High, both included.
type TemperatureRange struct{ Low, High units.Temperature }

// IsZero reports whether neither end is given.
func (r TemperatureRange) IsZero() bool { return r.Low.IsZero() && r.High.IsZero() }

// Contains reports whether t is given and neither below Low nor above High.
func (r TemperatureRange) Contains(t units.Temperature) bool {
	return !t.IsZero() && !r.IsZero() && t.Compare(r.Low) >= 0 && t.Compare(r.High) <= 0
}

// PatternOptions sets how [RollerPattern] judges.
type PatternOptions struct {
	// Tolerance is the difference of two pass averages that counts as no
	// difference, about twice the noise of an average; required and at least 0.
	Tolerance units.DensityDifference
	// MinMat is the lowest mat temperature at which a pass counts as evidence;
	// not given means that temperature is not looked at.
	MinMat units.Temperature
	// Tender is the range of mat temperatures in which this mix may move under
	// the roller; not given means it is not looked at. A trade article (Roads &
	// Bridges, December 2000) puts it at 190 °F to 240 °F for mixes that have one.
	Tender TemperatureRange
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

// MarshalText returns the words of the outcome. The error is nil.
func (o PatternOutcome) MarshalText() ([]byte, error) { return []byte(o.String()), nil }

// Pattern is the answer of [RollerPattern]. Passes count from 1; slices by pass
// are in the order of the passes.
type Pattern struct {
	Outcome  PatternOutcome
	Optimum  int                       // fewest passes that no later average beats by more than the tolerance; 0 if not shown
	Peak     int                       // pass with the highest average, the first of equals; 0 without passes
	FellAt   int                       // first pass of a break-over, 0 for none
	Usable   int                       // passes made at or above the minimum mat temperature, all where none is set
	Averages []units.Density           // pass averages in the unit of the readings
	StdErrs  []units.DensityDifference // standard errors of the averages from Noise; nil without it
	Noise    *PatternNoise             // nil where no pass was read more than once
	Fit      UnimodalFit               // the rise and fall nearest to the averages
	PeakTest *PeakTest                 // whether the peak stands out of the noise; nil without noise or without a pass after the peak
	Reached  units.Density             // mean of the averages from the optimum on, before a break-over, of passes warm enough; not given if not established
	Window   TemperatureRange          // coldest and warmest mat of the passes up to the optimum, or of the usable ones without an optimum
	Reason   string                    // why
	Next     string                    // what would settle it; "" where the pattern is established
	Options  PatternOptions
	Warnings []stats.Warning

	reached *big.Rat   // Reached before it was recorded; nil if not established
	plateau []*big.Rat // the averages that it is the mean of
}

// RollerPattern finds how many passes are enough from the average density after
// each. With averages a₁…a_k and the tolerance T, decided on exact decimals,
//
//	optimum    = fewest passes i with a_j ≤ a_i + T for all j > i
//	break-over = a_k < peak - T and no average after the first drop below
//	             peak - T came back to within T of the peak
//
// A pattern is established by a rise of more than T before the optimum and at least
// two passes beyond it, made while the mat was at or above MinMat; where these were
// colder, or the mat was before they could be made, it is stopped by temperature. A
// last average of more than T below the peak comes with [WarnOverRolled], whatever the
// outcome. A drop that came back is reported with [WarnDip], one that began in the
// tender range and was not followed below it with [WarnTender]. Uncorrected readings
// serve: the pattern is relative, and a plateau does not mean that a limit is met,
// which [Pattern.AuditLevel] answers.
//
// Beside the rule stand the least-squares rise and fall ([UnimodalFit]) and, where
// passes were read at several spots, the noise ([PatternNoise]) and the test of
// the peak against it ([PeakTest]); they decide nothing. One reading per pass is
// enough for the rule and comes with [WarnNoNoise].
//
// Errors are [*stats.InputError] as of [MeanOf] with the number of the pass, or around
// [units.ErrNotGiven] and [units.ErrRange] for the tolerance and the tender range,
// [units.ErrRange] for a mat below absolute zero, [stats.ErrLength],
// [units.ErrNotGiven], [ErrText] and [ErrRepeatedID] for the spots.
//
// Source: to read the same spots after every pass, to stop where density no longer rises
// and to call a fall after the peak a break-over is common practice (from memory); a
// tolerance is usually stated, of some 1 lb/ft3. That a rise and two passes beyond are
// needed is ours.
func RollerPattern(passes []Pass, o PatternOptions) (Pattern, error) {
	const fn = "density.RollerPattern"
	if err := o.check(fn); err != nil {
		return Pattern{}, err
	}
	averages, unit, err := passAverages(fn, passes)
	if err != nil {
		return Pattern{}, err
	}
	spots, err := sameSpots(fn, passes)
	if err != nil {
		return Pattern{}, err
	}
	p := Pattern{Options: o, Usable: countWarm(passes, o)}
	if len(passes) == 0 {
		p.Reason, p.Next = "no passes", "read the same spots after every pass"
		return p, nil
	}
	c := curve{averages, o.Tolerance.Exact(unit)}
	p.Peak = c.peak() + 1
	p.judge(c, passes)
	p.describe(c, passes, unit, spots)
	p.warn(c, passes)
	return p, nil
}

// describe adds what stands beside the rule.
func (p *Pattern) describe(c curve, passes []Pass, unit units.DensityUnit, spots spotState) {
	for _, a := range c.averages {
		p.Averages = append(p.Averages, record(a, unit))
	}
	if p.Optimum > 0 {
		for _, i := range p.plateauPasses(passes) {
			p.plateau = append(p.plateau, c.averages[i])
		}
		p.reached = meanRat(p.plateau)
		p.Reached = record(p.reached, unit)
	}
	p.Window = p.window(passes)
	p.Fit = fitUnimodal(c.averages, passes, unit)
	p.Noise = estimateNoise(passes, spots)
	p.StdErrs = p.Noise.stdErrs(passes, unit)
	p.PeakTest = testPeak(passes, p.Peak-1, p.Noise, unit)
	p.warnOfNoise(unit, spots)
}

func (o PatternOptions) check(fn string) error {
	if err := errors.Join(checkTemperature(fn, "o.MinMat", o.MinMat), checkTemperature(fn, "o.Tender.Low", o.Tender.Low)); err != nil {
		return err
	}
	switch t := o.Tender; {
	case o.Tolerance.IsZero():
		return stats.Refuse(fn, "o.Tolerance", "", units.ErrNotGiven)
	case o.Tolerance.In(o.Tolerance.Unit()) < 0:
		return stats.Refuse(fn, "o.Tolerance", o.Tolerance.String(), units.ErrRange)
	case t.Low.IsZero() != t.High.IsZero():
		return stats.Refuse(fn, "o.Tender", "", fmt.Errorf("%w: it needs both ends", units.ErrNotGiven))
	case t.Low.Compare(t.High) > 0:
		return stats.Refuse(fn, "o.Tender", t.Low.String()+" to "+t.High.String(), units.ErrRange)
	}
	return nil
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
		if err := checkTemperature(fn, fmt.Sprintf("passes[%d].Mat", i), pass.Mat); err != nil {
			return nil, 0, err
		}
		unit = u
		averages = append(averages, mean)
	}
	return averages, unit, nil
}
