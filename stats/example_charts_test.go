package stats_test

// The limits in the outputs were computed a second time by testdata/subgroups.R, the
// averages by hand.

import (
	"fmt"

	"github.com/densilot/densilot/stats"
)

// Percent compaction, four readings on each of four sublots in the order of the work.
var sublots = [][]float64{{93.8, 94.3, 94.1, 93.6}, {94.0, 93.2, 93.9, 94.4}, {93.1, 93.6, 92.8, 93.5}, {92.5, 92.9, 93.3, 92.2}}

func ExampleNewChartConstants() {
	c, err := stats.NewChartConstants(4, 3)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("d₂ %.4f, d₃ %.4f, c₄ %.4f, A2 %.4f, D4 %.4f\n", c.RangeMean, c.RangeStdDev, c.C4, c.A2, c.D4)
	// Output: d₂ 2.0588, d₃ 0.8798, c₄ 0.9213, A2 0.7286, D4 2.2821
}

func ExampleNewSubgroupChart() {
	c, err := stats.NewSubgroupChart(sublots, stats.SpreadRange, 3)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("means %.2f %%, limits %.2f to %.2f; by %s, to %.2f\n", c.Mean, c.Limits.Lo, c.Limits.Hi, c.Spread, c.SpreadLimits.Hi)
	for _, i := range c.Outside {
		fmt.Printf("sublot %d outside: %.2f %%\n", i+1, c.Means[i])
	}
	// Output:
	// means 93.45 %, limits 92.76 to 94.14; by range, to 2.17
	// sublot 4 outside: 92.72 %
}

func ExampleEWMA() {
	r, err := stats.EWMA(compaction, stats.EWMAOptions{Target: 94, Sigma: 0.5, Weight: 0.2, Multiple: 2.962})
	if err != nil {
		fmt.Println(err)
		return
	}
	i := r.FirstSignal
	fmt.Printf("signal at result %d: average %.2f %%, limits %.2f to %.2f\n", i+1, r.Averages[i], r.Limits[i].Lo, r.Limits[i].Hi)
	// Output: signal at result 8: average 93.42 %, limits 93.51 to 94.49
}

func ExampleRunSignals() {
	signals, err := stats.RunSignals(compaction, 94, 0.5, stats.WesternElectricRules())
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range signals {
		fmt.Printf("%s: positions %v\n", s.Rule.Name, s.Points)
	}
	// Output:
	// 2 of 3 beyond 2 sigma: positions [5 7]
	// 2 of 3 beyond 2 sigma: positions [7 8]
	// 4 of 5 beyond 1 sigma: positions [5 6 7 8]
	// 2 of 3 beyond 2 sigma: positions [7 8 9]
	// 4 of 5 beyond 1 sigma: positions [5 6 7 8 9]
}

func ExampleWesternElectricRules() {
	for _, rule := range stats.WesternElectricRules() {
		fmt.Printf("%s: %d of %d %s %v sigma\n", rule.Name, rule.Points, rule.Of, rule.Pattern, rule.Sigmas)
	}
	// Output:
	// 1 beyond 3 sigma: 1 of 1 beyond on one side 3 sigma
	// 2 of 3 beyond 2 sigma: 2 of 3 beyond on one side 2 sigma
	// 4 of 5 beyond 1 sigma: 4 of 5 beyond on one side 1 sigma
	// 8 on one side: 8 of 8 beyond on one side 0 sigma
}

func ExampleNelsonRules() {
	// The tests for a shift and a trend only: each one adds false signals.
	rules := stats.NelsonRules()
	for _, rule := range rules[:3] {
		fmt.Printf("%s: %d of %d %s\n", rule.Name, rule.Points, rule.Of, rule.Pattern)
	}
	// Output:
	// 1 beyond 3 sigma: 1 of 1 beyond on one side
	// 9 on one side: 9 of 9 beyond on one side
	// 6 steadily up or down: 6 of 6 trend
}
