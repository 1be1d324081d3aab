package density_test

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/units"
)

// nonsense makes field records out of bad and extreme numbers, ids and enums.
type nonsense struct{ *rand.Rand }

func (r nonsense) number() float64 {
	all := []float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, -999, math.MaxFloat64, 1e300, math.SmallestNonzeroFloat64, 1e-300, 143.5, 143.5, 144, 144.1, 145.2}
	return all[r.IntN(len(all))]
}

// plausible is a number that mostly passes, so that the sweep gets beyond checks.
func (r nonsense) plausible() float64 {
	if r.IntN(20) == 0 {
		return r.number()
	}
	huge := []float64{1, 1, 1, 1, 1e306, 1e-308, 1e150}
	return (140 + float64(r.IntN(60))/10) * huge[r.IntN(len(huge))]
}

func (r nonsense) density() units.Density { return units.DensityUnit(r.IntN(5)).Of(r.number()) }

func (r nonsense) readings() (rs []density.Reading) {
	for range r.IntN(4) {
		d := lb(r.plausible())
		if r.IntN(30) == 0 {
			d = r.density()
		}
		rs = append(rs, density.Uncorrected(d))
	}
	return rs
}

func (r nonsense) mat() units.Temperature {
	return units.TemperatureUnit(r.IntN(4)).Of([]float64{290, 230, 180, math.NaN(), 1e308, 0}[r.IntN(6)])
}

func (r nonsense) id() string {
	return []string{"A", "B", "C", "D", "", "\n", "\xff", "<&>", "é"}[r.IntN(9)]
}

func (r nonsense) place() density.Place {
	c, err := density.WGS84(r.number(), r.number())
	if err == nil && c.IsZero() {
		panic("no coordinates and no error")
	}
	return density.Place{Lot: r.id(), Station: units.StationSystem(r.IntN(5)).Of(r.number()), Edge: r.id(), Offset: units.LengthUnit(r.IntN(6)).Of(r.number()), Coordinates: c}
}

func (r nonsense) rounding() units.Rounding {
	return units.Rounding{Method: units.RoundingMethod(r.IntN(5)), Places: []int{0, 1, 2, -400, 400, -2}[r.IntN(6)]}
}

func (r nonsense) roundings() density.RoundingPolicy {
	p := density.RoundingPolicy{Mean: absolute, Density: half, Maximum: half, Percentage: half}
	if r.IntN(4) == 0 {
		p.Density, p.Percentage = r.rounding(), r.rounding()
	}
	return p
}

func (r nonsense) set() (density.ReadingSet, error) {
	rec := density.SetRecord{ID: r.id(), Place: r.place(), Mat: r.mat(), Moisture: density.Moisture(r.IntN(5)), At: time.Unix(r.Int64()>>r.IntN(60), 0)}
	stage := density.Stage(r.IntN(3))
	for _, x := range r.readings() {
		rec.Entries = append(rec.Entries, density.Entry{Value: x.Density(), Stage: stage, Pattern: r.id()})
	}
	if stage == density.AsCorrected {
		rec.Corrected = "gauge set to +2.4"
	}
	if r.IntN(2) == 0 {
		rec.ID, rec.Place, rec.Moisture, rec.At = "A", density.Place{}, 0, time.Time{}
	}
	return density.NewReadingSet(rec)
}

// finite reports whether no number in v is NaN or infinite.
func finite(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Float64:
		return !math.IsNaN(v.Float()) && !math.IsInf(v.Float(), 0)
	case reflect.Pointer, reflect.Interface:
		return v.IsNil() || v.Type().String() == "*big.Rat" || finite(v.Elem())
	case reflect.Slice:
		for i := range v.Len() {
			if !finite(v.Index(i)) {
				return false
			}
		}
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[time.Time]() || v.Type() == reflect.TypeFor[decimal.Decimal]() {
			return true
		}
		for i := range v.NumField() {
			if !finite(v.Field(i)) {
				return false
			}
		}
	}
	return true
}

// Nothing panics on nonsense, and no NaN or infinity comes back beside a nil error.
func TestNonsense(t *testing.T) {
	r := nonsense{rand.New(rand.NewPCG(3, 5))}
	accepted := map[string]int{}
	check := func(what string, result any, err error) bool {
		if err != nil {
			return false
		}
		accepted[what]++
		if !finite(reflect.ValueOf(result)) {
			t.Fatalf("%s: %+v", what, result)
		}
		return true
	}
	c, ref := offset(t, units.LbPerFt3.Difference(2.4)), maximum(t, 2.514, units.Water62_245)
	for range 6000 {
		r.pattern(check, c, ref)
		r.sets(t, check)
		r.sublot(t, check, c, ref)
		ratio := decimal.New(int64(r.IntN(5)), int32(r.IntN(3)-1))
		l, err := density.CheckLift(units.Inch.Of(r.number()), units.LengthUnit(r.IntN(6)).Of(r.number()), density.Gradation(r.IntN(4)), density.LiftPolicy{Fine: ratio, Coarse: ratio})
		check("lift", l, err)
		ws, err := density.CheckEdge(r.place(), density.EdgePolicy{Least: units.Inch.Of(r.number()), Most: units.Foot.Of(r.number())})
		check("edge", ws, err)
	}
	for _, what := range []string{"pattern", "level", "set", "spread", "sets", "readings", "sublot", "results", "lift", "edge"} {
		if accepted[what] < 10 {
			t.Errorf("%s: accepted only %d times, so that the sweep shows nothing", what, accepted[what])
		}
	}
}

type checker func(what string, result any, err error) bool

func (r nonsense) pattern(check checker, c density.Correction, ref density.Reference) {
	var ps []density.Pass
	for range r.IntN(7) {
		pass := density.Pass{Readings: r.readings(), Mat: r.mat()}
		if r.IntN(2) == 0 {
			for range pass.Readings {
				pass.Spots = append(pass.Spots, r.id())
			}
		}
		if r.IntN(3) > 0 {
			pass = density.Pass{Readings: readings(r.plausible(), r.plausible()), Spots: []string{"A", "B"}, Mat: r.mat()}
		}
		ps = append(ps, pass)
	}
	o := density.PatternOptions{Tolerance: units.LbPerFt3.Difference([]float64{0.5, 0, -1, 1e308, math.NaN()}[r.IntN(5)])}
	if r.IntN(2) == 0 {
		o.MinMat, o.Tender = r.mat(), density.TemperatureRange{Low: r.mat(), High: r.mat()}
	}
	p, err := density.RollerPattern(ps, o)
	if check("pattern", p, err) {
		level, err := p.AuditLevel(c, scope, ref, r.roundings(), density.Requirement{Percent: decimal.New(92, int32(r.IntN(3)-1)), Kind: density.ReferenceKind(r.IntN(3))})
		check("level", level, err)
	}
}

func (r nonsense) sets(t *testing.T, check checker) {
	var sets []density.ReadingSet
	for range r.IntN(4) {
		s, err := r.set()
		if check("set", s, err) {
			sets = append(sets, s)
			spread, err := s.CheckSpread(density.SpreadPolicy{Limit: units.KgPerM3.Difference(r.number()), Enough: r.IntN(5) - 1})
			check("spread", spread, err)
		}
	}
	ws, err := density.CheckSets(sets, setPolicy)
	check("sets", ws, err)
	b, err := density.ReadingsGeoJSON(sets)
	if check("readings", b, err) && !json.Valid(b) {
		t.Fatalf("not JSON: %s", b)
	}
	sheet, err := density.ReadingsSheet(sets)
	check("sheet", sheet, err)
}

func (r nonsense) sublot(t *testing.T, check checker, c density.Correction, ref density.Reference) {
	s := density.Sublot{ID: r.id()}
	for range r.IntN(4) {
		l := density.SublotLocation{ID: r.id(), Characteristic: density.Characteristic(r.IntN(4)), Readings: r.readings(), Place: r.place()}
		if r.IntN(2) == 0 {
			l.ID, l.Characteristic, l.Place = string(rune('A'+len(s.Locations))), density.MatDensity, density.Place{}
		}
		if r.IntN(3) == 0 {
			l.InPlace = density.Core(lb(r.plausible()))
		}
		s.Locations = append(s.Locations, l)
	}
	result, err := density.AuditSublot(s, c, scope, ref, density.SublotPolicy{RoundingPolicy: r.roundings(), Locations: half})
	if !check("sublot", result, err) {
		return
	}
	b, err := density.ResultsGeoJSON([]density.SublotResult{result})
	if check("results", b, err) && !json.Valid(b) {
		t.Fatalf("not JSON: %s", b)
	}
	sheet, err := density.ResultsSheet([]density.SublotResult{result})
	check("sheet", sheet, err)
}
