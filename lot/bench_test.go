package lot_test

import (
	"testing"

	"github.com/densilot/densilot/lot"
)

func BenchmarkEvaluate(b *testing.B) {
	p := plan(b, terms(b, lot.Between(92, 97)))
	l := lotOf("94.2", "92.5", "93.4", "91.9", "93.8")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := p.Evaluate(l); err != nil {
			b.Fatal(err)
		}
	}
}
