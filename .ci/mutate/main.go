// Mutate measures whether the tests of lot notice a wrong decision. Every mutant
// is one small change in the code that decides and pays: a comparison turned
// round or moved by its boundary, "and" for "or", a sum for a difference, also of
// big.Rat and decimal, a statement left out.
//
//	go run ./.ci/mutate                  every mutant, some half an hour
//	go run ./.ci/mutate -file schedule   those of files whose name holds it
//
// All mutants are compiled into one test program, each behind a switch that an
// environment variable throws, so that a mutant costs one run and no build.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"
)

// decides names the files of lot from results to the decision, the factor and the
// money, with the checks of plans.
const decides = `bycount composite diagnose estimation evaluate evaluation exactestimate
exactwithin floorsqrt joinlots limits lotdata meanabsolutedeviation othermeasures pay paytotal plan plancheck
 plancheckpay polynomial real retest roundingdoubt schedule schedulecheck screen shares side smalllot terms weights withintable`

// slow are the tests of risk, intervals and verification that take long and reach that
// code only by detours, and one that repeats others on many random lots.
const slow = "^(Test(Within(Measured|Interval)|TrueWithin|Coverage|Verify(TakesAnything|Laws)|PlanRisk|RiskStaysInRange|" +
	"SimulatePlansAgrees|Simulation|Sources|FurtherSamples|BoundsOf|TailsBy|LevelOfF|AtLeastByGrid|Inversion|Likeliest|" +
	"EstimateIsUnbiased|AuditedAgreesWithFloatPath)|FuzzVerify|FuzzWithinMeasured)"

func main() {
	file := flag.String("file", "", "only files of lot whose name holds this")
	workers := flag.Int("workers", 2, "runs at a time")
	flag.Parse()
	if err := run(*file, *workers); err != nil {
		fmt.Fprintln(os.Stderr, "mutate:", err)
		os.Exit(1)
	}
}

func run(file string, workers int) error {
	dir, err := os.MkdirTemp("", "mutate")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	var names []string
	for _, name := range strings.Fields(decides) {
		if strings.Contains(name, file) {
			names = append(names, name+".go")
		}
	}
	mutants, err := instrument("lot", names, dir)
	if err != nil {
		return err
	}
	program := filepath.Join(dir, "lot.test")
	build := exec.Command("go", "test", "-c", "-vet=off", "-overlay", filepath.Join(dir, "overlay.json"), "-o", program, "./lot")
	if text, err := build.CombinedOutput(); err != nil {
		return fmt.Errorf("%w\n%s", err, text)
	}
	start := time.Now()
	if killed(program, 0, 10*time.Minute) {
		return errors.New("the tests fail without any mutant")
	}
	limit := 10*time.Since(start) + 5*time.Second
	tryAll(mutants, workers, func(id int) bool { return killed(program, id, limit) })
	if killed(program, 0, 10*time.Minute) {
		return errors.New("the tests fail without any mutant: what they read was changed meanwhile")
	}
	report(mutants)
	return nil
}

// killed runs the tests with one mutant; failing, crashing and not ending are alike.
func killed(program string, id int, limit time.Duration) bool {
	ctx, cancel := context.WithTimeout(context.Background(), limit)
	defer cancel()
	cmd := exec.CommandContext(ctx, program, "-test.failfast", "-test.skip", slow)
	cmd.Dir = "lot"
	cmd.Env = append(os.Environ(), fmt.Sprintf("MUTANT=%d", id), "GOMEMLIMIT=1GiB")
	return cmd.Run() != nil
}

// tryAll marks the mutants that are killed.
func tryAll(mutants []mutant, workers int, killed func(id int) bool) {
	var wait sync.WaitGroup
	next := make(chan int)
	for range workers {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for i := range next {
				mutants[i].killed = killed(mutants[i].id)
			}
		}()
	}
	for i := range mutants {
		next <- i
	}
	close(next)
	wait.Wait()
}

// report prints the survivors and the score by file.
func report(mutants []mutant) {
	tried, dead := make(map[string]int), make(map[string]int)
	var files []string
	all := 0
	for _, m := range mutants {
		if tried[m.file] == 0 {
			files = append(files, m.file)
		}
		tried[m.file]++
		if m.killed {
			dead[m.file]++
			all++
			continue
		}
		fmt.Printf("%s:%d:%d: survives: %s\n", m.file, m.line, m.column, m.change)
	}
	slices.Sort(files)
	for _, f := range files {
		fmt.Printf("%-28s %4d of %4d killed\n", f, dead[f], tried[f])
	}
	fmt.Printf("%-28s %4d of %4d killed, %.1f %%\n", "all", all, len(mutants), 100*float64(all)/float64(len(mutants)))
}
