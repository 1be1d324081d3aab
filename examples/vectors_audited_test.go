package examples_test

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"testing"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// auditedVectors are of the path that promises the same bits: the text of a result
// and a digest of all it says of itself.
func auditedVectors(t *testing.T) []vector {
	var all []vector
	for i := range 60 {
		all = append(all, lotVector(t, i))
	}
	for i := range 20 {
		all = append(all, compactionVector(t, i), offsetVector(t, i), laboratoryVector(t, i))
	}
	return append(all, sheetVector(t))
}

func digest(parts ...[]byte) string {
	h := sha256.New()
	for _, part := range parts {
		h.Write(part)
	}
	return fmt.Sprintf("%x", h.Sum(nil)[:12])
}

func halfEvenTo(places int) units.Rounding {
	return units.Rounding{Method: units.HalfEven, Places: places}
}

// lotVector evaluates a lot of three to twelve results by a plan that differs from
// case to case: limits, roundings, outlier screen, shares of the pay.
func lotVector(t *testing.T, i int) vector {
	t.Helper()
	random := vectorSource(uint64(i))
	plan := vectorPlan(t, i)
	l := lot.Lot{ID: fmt.Sprint(i), Unit: "%"}
	for k, text := range hundredths(random, 3+i%10, 90, 700) {
		l.Results = append(l.Results, lot.Result{ID: fmt.Sprint(k + 1), Value: decimal.RequireFromString(text), Quantity: decimal.NewFromInt(int64(400 + random.IntN(200)))})
	}
	e, err := plan.Evaluate(l)
	if err != nil {
		t.Fatal(err)
	}
	whole, err := json.Marshal(e)
	if err != nil {
		t.Fatal(err)
	}
	pay := "none"
	if e.Payment != nil {
		pay = e.Payment.Total.StringFixed(2)
	}
	text := fmt.Sprintf("PWL %x, s %x, %v, pay %s, %s", e.PWL.Exact, e.StdDev.Exact, e.Decision, pay,
		digest(whole, []byte(lot.WorkingText(e.Working)), []byte(lot.WorkingMarkdown(e.Working)), lot.WorkingJSON(e.Working)))
	return vector{name: fmt.Sprintf("lot %d", i), text: text}
}

func vectorPlan(t *testing.T, i int) lot.Plan {
	t.Helper()
	fine := decimal.RequireFromString
	schedule, err := lot.NewSchedule(
		lot.Segment{From: decimal.Zero, Reject: true},
		lot.Segment{From: fine("40"), Pay: lot.Quadratic(fine("0.25529"), fine("0.0148268"), fine("-0.000067759"))},
		lot.Segment{From: fine("90"), Pay: lot.Formula(fine("0.55"), fine("0.005"))})
	if err != nil {
		t.Fatal(err)
	}
	exact := units.Rounding{Method: units.Absolute}
	q, s := exact, exact
	if i%4 == 1 {
		q = halfEvenTo(2)
	}
	if i%4 == 2 {
		s = units.Rounding{Method: units.HalfUp, Places: 3}
	}
	terms := lot.Terms{Name: "vectors", Characteristic: "mat density", Unit: "%", GmmSource: "mean of day", QuantityUnit: "t", Currency: "USD",
		Limits:    []lot.Limits{lot.AtLeast(92), lot.Between(92, 96.5), lot.AtMost(95)}[i%3],
		Plausible: lot.Between(80, 105), Estimation: lot.Estimation{Method: lot.ExactWithin}, Schedule: schedule, UnitPrice: fine("82.35"),
		Rounding: lot.RoundingPolicy{Value: exact, Mean: exact, StdDev: s, Q: q, Measure: halfEvenTo(i % 7), Factor: halfEvenTo(4), Money: halfEvenTo(2)}}
	if i%5 == 0 {
		terms.Outlier = &lot.OutlierPolicy{Test: lot.GrubbsTest, Side: stats.TwoSide, Alpha: 0.01, MinN: 3}
	}
	plan, err := lot.NewPlan(terms)
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

var vectorScope = density.Scope{Gauge: "G", Mix: "M", Lift: "L"}

// compactionVector goes from readings to percent compaction by offset or ratio.
func compactionVector(t *testing.T, i int) vector {
	t.Helper()
	random := vectorSource(100 + uint64(i))
	var readings []density.Reading
	for _, x := range floatsIn(t, hundredths(random, 1+i%6, 140, 900)) {
		readings = append(readings, density.Uncorrected(units.LbPerFt3.Of(x)))
	}
	correction, err := density.NewOffset(density.Offset{Offset: units.LbPerFt3.Difference(float64(random.IntN(60)-30) / 10), Scope: vectorScope, Source: "vectors"})
	if i%2 == 1 {
		correction, err = density.NewRatio(density.Ratio{Ratio: 1 + float64(random.IntN(40)-20)/1000, Scope: vectorScope, Source: "vectors"})
	}
	if err != nil {
		t.Fatal(err)
	}
	maximum, err := density.MaximumTheoretical(units.SpecificGravityOf(float64(2400+random.IntN(200))/1000), units.Water62_245)
	if err != nil {
		t.Fatal(err)
	}
	exact := units.Rounding{Method: units.Absolute}
	policy := density.RoundingPolicy{Mean: exact, Density: halfEvenTo(1 + i%3), Maximum: exact, Percentage: halfEvenTo(2 + i%9)}
	a, err := density.AuditReadings(readings, correction, vectorScope, maximum, policy)
	if err != nil {
		t.Fatal(err)
	}
	return vector{name: fmt.Sprintf("compaction %d", i), text: fmt.Sprintf("%v, %v, %v %%, voids %v, %s", a.Density, a.Maximum, a.Percentage, a.AirVoids, digest([]byte(lot.WorkingText(a.Working))))}
}

// offsetVector is the exact part of an offset from cores.
func offsetVector(t *testing.T, i int) vector {
	t.Helper()
	random := vectorSource(200 + uint64(i))
	var gauge []bias.Location
	var cores []bias.Core
	for k := range 3 + i%8 {
		at := bias.Location{ID: fmt.Sprint(k)}
		for _, x := range floatsIn(t, hundredths(random, 1+i%4, 142, 400)) {
			at.Readings = append(at.Readings, density.Uncorrected(units.LbPerFt3.Of(x)))
		}
		gauge = append(gauge, at)
		cores = append(cores, bias.Core{ID: fmt.Sprint(k), Densities: []density.InPlace{density.Core(units.LbPerFt3.Of(floatsIn(t, hundredths(random, 1, 144, 400))[0]))}})
	}
	e, err := bias.EstimateOffset(gauge, cores, bias.Options{Level: 0.95, Rounding: halfEvenTo(1 + i%3), Scope: vectorScope, Source: "vectors"})
	if err != nil {
		t.Fatal(err)
	}
	return vector{name: fmt.Sprintf("offset %d", i), text: fmt.Sprintf("%v, exact %v, %s", e.Offset, e.Correction.Exact().RatString(), digest([]byte(lot.WorkingText(e.Working))))}
}

// laboratoryVector is a core and a maximum specific gravity from their masses.
func laboratoryVector(t *testing.T, i int) vector {
	t.Helper()
	random := vectorSource(300 + uint64(i))
	tenths := func(lo, span int) units.Mass { return units.Gram.Of(float64(10*lo+random.IntN(span)) / 10) }
	core, err := density.GmbSurfaceDry(density.SurfaceDryMasses{Dry: tenths(1900, 500), SurfaceDry: tenths(1960, 90), InWater: tenths(1130, 200)}, halfEvenTo(3), halfEvenTo(2))
	if err != nil {
		t.Fatal(err)
	}
	flask, err := density.GmmFlask(density.FlaskMasses{Dry: tenths(1500, 300), Filled: tenths(7400, 200), WithSample: tenths(8300, 200),
		Water: units.Celsius.Of(float64(200+random.IntN(100)) / 10)}, halfEvenTo(5), halfEvenTo(3))
	if err != nil {
		t.Fatal(err)
	}
	return vector{name: fmt.Sprintf("laboratory %d", i), text: fmt.Sprintf("Gmb %v, absorption %v, Gmm %v, %s", core.Value, core.Absorption, flask.Value,
		digest([]byte(lot.WorkingText(core.Working)), []byte(lot.WorkingText(flask.Working))))}
}

// sheetVector is a field sheet of random locations from a seed.
func sheetVector(t *testing.T) vector {
	t.Helper()
	terms := lot.SamplingTerms{Lot: "1", Along: lot.Axis{Name: "tonnage", Unit: "t", Rounding: halfEvenTo(1)},
		Across: &lot.Transverse{Axis: lot.Axis{Name: "offset", Unit: "m", Rounding: halfEvenTo(2)}, Width: decimal.RequireFromString("3.6")}}
	for i := range 50 {
		terms.Sublots = append(terms.Sublots, lot.SublotSize{ID: fmt.Sprint(i + 1), Size: decimal.NewFromInt(int64(300 + i))})
	}
	sheet, err := lot.RandomLocations(terms, 20260511)
	if err != nil {
		t.Fatal(err)
	}
	return vector{name: "random locations", text: digest([]byte(sheet.String()))}
}
