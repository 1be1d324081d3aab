package lot

import (
	"fmt"
	"math"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

var absolutely = units.Rounding{Method: units.Absolute}

// parts goes through the plan and says of each part whether only a simulation
// covers it, or that it has no influence.
func (q *riskQuestion) parts() {
	t, o := q.plan.terms, q.o
	small := t.SmallLot != nil && o.N < t.SmallLot.Fewest
	q.needsSimulation(small, "table for small lots")
	q.needsSimulation(!small && t.Estimation.Method != ExactWithin, t.Estimation.Method.String())
	q.roundingParts()
	q.resultParts()
	q.screenParts()
	if two := t.Second != nil || t.rejectsSingles() || q.removes(); two {
		q.needsSimulation(o.Retesting.best && o.Retesting.samples > 1, "best of several samples beside second pass, single results or removal")
	}
	if t.SmallLot != nil && !small {
		q.leftOut("small lots", "lots of %d results stand alone; shorter ones do not, and are not looked at", o.N)
	}
	if t.Composite != nil {
		q.leftOut("composite", "the factor is that of this characteristic; SimulatePlans takes several")
	}
	if t.Retest != NoRetests && !q.removes() {
		q.leftOut("retests of single results", "none are taken")
	}
}

func (q *riskQuestion) needsSimulation(it bool, part string) {
	if it {
		q.simulate = append(q.simulate, part)
	}
}

func (q *riskQuestion) leftOut(part, format string, args ...any) {
	q.risk.Warnings = append(q.risk.Warnings, stats.Warning{Code: WarnLeftOut, Where: part, Text: part + ": " + fmt.Sprintf(format, args...)})
}

func (q *riskQuestion) roundingParts() {
	r := q.plan.terms.Rounding
	for _, f := range []struct {
		name string
		rule units.Rounding
	}{{"rounding of results", r.Value}, {"rounding of the mean", r.Mean}, {"rounding of the standard deviation", r.StdDev}, {"rounding of Q", r.Q}} {
		if f.rule.Method != units.Absolute {
			q.leftOut(f.name, "numbers count unrounded; a simulation with All rounds them (%v)", f.rule)
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

// removes reports whether a flagged result may leave a lot.
func (q *riskQuestion) removes() bool {
	o := q.plan.terms.Outlier
	return o != nil && q.o.RemoveFlagged && o.MaxRemoved > 0 && q.o.N >= o.MinN
}

func (q *riskQuestion) screenParts() {
	t, n := q.plan.terms, q.o.N
	o := t.Outlier
	switch {
	case o == nil:
		return
	case n < o.MinN:
		q.leftOut("outlier screen", "it starts at %d results", o.MinN)
		return
	case !q.removes():
		q.leftOut("outlier screen", "what it flags stays in the lot")
		return
	}
	_, err := newCountJudge(q.fn, t, n-1)
	alone := screenIsExact(n, o)
	singles := t.rejectsSingles() && !(o.Side == stats.Low && t.Individual.Limits.pair().upper == nil)
	q.needsSimulation(o.RetestNeeded, "retest of a removed result")
	q.needsSimulation(o.MaxRemoved > 1 && n > o.MinN && n > 4 && err == nil, "removal of more than one result")
	q.needsSimulation(!alone, "removal by a screen with an alpha or a number of results that large")
	q.needsSimulation(singles, "limits for single results beside removal, other than a lower limit beside a screen of the lowest result")
	q.needsSimulation(q.o.Retesting.samples > 1, "samples of whole lots beside removal")
	if err != nil {
		q.leftOut("removal", "it would leave too few results for the plan")
	}
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
