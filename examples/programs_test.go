package examples_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// programs are those that the README shows how small they are, with their arguments.
var programs = map[string][]string{
	"correction": {"correction/strip.csv"},
	"decision":   {"decision/plan.json", "decision/lot.json"},
	"riskcurve":  {"-n", "5", "-stddev", "0.9", "riskcurve/plan.json"},
}

func TestSmallPrograms(t *testing.T) {
	for name, args := range programs {
		t.Run(name, func(t *testing.T) {
			got, err := exec.Command("go", append([]string{"run", "./" + name}, args...)...).CombinedOutput()
			if err != nil {
				t.Fatalf("%v: %s", err, got)
			}
			want, err := os.ReadFile(filepath.Join(name, "output.txt"))
			if err != nil {
				t.Fatal(err)
			}
			if string(got) != string(want) {
				t.Errorf("prints\n%s\nwant\n%s", got, want)
			}
			if n := codeLines(t, filepath.Join(name, "main.go")); n > 25 {
				t.Errorf("has %d lines of code after the imports, want at most 25", n)
			}
		})
	}
}

// Without its files or with its plan alone a small program ends with an error and no
// trace of a panic.
func TestSmallProgramsRefuse(t *testing.T) {
	for name := range programs {
		for _, args := range [][]string{nil, {os.DevNull, os.DevNull}, {"programs_test.go", "programs_test.go"}, {name + "/plan.json"}} {
			got, err := exec.Command("go", append([]string{"run", "./" + name}, args...)...).CombinedOutput()
			if err == nil || strings.Contains(string(got), "goroutine") {
				t.Errorf("%s %v: %v: %s", name, args, err, got)
			}
		}
	}
}

// codeLines counts the lines of a program after its imports that are neither blank
// nor comment.
func codeLines(t *testing.T, file string) int {
	t.Helper()
	raw, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	_, code, _ := strings.Cut(string(raw), "\n)\n")
	count := 0
	for line := range strings.Lines(code) {
		line = strings.TrimSpace(line)
		if line != "" && !strings.HasPrefix(line, "//") {
			count++
		}
	}
	return count
}
