package main

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestPublishedValues(t *testing.T) {
	records, err := readAll(os.DirFS("../../testdata"))
	if err != nil {
		t.Fatal(err)
	}
	differ := 0
	for _, r := range recompute(records) {
		if r.wrong != "" {
			t.Errorf("%s, %s (%s): %s (%s)", r.id, r.check, r.input, r.wrong, r.source)
		}
		if r.source == "" || r.status == "" {
			t.Errorf("%s, %s (%s) has no source or status", r.id, r.check, r.input)
		}
		if r.printed == "" && r.exact == "" {
			t.Errorf("%s, %s (%s) has nothing to compare with", r.id, r.check, r.input)
		}
		if r.differs() {
			differ++
		}
	}
	t.Logf("%d values, %d where the print is another number", len(records), differ)
}

// A wrong value, a print that differs without a remark and a remark without a
// difference are all found.
func TestJudgeFindsFaults(t *testing.T) {
	good := record{check: "quality index", input: "pwl=90;n=4", printed: "1.20", exact: "1.2000", source: "x", status: "x"}
	if r := judge(good); r.wrong != "" {
		t.Errorf("a right value is called wrong: %s", r.wrong)
	}
	for name, change := range map[string]func(*record){
		"another exact value":    func(r *record) { r.exact = "1.2002" },
		"another print":          func(r *record) { r.printed = "1.21" },
		"a remark for nothing":   func(r *record) { r.remark = "misprint" },
		"an unknown check":       func(r *record) { r.check = "horoscope" },
		"input that is missing":  func(r *record) { r.input = "pwl=90" },
		"input that is nonsense": func(r *record) { r.input = "pwl=ninety;n=4" },
		"input out of range":     func(r *record) { r.input = "pwl=90;n=2" },
	} {
		bad := good
		change(&bad)
		if r := judge(bad); r.wrong == "" {
			t.Errorf("%s was not found", name)
		}
	}
}

// The table in the README is the one that the program prints.
func TestReadmeTable(t *testing.T) {
	var out, errOut bytes.Buffer
	if status := run([]string{"-data", "../../testdata", "-markdown"}, &out, &errOut); status != 0 {
		t.Fatalf("status %d, %s", status, &errOut)
	}
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	const begin, end = "<!-- go run ./examples/published -markdown -->\n", "<!-- end -->"
	_, rest, ok := strings.Cut(string(readme), begin)
	table, _, closed := strings.Cut(rest, end)
	if !ok || !closed {
		t.Fatal("README.md has no table between its marks")
	}
	if diff := cmp.Diff(out.String(), table); diff != "" {
		t.Errorf("run go run ./examples/published -markdown and put it in the README: %s", diff)
	}
}

func TestText(t *testing.T) {
	var out, errOut bytes.Buffer
	if status := run([]string{"-data", "../../testdata"}, &out, &errOut); status != 0 || !strings.Contains(out.String(), "misprint for 0.31") {
		t.Errorf("status %d, %s", status, &errOut)
	}
	if status := run([]string{"-data", "nowhere"}, &out, &errOut); status != 1 {
		t.Errorf("no data: status %d", status)
	}
}
