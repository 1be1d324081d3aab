package lot_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
)

func ExamplePlan_Risk() {
	// The invented contract of the other examples with a schedule that rejects below 50
	// and pays no bonus, and a single result below 90.0 that rejects the lot; five
	// results, a mat that varies by 0.9 % of maximum theoretical density.
	plan, err := invented() // read by ParsePlan: mat density of at least 92.0 %
	if err != nil {
		fmt.Println(err)
		return
	}
	dec := decimal.RequireFromString
	t := plan.Terms()
	t.Individual = &lot.IndividualPolicy{Limits: lot.AtLeast(90.0), Action: lot.RejectLot}
	if t.Schedule, err = lot.NewSchedule(lot.Segment{From: dec("0"), Reject: true},
		lot.Segment{From: dec("50"), Pay: lot.Formula(dec("0.55"), dec("0.005"))}, lot.Segment{From: dec("90"), Pay: lot.Step(dec("1"))}); err != nil {
		fmt.Println(err)
		return
	}
	if plan, err = lot.NewPlan(t); err != nil {
		fmt.Println(err)
		return
	}
	r, err := plan.Risk(context.Background(), lot.RiskOptions{N: 5, StdDev: 0.9})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, q := range []*lot.RiskPoint{r.Acceptable, r.Rejectable} {
		fmt.Printf("%.0f %% within: rejected %.4f, paid in full %.3f, mean factor %.3f\n", q.Quality.PWL(), q.Rejected, q.Full, q.Factor)
	}
	for _, w := range r.Warnings {
		fmt.Println(w)
	}
	// Output:
	// 90 % within: rejected 0.0031, paid in full 0.592, mean factor 0.974
	// 50 % within: rejected 0.5067, paid in full 0.026, mean factor 0.431
	// rounding of Q: numbers count unrounded; a simulation with All rounds them (half-even to 0.01)
}

func ExamplePopulationWithin() {
	// 90 % above 92.0 with a standard deviation of 0.9: the mean is 92.0 + 1.2816·0.9.
	p, err := lot.PopulationWithin(90, 0.9, lot.AtLeast(92.0))
	fmt.Printf("mean %.3f %%, %v\n", p.Mean, err)
	_, err = lot.PopulationWithin(90, 2.0, lot.Between(92.0, 95.0))
	fmt.Println(err)
	// Output:
	// mean 93.153 %, <nil>
	// lot.PopulationWithin: pwl = 90: out of range; a standard deviation of 2 has at most 54.6745 between the limits
}

func ExamplePopulationsWithin() {
	// What a plan for one spread does at others: the invented contract pays lots of
	// 70 to 90 % within the same 0.55 + 0.005·PWL on average, whatever their spread is, for
	// it has one limit and no cap.
	plan, err := invented() // read by ParsePlan: mat density of at least 92.0 %
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, stdDev := range []float64{0.6, 1.2} {
		curve, err := lot.PopulationsWithin(70, 90, 3, stdDev, plan.Terms().Limits)
		if err != nil {
			fmt.Println(err)
			return
		}
		r, err := plan.Risk(context.Background(), lot.RiskOptions{N: 5, StdDev: stdDev, Curve: curve})
		if err != nil {
			fmt.Println(err)
			return
		}
		for i, q := range r.Curve {
			fmt.Printf("%s%.2f: %.3f", []string{"", "  "}[min(i, 1)], q.Population.Mean, q.Factor)
		}
		fmt.Println()
	}
	// Output:
	// 92.31: 0.900  92.50: 0.950  92.77: 1.000
	// 92.63: 0.900  93.01: 0.950  93.54: 1.000
}

// composed are two invented contracts that make 0.7 and 0.3 of a pay factor.
func composed() ([]lot.Plan, error) {
	plan, err := invented() // read by ParsePlan: mat density of at least 92.0 %
	if err != nil {
		return nil, err
	}
	plans := make([]lot.Plan, 2)
	for i, weight := range []string{"0.7", "0.3"} {
		t, w := plan.Terms(), decimal.RequireFromString(weight)
		t.Composite = &lot.CompositePart{Rule: lot.WeightedSum, Weight: &w}
		if plans[i], err = lot.NewPlan(t); err != nil {
			return nil, err
		}
	}
	return plans, nil
}

func ExampleSimulatePlans() {
	// The mean of a weighted sum is that of its parts; what goes together makes lots
	// more unequal, and so the standard error larger.
	plans, err := composed()
	if err != nil {
		fmt.Println(err)
		return
	}
	mat := lot.Population{Mean: 93.2, StdDev: 0.9}
	var stdErrs []float64
	for _, r := range []float64{0, 0.9} {
		source, err := lot.CorrelatedLots([]lot.Population{mat, mat}, [][]float64{{1, r}, {r, 1}})
		if err != nil {
			fmt.Println(err)
			return
		}
		s, err := lot.SimulatePlans(context.Background(), lot.PlanSimulation{Plans: plans, Composite: &lot.CompositeTerms{Rule: lot.WeightedSum, Rounding: halfEven(3)},
			N: 5, Source: source, Lots: 20_000, Seed: 7})
		if err != nil {
			fmt.Println(err)
			return
		}
		stdErrs = append(stdErrs, s.FactorStdErr)
	}
	fmt.Println(stdErrs[0] < stdErrs[1])
	// Output: true
}

func ExampleSeparateLots() {
	// Lots of results that depend on the one before, judged by the invented contract.
	// The estimate takes them to be independent, finds too little spread within a lot
	// and so says less about the quality.
	plan, err := invented() // read by ParsePlan: mat density of at least 92.0 %
	if err != nil {
		fmt.Println(err)
		return
	}
	var spread []float64
	for _, correlation := range []float64{0, 0.7} {
		source, err := lot.SerialLots(93.2, 0.9, correlation)
		if err != nil {
			fmt.Println(err)
			return
		}
		s, err := lot.SimulatePlans(context.Background(), lot.PlanSimulation{Plans: []lot.Plan{plan}, N: 5, Source: lot.SeparateLots(source), Lots: 20_000, Seed: 7})
		if err != nil {
			fmt.Println(err)
			return
		}
		spread = append(spread, s.PWLStdDev)
	}
	fmt.Println(spread[1] > 1.3*spread[0])
	// Output: true
}

func ExampleCorrelatedLots() {
	_, err := lot.CorrelatedLots([]lot.Population{{Mean: 93, StdDev: 1}, {Mean: 4, StdDev: 0.5}}, [][]float64{{1, -0.8}, {-0.8, 1}})
	fmt.Println(err)
	_, err = lot.CorrelatedLots([]lot.Population{{Mean: 93, StdDev: 1}, {Mean: 4, StdDev: 0.5}}, [][]float64{{1, -1.2}, {-1.2, 1}})
	fmt.Println(err)
	// Output:
	// <nil>
	// lot.CorrelatedLots: correlation[1] = -1.2: out of range; need -1 to 1, 1 on the diagonal, and the same above and below it
}

func ExampleJointLots() {
	// Two characteristics of one core: air voids are 100 less the density, but for the
	// error of each test.
	source := lot.JointLots(2, func(results [][]float64, random *rand.Rand) {
		for i := range results[0] {
			density := 94 + 0.9*random.NormFloat64()
			results[0][i] = density + 0.2*random.NormFloat64()
			results[1][i] = 100 - density + 0.2*random.NormFloat64()
		}
	})
	plans, err := composed()
	if err != nil {
		fmt.Println(err)
		return
	}
	voids := plans[1].Terms()
	voids.Limits, voids.Plausible, voids.Outlier, voids.Individual = lot.Between(4.5, 7.5), lot.Between(0, 20), nil, nil
	if plans[1], err = lot.NewPlan(voids); err != nil {
		fmt.Println(err)
		return
	}
	s, err := lot.SimulatePlans(context.Background(), lot.PlanSimulation{Plans: plans, Composite: &lot.CompositeTerms{Rule: lot.WeightedSum, Rounding: halfEven(3)},
		N: 5, Source: source, Lots: 1_000_000, StdErr: 0.002, Seed: 7})
	fmt.Println(s.Lots < 1_000_000, math.Max(s.FactorStdErr, s.RejectedStdErr) <= 0.002, err)
	// Output: true true <nil>
}

func ExamplePayLine() {
	// The line that pays 100 on average at 90, of at most 1.02, as a schedule: at other
	// qualities it pays less.
	e, err := lot.NewEstimator(5, lot.QualityOneLimit(90))
	if err != nil {
		fmt.Println(err)
		return
	}
	line, err := lot.FairPayLine(e, 0.005, 1.02)
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := line.Schedule()
	if err != nil {
		fmt.Println(err)
		return
	}
	p, err := lot.ExpectedPay(e, s, lot.Retesting{})
	fmt.Printf("%.4f %v\n", p.Factor, err)
	// Output: 1.0000 <nil>
}
