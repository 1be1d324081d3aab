package units

import (
	"errors"
	"strings"
)

// A rule in words, "half-even to 0.01", is how a contract says it and how JSON and
// flags hold it.

const roundingForms = "a rule like half-even to 0.01, half-up to 1 or absolute"

// ParseRounding reads a rule as [Rounding.String] writes it: "absolute", or
// "half-even" or "half-up" followed by "to" and a power of ten, such as 0.01, 1
// or 100. Blanks around it are ignored.
//
// Errors are [*ParseError] around [ErrRounding] for an unknown method, [ErrRange]
// for a step that is no power of ten, [ErrSyntax] or [ErrNotGiven].
func ParseRounding(text string) (Rounding, error) { return parseRounding("units.ParseRounding", text) }

func parseRounding(fn, text string) (Rounding, error) {
	method, step, hasStep := strings.Cut(strings.Trim(text, " \t"), " to ")
	refuse := func(err error) (Rounding, error) {
		return Rounding{}, &ParseError{Func: fn, Text: text, Err: err, Need: roundingForms}
	}
	switch {
	case method == "" && !hasStep:
		return refuse(ErrNotGiven)
	case method == Absolute.String() && !hasStep:
		return Rounding{Method: Absolute}, nil
	case method != HalfEven.String() && method != HalfUp.String():
		return refuse(ErrRounding)
	}
	if _, err := checkDecimal(step); errors.Is(err, ErrSyntax) {
		return refuse(err)
	}
	places, ok := powerPlaces(step)
	if !ok || places != clamp(places) {
		return refuse(ErrRange)
	}
	r := Rounding{Method: HalfEven, Places: places}
	if method == HalfUp.String() {
		r.Method = HalfUp
	}
	return r, nil
}

// powerPlaces returns the places that the power of ten step, a plain decimal, keeps.
func powerPlaces(step string) (places int, ok bool) {
	whole, fraction, _ := strings.Cut(step, ".")
	whole, fraction = strings.TrimLeft(whole, "0"), strings.TrimRight(fraction, "0")
	switch {
	case fraction == "" && whole == "1"+strings.Repeat("0", max(0, len(whole)-1)):
		return 1 - len(whole), true
	case whole == "" && strings.TrimLeft(fraction, "0") == "1":
		return len(fraction), true
	}
	return 0, false
}

// MarshalText returns the rule in words; empty for the zero value. A rule that is
// not valid is the error of [Rounding.Validate].
func (r Rounding) MarshalText() ([]byte, error) {
	if r == (Rounding{}) {
		return nil, nil
	}
	if err := r.Validate(); err != nil {
		return nil, err
	}
	return []byte(r.String()), nil
}

// UnmarshalText reads what [ParseRounding] reads, with its errors; empty text means no rule.
func (r *Rounding) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*r = Rounding{}
		return nil
	}
	parsed, err := parseRounding("units.Rounding.UnmarshalText", string(text))
	if err == nil {
		*r = parsed
	}
	return err
}
