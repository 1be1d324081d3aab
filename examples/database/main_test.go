package main

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
)

var update = flag.Bool("update", false, "rewrite the golden output")

func TestOutput(t *testing.T) {
	var out bytes.Buffer
	if err := run(context.Background(), ":memory:", &out); err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile("output.txt", out.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile("output.txt")
	if err != nil {
		t.Fatal(err)
	}
	if out.String() != string(want) {
		t.Errorf("prints\n%s\nwant\n%s", &out, want)
	}
}

// A file is kept: a second run finds the first one's lots and adds revisions, also
// where the name has signs that an address would not take.
func TestFile(t *testing.T) {
	file := filepath.Join(t.TempDir(), "quality 100 %?.db")
	for range 2 {
		if err := run(t.Context(), file, new(bytes.Buffer)); err != nil {
			t.Fatal(err)
		}
	}
	s := opened(t, file)
	all, err := s.history(t.Context(), "22")
	if err != nil || len(all) != 4 {
		t.Fatalf("%d revisions, want 4: %v", len(all), err)
	}
	for i, r := range all {
		if r.revision != i+1 {
			t.Errorf("revision %d in place %d", r.revision, i+1)
		}
	}
}

// What cannot be judged leaves no row behind.
func TestAddRefuses(t *testing.T) {
	s := opened(t, ":memory:")
	plan, _, err := demo()
	if err != nil {
		t.Fatal(err)
	}
	bad := demoLot("30", "93.4", "94.2", "934")
	var input *stats.InputError
	if _, err := s.add(t.Context(), plan, bad); !errors.As(err, &input) || !errors.Is(err, lot.ErrPlausible) {
		t.Errorf("an implausible result: %v", err)
	}
	canceled, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := s.add(canceled, plan, demoLot("30", "93.4", "94.2", "93.9")); !errors.Is(err, context.Canceled) {
		t.Errorf("an interrupt: %v", err)
	}
	for _, table := range []string{"plans", "lots", "evaluations"} {
		var rows int
		if err := s.db.QueryRow("SELECT count(*) FROM " + table).Scan(&rows); err != nil || rows != 0 {
			t.Errorf("%d rows in %s: %v", rows, table, err)
		}
	}
}

// A second run adds a revision of each lot, and says of one that came in alike that
// nothing changed.
func TestSecondRun(t *testing.T) {
	file := filepath.Join(t.TempDir(), "quality.db")
	var out bytes.Buffer
	for range 2 {
		out.Reset()
		if err := run(t.Context(), file, &out); err != nil {
			t.Fatal(err)
		}
	}
	if want := "lot 21, revision 2\n    nothing changed\nlot 22, revision 2\n    mean"; !strings.Contains(out.String(), want) {
		t.Errorf("prints\n%s\nwithout\n%s", &out, want)
	}
}

// A document that somebody changed by hand into what is none is not read.
func TestChangedByHand(t *testing.T) {
	s := opened(t, ":memory:")
	plan, lots, err := demo()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.add(t.Context(), plan, lots[0]); err != nil {
		t.Fatal(err)
	}
	for _, change := range []string{
		`UPDATE lots SET document = replace(document, '"93.4"', '93.4')`,
		`UPDATE lots SET document = ''`,
	} {
		if _, err := s.db.Exec(change); err != nil {
			t.Fatal(err)
		}
		if all, err := s.history(t.Context(), "21"); err == nil {
			t.Errorf("after %s: %v", change, all)
		}
	}
	if err := new(column[lot.Lot]).Scan(int64(1)); err == nil || !strings.Contains(err.Error(), "int64") {
		t.Errorf("a number for a document: %v", err)
	}
	if _, err := s.db.Exec(`DELETE FROM plans`); err == nil {
		t.Error("a plan was taken from under its evaluations")
	}
}

func opened(t *testing.T, file string) store {
	t.Helper()
	s, err := open(t.Context(), file)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.close() })
	return s
}
