package examples_test

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "rewrite the files of this package that hold its own output")

// vectorFile holds what one machine made of fixed inputs. It does not say that the
// numbers are right, which other tests do, but that every machine has the same:
// .ci/run runs this test on amd64, 386, arm64 and wasm.
const vectorFile = "../testdata/vectors.txt"

// A vector is text that has to be the same to the last byte, or numbers that have
// to agree within some units in the last place.
type vector struct {
	name    string
	text    string    // of the audited path
	numbers []float64 // of the analytic path
	ulps    uint64    // most that a number may be off
}

// line writes numbers with every bit.
func (v vector) line() string {
	if v.numbers == nil {
		return v.name + ": " + v.text
	}
	words := make([]string, len(v.numbers))
	for i, x := range v.numbers {
		words[i] = strconv.FormatFloat(x, 'x', -1, 64)
	}
	return v.name + ": " + strings.Join(words, " ")
}

func TestVectors(t *testing.T) {
	var lines []string
	vectors := append(auditedVectors(t), analyticVectors(t)...)
	for _, v := range vectors {
		lines = append(lines, v.line())
	}
	if *update {
		if err := os.WriteFile(vectorFile, []byte(strings.Join(lines, "\n")+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	raw, err := os.ReadFile(vectorFile)
	if err != nil {
		t.Fatal(err)
	}
	want := strings.Split(strings.TrimSuffix(string(raw), "\n"), "\n")
	if len(want) != len(lines) {
		t.Fatalf("%d vectors, %d in %s; go test ./examples -run TestVectors -update writes it", len(lines), len(want), vectorFile)
	}
	for i, v := range vectors {
		if v.numbers == nil {
			if lines[i] != want[i] {
				t.Errorf("%s\nwant %s", lines[i], want[i])
			}
			continue
		}
		checkNumbers(t, v, want[i])
	}
}

// checkNumbers says how far apart the two machines are.
func checkNumbers(t *testing.T, v vector, want string) {
	t.Helper()
	name, words, _ := strings.Cut(want, ": ")
	fields := strings.Fields(words)
	if name != v.name || len(fields) != len(v.numbers) {
		t.Fatalf("%s has %d numbers, the file %d for %s", v.name, len(v.numbers), len(fields), name)
	}
	var most uint64
	for i, field := range fields {
		x, err := strconv.ParseFloat(field, 64)
		if err != nil {
			t.Fatal(err)
		}
		off := ulpsApart(x, v.numbers[i])
		most = max(most, off)
		if off > v.ulps {
			t.Errorf("%s[%d] = %v, want %v within %d units in the last place, off by %d", v.name, i, v.numbers[i], x, v.ulps, off)
		}
	}
	t.Logf("%-28s %3d numbers, at most %d units in the last place apart, %d allowed", v.name, len(fields), most, v.ulps)
}

// ulpsApart counts the numbers between a and b.
func ulpsApart(a, b float64) uint64 {
	ordered := func(x float64) int64 {
		if bits := int64(math.Float64bits(x)); bits >= 0 {
			return bits
		} else {
			return math.MinInt64 - bits
		}
	}
	x, y := ordered(a), ordered(b)
	return uint64(max(x, y)) - uint64(min(x, y))
}

// vectorSource draws whole numbers by a published generator, alike everywhere.
func vectorSource(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 2026)) }

// hundredths draws n numbers of two decimals from lo to below lo + span/100.
func hundredths(random *rand.Rand, n, lo, span int) []string {
	texts := make([]string, n)
	for i := range texts {
		c := 100*lo + random.IntN(span)
		texts[i] = fmt.Sprintf("%d.%02d", c/100, c%100)
	}
	return texts
}

// floatsIn reads texts.
func floatsIn(t *testing.T, texts []string) []float64 {
	t.Helper()
	xs := make([]float64, len(texts))
	for i, text := range texts {
		x, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatal(err)
		}
		xs[i] = x
	}
	return xs
}
