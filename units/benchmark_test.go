package units_test

import (
	"testing"

	"github.com/densilot/densilot/units"
)

// Appending, converting and subtracting work without allocation; so does parsing
// the usual number of digits.
func TestHotPathsDoNotAllocate(t *testing.T) {
	d, e, buf := units.LbPerFt3.Of(147.2), units.LbPerFt3.Of(146.1), make([]byte, 0, 64)
	hot, g, s := units.Fahrenheit.Of(285), units.SpecificGravityOf(2.512), units.Station100Ft.Of(1234.5)
	l, m := units.Foot.Of(12.5), units.Gram.Of(1432.7)
	for name, f := range map[string]func(){
		"append density":     func() { buf, _ = d.AppendText(buf[:0]) },
		"append difference":  func() { buf, _ = d.Sub(e).AppendText(buf[:0]) },
		"append temperature": func() { buf, _ = hot.AppendText(buf[:0]) },
		"append step":        func() { buf, _ = hot.Sub(hot).AppendText(buf[:0]) },
		"append gravity":     func() { buf, _ = g.AppendText(buf[:0]) },
		"append length":      func() { buf, _ = l.AppendText(buf[:0]) },
		"append mass":        func() { buf, _ = m.AppendText(buf[:0]) },
		"append station":     func() { buf, _ = s.AppendText(buf[:0]) },
		"convert":            func() { _ = d.Sub(e).In(units.KgPerM3) },
		"parse density":      func() { _, _ = units.ParseDensity("147.2 lb/ft3") },
	} {
		if n := testing.AllocsPerRun(100, f); n != 0 {
			t.Errorf("%s allocates %v times", name, n)
		}
	}
}

func BenchmarkUnits(b *testing.B) {
	d, hot, s, buf := units.LbPerFt3.Of(147.2), units.Fahrenheit.Of(285), units.Station100Ft.Of(1234.5), make([]byte, 0, 64)
	tie := units.Rounding{Method: units.HalfEven, Places: 1}
	for _, bb := range []struct {
		name string
		f    func()
	}{
		{"parse density", func() { _, _ = units.ParseDensity("147.2 lb/ft3") }},
		{"parse station", func() { _, _ = units.ParseStation("12+34.5 ft") }},
		{"append density", func() { buf, _ = d.AppendText(buf[:0]) }},
		{"append station", func() { buf, _ = s.AppendText(buf[:0]) }},
		{"convert density", func() { _ = d.In(units.KgPerM3) }},
		{"convert temperature exactly", func() { _ = hot.In(units.Celsius) }},
		{"round", func() { _, _ = tie.Float(92.45) }},
	} {
		b.Run(bb.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				bb.f()
			}
		})
	}
}
