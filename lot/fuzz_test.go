package lot_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/units"
)

// Whatever is read as a plan is written in a form that reads back to the same bytes,
// and judges a lot without a panic.
func FuzzParsePlan(f *testing.F) {
	f.Add([]byte(handWritten))
	for _, c := range everything(f) {
		data, err := json.Marshal(plan(f, c))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		first, err := lot.ParsePlan(data)
		if err != nil {
			return
		}
		written, err := first.MarshalJSON()
		if err != nil {
			t.Fatal(err)
		}
		second, err := lot.ParsePlan(written)
		if err != nil {
			t.Fatalf("%v\n%s", err, written)
		}
		if again, err := second.MarshalJSON(); err != nil || !bytes.Equal(written, again) {
			t.Fatalf("%v\n%s\n%s", err, written, again)
		}
		l := lotOf("93.2", "92.1", "94.3", "93.8")
		l.Unit = first.Terms().Unit
		if e, err := first.Evaluate(l); err == nil {
			checkSense(t, e)
		}
	})
}

// Whatever is read as a lot reads back equal, and its evaluation too.
func FuzzParseLot(f *testing.F) {
	for _, values := range [][]string{{"93.20", "92.1", "94.3", "91.8"}, {"93", "93", "93"}, {"95.1"}} {
		l := lotOf(values...)
		l.Results[0].Origin = "core"
		data, err := json.Marshal(l)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	c := terms(f, lot.Between(92, 97))
	c.SmallLot = &lot.SmallLotPolicy{Fewest: 3, Rule: lot.OwnTable, Own: florida(f)}
	c.Retest = lot.PoolResults
	c.Plausible = lot.Between(-1e9, 1e9)
	pl := plan(f, c)
	f.Fuzz(func(t *testing.T, data []byte) {
		l, err := lot.ParseLot(data)
		if err != nil {
			return
		}
		written, err := json.Marshal(l)
		if err != nil {
			t.Fatal(err)
		}
		if back, err := lot.ParseLot(written); err != nil || cmp.Diff(l, back) != "" {
			t.Fatalf("%v\n%s", err, written)
		}
		l.Unit = c.Unit
		e, err := pl.Evaluate(l)
		if err != nil {
			return
		}
		checkSense(t, e)
		saved, err := json.Marshal(e)
		if err != nil {
			t.Fatal(err)
		}
		if back, err := lot.ParseEvaluation(saved); err != nil || cmp.Diff(e, back) != "" {
			t.Fatalf("%v\n%s", err, saved)
		}
	})
}

// Whatever is read as a verification, one of a pair or a field sheet is written in a
// form that reads back equal, and prints.
func FuzzParseRecords(f *testing.F) {
	v, err := lot.VerifyEquivalence(firstHalf, secondHalf, halfPercent, split(0.1))
	pair, err2 := lot.VerifyPair(d("93.2"), d("92.70"), lot.PairTerms{Characteristic: "core", Unit: "%", D2S: d("0.8"), Source: "invented", Difference: 0.5, Power: 0.9})
	sheet, err3 := lot.RandomLocations(samplingTerms(), 7)
	for _, record := range []any{v, pair, sheet} {
		data, err4 := json.Marshal(record)
		if err := errors.Join(err, err2, err3, err4); err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if v, err := lot.ParseVerification(data); err == nil {
			_ = v.String()
			written, err := json.Marshal(v)
			if back, err2 := lot.ParseVerification(written); err != nil || err2 != nil || cmp.Diff(v, back) != "" {
				t.Fatalf("%v, %v\n%s", err, err2, written)
			}
		}
		if v, err := lot.ParsePairVerification(data); err == nil {
			_ = v.String()
			written, err := json.Marshal(v)
			if back, err2 := lot.ParsePairVerification(written); err != nil || err2 != nil || cmp.Diff(v, back) != "" {
				t.Fatalf("%v, %v\n%s", err, err2, written)
			}
		}
		if s, err := lot.ParseFieldSheet(data); err == nil {
			_ = s.String()
			written, err := json.Marshal(s)
			if back, err2 := lot.ParseFieldSheet(written); err != nil || err2 != nil || cmp.Diff(s, back) != "" {
				t.Fatalf("%v, %v\n%s", err, err2, written)
			}
		}
	})
}

// Any values that are plain decimals are judged, or refused with an error; the two
// paths agree.
func FuzzEvaluate(f *testing.F) {
	f.Add("93.2 92.1 94.3 91.8", "92.0", uint8(2))
	f.Add("92.3 92.3 92.6", "92.2", uint8(3))
	f.Add("1 1 1.000000000000000000001", "1", uint8(12))
	f.Add("-0.5 999999999 0", "3", uint8(0))
	f.Fuzz(func(t *testing.T, text, limit string, places uint8) {
		at, err := units.ParseDecimal(limit)
		if err != nil || len(text) > 2000 {
			return
		}
		c := terms(t, lot.AtLeastDecimal(at))
		c.Plausible, c.AnyScale = lot.Between(-1e9, 1e9), true
		c.Rounding.Measure = halfEven(int(places % 20))
		pl, err := lot.NewPlan(c)
		if err != nil {
			return
		}
		l, xs := lotOf(), []float64(nil)
		for i, field := range strings.Fields(text) {
			v, err := units.ParseDecimal(field)
			if err != nil {
				return
			}
			l.Results = append(l.Results, lot.Result{ID: string(rune('A' + i)), Value: v, Quantity: d("1")})
			xs = append(xs, v.InexactFloat64())
		}
		e, err := pl.Evaluate(l)
		if err != nil {
			return
		}
		checkSense(t, e)
		w, err := lot.EstimateWithin(xs, c.Limits)
		if err != nil || e.QL == nil || w.StdDev == 0 {
			return
		}
		n, size := float64(len(xs)), 0.0
		for _, x := range append(xs, at.InexactFloat64()) {
			size = max(size, math.Abs(x))
		}
		if off := math.Abs(w.QL-e.QL.Exact) * math.Sqrt(n) / (n - 1); off > 1e-12*(1+math.Abs(w.QL))*(1+size/w.StdDev) {
			t.Errorf("%s against %s: Q %v, float %v", text, limit, e.QL.Exact, w.QL)
		}
	})
}

// checkSense refuses an evaluation that contradicts itself.
func checkSense(t *testing.T, e lot.Evaluation) {
	t.Helper()
	for _, n := range []*lot.Number{&e.Mean, &e.StdDev, e.QL, e.QU, e.PWLLower, e.PWLUpper, &e.PWL, &e.Measure, e.Second, e.Factor} {
		if n != nil && (math.IsNaN(n.Exact) || math.IsInf(n.Exact, 0)) {
			t.Fatalf("a number that is none: %+v", e)
		}
	}
	if e.PWL.Exact < 0 || e.PWL.Exact > 100 || e.N != len(e.Used) || e.Decision == 0 || (e.Factor == nil) != (e.Decision == lot.Rejected) {
		t.Fatalf("%+v", e)
	}
	if pay := e.Payment; pay != nil {
		left := pay.Total
		for _, s := range pay.Shares {
			left = left.Sub(s.Amount)
		}
		if !pay.Total.Equal(pay.Base.Add(pay.Adjustment)) || pay.Shares != nil && left.Sign() != 0 {
			t.Fatalf("%+v", pay)
		}
	}
}
