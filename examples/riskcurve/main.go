// Riskcurve says before the work what a contract does with lots of a known quality: as
// CSV the chance of acceptance and the pay factor to expect, over the true percent
// within limits. The contract is a JSON file; how many results a lot has and how much
// they vary, as a standard deviation in the unit of the contract, are flags.
//
//	go run ./examples/riskcurve -n 5 -stddev 0.9 examples/riskcurve/plan.json
//
// No normal population is wholly within its limits, so the curve ends at 99.
// The contract is invented. The contract documents and the responsible engineer govern.
package main

import (
	"context"
	"flag"
	"fmt"
	"log"
	"os"

	"github.com/densilot/densilot/lot"
)

func main() {
	n, stdDev := flag.Int("n", 0, "results of a lot"), flag.Float64("stddev", 0, "standard deviation of the results, in the unit of the plan")
	flag.Parse()
	plan := must(lot.ParsePlan(must(os.ReadFile(flag.Arg(0)))))
	var curve []lot.Population
	for _, pwl := range []float64{50, 55, 60, 65, 70, 75, 80, 85, 90, 95, 99} {
		curve = append(curve, must(lot.PopulationWithin(pwl, *stdDev, plan.Terms().Limits)))
	}
	risk := must(plan.Risk(context.Background(), lot.RiskOptions{N: *n, StdDev: *stdDev, Curve: curve}))
	fmt.Println("true percent within limits,chance of acceptance,expected pay factor")
	for _, q := range risk.Curve {
		fmt.Printf("%.0f,%.4f,%.4f\n", q.Quality.PWL(), 1-q.Rejected, q.Factor)
	}
	for _, warning := range risk.Warnings {
		fmt.Fprintln(os.Stderr, "warning:", warning)
	}
}

func must[T any](value T, err error) T {
	if err != nil {
		log.Fatal(err)
	}
	return value
}
