// Package testdata holds the records of an invented job, for the programs that show
// them. It also holds what the tests compare with.
package testdata

import "embed"

// Demo is the folder of the invented job.
//
//go:embed *.csv
var Demo embed.FS
