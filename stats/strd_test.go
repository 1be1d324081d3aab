package stats

import (
	"encoding/json"
	"math"
	"math/big"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// The NIST Statistical Reference Datasets; see testdata/strd/README.md for where
// they come from and what a ceiling is.
const strdFolder = "../testdata/strd"

type certified struct {
	Certified map[string]any
	Exact     map[string]any
	Ceiling   map[string]float64 `json:"float64_ceiling_lre"`
}

func readCertified(t *testing.T, kind string) map[string]certified {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join(strdFolder, "certified.json"))
	if err != nil {
		t.Fatal(err)
	}
	var kinds map[string]map[string]certified
	if err := json.Unmarshal(raw, &kinds); err != nil {
		t.Fatal(err)
	}
	return kinds[kind]
}

// printed returns the certified text of a quantity.
func (c certified) printed(quantity string) string { return c.Certified[quantity].(string) }

// exact returns the quantity computed in rational arithmetic from decimal text.
func (c certified) exact(t *testing.T, quantity string) *big.Float {
	t.Helper()
	return parseBig(t, c.Exact[quantity].(string))
}

func parseBig(t *testing.T, s string) *big.Float {
	t.Helper()
	x, _, err := big.ParseFloat(s, 10, 200, big.ToNearestEven)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// strdRows returns the fields of each data line, from line 61 on.
func strdRows(t *testing.T, kind, set string) [][]string {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join(strdFolder, kind, set+".dat"))
	if err != nil {
		t.Fatal(err)
	}
	var rows [][]string
	for _, line := range strings.Split(string(raw), "\n")[60:] {
		if fields := strings.Fields(line); len(fields) > 0 {
			rows = append(rows, fields)
		}
	}
	return rows
}

func column(t *testing.T, rows [][]string, at int) []float64 {
	t.Helper()
	xs := make([]float64, len(rows))
	for i, row := range rows {
		x, err := strconv.ParseFloat(row[at], 64)
		if err != nil {
			t.Fatal(err)
		}
		xs[i] = x
	}
	return xs
}

// lre is the log relative error of got, the number of right digits, at most 15;
// the log absolute error where the right value is 0.
func lre(got float64, want *big.Float) float64 {
	if !isFinite(got) {
		return 0
	}
	off := new(big.Float).SetPrec(200).SetFloat64(got)
	off.Sub(off, want)
	if want.Sign() != 0 {
		off.Quo(off, want)
	}
	relative, _ := off.Float64()
	return max(0, min(15, -math.Log10(math.Abs(relative))))
}
