package stats_test

// The figures in the outputs were computed a second time by testdata/regression.R.

import (
	"fmt"

	"github.com/densilot/densilot/stats"
)

// Percent compaction in the order of the work: after five results it falls off.
var compaction = []float64{93.8, 94.3, 94.1, 93.6, 94.0, 92.9, 93.1, 92.6, 92.8, 92.5}

func ExampleCUSUM() {
	r, err := stats.CUSUM(compaction, stats.CUSUMOptions{Target: 94, Reference: 0.25, DecisionInterval: 2.5})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("signal at result %d, low since result %d, sum %.2f %%\n", r.FirstSignal+1, r.ChangeFrom+1, r.Low[r.FirstSignal])
	// Output: signal at result 8, low since result 6, sum 2.65 %
}

func ExampleNewIndividualsChart() {
	c, err := stats.NewIndividualsChart(compaction, 3)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f %%, limits %.2f to %.2f, ranges to %.2f\n", c.Mean, c.Limits.Lo, c.Limits.Hi, c.RangeLimit)
	// Output: 93.37 %, limits 92.22 to 94.52, ranges to 1.42
}

func ExampleVonNeumann() {
	r, err := stats.VonNeumann(compaction, stats.Low)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("ratio %.2f, p = %.3f\n", r.Value, r.P)
	// Output: ratio 0.58, p = 0.003
}

func ExampleLagOneTest() {
	r, err := stats.LagOneTest(compaction, stats.High)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("r₁ = %.2f, p = %.3f\n", r.Value, r.P)
	// Output: r₁ = 0.59, p = 0.003
}

func ExampleTrend() {
	hours := []float64{0, 1, 2, 3, 4, 5, 6, 7, 8, 9}
	r, err := stats.Trend(hours, compaction, 0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f %% over the day, 95%% interval %.2f to %.2f, p = %.4f\n", r.Change, r.ChangeCI.Lo, r.ChangeCI.Hi, r.Slope.P)
	// Output: -1.76 % over the day, 95% interval -2.50 to -1.02, p = 0.0006
}

func ExampleRecordedResolution() {
	r, err := stats.RecordedResolution([]float64{93.5, 94, 93.5, 94.5, 94, 93.5})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("steps of %.1f %%, %.2f in a standard deviation, coarse: %v\n", r.Step, r.StepsInDeviation, r.Coarse())
	// Output: steps of 0.5 %, 0.82 in a standard deviation, coarse: true
}
