package main

import (
	"encoding/json"
	"io"
	"strconv"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/examples/internal/shift"
	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// The JSON form holds what the report holds. Money and percentages are strings,
// so that no reader takes their digits away; quantities carry their unit.
type jsonShift struct {
	Project  string        `json:"project"`
	Demo     bool          `json:"demo"`
	Offset   jsonOffset    `json:"offset"`
	Pattern  jsonPattern   `json:"rollerPattern"`
	Water    string        `json:"waterDensity"`
	Maximum  []jsonMaximum `json:"maximumDensity"`
	Sublots  []jsonSublot  `json:"sublots"`
	Lots     []jsonLot     `json:"lots"`
	Cautions []string      `json:"cautions"`
}

// number is written with 12 significant digits: what a float64 holds beyond them
// may differ from one processor to the next.
type number float64

func (n number) MarshalJSON() ([]byte, error) {
	return strconv.AppendFloat(nil, float64(n), 'g', 12, 64), nil
}

type jsonNumber struct {
	Exact number `json:"exact"`
	Used  string `json:"used"`
}

func numberJSON(n *lot.Number) *jsonNumber {
	if n == nil {
		return nil
	}
	return &jsonNumber{number(n.Exact), n.Used}
}

type jsonOffset struct {
	Gauge     string                  `json:"gauge"`
	Mix       string                  `json:"mix"`
	Lift      string                  `json:"lift"`
	Base      string                  `json:"base"`
	Made      density.Date            `json:"made"`
	From      density.Date            `json:"validFrom"`
	Until     density.Date            `json:"validUntil"`
	Direction string                  `json:"direction"`
	Offset    units.DensityDifference `json:"offset"`
	Unit      string                  `json:"unit"`
	Lo        number                  `json:"lower"`
	Hi        number                  `json:"upper"`
	Level     number                  `json:"confidence"`
	N         int                     `json:"n"`
	StdDev    number                  `json:"standardDeviation"`
	DF        number                  `json:"degreesOfFreedom"`
	Pairs     []jsonPair              `json:"pairs"`
	Unpaired  []string                `json:"unpaired"`
	Working   []string                `json:"working"`
	Warnings  []jsonWarning           `json:"warnings"`
}

type jsonPair struct {
	Location   string                  `json:"location"`
	Readings   int                     `json:"readings"`
	Gauge      units.Density           `json:"meanGauge"`
	Core       units.Density           `json:"core"`
	Difference units.DensityDifference `json:"coreMinusGauge"`
	Residual   units.DensityDifference `json:"residual"`
	Without    units.DensityDifference `json:"offsetWithout"`
}

type jsonPattern struct {
	Outcome  string          `json:"outcome"`
	Optimum  int             `json:"passes"`
	Peak     int             `json:"peak"`
	FellAt   int             `json:"fellAt"`
	Usable   int             `json:"usable"`
	Reason   string          `json:"reason"`
	Next     string          `json:"next"`
	Averages []units.Density `json:"averages"`
	StdErrs  []number        `json:"standardErrors"`
	Warnings []jsonWarning   `json:"warnings"`
}

type jsonMaximum struct {
	Date    density.Date          `json:"date"`
	Gmm     units.SpecificGravity `json:"gmm"`
	Density units.Density         `json:"density"`
	Kind    string                `json:"kind"`
}

type jsonSublot struct {
	Lot        string        `json:"lot"`
	ID         string        `json:"sublot"`
	Date       density.Date  `json:"date"`
	Quantity   string        `json:"quantity"`
	Readings   int           `json:"readings"`
	Density    units.Density `json:"correctedDensity"`
	Compaction string        `json:"compaction"`
	AirVoids   string        `json:"airVoids"`
	Unit       string        `json:"unit"`
	Working    []string      `json:"working"`
	Warnings   []jsonWarning `json:"warnings"`
}

type jsonLot struct {
	Lot      string        `json:"lot"`
	Decision string        `json:"decision"`
	N        int           `json:"n"`
	Within   int           `json:"resultsWithin"`
	Mean     jsonNumber    `json:"mean"`
	StdDev   jsonNumber    `json:"standardDeviation"`
	QL       *jsonNumber   `json:"qualityIndexLower"`
	QU       *jsonNumber   `json:"qualityIndexUpper"`
	Lower    *jsonNumber   `json:"pwlLower"`
	Upper    *jsonNumber   `json:"pwlUpper"`
	PWL      jsonNumber    `json:"pwl"`
	Outlier  *jsonOutlier  `json:"outlierScreen"`
	Factor   *jsonNumber   `json:"payFactor"`
	Payment  *jsonPayment  `json:"payment"`
	Working  []string      `json:"working"`
	Warnings []jsonWarning `json:"warnings"`
}

type jsonOutlier struct {
	Sublot   string  `json:"mostExtreme"`
	Flagged  bool    `json:"flagged"`
	G        number  `json:"g"`
	Critical number  `json:"critical"`
	Side     string  `json:"side"`
	Alpha    number  `json:"alpha"`
	Without  *string `json:"pwlWithout"`
}

type jsonPayment struct {
	Quantity   string `json:"quantity"`
	Base       string `json:"fullPay"`
	Adjustment string `json:"adjustment"`
	Total      string `json:"pay"`
	Currency   string `json:"currency"`
}

type jsonWarning struct {
	Code  string `json:"code"`
	Where string `json:"where"`
	Text  string `json:"text"`
}

func writeJSON(out io.Writer, j shift.Answers, demo bool) error {
	s := jsonShift{Project: j.Contract.Project, Demo: demo, Offset: offsetJSON(j), Pattern: patternJSON(j.Pattern),
		Water: j.Contract.Water.String(), Cautions: shift.Cautions}
	for _, d := range j.Days {
		s.Maximum = append(s.Maximum, jsonMaximum{d.Date, d.Maximum.Gravity(), d.Maximum.Density(), d.Maximum.Kind().String()})
	}
	for _, b := range j.Sublots {
		a := b.Audited
		s.Sublots = append(s.Sublots, jsonSublot{b.Lot, b.ID, b.Date, b.Quantity.String(), a.N, a.Density, shift.Digits(a.Percentage),
			shift.Digits(*a.AirVoids), a.Unit, lines(a.Working), warningsJSON(a.Warnings)})
	}
	for _, l := range j.Lots {
		s.Lots = append(s.Lots, lotJSON(l, j.Contract.Plan.Terms()))
	}
	e := json.NewEncoder(out)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(s)
}

func offsetJSON(j shift.Answers) jsonOffset {
	e, at := j.Offset, j.Contract.Strip.Scope
	o := jsonOffset{Gauge: at.Gauge, Mix: at.Mix, Lift: at.Lift, Base: at.Base, Made: e.Correction.Made(), From: at.From, Until: at.Until, Direction: "core - gauge", Offset: e.Offset, Unit: e.Unit.String(), Lo: number(e.CI.Lo), Hi: number(e.CI.Hi),
		Level: number(e.CI.Level), N: e.N, StdDev: number(e.StdDev), DF: number(e.DF), Unpaired: append([]string{}, e.Unpaired...), Working: lines(e.Working), Warnings: warningsJSON(e.Warnings)}
	for _, p := range e.Pairs {
		o.Pairs = append(o.Pairs, jsonPair{p.ID, p.Readings, p.Gauge, p.Core, p.Difference, p.Residual, p.Without})
	}
	return o
}

func patternJSON(p density.Pattern) jsonPattern {
	stdErrs := []number{}
	for _, e := range p.StdErrs {
		stdErrs = append(stdErrs, number(e.In(e.Unit())))
	}
	return jsonPattern{p.Outcome.String(), p.Optimum, p.Peak, p.FellAt, p.Usable, p.Reason, p.Next, p.Averages, stdErrs, warningsJSON(p.Warnings)}
}

func lotJSON(l shift.Lot, t lot.Terms) jsonLot {
	out := jsonLot{l.Lot, l.Decision.String(), l.N, l.WithinCount, *numberJSON(&l.Mean), *numberJSON(&l.StdDev), numberJSON(l.QL), numberJSON(l.QU),
		numberJSON(l.PWLLower), numberJSON(l.PWLUpper), *numberJSON(&l.PWL), nil, numberJSON(l.Factor), nil, lines(l.Working), warningsJSON(l.Warnings)}
	if r := l.Screen; r != nil {
		out.Outlier = &jsonOutlier{r.Steps[0].Suspects[0], r.Flagged != nil, number(r.Steps[0].Statistic.Exact), number(r.Steps[0].Critical), r.Side.String(), number(r.Alpha), nil}
		if l.WithoutResult != nil {
			out.Outlier.Without = &l.WithoutResult.Used
		}
	}
	if p := l.Payment; p != nil {
		out.Payment = &jsonPayment{p.Quantity.String(), shift.Digits(p.Base), shift.Digits(p.Adjustment), shift.Digits(p.Total), t.Currency}
	}
	return out
}

func lines(steps []units.Step) []string {
	out := []string{}
	for _, s := range steps {
		out = append(out, s.String())
	}
	return out
}

func warningsJSON(ws []stats.Warning) []jsonWarning {
	out := []jsonWarning{}
	for _, w := range ws {
		out = append(out, jsonWarning{string(w.Code), w.Where, w.Text})
	}
	return out
}
