// Report writes one paving shift as a page to look at: the gauge against the cores,
// its daily check, the roller pattern, the sublot results with the distribution
// estimated from them, what the plan accepts and pays on average, and the decision
// with its working.
//
//	go run . > report.html      demo data of an invented job
//	go run . -o report.html     the same into a file
//	go run . -dir D             your own CSV files, laid out as in go doc ./examples/shift
//
// The page is one file without scripts that fetches nothing. The same files give
// the same bytes.
//
// The contract documents and the responsible engineer govern; this program only
// computes and draws.
package main

import (
	"bytes"
	"flag"
	"fmt"
	"io"
	"os"

	"github.com/densilot/densilot/examples/internal/shift"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

func run(args []string, out, errOut io.Writer) int {
	flags := flag.NewFlagSet("report", flag.ContinueOnError)
	flags.SetOutput(errOut)
	dir := flags.String("dir", "", "read the CSV files in this `folder` instead of the demo data")
	file := flags.String("o", "", "write to this `file` instead of the standard output")
	if err := flags.Parse(args); err != nil {
		return 2
	}
	if flags.NArg() > 0 {
		fmt.Fprintf(errOut, "report: unexpected argument %q; use -dir for a folder\n", flags.Arg(0))
		return 2
	}
	if err := write(*dir, *file, out); err != nil {
		fmt.Fprintf(errOut, "report: %v\n", err)
		return 1
	}
	return 0
}

// write makes the whole page before it opens the file, so that a mistake in the
// input leaves an older report as it was.
func write(dir, file string, out io.Writer) error {
	var b bytes.Buffer
	if err := report(&b, dir); err != nil {
		return err
	}
	if file != "" {
		return os.WriteFile(file, b.Bytes(), 0o644)
	}
	_, err := out.Write(b.Bytes())
	return err
}

func report(out io.Writer, dir string) error {
	files := shift.Files(dir)
	records, err := shift.Read(files)
	if err != nil {
		return err
	}
	a, err := shift.Judge(records)
	if err != nil {
		return err
	}
	checks, err := shift.ReadBlockChecks(files)
	if err != nil {
		return err
	}
	p, err := newPage(a, checks, dir == "")
	if err != nil {
		return err
	}
	return p.write(out)
}
