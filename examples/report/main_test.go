package main

import (
	"bytes"
	"crypto/sha256"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/densilot/densilot/examples/internal/demodir"
)

var update = flag.Bool("update", false, "write the golden file anew; read the difference before committing it")

func reportOf(t *testing.T, args ...string) string {
	t.Helper()
	var out, errOut bytes.Buffer
	if status := run(args, &out, &errOut); status != 0 || errOut.Len() > 0 {
		t.Fatalf("%v: status %d, %s", args, status, &errOut)
	}
	return out.String()
}

// The golden file holds the page with each drawing replaced by its hash, so that it
// stays readable and every byte still counts.
func TestGolden(t *testing.T) {
	drawing := regexp.MustCompile(`(?s)<g .*?</svg>`)
	got := drawing.ReplaceAllStringFunc(reportOf(t), func(s string) string { return fmt.Sprintf("sha256 %x</svg>", sha256.Sum256([]byte(s))) })
	path := filepath.Join("testdata", "golden.html")
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(string(want), "\n")
	for i, line := range strings.Split(got, "\n") {
		if i >= len(lines) || line != lines[i] {
			t.Fatalf("%s:%d: now %q; run go test -update and read the difference", path, i+1, line)
		}
	}
	if got != string(want) {
		t.Errorf("%s has lines that the report lacks", path)
	}
}

func TestSameBytes(t *testing.T) {
	first := reportOf(t)
	file := filepath.Join(t.TempDir(), "report.html")
	if out := reportOf(t, "-o", file); out != "" {
		t.Errorf("-o also writes %q", out)
	}
	second, err := os.ReadFile(file)
	if err != nil || first != string(second) {
		t.Errorf("two runs differ, %v", err)
	}
}

// Each mistake ends with one line that names file, line and column, and leaves an
// older report as it was.
func TestWrongInput(t *testing.T) {
	for _, tt := range []struct {
		name, file string
		change     func(string) string
		want       string
	}{
		{"a missing file", "gmm.csv", func(string) string { return "" }, `^report: gmm\.csv: no such file or directory\n$`},
		{"NaN", "readings.csv", demodir.Replace("143.5", "NaN"), `^report: readings\.csv:2:5: .*not a plain decimal number`},
		{"an unknown term", "block-terms.csv", func(s string) string { return s + "slack,1,\n" }, `^report: block-terms\.csv:7:1: unknown term "slack"\n$`},
		{"checks without their terms", "block-terms.csv", func(string) string { return "" }, `^report: block-terms\.csv: no such file or directory\n$`},
		{"terms without checks", "block.csv", func(string) string { return "" }, `^report: block\.csv: no such file or directory\n$`},
		{"no check at all", "block.csv", func(string) string { return "at,reading,unit\n" }, `^report: block\.csv:1:1: no check of the gauge`},
		{"a check without its offset", "block.csv", demodir.Replace("T06:47:00-06:00", " 06:47"), `^report: block\.csv:2:1: `},
		{"checks out of order", "block.csv", demodir.Replace("2026-04-13", "2026-04-01"), `^report: block\.csv:3:1: .*is not after the check before it\n$`},
		{"a check in another unit", "block.csv", demodir.Replace("148.0,lb/ft3", "2371,kg/m3"), `^report: block\.csv:2:27: .*units differ`},
	} {
		var out, errOut bytes.Buffer
		file := filepath.Join(t.TempDir(), "report.html")
		status := run([]string{"-o", file, "-dir", demodir.Changed(t, tt.file, tt.change)}, &out, &errOut)
		if status != 1 || out.Len() > 0 {
			t.Errorf("%s: status %d, output %q", tt.name, status, &out)
		}
		if !regexp.MustCompile(tt.want).MatchString(errOut.String()) || strings.Count(errOut.String(), "\n") != 1 {
			t.Errorf("%s: %q, want %s", tt.name, &errOut, tt.want)
		}
		if _, err := os.Stat(file); err == nil {
			t.Errorf("%s: a report was written", tt.name)
		}
	}
}

// Records that leave a figure with little or nothing to show still make a whole page.
func TestOddShifts(t *testing.T) {
	keep := func(ids ...string) func(string) string {
		return func(s string) string {
			lines := strings.SplitAfter(s, "\n")
			out := lines[0]
			for _, line := range lines[1:] {
				for _, id := range ids {
					if strings.HasPrefix(line, id+",") {
						out += line
					}
				}
			}
			return out
		}
	}
	for _, tt := range []struct {
		name, file string
		change     func(string) string
		want       string
	}{
		{"one limit", "contract.csv", demodir.Replace("upper limit,97.0,% of maximum theoretical density", "upper limit,none,"), "all else beyond one limit"},
		{"only an upper limit", "contract.csv", demodir.Replace("lower limit,92.0,% of maximum theoretical density", "lower limit,none,"), "all else beyond one limit"},
		{"a rejected lot", "schedule.csv", demodir.Replace("50,0.50", "60,0.50"), "none: rejected"},
		{"two passes", "passes.csv", keep("1", "2"), "Not established"},
		{"no pass", "passes.csv", keep(), "Roller pattern"},
		{"three cores", "cores.csv", keep("T1", "T2", "T3"), "Too few cores to screen"},
		{"one check", "block.csv", func(s string) string { return strings.Join(strings.SplitAfter(s, "\n")[:4], "") }, "Daily check"},
		{"a failed check", "block.csv", demodir.Replace("06:48:00-06:00,147.9", "06:48:00-06:00,149.9"), "did not pass"},
	} {
		dir := demodir.Changed(t, tt.file, tt.change)
		got := reportOf(t, "-dir", dir)
		if !strings.Contains(got, tt.want) || strings.Contains(got, "Invented data") || strings.Contains(got, "NaN") || strings.Contains(got, "Inf") || strings.Contains(got, "ZgotmplZ") {
			t.Errorf("%s: %q is missing, or something is there that is not to be", tt.name, tt.want)
		}
	}
}

// Three equal results, and three that differ, whose estimated distribution grows
// without bound at its ends; no check of the gauge.
func TestSmallLots(t *testing.T) {
	dir := demodir.Changed(t, "block.csv", func(string) string { return "" })
	if err := os.Remove(filepath.Join(dir, "block-terms.csv")); err != nil {
		t.Fatal(err)
	}
	sublots, readings := "lot,sublot,date,quantity\n", "sublot,reading,unit\n"
	for i, reading := range []string{"144.0", "144.0", "144.0", "142.0", "144.1", "143.2"} {
		id := fmt.Sprint("S", i+1)
		sublots += fmt.Sprintf("%d,%s,2026-05-12,100\n", i/3+1, id)
		readings += fmt.Sprintf("%s,%s,lb/ft3\n", id, reading)
	}
	for name, text := range map[string]string{"sublots.csv": sublots, "readings.csv": readings} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got := reportOf(t, "-dir", dir)
	for _, want := range []string{"no distribution can be drawn", "No readings on the reference block", "3 results, all else beyond one limit"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is missing", want)
		}
	}
}

func TestWrongFlags(t *testing.T) {
	for _, args := range [][]string{{"-nonsense"}, {"folder"}} {
		var out, errOut bytes.Buffer
		if status := run(args, &out, &errOut); status != 2 || errOut.Len() == 0 {
			t.Errorf("%v: status %d, %q", args, status, &errOut)
		}
	}
}
