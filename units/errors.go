package units

import (
	"errors"
	"fmt"
)

// Reasons a text or a value is refused, to be found with errors.Is.
var (
	ErrSyntax   = errors.New("not a plain decimal number")
	ErrUnit     = errors.New("unknown unit")
	ErrDigits   = errors.New("more digits than can be kept")
	ErrNotGiven = errors.New("no value given")
	ErrRange    = errors.New("out of range")
	ErrRounding = errors.New("no rounding method named")
	ErrAbsolute = errors.New("needs a number of places, the absolute method has none")
)

// ParseError says which text was refused, why, and what would have been taken.
type ParseError struct {
	Func string // the function as the caller wrote it, such as "units.ParseDensity"
	Text string // what was given
	Need string // what would have been accepted, "" where the reason says it
	Err  error  // the reason
}

// Error returns one line, such as
//
//	units.ParseDensity "12 stone": unknown unit; need lb/ft3, kg/m3 or g/cm3
//
// with the first 80 characters of the text.
func (e *ParseError) Error() string {
	s := e.Func + " " + fmt.Sprintf("%.80q", e.Text)
	if e.Err != nil {
		s += ": " + e.Err.Error()
	}
	if e.Need != "" {
		s += "; need " + e.Need
	}
	return s
}

// Unwrap returns the reason.
func (e *ParseError) Unwrap() error { return e.Err }
