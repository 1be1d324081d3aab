// Shift takes one paving shift from gauge readings to pay: the offset of the gauge
// from cores, the roller pattern, the maximum density of each day, percent
// compaction of each sublot, and for each lot the outlier screen, percent within
// limits, pay factor, pay and the working of the decision.
//
//	go run ./examples/shift            demo data of an invented job
//	go run ./examples/shift -dir D     your own CSV files, laid out as below
//	go run ./examples/shift -json      the same answers as JSON
//
// # Files
//
// Each file starts with a header line that names exactly its columns. Numbers are
// plain decimals with a point. The demo files in testdata show all of them.
//
//	contract.csv     term,value,unit                   see the demo file for the terms; all are needed
//	schedule.csv     from,intercept,slope,reject       pay factor = intercept + slope·PWL, from that PWL up to
//	                                                   the next row
//	strip.csv        location,reading,unit             one uncorrected reading a line, several a location
//	cores.csv        location,gmb                      bulk specific gravity of the core cut there
//	passes.csv       pass,spot,reading,unit,           readings after each pass at the same spots, and the
//	                 mat,mat unit                      temperature of the mat
//	gmm.csv          date,gmm                          one determination a line; the mean of a day counts
//	sublots.csv      lot,sublot,date,quantity          what was placed, in the quantity unit of the contract
//	readings.csv     sublot,reading,unit               uncorrected acceptance readings at the random locations
//	block.csv        at,reading,unit                   the gauge on its reference block each morning, the last
//	                                                   line today; may be left out, drawn by examples/report
//	block-terms.csv  term,value,unit                   by what those checks are judged; needed with block.csv
//
// Wrong input ends with one error that names file, line and column, and exit
// status 1; nothing is guessed.
//
// The contract documents and the responsible engineer govern; this program only
// computes.
package main

import (
	"flag"
	"fmt"
	"io"
	"os"

	"github.com/densilot/densilot/examples/internal/shift"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

func run(args []string, out, errOut io.Writer) int {
	flags := flag.NewFlagSet("shift", flag.ContinueOnError)
	flags.SetOutput(errOut)
	dir := flags.String("dir", "", "read the CSV files in this `folder` instead of the demo data")
	asJSON := flags.Bool("json", false, "print JSON")
	if err := flags.Parse(args); err != nil {
		return 2
	}
	if flags.NArg() > 0 {
		fmt.Fprintf(errOut, "shift: unexpected argument %q; use -dir for a folder\n", flags.Arg(0))
		return 2
	}
	if err := answer(*dir, *asJSON, out); err != nil {
		fmt.Fprintf(errOut, "shift: %v\n", err)
		return 1
	}
	return 0
}

func answer(dir string, asJSON bool, out io.Writer) error {
	if _, err := os.Stat(dir); dir != "" && err != nil {
		return err
	}
	records, err := shift.Read(shift.Files(dir))
	if err != nil {
		return err
	}
	j, err := shift.Judge(records)
	if err != nil {
		return err
	}
	if asJSON {
		return writeJSON(out, j, dir == "")
	}
	return writeReport(out, j, dir == "")
}
