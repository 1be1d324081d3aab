package lot

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"sync"
	"sync/atomic"
)

const (
	blockLots   = 512 // that a worker draws and estimates at a time
	roundBlocks = 128 // between two looks at the precision
)

// blockFunc draws and judges so many lots from number first on, with memory of its
// own.
type blockFunc func(first, lots int) (lotSums, error)

// simulationRounds draws lots in rounds of blocks. A block is worked on by one
// worker and its sums keep their place, so that they are added up in order.
type simulationRounds struct {
	lots    int
	workers []blockFunc
	blocks  [roundBlocks]struct {
		sums     lotSums
		err      error
		panicked any
	}
}

// newSimulationRounds makes as many workers as wanted, 0 for GOMAXPROCS.
func newSimulationRounds(lots, workers int, worker func() blockFunc) *simulationRounds {
	if workers == 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	r := &simulationRounds{lots: lots, workers: make([]blockFunc, min(workers, roundBlocks))}
	for i := range r.workers {
		r.workers[i] = worker()
	}
	return r
}

// all runs rounds until the lots are done or both standard errors are no more than
// precision.
func (r *simulationRounds) all(ctx context.Context, fn string, precision float64, progress func(int)) (SimulationResult, error) {
	var total lotSums
	for total.lots < r.lots {
		if err := r.run(ctx, fn, &total); err != nil {
			return SimulationResult{}, err
		}
		if progress != nil {
			progress(total.lots)
		}
		if result := total.result(); max(result.FactorStdErr, result.RejectedStdErr) <= precision {
			break
		}
	}
	return total.result(), nil
}

// run works on one round and adds it to total. The error is that of the first lot
// that was refused, whatever the workers met first, because blocks are handed out
// in order and one that was begun is finished.
func (r *simulationRounds) run(ctx context.Context, fn string, total *lotSums) error {
	first := total.lots
	count := min(roundBlocks, (r.lots-first+blockLots-1)/blockLots)
	var next, failed atomic.Int64
	var wait sync.WaitGroup
	for i := range r.workers {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for ctx.Err() == nil && failed.Load() == 0 {
				k := int(next.Add(1)) - 1
				if k >= count {
					return
				}
				if !r.try(r.workers[i], k, first+k*blockLots) {
					failed.Add(1)
				}
			}
		}()
	}
	wait.Wait()
	return r.collect(ctx, fn, total, first, count)
}

// try works on a block and reports whether all went well. A panic of the source is
// kept for the goroutine of the caller.
func (r *simulationRounds) try(work blockFunc, k, first int) (well bool) {
	b := &r.blocks[k]
	defer func() { b.panicked = recover(); well = b.panicked == nil && b.err == nil }()
	b.sums, b.err = work(first, min(blockLots, r.lots-first))
	return true
}

// collect adds up the blocks of a round.
func (r *simulationRounds) collect(ctx context.Context, fn string, total *lotSums, first, count int) error {
	for k := range count {
		b := &r.blocks[k]
		if b.panicked != nil {
			panic(b.panicked)
		}
		if b.err != nil {
			return lotError(fn, b.err, first+k*blockLots)
		}
	}
	if ctx.Err() != nil {
		return fmt.Errorf("%s: %w", fn, context.Cause(ctx))
	}
	for k := range count {
		total.join(&r.blocks[k].sums)
	}
	return nil
}

// allWithin reports whether every result is within the limits, those that there
// are.
func (p *limitPair) allWithin(results []float64) bool {
	lower, upper := math.Inf(-1), math.Inf(1)
	if p.lower != nil {
		lower = p.lower.float
	}
	if p.upper != nil {
		upper = p.upper.float
	}
	for _, x := range results {
		if x < lower || x > upper {
			return false
		}
	}
	return true
}
