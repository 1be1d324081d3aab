package main

import (
	"bytes"
	"context"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
)

func TestMain(m *testing.M) {
	flag.Parse()
	beam.Init()
	os.Exit(m.Run())
}

// start runs the program on this machine and returns what it printed and its exit status.
func start(t *testing.T, ctx context.Context, args ...string) (out, errOut string, status int) {
	t.Helper()
	o := options{here: true}
	flags := flag.NewFlagSet("pipeline", flag.ContinueOnError)
	o.flags(flags)
	if err := flags.Parse(args); err != nil {
		t.Fatal(err)
	}
	errFile, err := os.Create(filepath.Join(t.TempDir(), "stderr"))
	if err != nil {
		t.Fatal(err)
	}
	defer errFile.Close()
	var b bytes.Buffer
	status = run(ctx, o, &b, errFile)
	return b.String(), read(t, errFile.Name()), status
}

func read(t *testing.T, name string) string {
	t.Helper()
	b, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// loop returns what examples/network prints.
func loop(t *testing.T, args ...string) string {
	t.Helper()
	command := exec.Command("go", append([]string{"run", "./examples/network"}, args...)...)
	command.Dir = filepath.Join("..", "..")
	command.Stderr = os.Stderr
	out, err := command.Output()
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// Loop and pipeline give the same bytes for 10,000 records: answers as text and as JSON,
// and the lines that were set aside.
func TestSameAsLoop(t *testing.T) {
	folder := t.TempDir()
	ofLoop, ofPipeline, output := filepath.Join(folder, "loop.csv"), filepath.Join(folder, "pipeline.csv"), filepath.Join(folder, "report.json")
	want := loop(t, "-contracts", "20", "-seed", "11", "-aside", ofLoop)
	got, errOut, status := start(t, context.Background(), "-contracts", "20", "-seed", "11", "-aside", ofPipeline, "-output", output)
	if status != 0 || errOut != "" || got != want || !strings.HasPrefix(want, "Invented road network: 10000 records, ") {
		t.Errorf("status %d, %q, pipeline\n%s\nloop\n%s", status, errOut, got, want)
	}
	if want, got := read(t, ofLoop), read(t, ofPipeline); got != want || strings.Count(want, "\n") < 20 {
		t.Errorf("set aside by the pipeline\n%s\nby the loop\n%s", got, want)
	}
	want = loop(t, "-contracts", "20", "-seed", "11", "-json")
	if got := read(t, output); got != want {
		t.Errorf("the file of the pipeline\n%s\nJSON of the loop\n%s", got, want)
	}
	if got, errOut, status := start(t, context.Background(), "-contracts", "20", "-seed", "11", "-json"); status != 0 || errOut != "" || got != want {
		t.Errorf("status %d, %q, JSON of the pipeline\n%s\nof the loop\n%s", status, errOut, got, want)
	}
}

// A run leaves behind what was asked for and nothing else.
func TestLeavesNothing(t *testing.T) {
	temporary := t.TempDir()
	t.Setenv("TMPDIR", temporary)
	if _, errOut, status := start(t, context.Background(), "-contracts", "10"); status != 0 {
		t.Errorf("status %d, %q", status, errOut)
	}
	if left, err := os.ReadDir(temporary); err != nil || len(left) > 0 || os.Getenv("TMPDIR") != temporary {
		t.Errorf("%v are left, %v", left, err)
	}
}

func TestRunRefuses(t *testing.T) {
	for _, contracts := range []string{"9", "200001"} {
		if out, errOut, status := start(t, context.Background(), "-contracts", contracts); status != misused || strings.Count(errOut, "\n") != 1 || out != "" {
			t.Errorf("%s contracts: status %d, %q, %q", contracts, status, errOut, out)
		}
	}
	for _, place := range []string{"-aside", "-output"} {
		if out, errOut, status := start(t, context.Background(), place, t.TempDir()); status != failed || strings.Count(errOut, "\n") != 1 || out != "" {
			t.Errorf("%s to a folder: status %d, %q, %q", place, status, errOut, out)
		}
	}
	if err := (options{}).validate(); err == nil {
		t.Error("a runner elsewhere has no place for its answers")
	}
}

// An interrupt ends the largest network at once, whether it is at work or not yet.
func TestInterrupt(t *testing.T) {
	for _, after := range []time.Duration{0, time.Second} {
		ctx, cancel := context.WithCancel(context.Background())
		defer time.AfterFunc(after, cancel).Stop()
		out, errOut, status := start(t, ctx, "-contracts", "20000")
		if status != interrupted || errOut != "pipeline: interrupted; there are no answers\n" || out != "" {
			t.Errorf("after %s: status %d, %q, %q", after, status, errOut, out)
		}
	}
}
