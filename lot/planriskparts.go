package lot

import (
	"fmt"
	"math"
	"slices"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

var absolutely = units.Rounding{Method: units.Absolute}

// parts goes through the plan and says of each part whether only a simulation
// covers it, or that it has no influence.
func (q *riskQuestion) parts() {
	t, o := q.plan.terms, q.o
	small := q.own(o.N)
	q.needsSimulation(small, "table for small lots")
	if !small {
		q.methodParts()
	}
	q.weightParts(small)
	q.roundingParts()
	q.resultParts()
	q.screenParts()
	if o.Retesting.best && o.Retesting.samples > 1 && !small {
		q.needsSimulation(!q.flat(), "best of several samples beside second pass, single results or removal")
		q.needsSimulation(q.flat() && !q.rises(), "best of several samples under a schedule that pays less for more")
	}
	if t.SmallLot != nil && !small {
		q.leftOut("small lots", "lots of %d results stand alone; shorter ones do not, and are not looked at", o.N)
	}
	if t.Composite != nil {
		q.leftOut("composite", "the factor is that of this characteristic; SimulatePlans takes several")
	}
	if t.Retest != NoRetests && !(q.removes() && t.Outlier.RetestNeeded) {
		q.leftOut("retests of single results", "none are taken")
	}
	if t.Verification != nil {
		q.leftOut("verification", "results count as they are; Plan.Verify compares them with others")
	}
}

func (q *riskQuestion) needsSimulation(it bool, part string) {
	if it {
		q.simulate = append(q.simulate, part)
	}
}

// leftOut is for what no numbers follow.
func (q *riskQuestion) leftOut(part, format string, args ...any) {
	q.risk.Warnings = append(q.risk.Warnings, leftOut(part, format, args...))
}

// notIntegrated is for what simulated numbers follow, integrals do not.
func (q *riskQuestion) notIntegrated(part, format string, args ...any) {
	q.unfollowed = append(q.unfollowed, leftOut(part, format, args...))
}

func leftOut(part, format string, args ...any) stats.Warning {
	return stats.Warning{Code: WarnLeftOut, Where: part, Text: fmt.Sprintf(format, args...)}
}

// mostImplausible is the share of results outside the plausible range from which on a
// warning says so.
const mostImplausible = 1e-4

// warnPlausible is for populations of which some results would be refused as mistakes.
func (q *riskQuestion) warnPlausible() {
	if q.implausible > mostImplausible {
		q.leftOut("plausible range", "up to %.2g %% of the results of a population are outside; they count, where Evaluate would refuse them", 100*q.implausible)
	}
}

// own reports whether the table for small lots judges so many results.
func (q *riskQuestion) own(n int) bool {
	s := q.plan.terms.SmallLot
	return s != nil && n < s.Fewest && s.usesOwn()
}

// flat reports whether the plan pays by the estimate of all results alone.
func (q *riskQuestion) flat() bool {
	t := q.plan.terms
	return t.Second == nil && !t.rejectsSingles() && !q.removes()
}

// byIndex reports whether the plan is integrated step by step of the quality index.
func (q *riskQuestion) byIndex() bool {
	return q.flat() && !q.own(q.o.N) && q.plan.terms.stepsOfIndex(q.o.N)
}

// rises reports whether the best estimate is the one that pays most.
func (q *riskQuestion) rises() bool {
	s, err := q.plan.terms.scheduleFor(q.fn, q.o.N)
	return err == nil && s.CheckMonotone(Rising, decimal.NewFromInt(100)) == nil
}

// methodParts covers a table by whole rows where the steps of one limit do.
func (q *riskQuestion) methodParts() {
	method := q.plan.terms.Estimation.Method
	q.needsSimulation(method != ExactWithin && !(method == TableWithin && q.byIndex()), method.String())
}

func (q *riskQuestion) weightParts(own bool) {
	switch quantities := q.o.Quantities; {
	case own || q.plan.terms.Estimation.Weights != QuantityWeights:
	case quantities == nil:
		q.leftOut("weights", "the quantities are taken as equal; give o.Quantities where they are not")
	default:
		q.needsSimulation(slices.Min(quantities) < slices.Max(quantities), "weights of unequal quantities")
	}
}

func (q *riskQuestion) roundingParts() {
	r := q.plan.terms.Rounding
	for _, f := range []struct {
		name     string
		rule     units.Rounding
		followed bool
	}{{"rounding of results", r.Value, false}, {"rounding of the mean", r.Mean, false}, {"rounding of the standard deviation", r.StdDev, false}, {"rounding of Q", r.Q, q.byIndex()}} {
		if f.rule.Method != units.Absolute && !f.followed {
			q.notIntegrated(f.name, "numbers count unrounded; a simulation with All rounds them (%v)", f.rule)
		}
	}
}

func (t *Terms) rejectsSingles() bool { return t.Individual != nil && t.Individual.Action == RejectLot }

func (q *riskQuestion) resultParts() {
	t := q.plan.terms
	if t.Individual != nil && !t.rejectsSingles() {
		q.leftOut("single results", "they are reported and do not decide on the lot")
	}
	q.needsSimulation(t.rejectsSingles() && q.o.N > mostSmallest, fmt.Sprintf("single results of more than %d", mostSmallest))
}

// removes reports whether a flagged result may leave a lot, which takes a retest or
// enough others.
func (q *riskQuestion) removes() bool {
	o := q.plan.terms.Outlier
	return o != nil && q.o.RemoveFlagged && o.MaxRemoved > 0 && o.takes(q.o.N) && !q.own(q.o.N) && (o.RetestNeeded || q.enough)
}

func (q *riskQuestion) screenParts() {
	n, o := q.o.N, q.plan.terms.Outlier
	switch {
	case o == nil || q.own(n):
	case !o.takes(n):
		q.leftOut("outlier screen", "it is not made of %d results", n)
	case !q.removes():
		why := ""
		if q.o.RemoveFlagged && o.MaxRemoved > 0 {
			why = ", without which there would be too few results for the plan"
		}
		q.leftOut("outlier screen", "what it flags stays in the lot%s", why)
		if !o.single() && o.Test != TwoOutliersTest {
			q.notIntegrated("how often the screen flags", "no integral gives it for several suspects; a simulation with All does")
		}
	default:
		q.removalParts()
	}
}

// single reports whether the screen is a look at the most extreme result.
func (o *OutlierPolicy) single() bool {
	return o.Test == GrubbsTest || o.Test == GeneralizedESDTest && o.Suspects == 1
}

func (q *riskQuestion) removalParts() {
	t, n := q.plan.terms, q.o.N
	o := t.Outlier
	singles := t.rejectsSingles() && !(o.Side == stats.Low && t.Individual.Limits.pair().upper == nil)
	q.needsSimulation(!o.single(), "removal by the test "+o.Test.String())
	q.needsSimulation(o.single() && !screenIsExact(n, o), "removal by a screen with an alpha or a number of results that large")
	q.needsSimulation(o.RetestNeeded, "retest of a removed result")
	q.needsSimulation(o.MaxRemoved > 1 && n > o.MinN && n > 4, "removal of more than one result")
	q.needsSimulation(singles, "limits for single results beside removal, other than a lower limit beside a screen of the lowest result")
	q.needsSimulation(q.o.Retesting.samples > 1, "samples of whole lots beside removal")
	q.needsSimulation(q.own(n-1), "table for small lots after a removal")
}

// screenIsExact reports whether no two results can be flagged at once.
func screenIsExact(n int, o *OutlierPolicy) bool {
	critical, err := stats.GrubbsCritical(n, o.Side, o.Alpha)
	alone := math.Sqrt(float64(n-1) * float64(n-2) / (2 * float64(n)))
	if o.Side == stats.TwoSide {
		alone = math.Sqrt(float64(n-1) / 2)
	}
	return err == nil && critical > alone
}
