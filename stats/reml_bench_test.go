package stats

import (
	"math/rand/v2"
	"strconv"
	"testing"
)

// BenchmarkNestedREML fits groups of 2, 3 and 4, as nanoseconds over the groups.
func BenchmarkNestedREML(b *testing.B) {
	for _, k := range []int{5, 30, 300} {
		var xs []float64
		var names []string
		for i, group := range oneWayDraw(rand.New(rand.NewPCG(107, 108)), k, false) {
			for _, x := range group {
				xs, names = append(xs, x), append(names, strconv.Itoa(i))
			}
		}
		b.Run("groups="+strconv.Itoa(k), func(b *testing.B) {
			for range b.N {
				if _, err := NestedREML(xs, [][]string{names}, 0.95); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*k), "ns/group")
		})
	}
}
