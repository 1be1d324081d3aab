package bias

import (
	"fmt"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
)

// wetWarnings looks at the state of the mat wherever a gauge read it; cores have none.
func (j joined) wetWarnings() (ws []stats.Warning) {
	states := make(map[density.Moisture]int)
	for _, p := range j.pairs {
		for _, m := range []measured{p.first, p.second} {
			states[m.moisture]++
			if m.moisture == density.MatWet {
				ws = append(ws, stats.Warning{Code: WarnWet, Where: m.id,
					Text: "read on a film of water, which moves an electromagnetic gauge; dry the mat and read again, or leave the location out with this reason"})
			}
		}
	}
	if dry, damp := states[density.MatDry], states[density.MatDamp]; dry > 0 && damp > 0 {
		ws = append(ws, stats.Warning{Code: WarnWet, Text: fmt.Sprintf("read %d times on a damp mat and %d times on a dry one; the bias of a gauge is that of one state of the mat", damp, dry)})
	}
	return ws
}
