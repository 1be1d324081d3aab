package stats_test

import (
	"testing"

	"github.com/densilot/densilot/stats"
)

// What a factor or critical value costs that others print in tables.
func BenchmarkTableFactors(b *testing.B) {
	for _, f := range []struct {
		name string
		of   func() error
	}{
		{"ToleranceOneSided/n=5", func() error { _, err := stats.ToleranceOneSided(5, 0.9, 0.95); return err }},
		{"ToleranceTwoSided/n=5", func() error { _, err := stats.ToleranceTwoSided(5, 0.9, 0.95); return err }},
		{"DixonCritical/n=10", func() error { _, err := stats.DixonCritical(10, stats.DixonR11, stats.High, 0.05); return err }},
		{"NewChartConstants/n=5", func() error { _, err := stats.NewChartConstants(5, 3); return err }},
	} {
		b.Run(f.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := f.of(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
