package main

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var data = os.DirFS("../../testdata")

func TestPublishedValues(t *testing.T) {
	records, err := readAll(data)
	if err != nil {
		t.Fatal(err)
	}
	differ := 0
	for _, r := range recompute(data, records) {
		if r.wrong != "" {
			t.Errorf("%s, %s (%s): %s (%s)", r.id, r.check, r.input, r.wrong, r.source)
		}
		if r.source == "" || r.status == "" || r.edition == "" && r.printed != "" && r.status != "derived" {
			t.Errorf("%s, %s (%s) has no source, edition or status", r.id, r.check, r.input)
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

// A certified figure is held to the digits that the data keep in float64.
func TestCertifiedFigureFaults(t *testing.T) {
	good := record{check: "certified figure", input: "kind=univariate;set=Mavro;figure=sd", printed: "0.000429123454003053", exact: "0.000429123454003053", digits: 13.12}
	if r := judge(data, good); r.wrong != "" {
		t.Error(r.wrong)
	}
	good.exact = "0.000429123454004"
	if r := judge(data, good); r.wrong == "" {
		t.Error("11 digits were enough")
	}
}

// A wrong value, a print that differs without a remark and a remark without a
// difference are all found.
func TestJudgeFindsFaults(t *testing.T) {
	good := record{check: "quality index", input: "pwl=90;n=4", printed: "1.20", exact: "1.2000", source: "x", status: "x"}
	if r := judge(data, good); r.wrong != "" {
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
		if r := judge(data, bad); r.wrong == "" {
			t.Errorf("%s was not found", name)
		}
	}
}

// The page and the table in the README are what the program prints.
func TestPage(t *testing.T) {
	page, err := os.ReadFile("CHECKS.md")
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(printed(t, "-page"), string(page)); diff != "" {
		t.Errorf("run go run ./examples/published -page > examples/published/CHECKS.md and read what changed: %s", diff)
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
	if diff := cmp.Diff(printed(t, "-markdown"), table); diff != "" {
		t.Errorf("run go run ./examples/published -markdown and put it in the README: %s", diff)
	}
}

func printed(t *testing.T, flag string) string {
	t.Helper()
	var out, errOut bytes.Buffer
	if status := run([]string{"-data", "../../testdata", flag}, &out, &errOut); status != 0 {
		t.Fatalf("status %d, %s", status, &errOut)
	}
	return out.String()
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
