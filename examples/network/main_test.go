package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// start runs the program and returns what it printed and its exit status.
func start(t *testing.T, ctx context.Context, args ...string) (out, errOut string, status int) {
	t.Helper()
	errFile, err := os.Create(filepath.Join(t.TempDir(), "stderr"))
	if err != nil {
		t.Fatal(err)
	}
	defer errFile.Close()
	var b bytes.Buffer
	status = run(ctx, args, &b, errFile)
	said, err := os.ReadFile(errFile.Name())
	if err != nil {
		t.Fatal(err)
	}
	return b.String(), string(said), status
}

func TestRun(t *testing.T) {
	aside := filepath.Join(t.TempDir(), "aside.csv")
	out, errOut, status := start(t, context.Background(), "-contracts", "20", "-aside", aside)
	if status != 0 || errOut != "" || !strings.HasPrefix(out, "Invented road network: 10000 records, ") {
		t.Fatalf("status %d, %q, %s", status, errOut, out)
	}
	file, err := os.Open(aside)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil || len(rows) < 20 || rows[0][2] != "reason" {
		t.Errorf("%d rows aside, %v", len(rows), err)
	}
	if out, errOut, status = start(t, context.Background(), "-contracts", "10", "-json"); status != 0 || errOut != "" || !strings.HasPrefix(out, "{\n  \"records\": 5000,\n") {
		t.Errorf("status %d, %q, %s", status, errOut, out)
	}
}

func TestRunRefuses(t *testing.T) {
	for _, args := range [][]string{{"-contracts", "0"}, {"-contracts", "9999999"}, {"-contracts", "many"}, {"file.csv"}, {"-x"}} {
		if out, errOut, status := start(t, context.Background(), args...); status != misused || errOut == "" || out != "" {
			t.Errorf("%v: status %d, %q, %q", args, status, errOut, out)
		}
	}
	if _, errOut, status := start(t, context.Background(), "-contracts", "10", "-aside", t.TempDir()); status != failed || strings.Count(errOut, "\n") != 1 {
		t.Errorf("a folder to write to: status %d, %q", status, errOut)
	}
}

func TestInterrupt(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	out, errOut, status := start(t, ctx, "-contracts", "20000")
	if status != interrupted || !strings.HasPrefix(errOut, "network: interrupted") {
		t.Errorf("status %d, %q, %s", status, errOut, out)
	}
}
