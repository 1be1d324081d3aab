package bias

import (
	"fmt"
	"math/big"
	"slices"
	"time"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Codes of the warnings of a recheck.
const (
	WarnShift stats.WarningCode = "shift"        // the cumulative sum signals that the bias has moved
	WarnTrend stats.WarningCode = "trend"        // the bias moves steadily with time
	WarnDays  stats.WarningCode = "outside-days" // a check of a day on which the correction is not valid
)

// LaterCheck is a core cut during production where the gauge had been read.
type LaterCheck struct {
	At       time.Time
	Location Location
	Core     Core // of the same id
}

// RecheckOptions sets how [Recheck] decides. All fields but ValidDays are required.
type RecheckOptions struct {
	Tolerance units.DensityDifference // a mean remaining bias up to this does not matter, in the unit of the readings
	Alpha     float64                 // significance of each of the two one-sided tests, in (0, 0.5)
	Reference units.DensityDifference // slack of the cumulative sums, usually half the shift that matters; may be 0
	Decision  units.DensityDifference // cumulative sum above which a shift is signalled
	ValidDays int                     // days that a correction which holds is good for, the day of the last check counted; 0 leaves its days as they are
}

// Verdict says what later checks show about a correction.
type Verdict uint8

// The verdicts.
const (
	Holds     Verdict = iota + 1 // the remaining bias was shown to lie within the tolerance
	Fails                        // it was shown to lie outside
	Undecided                    // neither was shown: more checks are wanted
)

// String returns the verdict in words.
func (v Verdict) String() string {
	switch v {
	case Holds:
		return "holds"
	case Fails:
		return "fails"
	case Undecided:
		return "undecided"
	}
	return "no verdict"
}

// CheckedPair is what one later check left over.
type CheckedPair struct {
	ID        string
	At        time.Time
	Corrected units.Density           // the mean reading by the correction in use
	Remaining units.DensityDifference // core - Corrected
}

// RecheckResult is the answer of [Recheck]. Numbers are in Unit.
type RecheckResult struct {
	Unit        units.DensityUnit
	Verdict     Verdict
	Explanation string
	Pairs       []CheckedPair      // in order of time
	Equivalence stats.Equivalence  // of the mean remaining bias with 0, within the tolerance
	CUSUM       stats.CUSUMResult  // of the remaining bias about 0, positions in Pairs
	Trend       *stats.TrendResult // over days since the first check; nil for fewer than 4 checks or one instant
	Correction  density.Correction // as it was checked
	Renewed     density.Correction // the same with a later last day, where it holds and ValidDays reaches beyond its last; otherwise zero
	Options     RecheckOptions
	Warnings    []stats.Warning
}

// Recheck asks whether a correction still holds, from cores that were cut later. With
// the remaining bias e = core - corrected mean reading, it holds if two one-sided t
// tests show the mean of e within the tolerance,
//
//	-Tolerance < ē - t(1-Alpha; n-1)·s/√n   and   ē + t(1-Alpha; n-1)·s/√n < Tolerance
//
// and fails if that interval lies wholly outside; between the two it is undecided,
// because a few checks that found no difference have not shown that there is none.
// Beside it stand the cumulative sums of e about 0 in order of time ([WarnShift]) and
// the line of e over time ([WarnTrend] where its slope differs from 0 at 2·Alpha),
// which see a bias that moves before the mean does. They do not change the verdict.
//
// The number in use is what is judged, so its own standard error does not enter. The
// readings are at the scope of the correction, of whatever day: a check on a day
// outside its days counts, with [WarnDays], since a correction may have to be checked
// to be renewed. A check before the day it was made is no later check and is refused.
// At least 2 checks. What else there is to doubt is in Warnings: readings on a wet mat
// ([WarnWet]), those that the correction warns of, such as outside the readings of a line
// ([density.Correction.Warnings]), and checks that do not differ at all, whose bias within
// the tolerance is undecided.
//
// Errors are [*stats.InputError] with the id, around those of [EstimateOffset] for the
// data, [stats.ErrTooFew], [units.ErrNotGiven] (correction, instant, an option),
// [density.ErrNotPositive], [density.ErrUnitMismatch], [stats.ErrParameter] (an id of
// location and core that differ, a negative reference, a check before the correction),
// [units.ErrRange] (valid days) or [stats.ErrLevel].
//
// Source: D. J. Schuirmann, Journal of Pharmacokinetics and Biopharmaceutics 15 (1987)
// 657 (from memory); NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.3.
func Recheck(c density.Correction, later []LaterCheck, o RecheckOptions) (RecheckResult, error) {
	const fn = "bias.Recheck"
	r := RecheckResult{Correction: c, Options: o}
	remaining, err := r.collect(fn, later)
	if err != nil {
		return RecheckResult{}, err
	}
	if err := o.check(fn, r.Unit); err != nil {
		return RecheckResult{}, err
	}
	tolerance := o.Tolerance.In(r.Unit)
	if r.Equivalence, err = stats.OneSampleEquivalence(remaining, 0, stats.Margins{Lower: -tolerance, Upper: tolerance}, o.Alpha); err != nil {
		return RecheckResult{}, stats.Renamed(err, fn, "later")
	}
	r.Warnings, r.Equivalence.Warnings = append(r.Warnings, r.Equivalence.Warnings...), nil
	r.judge(tolerance)
	if err := r.renew(fn); err != nil {
		return RecheckResult{}, err
	}
	if err := r.chart(remaining); err != nil {
		return RecheckResult{}, stats.Renamed(err, fn, "later")
	}
	return r, nil
}

func (o RecheckOptions) check(fn string, unit units.DensityUnit) error {
	for _, f := range []struct {
		name string
		d    units.DensityDifference
		zero bool
	}{{"o.Tolerance", o.Tolerance, false}, {"o.Reference", o.Reference, true}, {"o.Decision", o.Decision, false}} {
		switch {
		case f.d.IsZero():
			return stats.Refuse(fn, f.name, "", units.ErrNotGiven)
		case f.d.Unit() != unit:
			return stats.Refuse(fn, f.name, f.d.String(), fmt.Errorf("%w (the readings are in %v)", density.ErrUnitMismatch, unit))
		case f.d.In(unit) < 0 && f.zero:
			return stats.Refuse(fn, f.name, f.d.String(), fmt.Errorf("%w: below 0", stats.ErrParameter))
		case f.d.In(unit) <= 0 && !f.zero:
			return stats.Refuse(fn, f.name, f.d.String(), density.ErrNotPositive)
		}
	}
	if o.ValidDays < 0 {
		return stats.Refuse(fn, "o.ValidDays", fmt.Sprint(o.ValidDays), units.ErrRange)
	}
	if !(o.Alpha > 0 && o.Alpha < 0.5) {
		return stats.Refuse(fn, "o.Alpha", fmt.Sprint(o.Alpha), stats.ErrLevel)
	}
	return nil
}

// collect corrects the readings and returns what is left over, in order of time.
func (r *RecheckResult) collect(fn string, later []LaterCheck) ([]float64, error) {
	if r.Correction.IsZero() {
		return nil, stats.Refuse(fn, "c", "", units.ErrNotGiven)
	}
	if len(later) < 2 {
		return nil, stats.Refuse(fn, "later", "", fmt.Errorf("%w (have %d, need 2)", stats.ErrTooFew, len(later)))
	}
	j, err := joinLater(fn, later)
	if err != nil {
		return nil, err
	}
	r.Unit, r.Warnings = j.unit, j.wetWarnings()
	var remaining []float64
	for _, i := range inTime(later) {
		p, at := j.pairs[i], later[i].At
		if err := r.checkDay(fn, i, p.first.id, density.DateOf(at)); err != nil {
			return nil, err
		}
		corrected, err := r.Correction.ApplyExactly(p.first.mean, j.unit, r.Correction.Scope())
		if err != nil {
			return nil, inRecord(fn, "later", i, p.first.id, err)
		}
		r.Warnings = append(r.Warnings, r.Correction.Warnings(p.first.id, j.unit.Of(float(p.first.mean)))...)
		e := float(new(big.Rat).Sub(p.second.mean, corrected))
		remaining = append(remaining, e)
		r.Pairs = append(r.Pairs, CheckedPair{ID: p.first.id, At: at, Corrected: j.unit.Of(float(corrected)), Remaining: j.unit.Difference(e)})
	}
	return remaining, nil
}

// inTime returns the positions of checks in order of time.
func inTime(later []LaterCheck) []int {
	at := make([]int, len(later))
	for i := range at {
		at[i] = i
	}
	slices.SortStableFunc(at, func(a, b int) int { return later[a].At.Compare(later[b].At) })
	return at
}

// checkDay refuses a check before the correction and warns of one outside its days.
func (r *RecheckResult) checkDay(fn string, i int, id string, day density.Date) error {
	made, scope := r.Correction.Made(), r.Correction.Scope()
	if day.Compare(made) < 0 {
		return place(fn, "later", i, id, day.String(), fmt.Errorf("%w: before the correction was made, %v", stats.ErrParameter, made))
	}
	if day.Compare(scope.From) < 0 || !scope.Until.IsZero() && day.Compare(scope.Until) > 0 {
		r.Warnings = append(r.Warnings, stats.Warning{Code: WarnDays, Where: id, Text: fmt.Sprintf("checked on %v, when the correction is not valid (%v)", day, scope)})
	}
	return nil
}

// renew moves the last day of a correction that holds.
func (r *RecheckResult) renew(fn string) error {
	until := r.Correction.Scope().Until
	if r.Verdict != Holds || r.Options.ValidDays == 0 || until.IsZero() {
		return nil
	}
	last := density.DateOf(r.Pairs[len(r.Pairs)-1].At)
	longer, err := r.Correction.Scope().ValidFor(last, r.Options.ValidDays)
	if err != nil {
		return stats.Refuse(fn, "o.ValidDays", fmt.Sprint(r.Options.ValidDays), err)
	}
	if longer.Until.Compare(until) <= 0 {
		return nil
	}
	r.Renewed, err = r.Correction.Renew(longer.Until, fmt.Sprintf("held in %d checks to %v", len(r.Pairs), last))
	r.Explanation += fmt.Sprintf(", valid until %v", longer.Until)
	return stats.Renamed(err, fn, "c")
}

// joinLater checks that every location comes with its own core and an instant.
func joinLater(fn string, later []LaterCheck) (joined, error) {
	var gauge []Location
	var cores []Core
	for i, l := range later {
		switch {
		case l.Location.ID != l.Core.ID:
			return joined{}, place(fn, "later", i, l.Location.ID, "", fmt.Errorf("%w: the core has another id, %q", stats.ErrParameter, l.Core.ID))
		case l.At.IsZero():
			return joined{}, place(fn, "later", i, l.Location.ID, "", fmt.Errorf("At: %w", units.ErrNotGiven))
		}
		gauge, cores = append(gauge, l.Location), append(cores, l.Core)
	}
	j, err := join(fn, gauge, cores)
	return j, stats.Renamed(err, fn, "later")
}

func (r *RecheckResult) judge(tolerance float64) {
	ci := r.Equivalence.CI
	text := fmt.Sprintf("the mean remaining bias of %d checks is %+.2f, %g%% interval %+.2f to %+.2f %v, against a tolerance of %g",
		len(r.Pairs), r.Equivalence.Difference, 100*ci.Level, ci.Lo, ci.Hi, r.Unit, tolerance)
	switch {
	case r.Equivalence.Equivalent:
		r.Verdict, text = Holds, text+": it holds"
	case ci.Lo > tolerance || ci.Hi < -tolerance:
		r.Verdict, text = Fails, text+": it no longer holds; make a new correction"
	case r.Equivalence.Status != stats.Tested:
		r.Verdict, text = Undecided, text+": undecided, because checks that do not differ leave nothing to test"
	default:
		r.Verdict, text = Undecided, text+": undecided; cut more cores"
	}
	r.Explanation = text
}

// chart adds the cumulative sums and the trend.
func (r *RecheckResult) chart(remaining []float64) error {
	var err error
	r.CUSUM, err = stats.CUSUM(remaining, stats.CUSUMOptions{Reference: r.Options.Reference.In(r.Unit), DecisionInterval: r.Options.Decision.In(r.Unit)})
	if err != nil {
		return err
	}
	if i := r.CUSUM.FirstSignal; i >= 0 {
		r.Warnings = append(r.Warnings, stats.Warning{Code: WarnShift, Where: r.Pairs[i].ID,
			Text: fmt.Sprintf("the cumulative sum signals a shift of the bias, likely since check %s", r.Pairs[max(r.CUSUM.ChangeFrom, 0)].ID)})
	}
	return r.trend(remaining)
}

func (r *RecheckResult) trend(remaining []float64) error {
	var days []float64
	for _, p := range r.Pairs {
		days = append(days, p.At.Sub(r.Pairs[0].At).Hours()/24)
	}
	if len(days) < 4 || days[len(days)-1] == 0 {
		return nil
	}
	t, err := stats.Trend(days, remaining, 1-2*r.Options.Alpha)
	if err != nil {
		return err
	}
	r.Trend = &t
	if ci := t.Slope.CI; !ci.Contains(0) {
		r.Warnings = append(r.Warnings, stats.Warning{Code: WarnTrend,
			Text: fmt.Sprintf("the bias moved by %+.2f %v from the first check to the last, %g%% interval %+.2f to %+.2f", t.Change, r.Unit, 100*ci.Level, t.ChangeCI.Lo, t.ChangeCI.Hi)})
	}
	return nil
}
