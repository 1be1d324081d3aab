package main

import (
	"errors"
	"io"
	"io/fs"
	"maps"
	"testing"
	"testing/fstest"

	"github.com/densilot/densilot/examples/internal/shift"
)

// Any bytes in place of one file give a report or an error, and never a panic.
func FuzzFiles(f *testing.F) {
	names, err := fs.Glob(shift.Files(""), "*.csv")
	if err != nil {
		f.Fatal(err)
	}
	demo := fstest.MapFS{}
	for i, name := range names {
		raw, err := fs.ReadFile(shift.Files(""), name)
		if err != nil {
			f.Fatal(err)
		}
		demo[name] = &fstest.MapFile{Data: raw}
		f.Add(uint8(i), raw)
	}
	f.Fuzz(func(t *testing.T, which uint8, raw []byte) {
		files := maps.Clone(demo)
		files[names[int(which)%len(names)]] = &fstest.MapFile{Data: raw}
		records, err := shift.Read(files)
		if err != nil {
			return
		}
		j, err := shift.Judge(records)
		if err != nil {
			return
		}
		if err := errors.Join(writeReport(io.Discard, j, true), writeJSON(io.Discard, j, true)); err != nil {
			t.Fatal(err)
		}
	})
}
