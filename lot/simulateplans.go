package lot

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
)

// ErrEndless is the reason a simulated lot is given up that fails however often it
// is sampled.
var ErrEndless = errors.New("a lot failed 100000 samples in a row")

// mostSamples of one lot are drawn.
const mostSamples = 100_000

// PlanSimulation says what [SimulatePlans] does. All fields are needed but where a remark
// says otherwise.
type PlanSimulation struct {
	Plans         []Plan          // one, or those of the characteristics whose factors make a composite
	Composite     *CompositeTerms // how they make it; nil for one plan
	N             int             // first results of a lot, for each characteristic
	Source        JointSource     // of results in the units of the plans, such as SeparateLots
	Retesting     Retesting       // of whole lots; zero for none
	Quantities    []float64       // of the first results, or their shares, for plans with QuantityWeights; nil for equal ones
	RemoveFlagged bool            // the engineer removes what the screen of a plan flags, as far as it allows, and retests where it says so
	Lots          int             // most lots
	StdErr        float64         // stop once the standard errors of Factor and Rejected are no more than this; 0 for all lots
	Seed          uint64          // any number; the same one gives the same result
	Workers       int             // goroutines, without influence on the result; 0 means GOMAXPROCS
	Progress      func(int)       // as in SimulationOptions; may be nil
}

// SimulatePlans draws lots and judges each by its plans as [Plan.Evaluate] would, in
// float64, measures to 12 digits: every rounding, the method of estimation, the screen,
// single results, the table for small lots, the second pass, caps and levels of rejection;
// then the composite factor, and further samples of the whole lot. It is for populations
// and rules that [Plan.Risk] has no integral for.
//
// Results that Evaluate would refuse as mistakes, outside the plausible range or alone
// in another scale, count. What people decide are rules here. A flagged result stays, or
// with RemoveFlagged goes, look by look and the most suspect first, up to 20 of a lot, if
// enough results are left; a retest is a further result of the same sublot, and weighs as
// much. A composite lot is rejected if a characteristic is. With [BestOf] the sample with
// the highest pay counts; with [RetestBelow], which takes one plan, the rounded measure
// decides. A further sample is drawn anew, the common error of a gauge and all.
//
// Seeds, workers, progress and stopping are those of [Simulate], and so are its
// errors; there are also [ErrEmptyPlan], [ErrMissing] (no plans, no composite terms
// for several), [stats.ErrLength] (a source of another number of characteristics, or
// quantities that are not those of N results), [stats.ErrParameter] (a quantity that is
// not above 0), [ErrUnused] (composite terms for one plan, quantities where none weighs,
// RetestBelow with a mean deviation), [ErrWeights], those of Evaluate for the number of
// results, and [ErrEndless]. A lot costs some µs.
func SimulatePlans(ctx context.Context, o PlanSimulation) (SimulationResult, error) {
	return o.simulate(ctx, "lot.SimulatePlans")
}

func (o PlanSimulation) simulate(ctx context.Context, fn string) (SimulationResult, error) {
	if err := o.check(ctx, fn); err != nil {
		return SimulationResult{}, err
	}
	judges := make([]*planJudge, len(o.Plans))
	for i, p := range o.Plans {
		var err error
		if judges[i], err = newPlanJudge(fn, p, o.N, o.RemoveFlagged, o.Quantities); err != nil {
			return SimulationResult{}, err
		}
		if o.Retesting.repeats() && judges[i].counts[o.N].terms.Estimation.Method == MeanDeviation {
			return SimulationResult{}, stats.Refuse(fn, "o.Retesting", "", fmt.Errorf("%w: a mean deviation is no percentage", ErrUnused))
		}
	}
	worker := func() blockFunc { return newPlanTrial(&o, judges).block }
	r, err := newSimulationRounds(o.Lots, o.Workers, worker).all(ctx, fn, o.StdErr, o.Progress)
	if err == nil && len(o.Plans) > 1 {
		r.PWL, r.PWLStdErr, r.PWLStdDev = 0, 0, 0 // there is no one measure
	}
	return r, err
}

func (o *PlanSimulation) check(ctx context.Context, fn string) error {
	for _, f := range []struct {
		arg string
		bad bool
		err error
	}{
		{"ctx", ctx == nil, ErrMissing},
		{"o.Plans", len(o.Plans) == 0 || len(o.Plans) > maxParts, ErrMissing},
		{"o.Source", o.Source.draw == nil, ErrMissing},
		{"o.Source", o.Source.characteristics != len(o.Plans), stats.ErrLength},
		{"o.N", o.N < 1 || o.N > mostResults, ErrOutOfDomain},
		{"o.Lots", o.Lots < 2 || o.Lots > mostLots, ErrOutOfDomain},
		{"o.StdErr", !(o.StdErr >= 0), ErrOutOfDomain},
		{"o.Workers", o.Workers < 0, ErrOutOfDomain},
		{"o.Composite", o.Composite == nil && len(o.Plans) > 1, ErrMissing},
		{"o.Composite", o.Composite != nil && len(o.Plans) == 1, ErrUnused},
		{"o.Retesting", len(o.Plans) > 1 && o.Retesting.samples > 0 && !o.Retesting.best, ErrUnused},
	} {
		if f.bad {
			return stats.Refuse(fn, f.arg, "", f.err)
		}
	}
	for i, p := range o.Plans {
		if p.IsZero() {
			return refuseAt(fn, "o.Plans", i, "", ErrEmptyPlan)
		}
	}
	if err := checkQuantities(fn, o.Quantities, o.N, o.Plans); err != nil {
		return err
	}
	if err := o.Retesting.validate(fn); err != nil || o.Composite == nil {
		return err
	}
	return o.checkComposite(fn)
}

// checkQuantities refuses quantities that are not those of n results, and any where no
// plan weighs by them.
func checkQuantities(fn string, quantities []float64, n int, plans []Plan) error {
	const arg = "o.Quantities"
	weighs := func(p Plan) bool { return p.terms.Estimation.Weights == QuantityWeights }
	switch {
	case quantities == nil:
		return nil
	case !slices.ContainsFunc(plans, weighs):
		return stats.Refuse(fn, arg, "", ErrUnused)
	case len(quantities) != n:
		return stats.Refuse(fn, arg, fmt.Sprintf("%d quantities", len(quantities)), fmt.Errorf("%w; need %d", stats.ErrLength, n))
	}
	for i, q := range quantities {
		if !(q > 0) || math.IsInf(q, 1) {
			return refuseAt(fn, arg, i, fmt.Sprint(q), needs(stats.ErrParameter, "a number above 0"))
		}
	}
	return nil
}

// checkComposite refuses plans whose part in the composite is not that of its terms.
func (o *PlanSimulation) checkComposite(fn string) error {
	parts := make([]CharacteristicFactor, len(o.Plans))
	for i, p := range o.Plans {
		c := p.terms.Composite
		if c == nil || c.Rule != o.Composite.Rule {
			return refuseAt(fn, "o.Plans", i, p.terms.Name, fmt.Errorf("its part in the composite: %w", ErrMissing))
		}
		parts[i] = CharacteristicFactor{Name: p.terms.Name, Factor: decimal.NewFromInt(1)}
		if c.Weight != nil {
			parts[i].Weight = *c.Weight
		}
	}
	return checkParts(fn, parts, *o.Composite)
}

// planTrial is the memory of one goroutine.
type planTrial struct {
	o         *PlanSimulation
	judges    []*planJudge
	stream    rand.PCG
	_         [128]byte // keeps the streams of two workers out of one cache line
	random    *rand.Rand
	results   [][]float64
	retests   [][]float64
	memory    judgeMemory
	weights   []float64
	composite fastRounding
	most      float64
	needs     bool // retests of single results may be taken
}

func newPlanTrial(o *PlanSimulation, judges []*planJudge) *planTrial {
	t := &planTrial{o: o, judges: judges, memory: newJudgeMemory(o.N), most: math.Inf(1)}
	t.random = rand.New(&t.stream)
	for _, j := range judges {
		t.results, t.retests = append(t.results, make([]float64, o.N)), append(t.retests, make([]float64, o.N))
		t.needs = t.needs || j.mostRemoved() > 0 && j.terms.Outlier.RetestNeeded
		weight := 0.0
		if c := j.terms.Composite; c != nil && c.Weight != nil {
			weight = c.Weight.InexactFloat64()
		}
		t.weights = append(t.weights, weight)
	}
	if o.Composite != nil {
		t.composite = newFastRounding(o.Composite.Rounding)
		if o.Composite.Max != nil {
			t.most = o.Composite.Max.InexactFloat64()
		}
	}
	return t
}

func (t *planTrial) block(first, lots int) (sums lotSums, err error) {
	for i := range lots {
		lotStream(&t.stream, t.o.Seed, first+i)
		out, err := t.lot()
		if err != nil {
			return sums, refuseAt("", "", i, "", err)
		}
		sums.add(out)
	}
	return sums, nil
}

// lot samples a lot as often as the rule for whole lots says.
func (t *planTrial) lot() (out lotOutcome, err error) {
	r := t.o.Retesting
	best, flagged := lotOutcome{}, false
	for k := 1; ; k++ {
		if out, err = t.sample(); err != nil {
			return out, err
		}
		flagged = flagged || out.flagged
		if k == 1 || out.above(best) || !r.best {
			best = out
		}
		again := k < r.samples && (r.best || out.measure < r.below)
		if !again {
			best.samples, best.flagged = k, flagged
			return best, nil
		}
		if k == mostSamples {
			return out, ErrEndless
		}
	}
}

// above reports whether o pays more.
func (o *lotOutcome) above(other lotOutcome) bool {
	if o.rejected != other.rejected {
		return other.rejected
	}
	return o.factor > other.factor
}

// sample draws and judges one sample of all characteristics.
func (t *planTrial) sample() (out lotOutcome, err error) {
	t.o.Source.draw(t.results, t.random)
	if t.needs {
		t.o.Source.draw(t.retests, t.random)
	}
	for c, j := range t.judges {
		one, err := j.judge(t.results[c], t.retests[c], &t.memory)
		if err != nil {
			return out, err
		}
		if len(t.judges) == 1 {
			return one, nil
		}
		out.rejected, out.flagged = out.rejected || one.rejected, out.flagged || one.flagged
		out.factor = t.combined(c, out.factor, one.factor)
	}
	out.factor = t.composite.of(min(t.most, out.factor))
	return out, nil
}

// combined takes the factor of characteristic c into the composite of those before.
func (t *planTrial) combined(c int, before, factor float64) float64 {
	rule := t.o.Composite.Rule
	switch {
	case rule == WeightedSum:
		return before + float64(t.weights[c]*factor)
	case c == 0:
		return factor
	case rule == Product:
		return before * factor
	}
	return min(before, factor)
}
