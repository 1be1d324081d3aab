package stats

import (
	"encoding/csv"
	"fmt"
	"math"
	"math/big"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// referenceTable returns the rows of a table in testdata without its comment
// lines, which say how the values were made, and without its header.
func referenceTable(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

// number parses a field of a table.
func number(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// leastCompared is the smallest reference value compared by relative error;
// below it a float64 has fewer digits than the bounds ask for.
const leastCompared = 1e-300

// relativeErrorOf compares with a decimal text of more digits than a float64
// has, so the reference adds no rounding of its own.
func relativeErrorOf(t *testing.T, got float64, want string) float64 {
	t.Helper()
	w, _, err := big.ParseFloat(want, 10, 100, big.ToNearestEven)
	if err != nil {
		t.Fatal(err)
	}
	if math.IsNaN(got) || math.IsInf(got, 0) {
		return math.Inf(1)
	}
	g := new(big.Float).SetPrec(100).SetFloat64(got)
	if w.Sign() == 0 {
		return math.Abs(got)
	}
	e, _ := g.Sub(g, w).Quo(g, w).Float64()
	return math.Abs(e)
}

// worst remembers the largest error and where it was.
type worst struct {
	err   float64
	where string
	n     int
}

func (w *worst) add(err float64, format string, args ...any) {
	w.n++
	if err > w.err || w.where == "" || math.IsNaN(err) {
		w.err, w.where = err, fmt.Sprintf(format, args...)
	}
}

func (w *worst) String() string {
	return fmt.Sprintf("%.1e of %d, at %s", w.err, w.n, w.where)
}

// report prints the worst errors side by side and holds ours to its bound.
func report(t *testing.T, what string, ours, gonum *worst, bound float64) {
	t.Helper()
	t.Logf("%s: ours %v; bound %.0e", what, ours, bound)
	if gonum != nil {
		t.Logf("%s: gonum %v", what, gonum)
	}
	if !(ours.err <= bound) {
		t.Errorf("%s: relative error %v, want at most %.0e", what, ours, bound)
	}
}

// noPanic returns what f returns, or NaN where it panics, as some peers do.
func noPanic(f func() float64) (x float64) {
	defer func() {
		if recover() != nil {
			x = math.NaN()
		}
	}()
	return f()
}
