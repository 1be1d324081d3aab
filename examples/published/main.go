// Published recomputes published worked examples and tables with the library and
// prints, source by source, how many agree to their last printed digit and what
// to make of those that do not.
//
//	go run ./examples/published            a summary, and every value where print and library differ
//	go run ./examples/published -all       every value
//	go run ./examples/published -markdown  the summary as the table of the README
//
// The values are in testdata/*.csv of the module: the check and its input, the
// value as printed, the exact value by an independent recomputation, whether the
// source was read or is quoted from memory, and the source.
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
	markdown := flags.Bool("markdown", false, "print the summary as a Markdown table")
	if err := flags.Parse(args); err != nil {
		return 2
	}
	records, err := readAll(os.DirFS(*data))
	if err != nil {
		fmt.Fprintf(errOut, "published: %v\n", err)
		return 1
	}
	results := recompute(records)
	switch {
	case *markdown:
		writeMarkdown(out, summarize(results))
	default:
		writeText(out, results, *all)
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
	for _, name := range []string{"density.csv", "rounding.csv", "pwl.csv", "outliers.csv", "pay.csv", "methods.csv"} {
		records, err := read(files, name)
		if err != nil {
			return nil, err
		}
		all = append(all, records...)
	}
	return all, nil
}

// group is the tally of one source.
type group struct {
	source, status        string
	values, agree, differ int
}

// summarize tallies the results by source, in the order of the files. The detail
// of a source after its first comma counts as part of it.
func summarize(results []result) []group {
	var groups []group
	at := make(map[string]int)
	for _, r := range results {
		key := family(r.source) + r.status
		i, ok := at[key]
		if !ok {
			i = len(groups)
			at[key] = i
			groups = append(groups, group{source: family(r.source), status: r.status})
		}
		groups[i].values++
		if r.differs() {
			groups[i].differ++
		} else {
			groups[i].agree++
		}
	}
	return groups
}

func writeText(out io.Writer, results []result, all bool) {
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "source\tstatus\tvalues\tagree\tprint differs")
	for _, g := range summarize(results) {
		fmt.Fprintf(w, "%s\t%s\t%d\t%d\t%d\n", g.source, g.status, g.values, g.agree, g.differ)
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

func writeMarkdown(out io.Writer, groups []group) {
	fmt.Fprintln(out, "| source | how we have it | values | agree | print differs |")
	fmt.Fprintln(out, "| --- | --- | ---: | ---: | ---: |")
	for _, g := range groups {
		fmt.Fprintf(out, "| %s | %s | %d | %d | %d |\n", g.source, g.status, g.values, g.agree, g.differ)
	}
}
