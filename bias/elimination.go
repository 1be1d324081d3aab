package bias

import (
	"fmt"
	"math/big"
	"slices"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Codes of the warnings of a rule of elimination.
const (
	WarnEliminated stats.WarningCode = "eliminated" // pairs were chosen for agreeing with each other
	WarnRounding   stats.WarningCode = "rounding"   // without the rounding of the rule other pairs would stay
)

// EliminationRule is a limit on the standard deviation of the differences, as some
// procedures set one. All fields are needed; the WAQTC procedure for AASHTO T 355 has
// 2.5 lb/ft3 or 40 kg/m3, 5 pairs, and in its worked example the mean to 0.1 lb/ft3 and
// the standard deviation to 0.01 (from memory). [units.Absolute] leaves a number as it
// is.
type EliminationRule struct {
	Limit  units.DensityDifference // most standard deviation that is accepted, in the unit of the readings
	Keep   int                     // fewest pairs that must stay, at least 2 and Options.MinPairs
	Mean   units.Rounding          // of the mean before deviations from it are taken
	StdDev units.Rounding          // of the standard deviation before it is compared with the limit
}

// EliminationStep is one look at the pairs that are left.
type EliminationStep struct {
	N          int
	Mean       units.DensityDifference // as the rule rounds it
	StdDev     units.DensityDifference // about that mean, as the rule rounds it
	Met        bool                    // StdDev is at most the limit
	Unrounded  units.DensityDifference // standard deviation about the unrounded mean
	MetWithout bool                    // Unrounded is at most the limit
	Dropped    string                  // id of the pair dropped next; "" where none was
	Differs    units.DensityDifference // its difference less Mean
}

// EliminationPath is a run of the rule with what it came to.
type EliminationPath struct {
	Kept        OffsetEstimate // from the pairs that stayed; zero where Established is false
	Established bool           // the limit was met by enough pairs
	Steps       []EliminationStep
	Explanation string
}

// Elimination is the outcome of [EliminateWorst] with the answer from all pairs
// beside it.
type Elimination struct {
	EliminationPath                  // by the rule as it rounds
	All             OffsetEstimate   // from every pair
	Unrounded       *EliminationPath // the same rule without rounding, where it keeps other pairs or none; nil where it decides alike
	Rule            EliminationRule
	Warnings        []stats.Warning // [WarnRounding]
}

// EliminateWorst estimates an offset by the rule of elimination that a contract may
// name:
//
//	s = √(Σ(d-d̄)²/(n-1)) ≤ limit   the pairs stay
//	otherwise                        drop the pair farthest from d̄ and begin again
//
// until fewer than Keep would be left, which establishes nothing: more locations
// are wanted then. d̄ and s are rounded as the rule says, as printed procedures do, so s
// may be about a mean that is not quite that of the pairs; the offset itself is rounded
// by Options alone. A standard deviation of exactly the limit meets it; that and which
// pair is farthest are decided in exact arithmetic, and of two pairs equally far the
// first in the order of the locations goes. Each step shows s without rounding beside
// it, and where the rule without rounding would keep other pairs, Unrounded has its run.
//
// The rule makes the differences look more alike than the next ones will be, so the
// intervals of Kept are too short; [WarnEliminated] says so where a pair was
// dropped. Without a contract that names the rule, use [EstimateOffset].
//
// Errors are those of [EstimateOffset] and [*stats.InputError] around
// [units.ErrNotGiven], [density.ErrNotPositive] or [density.ErrUnitMismatch] (limit),
// [stats.ErrParameter] (keep below 2 or o.MinPairs), [units.ErrRounding] or
// [units.ErrRange].
//
// Source: WAQTC TM 8 and the WAQTC procedure for AASHTO T 355 (from memory).
func EliminateWorst(gauge []Location, cores []Core, o Options, rule EliminationRule) (Elimination, error) {
	const fn = "bias.EliminateWorst"
	if err := o.check(fn); err != nil {
		return Elimination{}, err
	}
	j, err := join(fn, gauge, cores)
	if err != nil {
		return Elimination{}, err
	}
	if err := rule.check(fn, j.unit, o.minPairs()); err != nil {
		return Elimination{}, err
	}
	r := Elimination{Rule: rule}
	if r.All, err = estimate(fn, j, o); err != nil {
		return Elimination{}, err
	}
	if r.EliminationPath, err = rule.run(fn, j, o, r.All); err != nil {
		return Elimination{}, err
	}
	if err := r.compare(fn, j, o); err != nil {
		return Elimination{}, err
	}
	return r, nil
}

// compare runs the rule without rounding beside it.
func (r *Elimination) compare(fn string, j joined, o Options) error {
	exact := r.Rule
	exact.Mean, exact.StdDev = units.Rounding{Method: units.Absolute}, units.Rounding{Method: units.Absolute}
	other, err := exact.run(fn, j, o, r.All)
	if err != nil {
		return err
	}
	if slices.Equal(other.dropped(), r.dropped()) && other.Established == r.Established {
		return nil
	}
	r.Unrounded = &other
	r.Warnings = []stats.Warning{{Code: WarnRounding, Text: fmt.Sprintf("the rounding of the rule decides: with it, %s; without it, %s", r.Explanation, other.Explanation)}}
	return nil
}

// dropped returns the ids that went, in their order.
func (p EliminationPath) dropped() (ids []string) {
	for _, s := range p.Steps {
		if s.Dropped != "" {
			ids = append(ids, s.Dropped)
		}
	}
	return ids
}

func (rule EliminationRule) check(fn string, unit units.DensityUnit, fewest int) error {
	switch {
	case rule.Limit.IsZero():
		return stats.Refuse(fn, "rule.Limit", "", units.ErrNotGiven)
	case rule.Limit.In(rule.Limit.Unit()) <= 0:
		return stats.Refuse(fn, "rule.Limit", rule.Limit.String(), density.ErrNotPositive)
	case rule.Keep < 2:
		return stats.Refuse(fn, "rule.Keep", fmt.Sprint(rule.Keep), fmt.Errorf("%w; a standard deviation needs 2 or more", stats.ErrParameter))
	case rule.Keep < fewest:
		return stats.Refuse(fn, "rule.Keep", fmt.Sprint(rule.Keep), fmt.Errorf("%w; o.MinPairs asks for %d or more", stats.ErrParameter, fewest))
	case unit != 0 && rule.Limit.Unit() != unit:
		return stats.Refuse(fn, "rule.Limit", rule.Limit.String(), fmt.Errorf("%w (the readings are in %v)", density.ErrUnitMismatch, unit))
	}
	if err := rule.Mean.Validate(); err != nil {
		return stats.Refuse(fn, "rule.Mean", "", err)
	}
	if err := rule.StdDev.Validate(); err != nil {
		return stats.Refuse(fn, "rule.StdDev", "", err)
	}
	return nil
}

// run drops pairs until the rule is met or too few are left.
func (rule EliminationRule) run(fn string, j joined, o Options, all OffsetEstimate) (p EliminationPath, err error) {
	for {
		s, worst, err := rule.look(fn, j)
		if err != nil {
			return EliminationPath{}, err
		}
		p.Steps = append(p.Steps, s)
		if s.Dropped == "" {
			break
		}
		j.pairs = slices.Delete(slices.Clone(j.pairs), worst, worst+1)
	}
	last := p.Steps[len(p.Steps)-1]
	if !last.Met {
		p.Explanation = fmt.Sprintf("the standard deviation of %d pairs is %v, more than %v, and fewer than %d may not stay; add locations", last.N, shown(last.StdDev), rule.Limit, rule.Keep)
		return p, nil
	}
	return p.keep(fn, j, o, all, rule.Limit)
}

// shown writes a standard deviation that may not be rounded.
func shown(d units.DensityDifference) string { return fmt.Sprintf("%.4g %v", d.In(d.Unit()), d.Unit()) }

// look compares the pairs that are left with the limit.
func (rule EliminationRule) look(fn string, j joined) (s EliminationStep, worst int, err error) {
	exact, n := j.meanDifference(), int64(len(j.pairs)-1)
	mean, _ := rule.Mean.Rat(exact) // the rule is checked
	variance := func(about *big.Rat) *big.Rat {
		ss := j.squares(about)
		return ss.Mul(ss, big.NewRat(1, n))
	}
	byRule, without := variance(mean), variance(exact)
	used, met, err := rule.deviation(fn, byRule, j.unit)
	if err != nil {
		return s, 0, err
	}
	s = EliminationStep{N: len(j.pairs), Mean: j.unit.Difference(float(mean)), StdDev: j.unit.Difference(used), Met: met,
		Unrounded: j.unit.Difference(root(without)), MetWithout: without.Cmp(rule.square(j.unit)) <= 0}
	if !s.Met && s.N > rule.Keep {
		worst = j.farthest(mean)
		s.Dropped, s.Differs = j.pairs[worst].first.id, j.unit.Difference(float(new(big.Rat).Sub(j.pairs[worst].difference(), mean)))
	}
	return s, worst, nil
}

// square returns the square of the limit.
func (rule EliminationRule) square(unit units.DensityUnit) *big.Rat {
	limit := rule.Limit.Exact(unit)
	return limit.Mul(limit, limit)
}

// deviation rounds a standard deviation and compares it with the limit.
func (rule EliminationRule) deviation(fn string, variance *big.Rat, unit units.DensityUnit) (sd float64, met bool, err error) {
	sd = root(variance)
	if rule.StdDev.Method == units.Absolute {
		return sd, variance.Cmp(rule.square(unit)) <= 0, nil
	}
	rounded, err := rule.StdDev.Float(sd)
	if err != nil {
		return 0, false, stats.Refuse(fn, "rule.StdDev", fmt.Sprint(sd), err)
	}
	return rounded.InexactFloat64(), rounded.Rat().Cmp(rule.Limit.Exact(unit)) <= 0, nil
}

// keep estimates from the pairs that are left.
func (p EliminationPath) keep(fn string, j joined, o Options, all OffsetEstimate, limit units.DensityDifference) (EliminationPath, error) {
	kept, err := estimate(fn, j, o)
	if err != nil {
		return EliminationPath{}, err
	}
	p.Kept, p.Established = kept, true
	dropped := all.N - kept.N
	p.Explanation = fmt.Sprintf("the standard deviation of %d pairs is at most %v; %d dropped", kept.N, limit, dropped)
	if dropped > 0 {
		p.Kept.add(WarnEliminated, "", "%d of %d pairs were dropped for not agreeing, so the intervals are too short; all pairs give %+.2f", dropped, all.N, all.Offset)
	}
	return p, nil
}

// farthest returns the position of the difference farthest from mean, the first of
// equals.
func (j joined) farthest(mean *big.Rat) (worst int) {
	most := new(big.Rat)
	for i, p := range j.pairs {
		off := p.difference()
		if off.Sub(off, mean).Abs(off).Cmp(most) > 0 {
			most, worst = off, i
		}
	}
	return worst
}
