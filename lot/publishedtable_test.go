package lot_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/densilot/densilot/lot"
)

// Every cell of the published and recomputed tables in testdata/pwl.csv, to its own
// number of places, from one call per n. Where print and exact value differ the file
// says why, and the cell has to be the exact one.
func TestPublishedTables(t *testing.T) {
	rows := tableRows(t, "pwl")
	tables := make(map[string][]lot.WithinRow)
	cells := 0
	for _, row := range rows[1:] {
		printed, exact, remark := row[3], row[4], row[9]
		var pwl, n int
		if _, err := fmt.Sscanf(row[2], "pwl=%d;n=%d", &pwl, &n); err != nil || row[1] != "quality index" {
			continue
		}
		wants := []string{exact}
		if printed != "" && remark == "" {
			wants = append(wants, printed)
		}
		for _, want := range wants {
			_, fraction, _ := strings.Cut(want, ".")
			key := fmt.Sprint(n, len(fraction))
			if tables[key] == nil {
				table, err := lot.WithinTable(n, halfEven(len(fraction)))
				if err != nil {
					t.Fatal(err)
				}
				tables[key] = table
			}
			cells++
			if got := tables[key][100-pwl].Q.StringFixed(int32(len(fraction))); got != want {
				t.Errorf("%s, n = %d, PWL %d: %s, want %s", row[0], n, pwl, got, want)
			}
		}
	}
	if cells < 800 {
		t.Errorf("only %d cells were found", cells)
	}
}
