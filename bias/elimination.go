package bias

import (
	"fmt"
	"math"
	"math/big"
	"slices"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// WarnEliminated is the code of the warning that an offset rests on pairs that were
// chosen for agreeing with each other.
const WarnEliminated stats.WarningCode = "eliminated"

// EliminationRule is a limit on the standard deviation of the differences, as some
// procedures set one. Both fields are needed; the WAQTC procedure for AASHTO T 355
// has 2.5 lb/ft3 or 40 kg/m3, and 5 pairs (from memory).
type EliminationRule struct {
	Limit units.DensityDifference // most standard deviation that is accepted, in the unit of the readings
	Keep  int                     // fewest pairs that must stay, at least 2
}

// EliminationStep is one look at the pairs that are left.
type EliminationStep struct {
	N       int
	Mean    units.DensityDifference
	StdDev  units.DensityDifference
	Met     bool                    // StdDev is at most the limit
	Dropped string                  // id of the pair dropped next; "" where none was
	Differs units.DensityDifference // its difference less Mean
}

// Elimination is the outcome of [EliminateWorst] with the answer from all pairs
// beside it.
type Elimination struct {
	All         OffsetEstimate // from every pair
	Kept        OffsetEstimate // from those that stayed; zero where Established is false
	Established bool           // the limit was met by enough pairs
	Steps       []EliminationStep
	Explanation string
	Rule        EliminationRule
}

// EliminateWorst estimates an offset by the rule of elimination that a contract may
// name:
//
//	s = √(Σ(d-d̄)²/(n-1)) ≤ limit   the pairs stay
//	otherwise                        drop the pair farthest from d̄ and begin again
//
// until fewer than Keep would be left, which establishes nothing: more locations
// are wanted then. A standard deviation of exactly the limit meets it; that and
// which pair is farthest are decided in exact arithmetic on unrounded differences,
// and of two pairs equally far the first in the order of the locations goes. The
// published procedure rounds the mean to 0.1 before it takes the deviations, which
// can move s in its third digit.
//
// The rule makes the differences look more alike than the next ones will be, so the
// intervals of Kept are too short; [WarnEliminated] says so where a pair was
// dropped. Without a contract that names the rule, use [EstimateOffset].
//
// Errors are those of [EstimateOffset] and [*stats.InputError] around
// [units.ErrNotGiven], [density.ErrNotPositive] or [density.ErrUnitMismatch] (limit)
// or [stats.ErrParameter] (keep).
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
	if err := rule.check(fn, j.unit); err != nil {
		return Elimination{}, err
	}
	r := Elimination{Rule: rule}
	if r.All, err = estimate(fn, j, o); err != nil {
		return Elimination{}, err
	}
	for r.step(&j, rule) {
	}
	if last := r.Steps[len(r.Steps)-1]; !last.Met {
		r.Explanation = fmt.Sprintf("the standard deviation of %d pairs is %.2f, more than %v, and fewer than %d may not stay; add locations", last.N, last.StdDev, rule.Limit, rule.Keep)
		return r, nil
	}
	return r.keep(fn, j, o)
}

func (rule EliminationRule) check(fn string, unit units.DensityUnit) error {
	switch {
	case rule.Limit.IsZero():
		return refuse(fn, "rule.Limit", "", units.ErrNotGiven)
	case rule.Limit.In(rule.Limit.Unit()) <= 0:
		return refuse(fn, "rule.Limit", rule.Limit.String(), density.ErrNotPositive)
	case rule.Keep < 2:
		return refuse(fn, "rule.Keep", fmt.Sprint(rule.Keep), fmt.Errorf("%w; a standard deviation needs 2 or more", stats.ErrParameter))
	case unit != 0 && rule.Limit.Unit() != unit:
		return refuse(fn, "rule.Limit", rule.Limit.String(), fmt.Errorf("%w (the readings are in %v)", density.ErrUnitMismatch, unit))
	}
	return nil
}

// step looks at the pairs and drops the worst if the rule asks for it and allows it.
func (r *Elimination) step(j *joined, rule EliminationRule) (dropped bool) {
	mean, variance, worst := j.spread()
	limit := rule.Limit.Exact(j.unit)
	s := EliminationStep{N: len(j.pairs), Mean: j.unit.Difference(float(mean)), StdDev: j.unit.Difference(math.Sqrt(float(variance))),
		Met: variance.Cmp(limit.Mul(limit, limit)) <= 0}
	if dropped = !s.Met && s.N > rule.Keep; dropped {
		p := j.pairs[worst]
		s.Dropped, s.Differs = p.ID, j.unit.Difference(float(new(big.Rat).Sub(p.difference(), mean)))
		j.pairs = slices.Delete(slices.Clone(j.pairs), worst, worst+1)
	}
	r.Steps = append(r.Steps, s)
	return dropped
}

// keep estimates from the pairs that are left.
func (r Elimination) keep(fn string, j joined, o Options) (Elimination, error) {
	kept, err := estimate(fn, j, o)
	if err != nil {
		return Elimination{}, err
	}
	r.Kept, r.Established = kept, true
	dropped := len(r.Steps) - 1
	r.Explanation = fmt.Sprintf("the standard deviation of %d pairs is at most %v; %d dropped", r.Kept.N, r.Rule.Limit, dropped)
	if dropped > 0 {
		r.Kept.add(WarnEliminated, "", "%d of %d pairs were dropped for not agreeing, so the intervals are too short; all pairs give %+.2f", dropped, r.All.N, r.All.Offset)
	}
	return r, nil
}

// spread returns mean and variance of the differences and the position of the one
// farthest from the mean, the first of equals.
func (j joined) spread() (mean, variance *big.Rat, worst int) {
	mean, ss, most := j.meanDifference(), new(big.Rat), new(big.Rat)
	for i, p := range j.pairs {
		square := p.difference()
		square.Sub(square, mean)
		square.Mul(square, square)
		if square.Cmp(most) > 0 {
			most, worst = square, i
		}
		ss.Add(ss, square)
	}
	return mean, ss.Quo(ss, new(big.Rat).SetInt64(int64(len(j.pairs)-1))), worst
}
