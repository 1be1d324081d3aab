package density

import (
	"errors"
	"strconv"
	"unicode"
	"unicode/utf8"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Reasons a field record is refused, to be found with errors.Is.
var (
	ErrText           = errors.New("has a character that cannot be printed")
	ErrStage          = errors.New("needs to say whether the readings are corrected")
	ErrMixedStages    = errors.New("corrected and uncorrected readings are mixed")
	ErrCharacteristic = errors.New("mat and joint density are different characteristics")
	ErrEdge           = errors.New("an offset needs the edge that it is measured from")
	ErrNotEstablished = errors.New("the roller pattern is not established")
	ErrInstant        = errors.New("not an instant with its offset from UTC")
	ErrGradation      = errors.New("needs a gradation, fine or coarse")
)

// Codes of the warnings that functions on field records give.
const (
	WarnNoNoise     stats.WarningCode = "no-noise-estimate" // no pass was read more than once
	WarnNoisy       stats.WarningCode = "noisy-averages"    // the tolerance is smaller than the noise
	WarnSpots       stats.WarningCode = "changed-spots"     // passes were not read at the same spots
	WarnTender      stats.WarningCode = "tender-zone"       // density fell while the mat was tender
	WarnSpread      stats.WarningCode = "spread"            // readings at one location are too far apart
	WarnCopied      stats.WarningCode = "copied-readings"   // two locations show the same series
	WarnStuck       stats.WarningCode = "stuck-gauge"       // many equal readings in a row
	WarnMixedMethod stats.WarningCode = "mixed-methods"     // cores and gauge readings in one result
	WarnThinLift    stats.WarningCode = "thin-lift"         // lift too thin for its aggregate
	WarnEdge        stats.WarningCode = "edge-distance"     // too near to or too far from the edge
)

// checkID refuses an id that is missing or that could break a line of a record.
func checkID(fn, arg string, index int, id string) error {
	if id == "" {
		return &stats.InputError{Func: fn, Arg: arg, Index: index, Err: units.ErrNotGiven}
	}
	return checkText(fn, arg, index, id)
}

// checkText refuses text that could not be shown or exchanged as it is.
func checkText(fn, arg string, index int, text string) error {
	if !utf8.ValidString(text) {
		return &stats.InputError{Func: fn, Arg: arg, Index: index, Value: strconv.Quote(text), Err: ErrText}
	}
	for _, r := range text {
		if !unicode.IsPrint(r) {
			return &stats.InputError{Func: fn, Arg: arg, Index: index, Value: strconv.Quote(text), Err: ErrText}
		}
	}
	return nil
}
