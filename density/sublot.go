package density

import (
	"fmt"
	"strings"
	"time"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Characteristic says where on the mat a density belongs. Joint density is lower
// by nature and has limits of its own, so the two are never averaged. The zero
// value is not given and is refused.
type Characteristic uint8

// The characteristics.
const (
	MatDensity   Characteristic = iota + 1 // away from joints and edges
	JointDensity                           // at a longitudinal joint
)

// String returns the characteristic in words.
func (c Characteristic) String() string {
	switch c {
	case MatDensity:
		return "mat density"
	case JointDensity:
		return "joint density"
	}
	return "no characteristic"
}

// MarshalText returns the words, empty for no characteristic. The error is nil.
func (c Characteristic) MarshalText() ([]byte, error) { return wordsOf(c) }

// UnmarshalText reads the words; empty text means no characteristic. The error is a
// [*units.ParseError] around [ErrCharacteristic].
func (c *Characteristic) UnmarshalText(text []byte) error {
	return readWords(c, JointDensity, "density.Characteristic.UnmarshalText", text, ErrCharacteristic)
}

// percentOf names the unit of a percentage, so that package lot refuses joint
// results under limits for the mat.
func (c Characteristic) percentOf(k ReferenceKind) string {
	if c == JointDensity {
		return k.PercentOf() + " at the joint"
	}
	return k.PercentOf()
}

// SublotLocation is what is known of one location of a sublot: readings, a density
// in place, or readings and the core that was cut there.
type SublotLocation struct {
	ID             string
	Characteristic Characteristic // needed
	Place          Place
	At             time.Time
	Readings       []Reading // uncorrected
	InPlace        InPlace   // a core, which counts in place of the readings, or a density that is corrected already
}

// Location takes a set over into a sublot: its readings, or the mean of a set that
// was recorded as corrected, rounded by r. The errors are those of
// [ReadingSet.InPlace].
func (s ReadingSet) Location(c Characteristic, r units.Rounding) (SublotLocation, error) {
	l := SublotLocation{ID: s.ID(), Characteristic: c, Place: s.record.Place, At: s.record.At, Readings: s.Readings()}
	if s.Stage() != AsCorrected {
		return l, nil
	}
	var err error
	l.InPlace, err = s.InPlace(r)
	return l, err
}

// Sublot is the part of a lot that gives one result.
type Sublot struct {
	ID        string
	Locations []SublotLocation // one or more, of one characteristic
}

// SublotPolicy says how the results on the way to that of a sublot are rounded.
type SublotPolicy struct {
	RoundingPolicy                // Mean and Density are of a location, Percentage of the sublot
	Locations      units.Rounding // the mean of the locations
}

// Validate refuses a policy with a rule missing. Errors are those of
// [RoundingPolicy.Validate], or [*stats.InputError] around those of the rule for locations.
func (p SublotPolicy) Validate() error { return p.validate("density.SublotPolicy.Validate") }

func (p SublotPolicy) validate(fn string) error {
	if err := p.RoundingPolicy.validate(fn, "p"); err != nil {
		return err
	}
	if err := p.Locations.Validate(); err != nil {
		return stats.Refuse(fn, "p.Locations", "", err)
	}
	return nil
}

// LocationResult is the density that one location gave and where it came from.
type LocationResult struct {
	ID       string
	Place    Place
	At       time.Time
	Origin   Origin        // core or gauge
	Source   string        // of a corrected value; "" for a core
	Readings int           // uncorrected readings taken there, also where a core counts in their place
	Gauge    units.Density // mean of those readings, rounded; not given without
	Density  units.Density // in place, rounded: what went into the mean
}

// SublotResult is the result of a sublot. The Percentage of the embedded record is
// the decimal that package lot takes, its Unit names the reference and, for a
// joint, the joint. N counts the uncorrected readings that went into it.
type SublotResult struct {
	ID             string
	Characteristic Characteristic
	Audited
	Locations []LocationResult
}

// Origins returns how the densities of the locations were obtained, each once, in
// the order of the constants.
func (r SublotResult) Origins() (all []Origin) {
	for o := FromCore; o <= FromRecorded; o++ {
		for _, l := range r.Locations {
			if l.Origin == o {
				all = append(all, o)
				break
			}
		}
	}
	return all
}

// mixedMethods warns where cores and gauge values stand in one result.
func (r SublotResult) mixedMethods() []stats.Warning {
	origins := r.Origins()
	if len(origins) < 2 {
		return nil
	}
	var parts []string
	for _, o := range origins {
		var ids []string
		for _, l := range r.Locations {
			if l.Origin == o {
				ids = append(ids, l.ID)
			}
		}
		parts = append(parts, fmt.Sprintf("%v at %s", o, strings.Join(ids, ", ")))
	}
	return []stats.Warning{{Code: WarnMixedMethod, Where: r.ID,
		Text: "the result mixes methods: " + strings.Join(parts, "; ") + "; check that the contract allows it"}}
}

// CheckSublots looks at the results of one lot together. It warns with
// [WarnMixedMethod] where some sublots rest on cores and others on gauge values,
// because the two scatter differently.
//
// Errors are [*stats.InputError] with the id of the sublot, around
// [units.ErrNotGiven] (no id), [ErrText], [ErrRepeatedID], [ErrCharacteristic]
// (joint and mat results together) or [ErrKind] (percentages of two kinds of
// reference).
func CheckSublots(results []SublotResult) ([]stats.Warning, error) {
	const fn = "density.CheckSublots"
	if err := checkDistinct(fn, results); err != nil {
		return nil, err
	}
	for i, r := range results {
		if err := r.fits(results[0]); err != nil {
			return nil, &stats.InputError{Func: fn, Arg: "results", Index: i, ID: r.ID, Value: r.Unit, Err: err}
		}
	}
	parts := byMethod(results)
	if len(parts) < 2 {
		return nil, nil
	}
	return []stats.Warning{{Code: WarnMixedMethod, Text: "the sublots of the lot rest on different methods: " + strings.Join(parts, "; ")}}, nil
}

// byMethod lists the sublots by how their densities were obtained, in the order
// the methods first appear.
func byMethod(results []SublotResult) (parts []string) {
	at := map[string]int{}
	for _, r := range results {
		var words []string
		for _, o := range r.Origins() {
			words = append(words, o.String())
		}
		method := strings.Join(words, " and ")
		i, known := at[method]
		if !known {
			at[method] = len(parts)
			parts = append(parts, method+" at "+r.ID)
			continue
		}
		parts[i] += ", " + r.ID
	}
	return parts
}

// fits refuses results that cannot stand in one lot.
func (r SublotResult) fits(first SublotResult) error {
	switch {
	case r.Characteristic != first.Characteristic:
		return ErrCharacteristic
	case r.Kind != first.Kind:
		return ErrKind
	}
	return nil
}

// checkDistinct refuses two results of one characteristic and id.
func checkDistinct(fn string, results []SublotResult) error {
	seen := map[string]bool{}
	for i, r := range results {
		if err := checkID(fn, "results", i, r.ID); err != nil {
			return err
		}
		key := r.Characteristic.String() + "/" + r.ID
		if seen[key] {
			return &stats.InputError{Func: fn, Arg: "results", Index: i, ID: r.ID, Err: ErrRepeatedID}
		}
		seen[key] = true
	}
	return nil
}

// percentText writes the percentage with the zeros that the rounding kept.
func (r SublotResult) percentText() string {
	return r.Percentage.StringFixed(max(0, -r.Percentage.Exponent())) + " " + r.Unit
}
