package lot

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"sync"
	"sync/atomic"
)

const (
	blockLots   = 512 // that a worker draws and estimates at a time
	roundBlocks = 128 // between two looks at the precision
)

// simulationRounds draws lots in rounds of blocks. A block is worked on by one
// worker and its sums keep their place, so that they are added up in order.
type simulationRounds struct {
	options SimulationOptions
	workers []simulationWorker
	blocks  [roundBlocks]struct {
		sums     lotSums
		err      error
		panicked any
	}
}

// simulationWorker is the memory of one goroutine.
type simulationWorker struct {
	source  rand.PCG
	random  *rand.Rand
	results []float64
	within  []Within
	_       [128]byte // keeps the streams of two workers out of one cache line
}

func newSimulationRounds(o SimulationOptions) *simulationRounds {
	r := &simulationRounds{options: o, workers: make([]simulationWorker, min(o.Workers, roundBlocks))}
	for i := range r.workers {
		w := &r.workers[i]
		w.random = rand.New(&w.source)
		w.results, w.within = make([]float64, blockLots*o.N), make([]Within, blockLots)
	}
	return r
}

// run works on one round and adds it to total. The error is that of the first lot
// that was refused, whatever the workers met first, because blocks are handed out
// in order and one that was begun is finished.
func (r *simulationRounds) run(ctx context.Context, fn string, total *lotSums) error {
	first := total.lots
	count := min(roundBlocks, (r.options.Lots-first+blockLots-1)/blockLots)
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
				if !r.try(&r.workers[i], k, first+k*blockLots) {
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
func (r *simulationRounds) try(w *simulationWorker, k, first int) (well bool) {
	b := &r.blocks[k]
	defer func() { b.panicked = recover(); well = b.panicked == nil && b.err == nil }()
	b.sums, b.err = w.block(&r.options, first)
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
		total.add(&r.blocks[k].sums)
	}
	return nil
}

// block draws, estimates and pays the lots from first on.
func (w *simulationWorker) block(o *SimulationOptions, first int) (sums lotSums, err error) {
	lots := min(blockLots, o.Lots-first)
	results, within := w.results[:lots*o.N], w.within[:lots]
	for i := range lots {
		lotStream(&w.source, o.Seed, first+i)
		o.Source(results[i*o.N:(i+1)*o.N:(i+1)*o.N], w.random)
	}
	if err := EstimateLots(within, results, o.N, o.Limits); err != nil {
		return sums, err
	}
	each := o.Each.pair()
	for i := range within {
		pwl := within[i].PWL
		factor, reject, err := o.Schedule.FactorAt(pwl)
		if err != nil {
			return sums, refuseAt("", "", i, "", err)
		}
		if reject || !each.allWithin(results[i*o.N:(i+1)*o.N]) {
			factor = 0
			sums.rejected++
		}
		sums.factor += factor
		sums.factor2 += float64(factor * factor)
		sums.deficit += 100 - pwl
		sums.deficit2 += float64((100 - pwl) * (100 - pwl))
	}
	sums.lots = lots
	return sums, nil
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
