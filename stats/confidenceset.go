package stats

import "fmt"

// SetShape says which values a [ConfidenceSet] holds. The zero value is none.
type SetShape int

// The shapes of a confidence set of a ratio.
const (
	Between    SetShape = iota + 1 // all from Lo to Hi
	Outside                        // all up to Lo and all from Hi on
	Everything                     // the data exclude no value; Lo and Hi are 0
)

// String returns "between", "outside" or "everything".
func (s SetShape) String() string {
	switch s {
	case Between:
		return "between"
	case Outside:
		return "outside"
	case Everything:
		return "everything"
	}
	return fmt.Sprintf("SetShape(%d)", int(s))
}

// WarnUnbounded is the code of the warning that a confidence set has no finite
// ends, because the slope behind it can't be told from none.
const WarnUnbounded WarningCode = "unbounded"

// ConfidenceSet is the set of values of a ratio that the data do not exclude. Only
// where Shape is [Between] is it a finite interval; the other shapes are honest
// answers from data whose slope can't be told from 0 (or from vertical).
type ConfidenceSet struct {
	Interval
	Shape SetShape
}

// Contains reports whether x is in the set, ends included.
func (s ConfidenceSet) Contains(x float64) bool {
	switch s.Shape {
	case Between:
		return s.Interval.Contains(x)
	case Outside:
		return x <= s.Lo || x >= s.Hi
	}
	return s.Shape == Everything
}
