// Network judges ten years of an invented road network on all processors: 10 million
// records in 20,000 contracts, every lot by its percent within limits, every gauge
// by its drift, every year by its quality, and prints the answers beside the truth that the
// records were made from.
//
//	go run ./examples/network                      10 million records
//	go run ./examples/network -contracts 200       a hundredth of that
//	go run ./examples/network -aside aside.csv     writes aside what could not be judged, with reasons
//	go run ./examples/network -json                the answers as JSON, without the truth
//
// On a terminal it shows how far it is. An interrupt ends it cleanly, with the
// answers so far and exit status 130.
//
// The records of a lot, lots of a contract and contracts are summed up by accumulators
// that merge, and what is added to what is fixed, so the answers are the same to the last
// bit on any number of processors. examples/pipeline gives them on any number of
// machines.
package main

import (
	"context"
	"encoding/csv"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"

	"github.com/densilot/densilot/examples/internal/progress"
	"github.com/densilot/densilot/examples/network/road"
)

// The exit statuses beside 0.
const (
	failed      = 1
	misused     = 2
	interrupted = 130
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

type options struct {
	network road.Network
	aside   string
	asJSON  bool
}

func run(ctx context.Context, args []string, out io.Writer, errOut *os.File) int {
	o, err := parse(args, errOut)
	if err != nil {
		return misused
	}
	report, err := judge(ctx, o, progress.ForTerminal(errOut, "contracts", o.network.Contracts))
	stopped := errors.Is(err, context.Canceled)
	if err != nil && !stopped {
		fmt.Fprintf(errOut, "network: %v\n", err)
		return failed
	}
	if err := o.network.Print(out, report, o.asJSON); err != nil {
		fmt.Fprintf(errOut, "network: %v\n", err)
		return failed
	}
	if stopped {
		fmt.Fprintf(errOut, "network: interrupted; these are the answers of the first %d of %d records\n", report.Records, o.network.Records())
		return interrupted
	}
	return 0
}

func parse(args []string, errOut io.Writer) (o options, err error) {
	flags := flag.NewFlagSet("network", flag.ContinueOnError)
	flags.SetOutput(errOut)
	o.network.Flags(flags)
	flags.StringVar(&o.aside, "aside", "", "write the lines that cannot be judged to this `file`")
	flags.BoolVar(&o.asJSON, "json", false, "print JSON")
	if err := flags.Parse(args); err != nil {
		return o, err
	}
	if err = o.network.Validate(); err == nil && flags.NArg() > 0 {
		err = fmt.Errorf("need no argument beside the flags, have %q", flags.Args())
	}
	if err != nil {
		fmt.Fprintf(errOut, "network: %v\n", err)
	}
	return o, err
}

// judge returns the report; when ctx ends, that of the contracts so far and its error.
func judge(ctx context.Context, o options, line *progress.Line) (road.Report, error) {
	asides, err := create(o.aside)
	if err != nil {
		return road.Report{}, err
	}
	tally, stopped := road.Judge(ctx, o.network, func(contracts int, lines []road.Aside) error {
		line.At(contracts)
		return asides.write(lines)
	})
	line.Done()
	if err := asides.close(); err != nil {
		return road.Report{}, err
	}
	if tally == nil {
		return road.Report{}, stopped
	}
	report, err := road.NewReport(tally)
	if err != nil {
		return road.Report{}, err
	}
	return report, stopped
}

// asideFile is where lines go that cannot be judged; the nil one drops them.
type asideFile struct {
	file *os.File
	csv  *csv.Writer
}

func create(name string) (*asideFile, error) {
	if name == "" {
		return nil, nil
	}
	file, err := os.Create(name)
	if err != nil {
		return nil, err
	}
	f := &asideFile{file, csv.NewWriter(file)}
	return f, f.csv.Write(road.AsideColumns())
}

func (f *asideFile) write(lines []road.Aside) error {
	if f == nil {
		return nil
	}
	for _, a := range lines {
		if err := f.csv.Write(a.Row()); err != nil {
			return err
		}
	}
	return nil
}

func (f *asideFile) close() error {
	if f == nil {
		return nil
	}
	f.csv.Flush()
	return errors.Join(f.csv.Error(), f.file.Close())
}
