package stats_test

import (
	"strconv"
	"testing"

	"github.com/densilot/densilot/stats"
)

func BenchmarkTwoOutliersCritical(b *testing.B) {
	for _, n := range []int{6, 30, 300} {
		b.Run("n="+strconv.Itoa(n), func(b *testing.B) {
			for range b.N {
				if _, err := stats.TwoOutliersCritical(n, 0.05); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
