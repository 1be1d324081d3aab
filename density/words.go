package density

import (
	"strings"

	"github.com/densilot/densilot/units"
)

// choice is what the named choices of this package have in common: a small number,
// from 1 on, with words that JSON and files hold in its place.
type choice interface {
	~uint8
	String() string
}

// wordsOf returns the words of a choice, empty for none. The error is nil.
func wordsOf[C choice](c C) ([]byte, error) {
	if c == 0 {
		return nil, nil
	}
	return []byte(c.String()), nil
}

// readWords sets c to the choice, up to the last, whose words are text; empty text
// means none.
func readWords[C choice](c *C, last C, fn string, text []byte, reason error) error {
	if len(text) == 0 {
		*c = 0
		return nil
	}
	var all []string
	for known := C(1); known <= last; known++ {
		if string(text) == known.String() {
			*c = known
			return nil
		}
		all = append(all, known.String())
	}
	return &units.ParseError{Func: fn, Text: string(text), Err: reason, Need: strings.Join(all, ", ")}
}
