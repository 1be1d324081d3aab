// Published recomputes published worked examples and tables with the library and
// prints, source by source, how many agree to their last printed digit and what
// to make of those that do not.
//
//	go run ./examples/published            a summary, and every value where print and library differ
//	go run ./examples/published -all       every value
//	go run ./examples/published -page      CHECKS.md of this folder, every value as a page
//	go run ./examples/published -markdown  the summary as the table of the README
//
// The values are in testdata/*.csv of the module: the check and its input, the
// value as printed, the exact value by an independent recomputation, whether the
// source was read or is quoted from memory, the source, its edition and the place
// in it. The certified figures of testdata/strd come after them.
package main

import (
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"text/tabwriter"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

func run(args []string, out, errOut io.Writer) int {
	flags := flag.NewFlagSet("published", flag.ContinueOnError)
	flags.SetOutput(errOut)
	data := flags.String("data", "testdata", "`folder` with the values")
	all := flags.Bool("all", false, "list every value")
	page := flags.Bool("page", false, "print CHECKS.md")
	markdown := flags.Bool("markdown", false, "print the summary as a Markdown table")
	if err := flags.Parse(args); err != nil {
		return 2
	}
	files := os.DirFS(*data)
	records, err := readAll(files)
	if err != nil {
		fmt.Fprintf(errOut, "published: %v\n", err)
		return 1
	}
	results := recompute(files, records)
	switch {
	case *page:
		err = writePage(out, files, results)
	case *markdown:
		writeSummary(out, results)
	default:
		writeText(out, results, *all)
	}
	if err != nil {
		fmt.Fprintf(errOut, "published: %v\n", err)
		return 1
	}
	for _, r := range results {
		if r.wrong != "" {
			fmt.Fprintf(errOut, "published: %s, %s (%s): %s\n", r.id, r.check, r.input, r.wrong)
			return 1
		}
	}
	return 0
}

func readAll(files fs.FS) ([]record, error) {
	var all []record
	for _, name := range []string{"density.csv", "rounding.csv", "pwl.csv", "outliers.csv", "pay.csv", "statistics.csv", "charts.csv"} {
		records, err := read(files, name)
		if err != nil {
			return nil, err
		}
		all = append(all, records...)
	}
	certified, err := readCertified(files)
	return append(all, certified...), err
}

// group holds the results of one edition of a source that we have in one way.
type group struct {
	source, edition, status string
	results                 []result
}

func (g group) differ() int {
	n := 0
	for _, r := range g.results {
		if r.differs() {
			n++
		}
	}
	return n
}

// grouped gathers results by source, edition and status, in the order of the files.
func grouped(results []result) []group {
	var groups []group
	at := make(map[[3]string]int)
	for _, r := range results {
		key := [3]string{r.source, r.edition, r.status}
		i, ok := at[key]
		if !ok {
			i = len(groups)
			at[key] = i
			groups = append(groups, group{source: r.source, edition: r.edition, status: r.status})
		}
		groups[i].results = append(groups[i].results, r)
	}
	return groups
}

func writeText(out io.Writer, results []result, all bool) {
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "source\tedition\tstatus\tvalues\tagree\tprint differs")
	for _, g := range grouped(results) {
		fmt.Fprintf(w, "%s\t%s\t%s\t%d\t%d\t%d\n", g.source, g.edition, g.status, len(g.results), len(g.results)-g.differ(), g.differ())
	}
	w.Flush()
	fmt.Fprintln(out, "\nWhere print and library differ, or every value with -all:")
	for _, r := range results {
		if all || r.differs() {
			fmt.Fprintf(w, "%s\t%s\t%s\tprinted %s\tours %s\t%s\n", r.id, r.check, short(r.input), orNone(r.printed), r.ours, r.remark)
		}
	}
	w.Flush()
}

func short(s string) string {
	const most = 48
	if len([]rune(s)) <= most {
		return s
	}
	return string([]rune(s)[:most]) + "…"
}

func orNone(s string) string {
	if s == "" {
		return "nowhere"
	}
	return s
}
