package bias

import (
	"fmt"
	"math"
	"slices"
	"time"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// WarnHistory is the code of the warning that an earlier check of the reference block
// lies outside the limits of its own history.
const WarnHistory stats.WarningCode = "block-history"

// BlockReading is what the gauge showed on its reference block.
type BlockReading struct {
	At    time.Time
	Value units.Density
}

// BlockOptions says by what a daily check is judged: a tolerance about the value of
// the block, limits from the gauge's own history, or both. What is not given does not
// judge, but one of Tolerance and Multiple must be.
type BlockOptions struct {
	Assigned  units.Density           // value of the block; needed with Tolerance
	Tolerance units.DensityDifference // most that a reading may differ from Assigned
	Multiple  float64                 // limits are the mean of the history ± Multiple·σ, usually 3; 0 means none
	Reference float64                 // slack of the cumulative sums in σ, usually 0.5; used with Decision
	Decision  float64                 // cumulative sum in σ that fails a check, usually 4 or 5; 0 means none, and it needs Multiple
}

// BlockCheck is the verdict on a gauge before the day's first reading.
type BlockCheck struct {
	Passed  bool
	Reasons []string                // why it failed, or by what it passed
	Chart   *stats.IndividualsChart // of the history; nil where Multiple is 0 or the history has no spread
	CUSUM   *stats.CUSUMResult      // of history and today in time order, in the unit; nil where not asked for
	// InDoubt is the time from the last check that was still in order to today, whose
	// readings a failed check puts in doubt; both zero where Passed. From is zero where
	// no check was in order.
	InDoubt  TimeSpan
	Options  BlockOptions
	Warnings []stats.Warning
}

// TimeSpan is the time after From up to To; without From, all time up to To.
type TimeSpan struct{ From, To time.Time }

// Contains reports whether t is within the span, so that the readings taken then are
// found; nothing is within the zero span.
func (s TimeSpan) Contains(t time.Time) bool { return t.After(s.From) && !t.After(s.To) }

// CheckBlock judges today's reading on the reference block. It fails where
//
//	|today - Assigned| > Tolerance
//	today < x̄ - L·σ  or  today > x̄ + L·σ,   L = Multiple, σ = R̄/d₂ of the history
//	a cumulative sum of today about x̄ is above Decision·σ
//
// the first decided on the recorded decimals. The single limits catch a jump, the sums
// a drift that stays within them. Today is not part of its own limits. A failed check
// puts in doubt what was read since the last check in order: for a jump the last one
// that kept the same limit, for a signal of the sums that before the shift is likely to
// have begun.
//
// history holds the earlier checks of this gauge on this block in any order, all before
// today and none twice, 2 or more where Multiple is given and some 20 before the limits
// are firm; it is not changed. It begins where the gauge was last adjusted. An earlier
// check outside the limits that it helped to set is warned of with [WarnHistory]: it
// makes them too wide, and belongs in the history only if the gauge was in order. Where
// its values are all equal, as on a coarse display, they give no limits: only Tolerance
// judges, with [stats.WarnConstant].
//
// Errors are [*stats.InputError] around [units.ErrNotGiven], [density.ErrNotPositive],
// [density.ErrUnitMismatch], [stats.ErrTooFew], [stats.ErrParameter] (options, a check
// not before today, or two at one instant), [stats.ErrNoSpread] (equal history and no
// Tolerance) or [stats.ErrOverflow].
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2 and 6.3.2.3.
func CheckBlock(history []BlockReading, today BlockReading, o BlockOptions) (BlockCheck, error) {
	const fn = "bias.CheckBlock"
	if reason := today.check(today); reason != nil {
		return BlockCheck{}, stats.Refuse(fn, "today", today.text(), reason)
	}
	if err := o.check(fn, today); err != nil {
		return BlockCheck{}, err
	}
	inTime, err := checkHistory(fn, history, today)
	if err != nil {
		return BlockCheck{}, err
	}
	r := BlockCheck{Passed: true, Options: o}
	r.byTolerance(inTime, today)
	if o.Multiple == 0 {
		return r, nil
	}
	if err := r.byHistory(fn, inTime, today); err != nil {
		return BlockCheck{}, err
	}
	return r, nil
}

func (o BlockOptions) check(fn string, today BlockReading) error {
	byTolerance := !o.Tolerance.IsZero()
	for _, f := range []struct {
		name string
		x    float64
	}{{"o.Multiple", o.Multiple}, {"o.Reference", o.Reference}, {"o.Decision", o.Decision}} {
		if !(f.x >= 0) || math.IsInf(f.x, 1) {
			return stats.Refuse(fn, f.name, fmt.Sprint(f.x), stats.ErrParameter)
		}
	}
	switch {
	case !byTolerance && o.Multiple == 0:
		return stats.Refuse(fn, "o", "", fmt.Errorf("%w: o.Tolerance or o.Multiple", units.ErrNotGiven))
	case o.Decision > 0 && o.Multiple == 0:
		return stats.Refuse(fn, "o.Decision", fmt.Sprint(o.Decision), fmt.Errorf("%w: it needs o.Multiple", stats.ErrParameter))
	case byTolerance && o.Tolerance.In(o.Tolerance.Unit()) <= 0:
		return stats.Refuse(fn, "o.Tolerance", o.Tolerance.String(), density.ErrNotPositive)
	case byTolerance && o.Assigned.IsZero():
		return stats.Refuse(fn, "o.Assigned", "", units.ErrNotGiven)
	case byTolerance && o.Assigned.In(o.Assigned.Unit()) <= 0:
		return stats.Refuse(fn, "o.Assigned", o.Assigned.String(), density.ErrNotPositive)
	case byTolerance && (o.Assigned.Unit() != today.Value.Unit() || o.Tolerance.Unit() != o.Assigned.Unit()):
		return stats.Refuse(fn, "o.Assigned", o.Assigned.String(), fmt.Errorf("%w (today is %v, the tolerance %v)", density.ErrUnitMismatch, today.Value, o.Tolerance))
	}
	return nil
}

// checkHistory checks every earlier reading and returns them in order of time.
func checkHistory(fn string, history []BlockReading, today BlockReading) ([]BlockReading, error) {
	for i, b := range history {
		reason := b.check(today)
		if reason == nil && !b.At.Before(today.At) {
			reason = fmt.Errorf("%w: not before today", stats.ErrParameter)
		}
		if reason != nil {
			return nil, &stats.InputError{Func: fn, Arg: "history", Index: i, Value: b.text(), Err: reason}
		}
	}
	inTime := slices.Clone(history)
	slices.SortStableFunc(inTime, func(a, b BlockReading) int { return a.At.Compare(b.At) })
	for i := 1; i < len(inTime); i++ {
		if b := inTime[i]; b.At.Equal(inTime[i-1].At) {
			return nil, stats.Refuse(fn, "history", b.Value.String(), fmt.Errorf("%w: two checks at %s", stats.ErrParameter, b.At.Format(time.RFC3339)))
		}
	}
	return inTime, nil
}

// lastInOrder returns the position of the last check that was, -1 for none.
func lastInOrder(inTime []BlockReading, inOrder func(units.Density) bool) int {
	last := len(inTime) - 1
	for last >= 0 && !inOrder(inTime[last].Value) {
		last--
	}
	return last
}

func (o BlockOptions) tolerates(d units.Density) bool {
	off := d.Exact(d.Unit())
	off.Sub(off, o.Assigned.Exact(d.Unit()))
	return off.Abs(off).Cmp(o.Tolerance.Exact(d.Unit())) <= 0
}

// text is the value, "" where it is not given.
func (b BlockReading) text() string {
	if b.Value.IsZero() {
		return ""
	}
	return b.Value.String()
}

func (b BlockReading) check(today BlockReading) error {
	switch {
	case b.Value.IsZero():
		return units.ErrNotGiven
	case b.At.IsZero():
		return fmt.Errorf("At: %w", units.ErrNotGiven)
	case b.Value.In(b.Value.Unit()) <= 0:
		return density.ErrNotPositive
	case b.Value.Unit() != today.Value.Unit():
		return fmt.Errorf("%w (today is %v)", density.ErrUnitMismatch, today.Value)
	}
	return nil
}

// fail notes a reason; in doubt is the time since the check at position last, the
// earliest over all reasons.
func (r *BlockCheck) fail(inTime []BlockReading, last int, today BlockReading, format string, args ...any) {
	from := time.Time{}
	if last >= 0 {
		from = inTime[last].At
	}
	if r.Passed || from.Before(r.InDoubt.From) {
		r.InDoubt = TimeSpan{From: from, To: today.At}
	}
	r.Passed = false
	r.Reasons = append(r.Reasons, fmt.Sprintf(format, args...))
}

func (r *BlockCheck) byTolerance(inTime []BlockReading, today BlockReading) {
	o := r.Options
	if o.Tolerance.IsZero() {
		return
	}
	if o.tolerates(today.Value) {
		r.Reasons = append(r.Reasons, fmt.Sprintf("within %v of %v", o.Tolerance, o.Assigned))
		return
	}
	r.fail(inTime, lastInOrder(inTime, o.tolerates), today, "%v is off by more than %v from %v; clean block and gauge, read again, and do not use the gauge if it stays", today.Value, o.Tolerance, o.Assigned)
}

// byHistory judges by limits and sums.
func (r *BlockCheck) byHistory(fn string, inTime []BlockReading, today BlockReading) error {
	var xs []float64
	for _, b := range inTime {
		xs = append(xs, b.Value.In(b.Value.Unit()))
	}
	chart, err := stats.NewIndividualsChart(xs, r.Options.Multiple)
	if err != nil {
		return stats.Renamed(err, fn, "history")
	}
	r.Warnings = chart.Warnings
	if chart.Sigma == 0 {
		if r.Options.Tolerance.IsZero() {
			return stats.Refuse(fn, "history", "", stats.ErrNoSpread)
		}
		return nil
	}
	r.Chart = &chart
	for _, i := range chart.Outside {
		r.Warnings = append(r.Warnings, stats.Warning{Code: WarnHistory, Where: inTime[i].At.Format(time.DateOnly),
			Text: fmt.Sprintf("the earlier check %v lies outside the limits it helped to set; leave it out if the gauge was not in order", inTime[i].Value)})
	}
	x := today.Value.In(today.Value.Unit())
	if l := chart.Limits; !l.Contains(x) {
		last := lastInOrder(inTime, func(d units.Density) bool { return l.Contains(d.In(d.Unit())) })
		r.fail(inTime, last, today, "%v lies outside %.2f to %.2f, the limits of %d earlier checks", today.Value, l.Lo, l.Hi, chart.N)
	} else {
		r.Reasons = append(r.Reasons, fmt.Sprintf("within %.2f to %.2f, the limits of %d earlier checks", l.Lo, l.Hi, chart.N))
	}
	if r.Options.Decision == 0 {
		return nil
	}
	return r.bySums(fn, inTime, append(xs, x), today)
}

func (r *BlockCheck) bySums(fn string, inTime []BlockReading, xs []float64, today BlockReading) error {
	o, sigma := r.Options, r.Chart.Sigma
	sums, err := stats.CUSUM(xs, stats.CUSUMOptions{Target: r.Chart.Mean, Reference: o.Reference * sigma, DecisionInterval: o.Decision * sigma})
	if err != nil {
		return stats.Renamed(err, fn, "history")
	}
	r.CUSUM = &sums
	last := len(xs) - 1
	high, low := sums.High[last], sums.Low[last]
	if max(high, low) <= o.Decision*sigma {
		return nil
	}
	side := sums.High
	if low > high {
		side = sums.Low
	}
	begun := last
	for begun > 0 && side[begun-1] > 0 {
		begun--
	}
	r.fail(inTime, begun-1, today, "the cumulative sum, %.2f, is above %.2f: a drift since the check of %s", max(high, low), o.Decision*sigma, dateOf(inTime, begun, today))
	return nil
}

func dateOf(inTime []BlockReading, i int, today BlockReading) string {
	at := today.At
	if i < len(inTime) {
		at = inTime[i].At
	}
	return at.Format(time.DateOnly)
}
