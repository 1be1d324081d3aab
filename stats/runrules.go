package stats

import (
	"cmp"
	"fmt"
	"math"
)

// RunPattern names what a [RunRule] looks for. The zero value is nothing and is refused.
type RunPattern int

// The patterns of run rules. Beyond and Within are strict: a point on the line is
// neither.
const (
	BeyondOneSide  RunPattern = iota + 1 // points farther than Sigmas from the centre, all on one side of it
	BeyondAnySide                        // points farther than Sigmas from the centre
	WithinSigmas                         // points nearer than Sigmas to the centre
	SteadyTrend                          // points each above the one before, or each below
	AlternatingRun                       // points that go up and down in turn
)

// String returns the pattern in words, such as "beyond on one side".
func (p RunPattern) String() string {
	names := [...]string{"beyond on one side", "beyond on any side", "within", "trend", "alternation"}
	if p < BeyondOneSide || int(p) > len(names) {
		return fmt.Sprintf("RunPattern(%d)", int(p))
	}
	return names[p-1]
}

// RunRule is a rule that says which patterns on a control chart are a signal.
type RunRule struct {
	Name    string // for the reader of a signal
	Pattern RunPattern
	Points  int     // that show the pattern, the newest among them; at least 1
	Of      int     // consecutive points among which they are; Points itself for a trend or an alternation
	Sigmas  float64 // distance from the centre in standard deviations; 0 for a trend or an alternation
}

// RunSignal is where a rule found its pattern.
type RunSignal struct {
	Rule   RunRule
	Points []int // positions of the points that show it, in order; the signal is given at the last
}

// WesternElectricRules returns the four rules with which a chart is usually read: one
// point beyond 3 standard deviations, 2 of 3 beyond 2, 4 of 5 beyond 1, and 8 in a row on
// one side of the centre. Normal values in control give a signal every 92 points on
// average, against 370 by the first rule alone.
//
// Source: Western Electric, Statistical Quality Control Handbook (1956); average of
// 91.75 points by C. W. Champ and W. H. Woodall, Technometrics 29 (1987) 393 (both from
// memory; a Markov chain over these rules gives the same).
func WesternElectricRules() []RunRule {
	return []RunRule{
		{Name: "1 beyond 3 sigma", Pattern: BeyondOneSide, Points: 1, Of: 1, Sigmas: 3},
		{Name: "2 of 3 beyond 2 sigma", Pattern: BeyondOneSide, Points: 2, Of: 3, Sigmas: 2},
		{Name: "4 of 5 beyond 1 sigma", Pattern: BeyondOneSide, Points: 4, Of: 5, Sigmas: 1},
		{Name: "8 on one side", Pattern: BeyondOneSide, Points: 8, Of: 8},
	}
}

// NelsonRules returns the eight tests of Nelson. Few charts need all: each one adds false
// signals. In control, with independent normal values, they signal in this order at 0.27,
// 0.39, 0.28, 0.46, 0.20, 0.45, 0.33 and 0.01 % of the points.
//
// Source: L. S. Nelson, The Shewhart control chart: tests for special causes, Journal of
// Quality Technology 16 (1984) 237 (from memory).
func NelsonRules() []RunRule {
	return []RunRule{
		{Name: "1 beyond 3 sigma", Pattern: BeyondOneSide, Points: 1, Of: 1, Sigmas: 3},
		{Name: "9 on one side", Pattern: BeyondOneSide, Points: 9, Of: 9},
		{Name: "6 steadily up or down", Pattern: SteadyTrend, Points: 6, Of: 6},
		{Name: "14 up and down in turn", Pattern: AlternatingRun, Points: 14, Of: 14},
		{Name: "2 of 3 beyond 2 sigma", Pattern: BeyondOneSide, Points: 2, Of: 3, Sigmas: 2},
		{Name: "4 of 5 beyond 1 sigma", Pattern: BeyondOneSide, Points: 4, Of: 5, Sigmas: 1},
		{Name: "15 within 1 sigma", Pattern: WithinSigmas, Points: 15, Of: 15, Sigmas: 1},
		{Name: "8 beyond 1 sigma", Pattern: BeyondAnySide, Points: 8, Of: 8, Sigmas: 1},
	}
}

// RunSignals reads a chart by rules: for every point and every rule whose pattern that
// point completes there is one signal, in the order of the points, then of the rules. So
// a run of ten under a rule of eight gives three signals.
//
// xs holds the points in the order they were taken (single values, means of subgroups or
// other), finite; centre and sigma are the centre line and the standard deviation of a
// point in control, such as Mean and MeanSigma of a [SubgroupChart] or Mean and Sigma of
// an [IndividualsChart]. Nothing is changed. The rules are read for independent points,
// so not for the averages of [EWMA]. No signals is nil. Cost: some 10 ns for each point
// and each point that a rule looks back on.
//
// A decimal value on a line may lie a rounding error beyond it in float64: 94.7 with
// centre 94, sigma 0.35 and a distance of 2 does. Where points fall on lines, give all
// three in whole steps of the record, such as hundredths.
//
// Errors are [*InputError] around [ErrTooFew] (no points, or no rules), [ErrNotFinite] or
// [ErrParameter] (sigma not positive, or a rule that cannot be read, by its position).
func RunSignals(xs []float64, centre, sigma float64, rules []RunRule) ([]RunSignal, error) {
	const fn = "stats.RunSignals"
	if err := checkRuns(fn, xs, centre, sigma, rules); err != nil {
		return nil, err
	}
	var signals []RunSignal
	for last := range xs {
		for _, rule := range rules {
			if points := rule.find(xs, last, centre, sigma); points != nil {
				signals = append(signals, RunSignal{Rule: rule, Points: points})
			}
		}
	}
	return signals, nil
}

func checkRuns(fn string, xs []float64, centre, sigma float64, rules []RunRule) error {
	switch {
	case len(xs) < 1:
		return tooFew(fn, "xs", 0, 1)
	case len(rules) < 1:
		return tooFew(fn, "rules", 0, 1)
	case !isFinite(centre):
		return Refuse(fn, "centre", text(centre), ErrNotFinite)
	case !(sigma > 0) || math.IsInf(sigma, 1):
		return outOfRange(fn, "sigma", text(sigma), positive)
	}
	for i, rule := range rules {
		if doubt := rule.doubt(); doubt != "" {
			return &InputError{Func: fn, Arg: "rules", Index: i, ID: rule.Name, Err: fmt.Errorf("%w: %s", ErrParameter, doubt)}
		}
	}
	return checkFinite(fn, "xs", xs)
}

// doubt says why a rule cannot be read, "" if it can.
func (rule RunRule) doubt() string {
	inRow := rule.Pattern == SteadyTrend || rule.Pattern == AlternatingRun
	switch {
	case rule.Pattern < BeyondOneSide || rule.Pattern > AlternatingRun:
		return "no pattern"
	case rule.Points < 1 || rule.Of < rule.Points || rule.Of > mostInSubgroup:
		return fmt.Sprintf("%d points of %d", rule.Points, rule.Of)
	case inRow && (rule.Of != rule.Points || rule.Points < 3 || rule.Sigmas != 0):
		return "a trend or an alternation is of at least 3 points in a row, without a distance"
	case !(rule.Sigmas >= 0) || math.IsInf(rule.Sigmas, 1):
		return "distance of " + text(rule.Sigmas)
	}
	return ""
}

// find returns the points up to last that complete the pattern there, or nil.
func (rule RunRule) find(xs []float64, last int, centre, sigma float64) []int {
	switch rule.Pattern {
	case SteadyTrend:
		return rule.row(last, func(i int) bool { return rise(xs, i) != 0 && rise(xs, i) == rise(xs, last) })
	case AlternatingRun:
		return rule.row(last, func(i int) bool { return rise(xs, i) != 0 && (i == last || rise(xs, i) == -rise(xs, i+1)) })
	}
	return rule.among(last, func(i int) bool { return rule.shows(xs[i]-centre, xs[last]-centre, rule.Sigmas*sigma) })
}

// rise is 1, 0 or -1 as the point is above, level with or below the one before.
func rise(xs []float64, i int) int { return cmp.Compare(xs[i], xs[i-1]) }

// row returns the last Points points if each but the first holds.
func (rule RunRule) row(last int, holds func(i int) bool) (points []int) {
	first := last - rule.Points + 1
	if first < 0 {
		return nil
	}
	for i := last; i > first; i-- {
		if !holds(i) {
			return nil
		}
	}
	for i := first; i <= last; i++ {
		points = append(points, i)
	}
	return points
}

// among returns those of the last Of points that show the pattern, if the newest does
// and they are enough.
func (rule RunRule) among(last int, shows func(i int) bool) (points []int) {
	if !shows(last) {
		return nil
	}
	found := 0
	first := max(0, last-rule.Of+1)
	for i := first; i <= last; i++ {
		if shows(i) {
			found++
		}
	}
	if found < rule.Points {
		return nil
	}
	points = make([]int, 0, found)
	for i := first; i <= last; i++ {
		if shows(i) {
			points = append(points, i)
		}
	}
	return points
}

// shows reports whether a point this far from the centre shows the pattern, where the
// newest is that far.
func (rule RunRule) shows(off, newest, distance float64) bool {
	switch {
	case rule.Pattern == WithinSigmas:
		return math.Abs(off) < distance
	case rule.Pattern == BeyondAnySide:
		return math.Abs(off) > distance
	case newest > 0:
		return off > distance
	}
	return -off > distance
}
