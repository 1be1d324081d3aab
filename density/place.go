package density

import (
	"cmp"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Coordinates is a point on the ground in WGS 84. The zero value is not given;
// latitude and longitude 0 are given. Make one with [WGS84].
type Coordinates struct {
	latitude, longitude float64
	given               bool
}

// WGS84 makes a point of a latitude in degrees north, -90 to 90, and a longitude in
// degrees east, -180 to 180, as a satellite receiver shows them. In GeoJSON they are
// written the other way round.
//
// Errors are [*stats.InputError] around [units.ErrRange], for NaN as well. Latitude
// and longitude that were swapped are only found where the longitude is beyond 90.
func WGS84(latitude, longitude float64) (Coordinates, error) {
	const fn = "density.WGS84"
	if !(math.Abs(latitude) <= 90) {
		return Coordinates{}, stats.Refuse(fn, "latitude", fmt.Sprint(latitude), fmt.Errorf("%w, -90 to 90 degrees", units.ErrRange))
	}
	if !(math.Abs(longitude) <= 180) {
		return Coordinates{}, stats.Refuse(fn, "longitude", fmt.Sprint(longitude), fmt.Errorf("%w, -180 to 180 degrees", units.ErrRange))
	}
	return Coordinates{latitude + 0, longitude + 0, true}, nil // +0 makes -0 plain 0
}

// Latitude returns degrees north; 0 if c is not given.
func (c Coordinates) Latitude() float64 { return c.latitude }

// Longitude returns degrees east; 0 if c is not given.
func (c Coordinates) Longitude() float64 { return c.longitude }

// IsZero reports whether c is not given.
func (c Coordinates) IsZero() bool { return !c.given }

// String returns latitude and longitude in degrees, such as "44.9537, -93.09";
// "" if not given.
func (c Coordinates) String() string {
	if c.IsZero() {
		return ""
	}
	return degrees(c.latitude) + ", " + degrees(c.longitude)
}

// MarshalText returns what String returns. The error is nil.
func (c Coordinates) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// UnmarshalText reads what String writes, latitude first; empty text means not given.
// Errors are [*units.ParseError] around [units.ErrSyntax] or, as of [WGS84],
// [units.ErrRange].
func (c *Coordinates) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*c = Coordinates{}
		return nil
	}
	latitude, longitude, _ := strings.Cut(string(text), ", ")
	north, err1 := parseDegrees(latitude)
	east, err2 := parseDegrees(longitude)
	parsed, err3 := WGS84(north, east)
	if err := cmp.Or(err1, err2, err3); err != nil {
		return &units.ParseError{Func: "density.Coordinates.UnmarshalText", Text: string(text), Err: err, Need: "degrees north and east like 44.9537, -93.09"}
	}
	*c = parsed
	return nil
}

func parseDegrees(text string) (float64, error) {
	x, err := strconv.ParseFloat(text, 64)
	if err != nil || strings.Trim(text, "-.0123456789") != "" {
		return 0, units.ErrSyntax
	}
	return x, nil
}

func degrees(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// Place says where on a job something was read or cut. Every part may be missing.
type Place struct {
	Project, Lot, Sublot string
	Station              units.Station // along the road
	Offset               units.Length  // across the road from Edge, not negative
	Edge                 string        // what Offset is measured from, such as "right edge of the mat"
	Coordinates          Coordinates
}

// Validate refuses text that cannot be printed ([ErrText]), a negative offset
// ([units.ErrRange]) and an offset from nowhere ([ErrEdge]). The error is a
// [*stats.InputError].
func (p Place) Validate() error { return p.check("density.Place.Validate") }

func (p Place) check(fn string) error {
	for _, f := range []struct{ name, text string }{{"Project", p.Project}, {"Lot", p.Lot}, {"Sublot", p.Sublot}, {"Edge", p.Edge}} {
		if err := checkText(fn, f.name, -1, f.text); err != nil {
			return err
		}
	}
	switch {
	case p.Offset.IsZero():
		return nil
	case p.Offset.In(p.Offset.Unit()) < 0:
		return stats.Refuse(fn, "Offset", p.Offset.String(), fmt.Errorf("%w; measure from the other edge", units.ErrRange))
	case p.Edge == "":
		return stats.Refuse(fn, "Offset", p.Offset.String(), ErrEdge)
	}
	return nil
}

// ParseInstant reads an instant with its offset from UTC, such as
// "2026-05-12T14:05:00-05:00" (RFC 3339), and keeps that offset whatever the zone
// of the machine. Text without an offset is refused, because the same hour is
// another instant elsewhere.
//
// Errors are [*units.ParseError] around [ErrInstant] or, for empty text,
// [units.ErrNotGiven].
//
// Source: RFC 3339, section 5.6.
func ParseInstant(text string) (time.Time, error) {
	const fn = "density.ParseInstant"
	if text == "" {
		return time.Time{}, &units.ParseError{Func: fn, Text: text, Err: units.ErrNotGiven}
	}
	t, err := time.Parse(time.RFC3339Nano, text)
	// time.Parse lets an hour of one digit, a decimal comma and an offset of 60 minutes through
	strict := err == nil && t.Format("2006-01-02T15:04:05") == text[:19] && text[19] != ',' && !strings.HasSuffix(text, ":60")
	if !strict || checkInstant(fn, t) != nil {
		return time.Time{}, &units.ParseError{Func: fn, Text: text, Err: ErrInstant, Need: "text like 2026-05-12T14:05:00-05:00"}
	}
	_, seconds := t.Zone()
	return t.In(time.FixedZone("", seconds)), nil
}

// checkInstant refuses an instant that RFC 3339 cannot write; the zero time is not
// given.
func checkInstant(fn string, t time.Time) error {
	_, seconds := t.Zone()
	if t.IsZero() || t.Year() >= 1 && t.Year() <= 9999 && seconds%60 == 0 && seconds > -86400 && seconds < 86400 {
		return nil
	}
	return stats.Refuse(fn, "At", t.String(), fmt.Errorf("%w; need years 1 to 9999 and an offset of whole minutes", units.ErrRange))
}

// instantText writes an instant with its offset, "" if not given.
func instantText(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.RFC3339Nano)
}
