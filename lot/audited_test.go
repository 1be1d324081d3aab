package lot_test

import (
	"encoding/csv"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
)

// tableRows reads a table of testdata, head and all.
func tableRows(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open("../testdata/" + name + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// recomputed reads testdata/audited.csv, made by testdata/audited.py in Python
// fractions and mpmath 1.2.1.
func recomputed(t *testing.T) []map[string]string {
	t.Helper()
	rows := tableRows(t, "audited")
	var all []map[string]string
	for _, row := range rows[1:] {
		m := make(map[string]string)
		for i, name := range rows[0] {
			m[name] = row[i]
		}
		all = append(all, m)
	}
	return all
}

// Every digit and every bit of the audited path is that of an independent
// computation, on every processor the tests run on.
func TestAuditedVectors(t *testing.T) {
	rows := recomputed(t)
	if len(rows) != 600 {
		t.Fatalf("%d rows", len(rows))
	}
	for _, row := range rows {
		c := terms(t, lot.Between(92, 96.5))
		half, err := lot.NewSchedule(lot.Segment{From: d("0"), Reject: true}, lot.Segment{From: d("50"), Pay: lot.Formula(d("0.55"), d("0.005"))})
		if err != nil {
			t.Fatal(err)
		}
		c.Schedule, c.UnitPrice = half, d(row["price"])
		c.Rounding.Measure, c.Rounding.Factor = halfEven(2), halfEven(3)
		if row["q places"] != "" {
			places, err := strconv.Atoi(row["q places"])
			if err != nil {
				t.Fatal(err)
			}
			c.Rounding.Q = halfEven(places)
		}
		l := lotOf(strings.Fields(row["values"])...)
		for i := range l.Results {
			l.Results[i].Quantity = d(row["quantity"])
		}
		e, err := plan(t, c).Evaluate(l)
		if err != nil {
			t.Fatal(err)
		}
		checkVector(t, row, e)
		// The same at fine rounding of mean, s and Q, to see more of their digits.
		c.Rounding.Q = halfEven(12)
		c.Rounding.Mean, c.Rounding.StdDev = halfEven(8), halfEven(8)
		if e, err = plan(t, c).Evaluate(l); err != nil || e.Mean.Used != row["mean"] || e.StdDev.Used != row["s"] {
			t.Errorf("%s: mean %s, s %s, %v; want %s, %s", row["values"], e.Mean.Used, e.StdDev.Used, err, row["mean"], row["s"])
		}
	}
}

func checkVector(t *testing.T, row map[string]string, e lot.Evaluation) {
	t.Helper()
	want, err := strconv.ParseFloat(row["pwl"], 64)
	if err != nil {
		t.Fatal(err)
	}
	if e.PWL.Exact != want && !(want < 1e-3 && math.Abs(e.PWL.Exact-want) < 0x1p-65) {
		t.Errorf("%s: PWL %x, want %x", row["values"], e.PWL.Exact, want)
	}
	factor, pay := "", ""
	if e.Factor != nil {
		factor, pay = e.Factor.Used, e.Payment.Total.StringFixed(2)
	}
	if e.PWL.Used != row["pwl used"] || factor != row["factor"] || pay != row["pay"] {
		t.Errorf("%s: PWL %s, factor %s, pay %s; want %s, %s, %s", row["values"], e.PWL.Used, factor, pay, row["pwl used"], row["factor"], row["pay"])
	}
	for name, q := range map[string]*lot.Number{"ql": e.QL, "qu": e.QU} {
		exact, err := strconv.ParseFloat(row[name], 64)
		if err != nil || math.Abs(q.Exact-exact) > 0.51e-12*max(1, math.Abs(exact)) {
			t.Errorf("%s: %s %v, want %s", row["values"], name, q.Exact, row[name])
		}
	}
}

// Random lots of recorded decimals, near ties and saturation among them: the two
// paths agree to 1e-12 in y = Q√n/(n-1), exactly saturated lots are 100 in both
// (and a lot next to saturation only where no float64 is nearer), and decisions differ only where PWL is at a row of the schedule.
func TestAuditedAgreesWithFloatPath(t *testing.T) {
	lots := 20_000
	if lot.Long() {
		lots = 1_000_000
	}
	if testing.Short() {
		lots = 2_000
	}
	rng := rand.New(rand.NewPCG(101, 102))
	c := terms(t, lot.Between(92, 96.5))
	p := plan(t, c)
	for range lots {
		values, xs := randomLot(rng)
		e, err := p.Evaluate(lotOf(values...))
		if err != nil {
			t.Fatal(err)
		}
		w, err := lot.EstimateWithin(xs, c.Limits)
		if err != nil {
			t.Fatal(err)
		}
		if e.QL == nil {
			if w.PWL != e.PWL.Exact {
				t.Errorf("%v: equal results: audited %v, float %v", values, e.PWL.Exact, w.PWL)
			}
			continue
		}
		n := float64(len(xs))
		toY := math.Sqrt(n) / (n - 1)
		tol := 1e-12 * (1 + 97/w.StdDev)
		if math.Abs(e.QL.Exact-w.QL)*toY > tol || math.Abs(e.QU.Exact-w.QU)*toY > tol {
			t.Errorf("%v: Q %v and %v, float %v and %v", values, e.QL.Exact, e.QU.Exact, w.QL, w.QU)
		}
		if e.PWL.Used == "100" && w.PWL != 100 || w.PWL == 100 && e.PWL.Exact < 100-0x1p-46 {
			t.Errorf("%v: audited %s, float %v", values, e.PWL.Used, w.PWL)
		}
		_, reject, err := c.Schedule.FactorAt(w.PWL)
		if err != nil {
			t.Fatal(err)
		}
		if reject != (e.Decision == lot.Rejected) && math.Abs(w.PWL-50) > 1e-5 {
			t.Errorf("%v: audited %v at %v, float %v", values, e.Decision, e.PWL.Exact, w.PWL)
		}
	}
}

// randomLot draws 3 to 12 results to 0.01; one lot in eight is of the kind
// {a, a, a+3d} that is saturated, or nearly, at some limit.
func randomLot(rng *rand.Rand) (values []string, xs []float64) {
	n, centre, spread := 3+rng.IntN(10), 9150+rng.IntN(500), 1+rng.IntN(300)
	units := make([]int64, n)
	for i := range units {
		units[i] = int64(centre + rng.IntN(2*spread+1) - spread)
	}
	if rng.IntN(8) == 0 {
		step := int64(1 + rng.IntN(40))
		units = []int64{9200 + step, 9200 + step, 9200 + 4*step}
	}
	for _, u := range units {
		v := decimal.New(u, -2)
		x, _ := v.Float64()
		values, xs = append(values, v.StringFixed(2)), append(xs, x)
	}
	return values, xs
}
