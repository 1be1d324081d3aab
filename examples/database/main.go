// Database keeps lots, plans and results in a database by database/sql and reads
// them back equal: the documents hold what was recorded, the columns beside them
// are for finding. The engine is SQLite, translated to Go, so it needs no C compiler.
//
//	go -C examples/database run .                    in memory
//	go -C examples/database run . -file quality.db   in a file; a second run adds revisions
//
// A lot that comes in again gets a new revision, and what that changed is printed.
// The job is invented. The contract documents and the responsible engineer govern.
package main

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
)

func main() {
	file := flag.String("file", ":memory:", "keep the database in this `file`")
	flag.Parse()
	if flag.NArg() > 0 {
		fmt.Fprintf(os.Stderr, "database: unexpected argument %q; use -file for a file\n", flag.Arg(0))
		os.Exit(2)
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := run(ctx, *file, os.Stdout); err != nil {
		fmt.Fprintf(os.Stderr, "database: %v\n", err)
		os.Exit(1)
	}
}

func run(ctx context.Context, file string, out io.Writer) error {
	s, err := open(ctx, file)
	if err != nil {
		return err
	}
	defer s.close()
	plan, lots, err := demo()
	if err != nil {
		return err
	}
	for _, l := range lots {
		r, err := s.add(ctx, plan, l)
		if err != nil {
			return err
		}
		if err := s.check(ctx, r); err != nil {
			return err
		}
	}
	return s.print(ctx, plan.Terms(), out)
}

// check reads a record back and compares it with what was stored.
func (s store) check(ctx context.Context, want record) error {
	all, err := s.history(ctx, want.lot.ID)
	if err != nil {
		return err
	}
	got := all[len(all)-1]
	for _, pair := range [][2]interface{ MarshalJSON() ([]byte, error) }{{want.plan, got.plan}, {want.lot, got.lot}, {want.evaluation, got.evaluation}} {
		stored, err := pair[0].MarshalJSON()
		if err != nil {
			return err
		}
		if read, err := pair[1].MarshalJSON(); err != nil || !bytes.Equal(stored, read) {
			return fmt.Errorf("lot %s came back otherwise than it was stored (%v)", want.lot.ID, err)
		}
	}
	return nil
}

// print shows what the database holds.
func (s store) print(ctx context.Context, t lot.Terms, out io.Writer) error {
	newest, err := s.current(ctx)
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "%s, %s: newest revisions, read back\n\n", t.Name, t.Characteristic)
	fmt.Fprintf(out, "%-5s %8s %4s  %-26s %14s\n", "lot", "revision", "PWL", "decision", "pay, "+t.Currency)
	total := decimal.Zero
	for _, r := range newest {
		pay := "none"
		if p := r.evaluation.Payment; p != nil {
			total, pay = total.Add(p.Total), p.Total.StringFixed(2)
		}
		fmt.Fprintf(out, "%-5s %8d %4s  %-26v %14s\n", r.lot.ID, r.revision, r.evaluation.PWL.Used, r.evaluation.Decision, pay)
	}
	mean, err := s.meanWithin(ctx)
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "%-5s %13.2f  %-26s %14s\n\n", "all", mean, "mean PWL, before rounding", total.StringFixed(2))
	for _, r := range newest {
		if err := s.printChanges(ctx, r.lot.ID, out); err != nil {
			return err
		}
	}
	fmt.Fprintln(out, "\nCalculations, not rulings: the contract documents and the responsible engineer govern.")
	return nil
}

// printChanges shows what each later revision of a lot changed.
func (s store) printChanges(ctx context.Context, id string, out io.Writer) error {
	all, err := s.history(ctx, id)
	if err != nil {
		return err
	}
	for i, r := range all[1:] {
		changes, err := lot.Changes(all[i].evaluation, r.evaluation)
		if err != nil {
			return err
		}
		fmt.Fprintf(out, "lot %s, revision %d\n", id, r.revision)
		if len(changes) == 0 {
			fmt.Fprintln(out, "    nothing changed")
		}
		for _, c := range changes {
			fmt.Fprintf(out, "    %v\n", c)
		}
	}
	return nil
}
