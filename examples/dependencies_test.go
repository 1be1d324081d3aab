package examples_test

import (
	"os"
	"regexp"
	"slices"
	"testing"
)

// go.mod requires what DEVELOPERS.md lists with its licence, and nothing more.
func TestDependencies(t *testing.T) {
	listed := submatches(t, "../DEVELOPERS.md", `(?m)^\| ([a-z0-9.]+/[^ ]+) \| ([^|]+) \|`)
	required := submatches(t, "../go.mod", `(?m)^(?:require|)\s+([a-z0-9.]+/[^ ]+) v`)
	want := []string{"github.com/google/go-cmp", "github.com/shopspring/decimal", "gonum.org/v1/gonum"}
	if !slices.Equal(required, want) {
		t.Errorf("go.mod requires %v", required)
	}
	if !slices.Equal(listed, want) {
		t.Errorf("DEVELOPERS.md lists %v", listed)
	}
}

// submatches returns the first group of every match, sorted.
func submatches(t *testing.T, file, pattern string) []string {
	t.Helper()
	raw, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, m := range regexp.MustCompile(pattern).FindAllStringSubmatch(string(raw), -1) {
		all = append(all, m[1])
	}
	slices.Sort(all)
	return all
}
