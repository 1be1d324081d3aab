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
	"sync/atomic"
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
	o.here = *jobopts.Endpoint == "" && (*runners.Runner == "" || *runners.Runner == "prism")
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
	here    bool // runner and workers are in this program
}

func (o *options) flags(flags *flag.FlagSet) {
	o.network.Flags(flags)
	flags.StringVar(&o.aside, "aside", "", "write the lines that cannot be judged to this `file`")
	flags.StringVar(&o.output, "output", "", "write the answers as JSON to this `file` too; workers elsewhere must reach it")
	flags.BoolVar(&o.asJSON, "json", false, "print JSON")
}

func run(ctx context.Context, o options, out io.Writer, errOut *os.File) int {
	if err := o.validate(); err != nil {
		fmt.Fprintf(errOut, "pipeline: %v\n", err)
		return misused
	}
	report, err := judge(ctx, o, errOut)
	if err == nil {
		err = o.network.Print(out, report, o.asJSON)
	}
	switch {
	case err == nil:
		return 0
	case ctx.Err() == nil:
		fmt.Fprintf(errOut, "pipeline: %v\n", err)
		return failed
	case o.here:
		fmt.Fprintln(errOut, "pipeline: interrupted; there are no answers")
	default:
		fmt.Fprintln(errOut, "pipeline: interrupted; the runner may still be at work and has to be stopped by its own means")
	}
	return interrupted
}

func (o options) validate() error {
	if flag.NArg() > 0 {
		return fmt.Errorf("need no argument beside the flags, have %q", flag.Args())
	}
	if *jobopts.Async {
		return errors.New("the answers are waited for and printed, so -async cannot be")
	}
	if !o.here && o.output == "" {
		return errors.New("a runner elsewhere needs -output, a file that its workers and this program reach")
	}
	return o.network.Validate()
}

// judge runs the pipeline and returns the report that it left.
func judge(ctx context.Context, o options, errOut *os.File) (report road.Report, err error) {
	if err := o.open(ctx); err != nil {
		return report, err
	}
	done := func() {}
	if o.here {
		folder, err := os.MkdirTemp("", "pipeline")
		if err != nil {
			return report, err
		}
		defer os.RemoveAll(folder)
		defer o.stayHere(folder)()
		done = watch(errOut, o.network.Contracts)
	}
	p, s := beam.NewPipelineWithRoot()
	build(s, o)
	err = beamx.Run(ctx, p)
	done()
	if err != nil {
		return report, err
	}
	return readReport(ctx, o.output)
}

// open finds out before the work whether there will be a place for what comes of it.
func (o options) open(ctx context.Context) error {
	for _, file := range []string{o.output, o.aside} {
		if file == "" {
			continue
		}
		if err := writeFile(ctx, file, nil); err != nil {
			return err
		}
	}
	return nil
}

// stayHere sees to it that a run in this program leaves behind and says nothing but its
// answers; what goes wrong is in the error of the run. back gives temporary files their old
// place. Beam is not given its voice back, for it goes on after the run.
func (o *options) stayHere(folder string) (back func()) {
	slog.SetDefault(slog.New(slog.DiscardHandler))
	if o.output == "" {
		o.output = filepath.Join(folder, "report.json")
	}
	temporary := os.Getenv("TMPDIR")
	os.Setenv("TMPDIR", folder) // Beam leaves an empty file there
	return func() { os.Setenv("TMPDIR", temporary) }
}

// What the workers in this program have done. On a cluster they are elsewhere and nobody
// looks.
var contractsRead, contractsJudged atomic.Int64

// watch shows how far they are until done is called.
func watch(errOut *os.File, contracts int) (done func()) {
	contractsRead.Store(0)
	contractsJudged.Store(0)
	ctx, stop := context.WithCancel(context.Background())
	stopped := make(chan struct{})
	go func() {
		defer close(stopped)
		follow(ctx, progress.ForTerminal(errOut, "contracts read", contracts), &contractsRead, contracts)
		follow(ctx, progress.ForTerminal(errOut, "contracts judged", contracts), &contractsJudged, contracts)
	}()
	return func() { stop(); <-stopped }
}

// follow shows a count on a line until it is there or ctx ends.
func follow(ctx context.Context, line *progress.Line, count *atomic.Int64, upTo int) {
	defer line.Done()
	for {
		n := int(count.Load())
		line.At(n)
		if n >= upTo || ctx.Err() != nil {
			return
		}
		select {
		case <-ctx.Done():
		case <-time.After(100 * time.Millisecond):
		}
	}
}
