package bias

import (
	"fmt"
	"strings"

	"github.com/densilot/densilot/stats"
)

// unpairedWarnings lists the ids on one side only, with the one that a slip of the pen
// may have parted it from: ids are compared as they are written.
func unpairedWarnings(ids []string, text string) (ws []stats.Warning) {
	for i, id := range ids {
		said := text
		for k, other := range ids {
			if k != i && sameButForm(id, other) {
				said = fmt.Sprintf("%s; %q differs from %q in blanks or capitals only", text, id, other)
				break
			}
		}
		ws = append(ws, stats.Warning{Code: WarnUnpaired, Where: id, Text: said})
	}
	return ws
}

func sameButForm(a, b string) bool {
	return strings.EqualFold(strings.Join(strings.Fields(a), ""), strings.Join(strings.Fields(b), ""))
}

const leftOut = "found among the locations or the cores but not both, so it was left out"
