package bias

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"github.com/densilot/densilot/stats"
)

const leftOut = "found among the locations or the cores but not both, so it was left out"

// unpairedWarnings lists the ids on one side only, with the one that a slip of the pen
// may have parted it from: ids are compared as they are written.
func (j joined) unpairedWarnings(text string) (ws []stats.Warning) {
	others := slices.Clone(j.unpaired)
	for _, p := range j.pairs {
		others = append(others, p.first.id)
	}
	for _, id := range j.unpaired {
		said := text
		if k := slices.IndexFunc(others, func(other string) bool { return other != id && sameButForm(id, other) }); k >= 0 {
			said = fmt.Sprintf("%s; %q differs from %q in blanks, marks or capitals only", text, id, others[k])
		}
		ws = append(ws, stats.Warning{Code: WarnUnpaired, Where: id, Text: said})
	}
	return ws
}

// sameButForm compares letters and digits alone.
func sameButForm(a, b string) bool { return strings.EqualFold(letters(a), letters(b)) }

func letters(id string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return r
		}
		return -1
	}, id)
}
