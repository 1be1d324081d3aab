package stats

import (
	"errors"
	"fmt"
	"math"
	"strconv"
)

// Reasons an input is refused, to be found with errors.Is.
var (
	ErrTooFew    = errors.New("too few values")
	ErrNotFinite = errors.New("value is NaN or infinite")
	ErrLevel     = errors.New("must be a fraction between 0 and 1, both excluded")
	ErrParameter = errors.New("parameter out of range")
	ErrLength    = errors.New("lengths differ")
	ErrOverflow  = errors.New("result is too large for a float64")
)

// InputError says which input was refused and why. The packages of this module
// share it, so one errors.As serves a whole program.
type InputError struct {
	Func  string // the function as the caller wrote it, such as "stats.MeanInterval"
	Arg   string // the argument, or the field of it
	Index int    // position in Arg, or -1 for Arg as a whole
	ID    string // id of the record, or "" where records have none
	Value string // what was given, or "" where that says nothing
	Err   error  // the reason
}

// Error gives the place, the value and the reason in one line, such as
//
//	stats.MeanInterval: xs[1] = NaN: value is NaN or infinite
func (e *InputError) Error() string {
	s := e.Func + ": " + e.Place()
	if e.Err == nil {
		return s
	}
	return s + ": " + e.Err.Error()
}

// Place returns the argument, the position and id in it, and the value, such as
// "xs[1] = NaN", for who tells of a part of a record in the error about the record.
func (e *InputError) Place() string {
	s := e.Arg
	if e.Index >= 0 {
		s += "[" + strconv.Itoa(e.Index) + "]"
	}
	if e.ID != "" {
		s += " " + strconv.Quote(e.ID)
	}
	if e.Value != "" {
		s += " = " + e.Value
	}
	return s
}

// Unwrap returns the reason.
func (e *InputError) Unwrap() error { return e.Err }

// Renamed returns err, if it is or wraps an [*InputError], under the name of another
// function and, where arg is not "", of its argument; any other error as it is. A package
// that calls this one uses it, so that its own users read names that they wrote.
func Renamed(err error, fn, arg string) error {
	var e *InputError
	if !errors.As(err, &e) {
		return err
	}
	renamed := *e
	renamed.Func = fn
	if arg != "" {
		renamed.Arg = arg
	}
	return &renamed
}

// Refuse returns the error for an argument as a whole: the function as its caller wrote
// it, the argument or the field of it, what was given or "" where that says nothing, and
// the reason. It is what the packages of this module refuse an input with.
func Refuse(fn, arg, value string, err error) error {
	return &InputError{Func: fn, Arg: arg, Index: -1, Value: value, Err: err}
}

// outOfRange builds the error for an argument that would have to be another.
func outOfRange(fn, arg, value, need string) error { return Refuse(fn, arg, value, needs(need)) }

// needs is the reason [ErrParameter] with what would have been taken.
func needs(what string) error { return fmt.Errorf("%w; need %s", ErrParameter, what) }

// What several functions need.
const (
	positive = "a number above 0"
	mostN    = "at most 1e9 values"
	anySide  = "Low, High or TwoSide"
	oneSide  = "Low or High"
)

// checkFinite refuses the first value of xs that is NaN or infinite.
func checkFinite(fn, arg string, xs []float64) error {
	for i, x := range xs {
		if !isFinite(x) {
			return &InputError{Func: fn, Arg: arg, Index: i, Value: text(x), Err: ErrNotFinite}
		}
	}
	return nil
}

// checkFraction refuses a level or alpha outside (0, 1), NaN among them.
func checkFraction(fn, arg string, p float64) error {
	if p > 0 && p < 1 {
		return nil
	}
	return Refuse(fn, arg, text(p), ErrLevel)
}

// isFinite must not be x-x == 0: where x is a product, that difference may be fused
// into what the rounding of x lost.
func isFinite(x float64) bool { return math.Abs(x) <= math.MaxFloat64 }

func text(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

// tooFew says how many values there are and how many are needed.
func tooFew(fn, arg string, have, need int) error {
	return Refuse(fn, arg, "", fmt.Errorf("%w (have %d, need %d)", ErrTooFew, have, need))
}
