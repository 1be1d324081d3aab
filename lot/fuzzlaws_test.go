package lot_test

import (
	"encoding/json"
	"math"
	"math/big"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
)

// Whatever is read as an evaluation is written in a form that reads back equal.
func FuzzParseEvaluation(f *testing.F) {
	for _, values := range [][]string{{"93.20", "92.1", "94.3", "91.8"}, {"93", "93", "93"}, {"88.1", "89.2", "90.0", "87.4", "95"}} {
		e, err := plan(f, terms(f, lot.Between(92, 97))).Evaluate(lotOf(values...))
		if err != nil {
			f.Fatal(err)
		}
		data, err := json.Marshal(e)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		first, err := lot.ParseEvaluation(data)
		if err != nil {
			return
		}
		written, err := json.Marshal(first)
		if err != nil {
			t.Fatal(err)
		}
		if back, err := lot.ParseEvaluation(written); err != nil || cmp.Diff(first, back) != "" {
			t.Fatalf("%v\n%s", err, written)
		}
	})
}

// Laws of an evaluation on recorded hundredths, to the last digit: the order of the
// results does not matter, results mirrored about the middle of the limits have the
// same PWL, a lower limit further away does not lower it, and base and adjustment
// make the total, which the shares add up to.
func FuzzEvaluationLaws(f *testing.F) {
	f.Add([]byte{120, 130, 90, 200, 40}, uint8(10))
	f.Add([]byte{0, 255, 0, 255}, uint8(1))
	f.Add([]byte{128, 128, 128, 129}, uint8(255))
	f.Fuzz(func(t *testing.T, hundredths []byte, down uint8) {
		n := len(hundredths)
		if n < 3 || n > 30 {
			return
		}
		// 92.00 to 96.00, its middle 94.00; results 92.73 to 95.28
		value := func(i int) decimal.Decimal { return decimal.New(9400+int64(hundredths[i])-127, -2) }
		evaluate := func(lower float64, at func(i int) decimal.Decimal) lot.Evaluation {
			l := lotOf()
			for i := range n {
				l.Results = append(l.Results, lot.Result{ID: string(rune('A' + i)), Value: at(i), Quantity: decimal.NewFromInt(int64(100 + i))})
			}
			e, err := plan(t, terms(t, lot.Between(lower, 96))).Evaluate(l)
			if err != nil {
				t.Fatal(err)
			}
			checkSense(t, e)
			return e
		}
		plain := evaluate(92, value)
		turned := evaluate(92, func(i int) decimal.Decimal { return value(n - 1 - i) })
		mirrored := evaluate(92, func(i int) decimal.Decimal { return decimal.NewFromInt(188).Sub(value(i)) })
		wider := evaluate(92-float64(down)/4, value)
		if turned.PWL != plain.PWL || turned.Decision != plain.Decision || cmp.Diff(turned.Factor, plain.Factor) != "" {
			t.Errorf("%v %v, in the other order %v %v", plain.PWL, plain.Decision, turned.PWL, turned.Decision)
		}
		if mirrored.PWL != plain.PWL || mirrored.Decision != plain.Decision {
			t.Errorf("%v, mirrored %v", plain.PWL, mirrored.PWL)
		}
		if wider.PWL.Exact < plain.PWL.Exact {
			t.Errorf("%v, with a wider limit %v", plain.PWL, wider.PWL)
		}
		if p := plain.Payment; p != nil {
			sum := new(big.Rat)
			for _, s := range p.Shares {
				sum.Add(sum, s.Amount.Rat())
			}
			if !p.Base.Add(p.Adjustment).Equal(p.Total) || sum.Cmp(p.Total.Rat()) != 0 {
				t.Errorf("%+v", p)
			}
		}
	})
}

// Laws of an interval: its ends are in order within 0 to 100, mirrored results have the
// same, and a higher level does not narrow it.
func FuzzWithinMeasured(f *testing.F) {
	f.Add([]byte{120, 130, 90, 200, 40}, uint8(20), uint8(24), uint8(32), uint8(9))
	f.Add([]byte{0, 255, 0}, uint8(0), uint8(0), uint8(0), uint8(0))
	f.Add([]byte{128, 128, 129}, uint8(255), uint8(255), uint8(255), uint8(1))
	f.Fuzz(func(t *testing.T, hundredths []byte, width, common, noise, df uint8) {
		n := len(hundredths)
		if n < 3 || n > 12 {
			return
		}
		xs, mirror := make([]float64, n), make([]float64, n)
		for i, x := range hundredths {
			xs[i] = (float64(x) - 127) / 100
			mirror[i] = -xs[i]
		}
		half := (float64(width) + 1) / 50
		e := lot.MeasurementError{Common: []lot.Component{{StdErr: float64(common) / 100, DF: 1 + float64(df)}},
			Repeatability: lot.Component{StdErr: float64(noise) / 100, DF: 1 + float64(df)}}
		within := func(xs []float64, level float64) lot.Measured {
			m, err := lot.WithinMeasured(xs, lot.Between(-half, half), level, e)
			if err != nil {
				t.Fatal(err)
			}
			if !(m.CI.Lo >= 0 && m.CI.Lo <= m.CI.Hi && m.CI.Hi <= 100) {
				t.Errorf("%+v", m.CI)
			}
			return m
		}
		m, mirrored, wide := within(xs, 0.8), within(mirror, 0.8), within(xs, 0.9)
		if math.Abs(m.CI.Lo-mirrored.CI.Lo) > 1e-4 || math.Abs(m.CI.Hi-mirrored.CI.Hi) > 1e-4 {
			t.Errorf("%+v, mirrored %+v", m.CI, mirrored.CI)
		}
		if wide.CI.Lo > m.CI.Lo+1e-4 || wide.CI.Hi < m.CI.Hi-1e-4 {
			t.Errorf("%+v, at a higher level %+v", m.CI, wide.CI)
		}
	})
}
