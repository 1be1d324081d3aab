package density

import (
	"fmt"
	"math/big"
	"time"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Stage says whether a recorded gauge value had been corrected. The zero value
// says nothing and is refused: a gauge can be set to add its offset, and nothing in
// the number shows it.
type Stage uint8

// The stages of a recorded gauge value.
const (
	AsShown     Stage = iota + 1 // what the gauge showed, uncorrected
	AsCorrected                  // corrected before it was recorded
)

// String returns the stage in words.
func (s Stage) String() string {
	switch s {
	case AsShown:
		return "uncorrected"
	case AsCorrected:
		return "recorded as corrected"
	}
	return "no stage"
}

// MarshalText returns the words, empty for no stage. The error is nil.
func (s Stage) MarshalText() ([]byte, error) { return wordsOf(s) }

// UnmarshalText reads the words; empty text means no stage. The error is a
// [*units.ParseError] around [ErrStage].
func (s *Stage) UnmarshalText(text []byte) error {
	return readWords(s, AsCorrected, "density.Stage.UnmarshalText", text, ErrStage)
}

// Moisture is what the mat looked like where the gauge stood. The zero value is
// not noted. Water on the mat moves the readings of an electromagnetic gauge.
type Moisture uint8

// The moisture states of a mat.
const (
	MatDry  Moisture = iota + 1 // no water to be seen
	MatDamp                     // roller water, no film
	MatWet                      // a film of water
)

// String returns the state in words, "" where it was not noted.
func (m Moisture) String() string {
	switch m {
	case MatDry:
		return "dry"
	case MatDamp:
		return "damp"
	case MatWet:
		return "wet"
	}
	return ""
}

// MarshalText returns the words, empty for not noted. The error is nil.
func (m Moisture) MarshalText() ([]byte, error) { return wordsOf(m) }

// UnmarshalText reads the words; empty text means not noted. The error is a
// [*units.ParseError] around [units.ErrRange].
func (m *Moisture) UnmarshalText(text []byte) error {
	return readWords(m, MatWet, "density.Moisture.UnmarshalText", text, units.ErrRange)
}

// Entry is one gauge value as it stands in a record.
type Entry struct {
	Value   units.Density
	Stage   Stage  // needed
	Pattern string // where and how the gauge stood, such as "centre" or "turned 90°"; "" where nobody noted it
}

// SetRecord is what was written down for one location, from which [NewReadingSet]
// makes a set.
type SetRecord struct {
	ID        string  // of the location, needed
	Entries   []Entry // one or more, of one unit and one stage
	Corrected string  // who corrected the values and how; needed where they are AsCorrected, otherwise ""
	Place     Place
	At        time.Time         // with its offset from UTC; the zero time is not given
	Mat       units.Temperature // temperature of the mat; not given where nobody measured it
	Moisture  Moisture
}

// ReadingSet holds the gauge values of one location, checked. The zero value is
// none; make one with [NewReadingSet].
type ReadingSet struct {
	record SetRecord
	unit   units.DensityUnit
	mean   *big.Rat
}

// NewReadingSet checks a record and returns its set. A location has one value or
// several; they are averaged here, so that they count as one location later.
//
// Errors are [*stats.InputError] around [units.ErrNotGiven] (id, value), [ErrText],
// [stats.ErrTooFew], [ErrStage] (no stage, or Corrected said of uncorrected
// values), [ErrMixedStages] (corrected and uncorrected values at one location),
// [ErrNoSource] (corrected values without Corrected), [ErrNotPositive],
// [ErrUnitMismatch], [units.ErrRange] (instant, moisture, a mat below absolute zero)
// or as of [Place.Validate].
func NewReadingSet(r SetRecord) (ReadingSet, error) {
	const fn = "density.NewReadingSet"
	if err := checkID(fn, "r.ID", -1, r.ID); err != nil {
		return ReadingSet{}, err
	}
	s := ReadingSet{record: r}
	s.record.Entries = append([]Entry(nil), r.Entries...)
	if err := s.check(fn); err != nil {
		return ReadingSet{}, named(r.ID, err)
	}
	mean, unit, err := meanOf(fn, "r.Entries", s.values())
	if err != nil {
		return ReadingSet{}, named(r.ID, err)
	}
	s.mean, s.unit = mean, unit
	return s, nil
}

// named adds the id of the record to an error.
func named(id string, err error) error {
	if e, ok := err.(*stats.InputError); ok && e.ID == "" {
		e.ID = id
	}
	return err
}

func (s ReadingSet) check(fn string) error {
	if err := s.checkStages(fn); err != nil {
		return err
	}
	if s.record.Moisture > MatWet {
		return stats.Refuse(fn, "r.Moisture", fmt.Sprint(uint8(s.record.Moisture)), units.ErrRange)
	}
	if err := checkTemperature(fn, "r.Mat", s.record.Mat); err != nil {
		return err
	}
	if err := s.record.Place.check(fn); err != nil {
		return err
	}
	return checkInstant(fn, s.record.At)
}

func (s ReadingSet) checkStages(fn string) error {
	for i, e := range s.record.Entries {
		switch {
		case e.Stage != AsShown && e.Stage != AsCorrected:
			return &stats.InputError{Func: fn, Arg: "r.Entries", Index: i, Err: ErrStage}
		case e.Stage != s.Stage():
			return &stats.InputError{Func: fn, Arg: "r.Entries", Index: i, Value: e.Stage.String(), Err: fmt.Errorf("%w (the first is %v)", ErrMixedStages, s.Stage())}
		}
		if err := checkText(fn, "r.Entries.Pattern", i, e.Pattern); err != nil {
			return err
		}
	}
	switch corrected := s.record.Corrected; {
	case corrected == "" && s.Stage() == AsCorrected:
		return stats.Refuse(fn, "r.Corrected", "", ErrNoSource)
	case corrected != "" && s.Stage() == AsShown:
		return stats.Refuse(fn, "r.Corrected", corrected, fmt.Errorf("%w; the entries say uncorrected", ErrStage))
	}
	return checkText(fn, "r.Corrected", -1, s.record.Corrected)
}

// values returns the numbers without regard to their stage.
func (s ReadingSet) values() (rs []Reading) {
	for _, e := range s.record.Entries {
		rs = append(rs, Reading{e.Value})
	}
	return rs
}

// ID returns the id of the location.
func (s ReadingSet) ID() string { return s.record.ID }

// Record returns a copy of what was written down.
func (s ReadingSet) Record() SetRecord {
	r := s.record
	r.Entries = append([]Entry(nil), r.Entries...)
	return r
}

// Stage returns the stage that the values share.
func (s ReadingSet) Stage() Stage {
	if len(s.record.Entries) == 0 {
		return 0
	}
	return s.record.Entries[0].Stage
}

// N returns how many values were averaged.
func (s ReadingSet) N() int { return len(s.record.Entries) }

// IsZero reports whether s is none.
func (s ReadingSet) IsZero() bool { return s.mean == nil }

// Exact returns the mean of the values without rounding in the unit they share,
// nil for the zero value.
func (s ReadingSet) Exact() (*big.Rat, units.DensityUnit) {
	if s.IsZero() {
		return nil, 0
	}
	return new(big.Rat).Set(s.mean), s.unit
}

// Mean returns the quantity nearest to the exact mean; not given for the zero
// value.
func (s ReadingSet) Mean() units.Density {
	if s.IsZero() {
		return units.Density{}
	}
	return record(s.mean, s.unit)
}

// Readings returns the values as uncorrected readings, for [AuditReadings] and for
// a location of package bias. A set that was recorded as corrected has none, so
// that nothing is corrected twice; see [ReadingSet.InPlace].
func (s ReadingSet) Readings() []Reading {
	if s.Stage() != AsShown {
		return nil
	}
	return s.values()
}

// InPlace returns the mean of a set that was recorded as corrected, rounded by r,
// with its source.
//
// Errors are [*stats.InputError] around [ErrStage] for uncorrected values, which
// need a [Correction], [units.ErrRounding] and [units.ErrRange] for r, or
// [ErrNotPositive] where r rounds the mean to nothing.
func (s ReadingSet) InPlace(r units.Rounding) (InPlace, error) {
	const fn = "density.ReadingSet.InPlace"
	if s.Stage() != AsCorrected {
		return InPlace{}, named(s.ID(), stats.Refuse(fn, "s", s.Stage().String(), fmt.Errorf("%w as corrected; uncorrected ones need a Correction", ErrStage)))
	}
	mean, err := r.Rat(s.mean)
	if err != nil {
		return InPlace{}, named(s.ID(), stats.Refuse(fn, "r", "", err))
	}
	p, err := AlreadyCorrected(record(mean, s.unit), s.record.Corrected)
	return p, named(s.ID(), err)
}

// String returns the location with its mean, such as
// "3-2: mean of 2, 143.65 lb/ft3 uncorrected".
func (s ReadingSet) String() string {
	if s.IsZero() {
		return ""
	}
	return fmt.Sprintf("%s: mean of %d, %s %v %v", s.ID(), s.N(), units.ExactText(s.mean), s.unit, s.Stage())
}

// MarshalText returns what String returns. It is not read back: to keep a set, keep
// its Record, of which [NewReadingSet] makes it anew. The error is nil.
func (s ReadingSet) MarshalText() ([]byte, error) { return []byte(s.String()), nil }
