package stats_test

// The figures in the outputs were computed a second time by testdata/normality.R.

import (
	"fmt"

	"github.com/densilot/densilot/stats"
)

// Percent compaction of 24 sublots, some of them near a cold joint.
var joint = []float64{93.2, 92.8, 93.9, 93.5, 92.1, 93.0, 94.2, 93.7, 90.1, 93.3, 92.6, 93.8, 89.4, 93.1, 92.9, 94.0, 93.4, 91.0, 92.7, 93.6, 92.4, 94.4, 90.6, 93.15}

func ExampleShapiroWilk() {
	r, err := stats.ShapiroWilk(joint)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("n = %d, W = %.4f, p = %.4f\n", r.N, r.W, r.P)
	// Output: n = 24, W = 0.8652, p = 0.0043
}

func ExampleAndersonDarling() {
	r, err := stats.AndersonDarling(joint)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("n = %d, A² = %.4f, adjusted %.4f, p = %.4f\n", r.N, r.A2, r.Adjusted, r.P)
	// Output: n = 24, A² = 1.2281, adjusted 1.2713, p = 0.0026
}
