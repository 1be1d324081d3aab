package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strings"
)

// writeSummary counts the values by how we have them.
func writeSummary(out io.Writer, results []result) {
	fmt.Fprintln(out, "| how we have it | sources | values | agree | print is another number |")
	fmt.Fprintln(out, "| --- | ---: | ---: | ---: | ---: |")
	var order []string
	sources, values, differ := make(map[string]int), make(map[string]int), make(map[string]int)
	for _, g := range grouped(results) {
		if sources[g.status] == 0 {
			order = append(order, g.status)
		}
		sources[g.status]++
		values[g.status] += len(g.results)
		differ[g.status] += g.differ()
	}
	for _, s := range order {
		fmt.Fprintf(out, "| %s | %d | %d | %d | %d |\n", s, sources[s], values[s], values[s]-differ[s], differ[s])
	}
}

const pageHead = `# Every value the library is checked against

<!-- Written by: go run ./examples/published -page > examples/published/CHECKS.md -->

The tests recompute this page and fail when it is another one, so it says what the library gives today.

- **printed** is the value as its source prints it, every digit; **ours** is what the library gives for the same input.
- **agrees**: ours is within half a unit of the last digit printed. *Print differs*: it is not, and the reason follows.
- **derived**: no print; an independent recomputation (R, SciPy, mpmath, fractions in Python) to the digits given.
- How we have a source: *seen* was read, *seen second-hand* as others transcribed it, *from memory* could not be read
  again; *formula*, *rule*, *method* or *weights seen* have the rule of the source and numbers of our own.
- An edition is "not recorded" where nobody noted it when the source was read.
`

// writePage writes CHECKS.md.
func writePage(out io.Writer, files fs.FS, results []result) error {
	fmt.Fprint(out, pageHead)
	groups := grouped(results)
	fmt.Fprint(out, "\n## Sources\n\n| source | edition | how we have it | values | agree | print differs |\n| --- | --- | --- | ---: | ---: | ---: |\n")
	for i, g := range groups {
		fmt.Fprintf(out, "| [%s](#source-%d) | %s | %s | %d | %d | %d |\n", cell(g.source), i+1, cell(g.edition), g.status, len(g.results), len(g.results)-g.differ(), g.differ())
	}
	fmt.Fprint(out, "\n## Where the print is another number\n\n| source | check | input | printed | ours | why |\n| --- | --- | --- | ---: | ---: | --- |\n")
	for _, r := range results {
		if r.differs() {
			fmt.Fprintf(out, "| %s | %s | %s | %s | %s | %s |\n", cell(r.source), cell(r.check), cell(brief(r.input)), r.printed, r.ours, cell(r.remark))
		}
	}
	fmt.Fprint(out, "\n## Every value, by source\n")
	for i, g := range groups {
		writeGroup(out, i+1, g)
	}
	return writeTables(out, files)
}

func writeGroup(out io.Writer, number int, g group) {
	fmt.Fprintf(out, "\n<a id=\"source-%d\"></a>\n\n### %s\n\n", number, g.source)
	if g.edition != "" {
		fmt.Fprintf(out, "Edition: %s. ", g.edition)
	}
	fmt.Fprintf(out, "How we have it: %s.\n\n| check | input | place | printed | ours | status |\n| --- | --- | --- | ---: | ---: | --- |\n", g.status)
	for _, r := range g.results {
		fmt.Fprintf(out, "| %s | %s | %s | %s | %s | %s |\n", cell(r.check), cell(brief(r.input)), cell(r.place), r.printed, r.ours, cell(r.verdict()))
	}
}

// verdict is the status of one value.
func (r result) verdict() string {
	memory := ""
	if r.status == "from memory" {
		memory = ", from memory"
	}
	switch {
	case r.wrong != "":
		return "wrong: " + r.wrong
	case r.differs():
		return "print differs" + memory + ": " + r.remark
	case r.digits > 0 && r.digits < 14.5:
		return fmt.Sprintf("agrees to the %.0f digits that the data keep in float64", r.digits)
	case r.printed == "":
		return "derived, agrees with " + r.exact
	}
	return "agrees" + memory
}

// brief leaves out the middle of long data.
func brief(input string) string {
	parts := strings.Split(input, ";")
	for i, part := range parts {
		words := strings.Fields(part)
		if len(words) > 8 {
			parts[i] = fmt.Sprintf("%s … %s (%d values)", strings.Join(words[:3], " "), words[len(words)-1], len(words))
		}
	}
	return strings.Join(parts, "; ")
}

// cell keeps a text inside its cell.
func cell(s string) string {
	return strings.NewReplacer("|", "\\|", "<", "&lt;", "*", "\\*").Replace(s)
}

const tablesHead = `
## Tables without a print

Function values to 16 digits or more, recomputed independently and compared by the tests of the packages; the head of
each file says how.

| file of testdata | values | what and how |
| --- | ---: | --- |
`

// writeTables lists the tables that explain themselves in comments.
func writeTables(out io.Writer, files fs.FS) error {
	fmt.Fprint(out, tablesHead)
	names, err := fs.Glob(files, "*.csv")
	if err != nil {
		return err
	}
	slices.Sort(names)
	for _, name := range names {
		raw, err := fs.ReadFile(files, name)
		if err != nil {
			return err
		}
		var about []string
		for _, line := range strings.Split(string(raw), "\n") {
			if text, ok := strings.CutPrefix(line, "# "); ok {
				about = append(about, text)
			}
		}
		if about == nil {
			continue
		}
		reader := csv.NewReader(strings.NewReader(string(raw)))
		reader.Comment = '#'
		rows, err := reader.ReadAll()
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		fmt.Fprintf(out, "| %s | %d | %s |\n", name, len(rows)-1, cell(strings.Join(about, " ")))
	}
	fmt.Fprint(out, pageTail)
	return nil
}

const pageTail = `
## Inside a package

Values of generators, which no exported function shows, and of another library, which are no print, stay in a test of the
package: the first outputs of SplitMix64 as published by S. Vigna (from memory) in lot/splitmix_test.go, those of PCG in
the tests of math/rand/v2 in stats/bootstrap_test.go, and twelve figures of the tests of the R package mcr, which agree to
2e-7, in stats/deming_test.go. Digits that R, SciPy or mpmath gave for data of our own stand beside their tests.
`
