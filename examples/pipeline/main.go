// Pipeline judges the road network of examples/network as an Apache Beam pipeline, and
// gives the same answers to the last byte.
//
//	go -C examples/pipeline run .                      10 million records, on this machine
//	go -C examples/pipeline run . -contracts 2000      a tenth of that
//	go -C examples/pipeline run . -aside /tmp/aside.csv -json
//
// -contracts, -seed, -aside and -json are those of examples/network. Without a flag of
// Beam it runs on the Prism runner inside this program; README.md has the flags for
// others.
//
// On a terminal it shows how far it is. An interrupt ends it cleanly with exit status
// 130, without answers.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"os"
	"os/signal"
	"path/filepath"
	"time"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/options/jobopts"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/runners"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/x/beamx"

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
	var o options
	o.flags(flag.CommandLine)
	flag.Parse()
	beam.Init() // does not return on a worker of a cluster
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	os.Exit(run(ctx, o, os.Stdout, os.Stderr))
}

type options struct {
	network road.Network
	aside   string
	output  string
	asJSON  bool
	local   bool // in this program
}

func (o *options) flags(flags *flag.FlagSet) {
	o.network.Flags(flags)
	flags.StringVar(&o.aside, "aside", "", "write the lines that cannot be judged to this `file`")
	flags.StringVar(&o.output, "output", "", "write the answers as JSON to this `file` too; workers elsewhere must reach it")
	flags.BoolVar(&o.asJSON, "json", false, "print JSON")
}

func run(ctx context.Context, o options, out io.Writer, errOut *os.File) int {
	o.local = *runners.Runner == "" && *jobopts.Endpoint == ""
	if err := o.validate(); err != nil {
		fmt.Fprintf(errOut, "pipeline: %v\n", err)
		return misused
	}
	err := judge(ctx, o, out, errOut)
	if ctx.Err() != nil {
		fmt.Fprintln(errOut, "pipeline: interrupted; there are no answers, and a runner elsewhere may still be at work")
		return interrupted
	}
	if err != nil {
		fmt.Fprintf(errOut, "pipeline: %v\n", err)
		return failed
	}
	return 0
}

func (o options) validate() error {
	if flag.NArg() > 0 {
		return fmt.Errorf("need no argument beside the flags, have %q", flag.Args())
	}
	if !o.local && o.output == "" {
		return errors.New("a runner elsewhere needs -output, a file that its workers and this program reach")
	}
	return o.network.Validate()
}

// judge runs the pipeline and prints the report that it left.
func judge(ctx context.Context, o options, out io.Writer, errOut *os.File) error {
	if o.local {
		slog.SetLogLoggerLevel(slog.LevelWarn) // the line of progress is enough
		folder, err := os.MkdirTemp("", "pipeline")
		if err != nil {
			return err
		}
		defer os.RemoveAll(folder)
		if o.output == "" {
			o.output = filepath.Join(folder, "report.json")
		}
	}
	p, s := beam.NewPipelineWithRoot()
	build(s, o)
	done := watch(errOut, o)
	err := beamx.Run(ctx, p)
	done()
	if err != nil {
		return err
	}
	return write(ctx, o, out)
}

// watch shows how far the workers in this program are, until done is called.
func watch(errOut *os.File, o options) (done func()) {
	if !o.local {
		return func() {}
	}
	steps.Store(0)
	line := progress.ForTerminal(errOut, "contracts read, then judged", 2*o.network.Contracts)
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		for ctx.Err() == nil {
			line.At(int(steps.Load()))
			select {
			case <-ctx.Done():
			case <-time.After(100 * time.Millisecond):
			}
		}
		line.Done()
	}()
	return func() { cancel(); <-ended }
}

func write(ctx context.Context, o options, out io.Writer) error {
	report, err := readReport(ctx, o.output)
	if err != nil {
		return err
	}
	if o.asJSON {
		b, err := report.JSON()
		if err == nil {
			_, err = out.Write(b)
		}
		return err
	}
	truth, err := o.network.Truth()
	if err != nil {
		return err
	}
	return report.Write(out, truth)
}
