// Package demodir gives tests a folder with the files of the invented shift, one of
// them spoiled.
package demodir

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/densilot/densilot/examples/shift/testdata"
)

// Changed copies the demo files into a new folder with one of them changed; a change
// to "" leaves the file out.
func Changed(t testing.TB, name string, change func(string) string) string {
	t.Helper()
	dir := t.TempDir()
	entries, err := fs.ReadDir(testdata.Demo, ".")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		data, err := fs.ReadFile(testdata.Demo, e.Name())
		if err != nil {
			t.Fatal(err)
		}
		text := string(data)
		if e.Name() == name {
			if text = change(text); text == string(data) {
				t.Fatalf("%s was not changed", name)
			}
		}
		if text == "" {
			continue
		}
		if err := os.WriteFile(filepath.Join(dir, e.Name()), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// Replace is a change of the first place that holds old.
func Replace(old, with string) func(string) string {
	return func(s string) string { return strings.Replace(s, old, with, 1) }
}
