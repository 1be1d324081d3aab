package density

import (
	"bytes"
	"encoding/json"
	"strconv"

	"github.com/densilot/densilot/units"
)

// ReadingsGeoJSON writes sets as a GeoJSON FeatureCollection (RFC 7946) that any
// map shows: one point per location, longitude before latitude in WGS 84, no
// member for another reference system, "geometry": null where there are no
// coordinates. Properties are text with units, or numbers with the unit in their
// name; what was not given is left out. The same sets give the same bytes: one
// feature per line, properties in a fixed order, lines ended by \n.
//
// The mean is written with 12 significant digits. Errors are [*stats.InputError]
// around [units.ErrNotGiven] for a zero set, [ErrRepeatedID], [ErrMixedStages] or
// [ErrUnitMismatch].
//
// Source: RFC 7946, sections 3.1.1 (position), 3.2 (null geometry, id), 3.3, 4 (WGS
// 84, no crs member).
func ReadingsGeoJSON(sets []ReadingSet) ([]byte, error) {
	const fn = "density.ReadingsGeoJSON"
	if err := checkTogether(fn, sets); err != nil {
		return nil, err
	}
	features := make([]feature, 0, len(sets))
	for _, s := range sets {
		features = append(features, setFeature(s))
	}
	return collection(features)
}

// ResultsGeoJSON writes the results of sublots like [ReadingsGeoJSON]: one point per
// location, with its density in place, where that came from, and the id and the percentage
// of its sublot. Mat and joint results may stand together. The id of a feature is made of
// the characteristic, the sublot and the location, with slashes between.
//
// Errors are [*stats.InputError] around [units.ErrNotGiven] (no id), [ErrText] or
// [ErrRepeatedID] (two results of one characteristic and id).
func ResultsGeoJSON(results []SublotResult) ([]byte, error) {
	if err := checkDistinct("density.ResultsGeoJSON", results); err != nil {
		return nil, err
	}
	var features []feature
	for _, r := range results {
		for _, l := range r.Locations {
			features = append(features, resultFeature(r, l))
		}
	}
	return collection(features)
}

func setFeature(s ReadingSet) feature {
	r := s.record
	var readings, patterns []string
	noted := false
	for _, e := range r.Entries {
		readings, patterns = append(readings, e.Value.String()), append(patterns, e.Pattern)
		noted = noted || e.Pattern != ""
	}
	p := placeProperties(r.Place, instantText(r.At))
	p.add("stage", s.Stage().String())
	p.add("corrected", r.Corrected)
	p = append(p, property{"readings", readings})
	if noted {
		p = append(p, property{"patterns", patterns})
	}
	p = append(p, property{"count", s.N()})
	p.number("mean", s.Mean())
	p.add("mat", r.Mat.String())
	p.add("moisture", r.Moisture.String())
	return newFeature(s.ID(), r.Place.Coordinates, p)
}

func resultFeature(r SublotResult, l LocationResult) feature {
	at := l.Place
	at.Sublot = r.ID // whose percentage it is
	p := placeProperties(at, instantText(l.At))
	p.add("location", l.ID)
	p.add("characteristic", r.Characteristic.String())
	p.add("origin", l.Origin.String())
	p.add("source", l.Source)
	p = append(p, property{"count", l.Readings})
	p.number("gauge mean", l.Gauge)
	p.number("density", l.Density)
	p.add("sublot result", r.percentText())
	return newFeature(r.Characteristic.String()+"/"+r.ID+"/"+l.ID, l.Place.Coordinates, p)
}

func placeProperties(at Place, instant string) (p properties) {
	p.add("project", at.Project)
	p.add("lot", at.Lot)
	p.add("sublot", at.Sublot)
	p.add("station", at.Station.String())
	p.add("offset", at.Offset.String())
	p.add("edge", at.Edge)
	p.add("time", instant)
	return p
}

// feature is a GeoJSON feature; the order of its fields is that of the text.
type feature struct {
	Type       string     `json:"type"`
	ID         string     `json:"id"`
	Geometry   *point     `json:"geometry"`
	Properties properties `json:"properties"`
}

type point struct {
	Type        string        `json:"type"`
	Coordinates []json.Number `json:"coordinates"`
}

func newFeature(id string, c Coordinates, p properties) feature {
	f := feature{Type: "Feature", ID: id, Properties: p}
	if !c.IsZero() {
		f.Geometry = &point{"Point", []json.Number{json.Number(degrees(c.longitude)), json.Number(degrees(c.latitude))}}
	}
	return f
}

// property is one member of an object whose members keep their order.
type property struct {
	name  string
	value any
}

type properties []property

func (p *properties) add(name, text string) {
	if text != "" {
		*p = append(*p, property{name, text})
	}
}

// number adds a density as a number with its unit in the name.
func (p *properties) number(name string, d units.Density) {
	if d.IsZero() {
		return
	}
	x := strconv.FormatFloat(d.In(d.Unit()), 'g', 12, 64)
	*p = append(*p, property{name + " (" + d.Unit().String() + ")", json.Number(x)})
}

// MarshalJSON writes an object with the members in their order.
func (p properties) MarshalJSON() ([]byte, error) {
	b := []byte{'{'}
	for i, m := range p {
		if i > 0 {
			b = append(b, ',')
		}
		name, err := json.Marshal(m.name)
		if err != nil {
			return nil, err
		}
		value, err := json.Marshal(m.value)
		if err != nil {
			return nil, err
		}
		b = append(append(append(b, name...), ':'), value...)
	}
	return append(b, '}'), nil
}

func collection(features []feature) ([]byte, error) {
	var b bytes.Buffer
	b.WriteString(`{"type":"FeatureCollection","features":[`)
	for i, f := range features {
		if i > 0 {
			b.WriteByte(',')
		}
		line, err := json.Marshal(f)
		if err != nil {
			return nil, err
		}
		b.WriteByte('\n')
		b.Write(line)
	}
	b.WriteString("\n]}\n")
	return b.Bytes(), nil
}
