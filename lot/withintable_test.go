package lot_test

import (
	"errors"
	"math"
	"strconv"
	"testing"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/units"
)

// The exact table equals published cells: FHWA T 5080.12 (1989) table 1B (Q to two
// places), and table 934-6 of an agency special provision as transcribed (Q to four).
func TestWithinTable(t *testing.T) {
	for _, tt := range []struct {
		n, places, pwl int
		q              string
	}{
		{3, 2, 73, "0.76"}, {4, 2, 73, "0.69"}, {7, 2, 68, "0.49"}, {10, 2, 60, "0.26"}, {5, 2, 56, "0.17"},
		{3, 4, 99, "1.1541"}, {4, 4, 99, "1.4700"}, {5, 4, 99, "1.6714"}, {10, 4, 99, "2.0362"},
		{3, 4, 96, "1.1456"}, {6, 4, 96, "1.5497"}, {9, 4, 96, "1.6313"}, {8, 4, 98, "1.8053"},
		// The index of 100 is (n-1)/√n: Python decimal, 2/3**0.5 = 1.15470…, 9/10**0.5 = 2.84604….
		{3, 4, 100, "1.1547"}, {4, 4, 100, "1.5000"}, {10, 4, 100, "2.8460"}, {6, 4, 50, "0.0000"}, {4, 4, 40, "-0.3000"},
		// By hand: n = 4 gives Q = 3(PWL-50)/100; 0.15 and 0.27 are ties at one place.
		{4, 1, 55, "0.2"}, {4, 1, 45, "-0.2"}, {4, 1, 59, "0.3"},
	} {
		rows, err := lot.WithinTable(tt.n, halfEven(tt.places))
		if err != nil || len(rows) != 101 {
			t.Fatalf("%d rows, %v", len(rows), err)
		}
		if r := rows[100-tt.pwl]; r.PWL != tt.pwl || r.Q.StringFixed(int32(tt.places)) != tt.q {
			t.Errorf("n = %d, PWL %d: %+v, want %s", tt.n, tt.pwl, r, tt.q)
		}
	}
	up, err := lot.WithinTable(4, units.Rounding{Method: units.HalfUp, Places: 1})
	if err != nil || up[100-75].Q.StringFixed(1) != "0.8" || up[25].PWL != 75 || up[75].Q.StringFixed(1) != "-0.8" {
		t.Errorf("0.75 half-up: %v, %v", up[25], err)
	}
	even, err := lot.WithinTable(4, halfEven(1))
	if err != nil || even[100-85].Q.StringFixed(1) != "1.0" || even[100-95].Q.StringFixed(1) != "1.4" {
		t.Errorf("1.05 and 1.35 half-even: %v, %v, %v", even[15], even[5], err)
	}
	for n := 3; n <= 60; n += 19 {
		checkTableAgainstFloat(t, n)
	}
	for _, n := range []int{0, 2, 1001} {
		if _, err := lot.WithinTable(n, halfEven(4)); err == nil {
			t.Errorf("a table for %d results", n)
		}
	}
	for _, r := range []units.Rounding{{}, absolute, halfEven(-1), halfEven(13)} {
		if _, err := lot.WithinTable(5, r); err == nil {
			t.Errorf("a table %v", r)
		}
	}
}

// Each cell is the nearest of its places: the percentage half a step below it is less
// than that of its row, and half a step above it more.
func checkTableAgainstFloat(t *testing.T, n int) {
	t.Helper()
	rows, err := lot.WithinTable(n, halfEven(6))
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range rows[1:100] {
		q, _ := r.Q.Float64()
		below, err := lot.PercentWithin(q-0.5e-6, n)
		above, err2 := lot.PercentWithin(q+0.5e-6, n)
		if p := float64(r.PWL); err != nil || err2 != nil || below > p+1e-9 || above < p-1e-9 {
			t.Errorf("n = %d, PWL %d at %s: %v to %v", n, r.PWL, r.Q, below, above)
		}
	}
}

// FAA Eastern Region conference slides: 96.0, 97.0, 99.0, 100.0 against 96.3 is PWL
// 82 by whole rows, the next higher one. The second is the worked example of AC
// 150/5370-10 section 110 for air voids, recomputed: 5.00, 3.74, 2.30, 3.25 within
// 2.0 to 5.0 gives rows 97 and 93, together 90, where the formula gives 88.98.
func TestTableEstimator(t *testing.T) {
	c := terms(t, lot.AtLeast(96.3))
	c.Estimation = lot.Estimation{Method: lot.TableWithin, Table: &lot.TableRule{Cell: halfEven(4), Negative: lot.MirrorNegative}}
	c.Rounding.Q = halfEven(4)
	e, err := plan(t, c).Evaluate(lotOf("96.0", "97.0", "99.0", "100.0"))
	if err != nil || e.PWL.Used != "82" || math.Abs(e.PWL.Exact-81.0367) > 5e-4 {
		t.Errorf("%+v, %v", e.PWL, err) // exact 50 + 100·0.9311/3 at the rounded Q: 81.0367
	}
	c.Limits = lot.Between(2, 5)
	e, err = plan(t, c).Evaluate(lotOf("5.00", "3.74", "2.30", "3.25"))
	if err != nil || e.PWLLower.Used != "97" || e.PWLUpper.Used != "93" || e.PWL.Used != "90" || math.Abs(e.PWL.Exact-88.98) > 5e-3 || !has(e.Warnings, lot.WarnRounding) {
		t.Errorf("%+v, %v, %v", e.PWL, e.Warnings, err)
	}
	// {90.6, 91.4, 91.9, 92.5} against 92.0: Q = -0.4974, 33.42 by the formula. With
	// signed rows the next higher one is 34; the mirror takes 100 - 67 = 33.
	for rule, want := range map[lot.NegativeRule]string{lot.SignedRows: "34", lot.MirrorNegative: "33"} {
		c.Limits = lot.AtLeast(92)
		c.Estimation.Table = &lot.TableRule{Cell: halfEven(4), Negative: rule}
		e, err := plan(t, c).Evaluate(lotOf("90.6", "91.4", "91.9", "92.5"))
		if err != nil || e.PWL.Used != want {
			t.Errorf("%v: %+v, %v; want %s", rule, e.PWL, err, want)
		}
	}
	many := make([]string, 1001)
	for i := range many {
		many[i] = strconv.Itoa(90 + i%7)
	}
	if _, err := plan(t, c).Evaluate(lotOf(many...)); !errors.Is(err, lot.ErrOutOfDomain) {
		t.Errorf("a table for 1001 results: %v", err)
	}
}
