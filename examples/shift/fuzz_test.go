package main

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"testing"
	"testing/fstest"
)

// shiftFiles are what a shift reads.
var shiftFiles = []string{"contract.csv", "schedule.csv", "strip.csv", "cores.csv", "passes.csv", "gmm.csv", "sublots.csv", "readings.csv"}

// Any bytes in place of one file give a report or an error, and never a panic.
func FuzzFiles(f *testing.F) {
	demo := fstest.MapFS{}
	for i, name := range shiftFiles {
		raw, err := fs.ReadFile(os.DirFS("testdata"), name)
		if err != nil {
			f.Fatal(err)
		}
		demo[name] = &fstest.MapFile{Data: raw}
		f.Add(uint8(i), raw)
	}
	f.Fuzz(func(t *testing.T, which uint8, raw []byte) {
		files := fstest.MapFS{}
		for name, file := range demo {
			files[name] = file
		}
		files[shiftFiles[int(which)%len(shiftFiles)]] = &fstest.MapFile{Data: raw}
		s, err := readShift(files)
		if err != nil {
			return
		}
		j, err := judge(s)
		if err != nil {
			return
		}
		if err := errors.Join(writeReport(io.Discard, j, true), writeJSON(io.Discard, j, true)); err != nil {
			t.Fatal(err)
		}
	})
}
