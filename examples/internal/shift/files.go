package shift

import (
	"io/fs"
	"os"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/examples/shift/testdata"
)

// Cautions end every report that a decision can be read from.
var Cautions = []string{
	"This is a calculation, not a ruling. The contract documents, the agency's specification and the",
	"responsible engineer govern; a qualified person reviews flags and signs.",
	"On the road: work behind traffic control with a spotter, in sight of roller and truck drivers; the mat",
	"is 135 to 175 °C when laid; coring means silica dust, noise, water and electricity. Never read a",
	"screen in live traffic.",
}

// Files returns the files of a folder, or those of the invented job for "".
func Files(dir string) fs.FS {
	if dir == "" {
		return testdata.Demo
	}
	return os.DirFS(dir)
}

// Digits writes d with all the places it was rounded to.
func Digits(d decimal.Decimal) string { return d.StringFixed(max(0, -d.Exponent())) }
