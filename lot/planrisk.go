package lot

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/densilot/densilot/stats"
)

// ErrNoIntegral is the reason a plan's risk is refused that only a simulation can
// give, where none was asked for.
var ErrNoIntegral = errors.New("no integral covers this; give Simulation")

// Codes of the warnings that say what became of the parts of a plan in its risk.
const (
	WarnSimulated stats.WarningCode = "simulated" // all numbers come from simulation, because of this part
	WarnLeftOut   stats.WarningCode = "left-out"  // this part of the plan has no influence on the numbers
	WarnNoLevel   stats.WarningCode = "no-level"  // the plan names no such quality level
)

// QualityLevels are percentages within the limits that a contract is written for.
type QualityLevels struct {
	Acceptable float64 // AQL, more than the rejectable one
	Rejectable float64 // RQL
}

// RiskOptions say what [Plan.Risk] is asked. N and StdDev are needed.
type RiskOptions struct {
	N             int             // first results of a lot
	StdDev        float64         // of the populations at the quality levels, in the unit of the plan
	Levels        *QualityLevels  // nil for those that the schedule names
	Curve         []Population    // further populations, such as those of PopulationsWithin; nil for none
	Retesting     Retesting       // of whole lots, by the rounded measure; zero for none
	Quantities    []float64       // of the first results, or their shares, for a plan with QuantityWeights; nil for equal ones
	RemoveFlagged bool            // the engineer removes what the screen flags, and retests where the plan says so
	Simulation    *RiskSimulation // how to go on where there is no integral; nil to refuse that
}

// RiskSimulation is how lots are simulated where there is no integral.
type RiskSimulation struct {
	Lots     int     // for each population
	StdErr   float64 // as in SimulationOptions
	Seed     uint64  // this and the next as there
	Workers  int
	Progress func(int) // as in SimulationOptions, from the start for each population; may be nil
	All      bool      // simulate even where there is an integral, for the rounding that it leaves out
}

// PlanRisk is what a plan does to lots of normal populations.
type PlanRisk struct {
	Plan       string
	N          int
	Acceptable *RiskPoint // at the acceptable quality level, nil where the plan names none
	Rejectable *RiskPoint // at the rejectable one
	Curve      []RiskPoint
	Flagged    float64 // probability that the screen flags a result, in any normal population; see Risk
	Simulated  bool
	Warnings   []stats.Warning // what became of each part of the plan
}

// Risks returns the seller's and buyer's risk by rejection: that a lot of
// acceptable quality is rejected, and that one of rejectable quality is not. Those
// by pay are 1 less Acceptable.Full, and Rejectable.Full. A risk whose level the plan
// does not name is 0.
func (r PlanRisk) Risks() (risks Risks) {
	if r.Acceptable != nil {
		risks.Seller = r.Acceptable.Rejected
	}
	if r.Rejectable != nil {
		risks.Buyer = 1 - r.Rejectable.Rejected
	}
	return risks
}

// RiskPoint is what a plan does to lots of one population on average. Off is for
// integrals, the standard errors are for simulations.
type RiskPoint struct {
	Population     Population
	Quality        Quality // zero for a plan without limits
	Factor         float64 // mean pay factor, a rejected lot counted as 0
	Rejected       float64 // probability that the lot is rejected
	Full           float64 // probability of a factor of 1 or more
	Samples        float64 // mean number of samples of the whole lot
	Off            float64 // Factor may be off by as much: rounding within rows; lots outside both limits for single results, which Rejected and Full may be off by too
	FactorStdErr   float64
	RejectedStdErr float64
	FullStdErr     float64
}

// Risk says who carries which risk under a plan: at its quality levels and along a
// curve, the mean pay factor and the probabilities of rejection and of full pay.
// The levels that a schedule names are, for the acceptable one, the least measure
// from which on it pays in full, and for the rejectable one the measure up to which
// it rejects; their populations have standard deviation StdDev, and are off centre
// where there are two limits.
//
// Integrals over mean and standard deviation cover the exact estimate for one and
// two limits, steps, lines and quadratics, caps, rejection by measure and by factor,
// schedules by number of results, the second pass, rounding of the factor and of
// the measure, further samples of the whole lot, single results that reject the lot,
// and the removal of one flagged result:
//
//   - How far the smallest result is from the mean in units of s is independent of
//     both, so that single results enter as a known probability given mean and s.
//     For lower and upper limits together, lots that are outside both are counted
//     twice; Off holds how many.
//   - The same holds for a screen for one outlier: where it flags none, with
//     probability 1 - Flagged, mean and s are as ever; where one is removed, the rest is
//     a sample of n-1 normal results, and the removed one is a further independent
//     result far enough from it.
//   - With one limit a rounded Q, and a table read by whole rows, make a plan a step
//     function of Q, whose steps are taken one by one.
//
// Their error beside Off is below 1e-8 without second pass, single results and
// removal, and below 1e-7 with them, measured against finer panels. Everything else
// is simulated by [SimulatePlans] if o.Simulation is given, and refused with
// [ErrNoIntegral] if not: other methods, unequal quantities where they weigh, the
// table for small lots, removal by the other screens, of several results or with
// retests. Rounding of results, mean and s, and of Q with two limits, is in simulated
// numbers only. Warnings name each part of the plan that was simulated or left out;
// none is passed over in silence. What has no part in pay factors, such as prices, is
// not named.
//
// Flagged is exact for one suspect on one side and up to 50 results, alpha for two
// outliers, and otherwise for one suspect the bound that the test itself uses. For
// several suspects of the generalized ESD test it is 0 with a warning, if not simulated.
//
// A point costs some 10 µs to some ms by integral, some ten ms where single results
// reject. Errors are [*stats.InputError] around [ErrEmptyPlan], [stats.ErrTooFew],
// [ErrOutOfDomain], [stats.ErrParameter], [stats.ErrLength] and [ErrUnused] (quantities
// that are not those of N results, or weigh nowhere), [ErrNoSchedule], [ErrNoIntegral],
// those of [Limits.Validate] and, for a simulation, of SimulatePlans. An error of ctx is
// returned as it is, wrapped.
func (p Plan) Risk(ctx context.Context, o RiskOptions) (PlanRisk, error) {
	const fn = "lot.Plan.Risk"
	switch {
	case p.IsZero():
		return PlanRisk{}, stats.Refuse(fn, "p", "", ErrEmptyPlan)
	case ctx == nil:
		return PlanRisk{}, stats.Refuse(fn, "ctx", "", ErrMissing)
	}
	if err := o.check(fn); err != nil {
		return PlanRisk{}, err
	}
	q := riskQuestion{fn: fn, plan: p, o: &o, risk: PlanRisk{Plan: p.terms.Name, N: o.N}}
	if err := q.prepare(); err != nil {
		return PlanRisk{}, err
	}
	if err := q.answer(ctx); err != nil {
		return PlanRisk{}, err
	}
	return q.risk, nil
}

func (o *RiskOptions) check(fn string) error {
	switch {
	case o.N < 1 || o.N > mostResults:
		return stats.Refuse(fn, "o.N", fmt.Sprint(o.N), fmt.Errorf("%w; need 1 to %d", ErrOutOfDomain, mostResults))
	case !(o.StdDev > 0) || math.IsInf(o.StdDev, 1):
		return stats.Refuse(fn, "o.StdDev", fmt.Sprint(o.StdDev), needs(stats.ErrParameter, "a number above 0, in the unit of the plan"))
	}
	for i, c := range o.Curve {
		if !isFinite(c.Mean) || !(c.StdDev > 0) || math.IsInf(c.StdDev, 1) {
			return refuseAt(fn, "o.Curve", i, fmt.Sprintf("%v, %v", c.Mean, c.StdDev), needs(stats.ErrParameter, "a finite mean and a standard deviation above 0"))
		}
	}
	if l := o.Levels; l != nil {
		if !(l.Acceptable < 100 && l.Acceptable > l.Rejectable && l.Rejectable > 0) {
			return stats.Refuse(fn, "o.Levels", fmt.Sprintf("%v, %v", l.Acceptable, l.Rejectable), needs(ErrOutOfDomain, "100 > acceptable > rejectable > 0"))
		}
		if err := checkAcceptable(fn, "o.Levels.Acceptable", l.Acceptable); err != nil {
			return err
		}
	}
	if s := o.Simulation; s != nil {
		if err := s.check(fn); err != nil {
			return err
		}
	}
	return o.Retesting.validate(fn)
}

func (s *RiskSimulation) check(fn string) error {
	switch {
	case s.Lots < 2 || s.Lots > mostLots:
		return stats.Refuse(fn, "o.Simulation.Lots", fmt.Sprint(s.Lots), needs(ErrOutOfDomain, fmt.Sprintf("2 to %d", mostLots)))
	case !(s.StdErr >= 0):
		return stats.Refuse(fn, "o.Simulation.StdErr", fmt.Sprint(s.StdErr), needs(ErrOutOfDomain, "0 or more"))
	case s.Workers < 0:
		return stats.Refuse(fn, "o.Simulation.Workers", fmt.Sprint(s.Workers), needs(ErrOutOfDomain, "0 or more"))
	}
	return nil
}

// riskQuestion is a call of [Plan.Risk] on its way.
type riskQuestion struct {
	fn          string
	plan        Plan
	o           *RiskOptions
	risk        PlanRisk
	enough      bool            // a result less would do for the plan
	simulate    []string        // parts of the plan that only a simulation covers
	unfollowed  []stats.Warning // parts that only a simulation follows
	implausible float64         // largest share of a population outside the plausible range
	integral    *riskIntegral
}

// prepare decides which way the numbers are worked out.
func (q *riskQuestion) prepare() error {
	t, n := q.plan.terms, q.o.N
	if _, err := newCountJudge(q.fn, t, n); err != nil {
		return err
	}
	if err := checkQuantities(q.fn, q.o.Quantities, n, []Plan{q.plan}); err != nil {
		return err
	}
	_, few := newCountJudge(q.fn, t, n-1)
	q.enough = few == nil
	q.parts()
	if q.o.Simulation != nil && (len(q.simulate) > 0 || q.o.Simulation.All) {
		q.risk.Simulated = true
		q.risk.Warnings = append(simulatedWarnings(q.simulate), q.risk.Warnings...)
		return nil
	}
	if len(q.simulate) > 0 {
		return stats.Refuse(q.fn, "p", strings.Join(q.simulate, ", "), ErrNoIntegral)
	}
	q.risk.Warnings = append(q.risk.Warnings, q.unfollowed...)
	var err error
	if q.integral, err = newRiskIntegral(q); err == nil {
		q.risk.Flagged = q.integral.flagged
	}
	return err
}

func simulatedWarnings(parts []string) (ws []stats.Warning) {
	if len(parts) == 0 {
		parts = []string{"all of the plan"}
	}
	for _, part := range parts {
		ws = append(ws, stats.Warning{Code: WarnSimulated, Where: part, Text: "simulated by the rules of the plan, as asked"})
	}
	return ws
}

// answer fills in the points.
func (q *riskQuestion) answer(ctx context.Context) error {
	if err := q.levels(ctx); err != nil {
		return err
	}
	q.risk.Curve = make([]RiskPoint, len(q.o.Curve))
	for i, population := range q.o.Curve {
		var err error
		if q.risk.Curve[i], err = q.point(ctx, population); err != nil {
			return err
		}
	}
	q.warnPlausible()
	return nil
}

// levels answers at the quality levels.
func (q *riskQuestion) levels(ctx context.Context) error {
	levels := q.o.Levels
	if levels == nil {
		levels = q.named()
	}
	for _, l := range []struct {
		name string
		pwl  float64
		to   **RiskPoint
	}{{"acceptable", levels.Acceptable, &q.risk.Acceptable}, {"rejectable", levels.Rejectable, &q.risk.Rejectable}} {
		if !(l.pwl > 0 && l.pwl < 100) {
			q.risk.Warnings = append(q.risk.Warnings, stats.Warning{Code: WarnNoLevel, Where: l.name,
				Text: "the schedule names no " + l.name + " quality level between 0 and 100; give o.Levels"})
			continue
		}
		population, err := populationWithin(q.fn, l.pwl, q.o.StdDev, q.plan.terms.Limits)
		if err != nil {
			return stats.Renamed(err, q.fn, "o.Levels, "+l.name)
		}
		point, err := q.point(ctx, population)
		if err != nil {
			return err
		}
		*l.to = &point
	}
	return nil
}

// named returns the levels that the schedule names, 0 for none.
func (q *riskQuestion) named() *QualityLevels {
	t := *q.plan.terms
	levels := &QualityLevels{}
	if !t.Estimation.Method.within() {
		return levels
	}
	s, err := t.scheduleFor(q.fn, q.o.N)
	if err != nil {
		return levels
	}
	t.Rounding.Measure, t.Rounding.Factor = absolutely, absolutely
	rows := t.riskRows(s, t.MaxFactor, nil, false).rows
	for i := len(rows) - 1; i >= 0 && rows[i].full; i-- {
		levels.Acceptable = rows[i].from
	}
	for i, r := range rows {
		if r.reject {
			levels.Rejectable = end(rows, i)
		}
	}
	return levels
}

// point works out one population.
func (q *riskQuestion) point(ctx context.Context, population Population) (RiskPoint, error) {
	if err := ctx.Err(); err != nil {
		return RiskPoint{}, fmt.Errorf("%s: %w", q.fn, context.Cause(ctx))
	}
	point := RiskPoint{Population: population}
	if l := q.plan.terms.Limits; !l.IsZero() {
		point.Quality = l.pair().quality(population.Mean, population.StdDev)
	}
	plausible := q.plan.terms.Plausible.pair().quality(population.Mean, population.StdDev)
	q.implausible = max(q.implausible, (plausible.Below+plausible.Above)/100)
	if q.risk.Simulated {
		return point, q.simulated(ctx, &point)
	}
	return point, q.integral.fill(q.fn, &point)
}

func (q *riskQuestion) simulated(ctx context.Context, point *RiskPoint) error {
	s := q.o.Simulation
	source := SeparateLots(NormalLots(point.Population.Mean, point.Population.StdDev))
	r, err := PlanSimulation{Plans: []Plan{q.plan}, N: q.o.N, Source: source, Retesting: q.o.Retesting, RemoveFlagged: q.o.RemoveFlagged, Quantities: q.o.Quantities,
		Lots: s.Lots, StdErr: s.StdErr, Seed: s.Seed, Workers: s.Workers, Progress: s.Progress}.simulate(ctx, q.fn)
	if err != nil {
		return err
	}
	q.risk.Flagged = r.Flagged
	point.Factor, point.FactorStdErr = r.Factor, r.FactorStdErr
	point.Rejected, point.RejectedStdErr = r.Rejected, r.RejectedStdErr
	point.Full, point.FullStdErr, point.Samples = r.Full, r.FullStdErr, r.Samples
	return nil
}
