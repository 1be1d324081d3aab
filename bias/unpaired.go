package bias

import (
	"fmt"
	"strings"
	"unicode"

	"github.com/densilot/densilot/stats"
)

const leftOut = "found among the locations or the cores but not both, so it was left out"

// unpairedWarnings lists the ids on one side only, with the one that a slip of the pen
// may have parted it from: ids are compared as they are written.
func (j joined) unpairedWarnings(text string) (ws []stats.Warning) {
	alike := j.alike()
	for _, id := range j.unpaired {
		said := text
		for _, other := range alike[letters(id)] {
			if other != id {
				said = fmt.Sprintf("%s; %q differs from %q in blanks, marks or capitals only", text, id, other)
				break
			}
		}
		ws = append(ws, stats.Warning{Code: WarnUnpaired, Where: id, Text: said})
	}
	return ws
}

// alike returns the ids by their letters, those that stayed unpaired first, two of each
// at most: one of them differs from any id.
func (j joined) alike() map[string][]string {
	alike := make(map[string][]string)
	add := func(id string) {
		if key := letters(id); len(alike[key]) < 2 {
			alike[key] = append(alike[key], id)
		}
	}
	for _, id := range j.unpaired {
		add(id)
	}
	for _, p := range j.pairs {
		add(p.first.id)
	}
	return alike
}

// letters returns the letters and digits of an id without regard to capitals.
func letters(id string) string {
	return strings.ToLower(strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return r
		}
		return -1
	}, id))
}
